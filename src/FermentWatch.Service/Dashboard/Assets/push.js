// Subscribes this browser to pushed notices and sends what its push service gave to our own form. Nothing works in the
// background but the worker; without script, or over plain HTTP, the form stays as it is and says why.
const form = document.querySelector('form[data-push]');

function told(fault) {
  const line = form.querySelector('[data-push-fault]');
  line.textContent = line.dataset[fault];
  line.hidden = false;
}

function text(bytes) {
  return btoa(String.fromCharCode(...new Uint8Array(bytes))).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

async function subscribe() {
  if (await Notification.requestPermission() !== 'granted') {
    told('denied');
    return;
  }
  const root = new URL(form.dataset.scope, location.href);
  await navigator.serviceWorker.register(new URL(form.dataset.worker, location.href), { scope: root.pathname });
  const { pushManager } = await navigator.serviceWorker.ready;
  // One that stands for another key of the house would be refused.
  await (await pushManager.getSubscription())?.unsubscribe();
  const made = await pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: form.dataset.push });
  form.elements['push-address'].value = made.endpoint;
  form.elements['push-key'].value = text(made.getKey('p256dh'));
  form.elements['push-secret'].value = text(made.getKey('auth'));
  form.requestSubmit();
}

if (form && 'serviceWorker' in navigator && 'PushManager' in window && 'Notification' in window) {
  const button = form.querySelector('[data-push-do]');
  form.querySelector('[data-push-without]').hidden = true;
  button.hidden = false;
  button.addEventListener('click', event => {
    if (!form.elements['push-address'].value) {
      event.preventDefault();
      subscribe().catch(() => told('failed'));
    }
  });
}
