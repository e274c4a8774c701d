// Shows notices that are pushed to this browser while no page is open. It keeps nothing and fetches nothing.
self.addEventListener('push', event => {
  const notice = event.data?.json();
  if (!notice?.title) {
    return;
  }
  const acts = notice.acts ?? [];
  event.waitUntil(self.registration.showNotification(notice.title, {
    body: notice.text,
    // A newer notice with the same key replaces the older.
    tag: notice.key,
    renotify: !notice.silent,
    silent: Boolean(notice.silent),
    requireInteraction: notice.severity === 'urgent',
    actions: acts.map(act => ({ action: act.act, title: act.label })),
    data: { page: notice.page, acts: Object.fromEntries(acts.map(act => [act.act, act.page])) },
  }));
});

// A button opens the page that asks whether it is meant; the notice itself opens the batch.
self.addEventListener('notificationclick', event => {
  event.notification.close();
  const { page, acts } = event.notification.data ?? {};
  event.waitUntil(self.clients.openWindow(acts?.[event.action] ?? page ?? self.registration.scope));
});
