// Checklists: ticks are kept in this browser until they are cleared.
'use strict';

function startTicks(list) {
  const name = 'ticks:' + list.dataset.ticks;
  const boxes = [...list.querySelectorAll('input[type=checkbox]')];
  const count = document.querySelector('[data-ticks-count]');
  const clear = document.querySelector('[data-ticks-clear]');

  function tell() {
    const done = boxes.filter((b) => b.checked).length;
    count.textContent = done + ' of ' + boxes.length + ' done';
    clear.hidden = done === 0;
  }
  const saved = kept.get(name) || [];
  boxes.forEach((b, i) => {
    b.disabled = false;
    b.checked = Boolean(saved[i]);
    b.addEventListener('change', () => { kept.set(name, boxes.map((x) => x.checked)); tell(); });
  });
  // the whole line ticks, for hands that are not clean
  for (const li of list.querySelectorAll('.task > li')) {
    li.addEventListener('click', (e) => {
      if (!e.target.closest('a, input, button')) li.querySelector('input[type=checkbox]')?.click();
    });
  }
  clear.addEventListener('click', () => {
    boxes.forEach((b) => { b.checked = false; });
    kept.drop(name);
    tell();
    boxes[0]?.focus();
  });
  tell();
}
