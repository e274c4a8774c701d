// Moves through the curve without loading the page anew: the buttons are links that work by themselves, this fetches the same
// page and puts its picture in place. Arrows, + and - and 0 by keyboard; drag and pinch by touch or mouse.
const edges = { 340: 4, 700: 8 };
const keys = { ArrowLeft: 'earlier', ArrowRight: 'later', '+': 'closer', '=': 'closer', '-': 'wider', 0: 'all' };
const least = 6 * 3600 * 1000;
const section = () => document.getElementById('curve');
let asked = 0;

async function show(address) {
  const mine = ++asked;
  try {
    const answer = await fetch(address, { headers: { Accept: 'text/html' }, cache: 'no-store' });
    if (!answer.ok) {
      return;
    }
    const fresh = new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById('curve');
    // A slow answer must not replace a newer one.
    if (mine !== asked || !fresh || !section()) {
      return;
    }
    const held = document.activeElement;
    const [move, wasPicture] = [held?.dataset?.move, held?.matches?.('#curve .moves')];
    section().replaceChildren(...[...fresh.childNodes].map(node => document.importNode(node, true)));
    const again = move ? section().querySelector(`[data-move=${move}]`) ?? section().querySelector('.moves') : wasPicture ? section().querySelector('.moves') : null;
    again?.focus({ preventScroll: true });
    history.replaceState(null, '', address);
  } catch {
    // The service can't be reached: what is shown stays.
  }
}

function addressOf(from, until) {
  const address = new URL(location.href);
  address.searchParams.delete('part');
  address.searchParams.set('from', new Date(from).toISOString());
  address.searchParams.set('until', new Date(until).toISOString());
  address.hash = 'curve';
  return address;
}

document.addEventListener('click', (event) => {
  const link = event.target.closest?.('#curve a[data-move]');
  if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0) {
    event.preventDefault();
    show(new URL(link.href));
  }
});

document.addEventListener('keydown', (event) => {
  if (!event.target.matches?.('#curve .moves') || event.ctrlKey || event.metaKey || event.altKey) {
    return;
  }
  const link = keys[event.key] && section().querySelector(`a[data-move=${keys[event.key]}]`);
  if (link) {
    event.preventDefault();
    show(new URL(link.href));
  }
});

// Fingers on the picture, by pointer: where each began and where it is, as a share of the plot's width.
const fingers = new Map();
let start = null;

function shareOf(event, svg, box) {
  const width = svg.viewBox.baseVal.width;
  const edge = (edges[width] ?? 0) / width;
  return ((event.clientX - box.left) / box.width - edge) / (1 - 2 * edge);
}

document.addEventListener('pointerdown', (event) => {
  const svg = event.target.closest?.('#curve .moves svg');
  if (!svg || event.button !== 0) {
    return;
  }
  const { from, until } = svg.closest('.moves').dataset;
  // Where the picture stood before it was dragged.
  const box = start?.box ?? svg.getBoundingClientRect();
  fingers.set(event.pointerId, shareOf(event, svg, box));
  start = { svg, box, from: Number(from), until: Number(until), at: [...fingers.entries()] };
});

document.addEventListener('pointermove', (event) => {
  if (start && fingers.has(event.pointerId)) {
    fingers.set(event.pointerId, shareOf(event, start.svg, start.box));
    if (fingers.size === 1) {
      start.svg.classList.add('dragged');
      start.svg.style.translate = `${(fingers.get(event.pointerId) - start.at[0][1]) * 100}% 0`;
    }
  }
});

function finish(event) {
  if (!start || !fingers.has(event.pointerId)) {
    return;
  }
  const span = start.until - start.from;
  const [first, second] = start.at;
  let window = null;
  if (second && fingers.has(first[0]) && fingers.has(second[0])) {
    // Two fingers: what was under each stays under it.
    const [low, high] = [Math.min(first[1], second[1]), Math.max(first[1], second[1])];
    const [left, right] = [fingers.get(first[0]), fingers.get(second[0])].sort((one, other) => one - other);
    const spread = Math.max(0.05, right - left);
    const length = Math.max(least, span * (high - low) / spread);
    const from = start.from + span * low - length * left;
    window = [from, from + length];
  } else if (!second) {
    const moved = fingers.get(event.pointerId) - first[1];
    if (Math.abs(moved) > 0.02) {
      window = [start.from - span * moved, start.until - span * moved];
    }
  }
  start.svg.classList.remove('dragged');
  start.svg.style.translate = '';
  fingers.clear();
  start = null;
  if (window && event.type !== 'pointercancel') {
    show(addressOf(...window));
  }
}

document.addEventListener('pointerup', finish);
document.addEventListener('pointercancel', finish);
