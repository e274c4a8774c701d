// Puts glasses in order by dragging; the buttons move them in place. Without a script the buttons send the form, and the
// service moves them.
for (const list of document.querySelectorAll('[data-rank]')) {
  list.classList.add('drags');
  let held = null;

  const settle = () => {
    const items = [...list.children];
    items.forEach((item, place) => {
      item.querySelector('.place').textContent = place + 1;
      const [up, down] = item.querySelectorAll('button');
      up.disabled = place === 0;
      down.disabled = place === items.length - 1;
    });
  };

  list.addEventListener('click', event => {
    const button = event.target.closest('button[name=move]');
    if (!button) {
      return;
    }
    event.preventDefault();
    const item = button.closest('li');
    if (button.value.startsWith('up-')) {
      item.previousElementSibling?.before(item);
    } else {
      item.nextElementSibling?.after(item);
    }
    settle();
    // A button at the end of its way hands the focus to the other one.
    (button.disabled ? item.querySelector('button:not([disabled])') : button)?.focus();
  });

  list.addEventListener('pointerdown', event => {
    const grip = event.target.closest('.grip');
    if (!grip || event.button !== 0) {
      return;
    }
    held = grip.closest('li');
    held.classList.add('held');
    list.setPointerCapture(event.pointerId);
    event.preventDefault();
  });

  list.addEventListener('pointermove', event => {
    if (!held) {
      return;
    }
    for (const item of list.children) {
      const box = item.getBoundingClientRect();
      if (item !== held && event.clientY > box.top && event.clientY < box.bottom) {
        const isBelow = item.getBoundingClientRect().top > held.getBoundingClientRect().top;
        if (isBelow) {
          item.after(held);
        } else {
          item.before(held);
        }
        settle();
        break;
      }
    }
  });

  for (const end of ['pointerup', 'pointercancel']) {
    list.addEventListener(end, () => {
      held?.classList.remove('held');
      held = null;
    });
  }
}
