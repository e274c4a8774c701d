// Computes a worksheet while its fields are typed: the service computes, this puts its answer in place. Without a script the
// button does the same.
const form = document.querySelector('form[data-worksheet]');
const waitMilliseconds = 250;
let timer = 0;
let newest = 0;

function takeFault(field, fresh) {
  const shown = field.closest('.field');
  const wanted = fresh.getElementById(field.id)?.closest('.field');
  if (!shown || !wanted) {
    return;
  }
  shown.className = wanted.className;
  shown.querySelector('.fault')?.remove();
  const fault = wanted.querySelector('.fault');
  if (fault) {
    shown.append(document.importNode(fault, true));
  }
  const other = wanted.querySelector('input, select');
  for (const name of ['aria-invalid', 'aria-describedby']) {
    if (other.hasAttribute(name)) {
      field.setAttribute(name, other.getAttribute(name));
    } else {
      field.removeAttribute(name);
    }
  }
}

async function compute() {
  const mine = ++newest;
  const address = new URL(location.href);
  address.search = new URLSearchParams(new FormData(form)).toString();
  let fresh;
  try {
    const answer = await fetch(address, { headers: { Accept: 'text/html' }, cache: 'no-store' });
    if (!answer.ok) {
      return;
    }
    fresh = new DOMParser().parseFromString(await answer.text(), 'text/html');
  } catch {
    // The service can't be reached: what is shown stays, and the button will say so.
    return;
  }
  // A slow answer to an older text must not replace a newer one.
  if (mine !== newest) {
    return;
  }
  history.replaceState(null, '', address);
  for (const field of form.querySelectorAll('input:not([type=hidden]), select')) {
    takeFault(field, fresh);
  }
  const wanted = fresh.getElementById('result');
  if (wanted && !fresh.querySelector('.field.wrong')) {
    document.getElementById('result').replaceChildren(...[...wanted.childNodes].map(node => document.importNode(node, true)));
  }
}

form?.addEventListener('input', () => {
  clearTimeout(timer);
  timer = setTimeout(compute, waitMilliseconds);
});
