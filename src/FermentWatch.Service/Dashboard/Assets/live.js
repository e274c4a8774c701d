// Keeps an open page current: the service says by server-sent events which part of the board has a new version, this
// fetches the same page again and changes only what differs, so that focus, scroll and opened parts stay where they are.
const page = () => document.getElementById('main');
const renewAfterMilliseconds = 60000;
let renewedAt = Date.now();
let isFetching = false;
let isWanted = false;

function sameKind(one, other) {
  return one.nodeType === other.nodeType && one.nodeName === other.nodeName && one.id === other.id;
}

function changeAttributes(shown, wanted) {
  for (const { name } of [...shown.attributes]) {
    // Whether a part is open is the reader's own doing.
    if (!wanted.hasAttribute(name) && name !== 'open') {
      shown.removeAttribute(name);
    }
  }
  for (const { name, value } of [...wanted.attributes]) {
    if (shown.getAttribute(name) !== value && name !== 'open') {
      shown.setAttribute(name, value);
    }
  }
}

function change(shown, wanted) {
  if (shown.nodeType !== Node.ELEMENT_NODE) {
    if (shown.nodeValue !== wanted.nodeValue) {
      shown.nodeValue = wanted.nodeValue;
    }
    return;
  }
  changeAttributes(shown, wanted);
  let old = shown.firstChild;
  for (const node of [...wanted.childNodes]) {
    old = meet(shown, old, node, wanted);
    if (old && sameKind(old, node)) {
      change(old, node);
      old = old.nextSibling;
    } else if (old && !isStillWanted(old, wanted)) {
      const fresh = document.importNode(node, true);
      shown.replaceChild(fresh, old);
      old = fresh.nextSibling;
    } else {
      shown.insertBefore(document.importNode(node, true), old);
    }
  }
  while (old) {
    const next = old.nextSibling;
    old.remove();
    old = next;
  }
}

// A part with a name stays itself wherever it stands: what came in or went away above it neither closes nor replaces it.
function isStillWanted(old, wanted) {
  return Boolean(old.id) && [...wanted.children].some(one => sameKind(one, old));
}

function meet(shown, old, node, wanted) {
  const named = node.id ? [...shown.children].find(one => sameKind(one, node)) : null;
  if (!named || (old && !(old.compareDocumentPosition(named) & Node.DOCUMENT_POSITION_FOLLOWING))) {
    return old;
  }
  while (old && old !== named) {
    const next = old.nextSibling;
    if (isStillWanted(old, wanted)) {
      shown.insertBefore(named, old);
      return named;
    }
    old.remove();
    old = next;
  }
  return named;
}

async function renew() {
  if (isFetching) {
    isWanted = true;
    return;
  }
  isFetching = true;
  try {
    const answer = await fetch(location.href, { headers: { Accept: 'text/html' }, cache: 'no-store' });
    // A page that cannot be had now leaves what is shown; the next event tries again.
    if (answer.ok) {
      const next = new DOMParser().parseFromString(await answer.text(), 'text/html');
      if (document.title !== next.title) {
        document.title = next.title;
      }
      for (const id of ['main', 'tabs', 'notes']) {
        const [shown, wanted] = [document.getElementById(id), next.getElementById(id)];
        if (shown && wanted) {
          change(shown, wanted);
        }
      }
      renewedAt = Date.now();
    }
  } catch {
    // Out of reach: the event stream reconnects by itself and says again what is new.
  } finally {
    isFetching = false;
    if (isWanted) {
      isWanted = false;
      renew();
    }
  }
}

const live = page()?.dataset;
if (live?.topic) {
  const events = new EventSource(page().dataset.feed);
  events.onmessage = ({ data }) => {
    const [topic, version] = data.split(' ');
    if (topic === page().dataset.topic && version !== page().dataset.version) {
      renew();
    }
  };
  // 'Four minutes ago' ages without any news.
  events.addEventListener('ping', () => {
    if (!document.hidden && Date.now() - renewedAt >= renewAfterMilliseconds) {
      renew();
    }
  });
  addEventListener('pagehide', () => events.close());
  addEventListener('pageshow', (event) => {
    if (event.persisted) {
      location.reload();
    }
  });
}
