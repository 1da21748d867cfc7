// The card of keys, the search that a telephone keeps folded, and how this browser
// wants pages to look and sound.
'use strict';

function startKeys(card) {
  document.addEventListener('keydown', (e) => {
    if (e.key !== '?' || e.ctrlKey || e.metaKey || e.altKey || e.target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName)) return;
    e.preventDefault();
    card.open = !card.open;
    if (card.open) card.scrollIntoView({ block: 'nearest' });
    card.querySelector('summary').focus();
  });
}

// startArmFind unfolds the search in place; without it the sign leads to the page of
// results.
function startArmFind(sign) {
  const bar = sign.parentElement;
  const words = bar.querySelector('[data-find-words]');
  sign.addEventListener('click', (e) => {
    e.preventDefault();
    bar.classList.toggle('searching');
    if (bar.classList.contains('searching')) words.focus();
  });
}

// startLook offers light or dark, larger type for a screen across the bench, and
// whether timers sound; the browser remembers it.
function startLook(place) {
  /** @type {[string, string, [string, string][]][]} */
  const choices = [
    ['scheme', 'Light and dark', [['', 'as the system'], ['light', 'light'], ['dark', 'dark']]],
    ['type', 'Type', [['', 'usual'], ['large', 'larger']]],
    ['sound', 'Timers', [['', 'sound'], ['off', 'are silent']]],
  ];
  const draw = () => {
    const look = Object(kept.get('look'));
    place.replaceChildren(...choices.map(([name, label, ways]) => make('span', { class: 'look-way', role: 'group', 'aria-label': label }, make('span', {}, label + ' '),
      ways.map(([value, says]) => make('button', { type: 'button', 'data-look-way': name + '=' + value, 'aria-pressed': String((look[name] || '') === value), click: () => {
        kept.set('look', { ...look, [name]: value });
        if (name !== 'sound') { if (value) page.dataset[name] = value; else delete page.dataset[name]; }
        draw();
        place.querySelector('[data-look-way="' + name + '=' + value + '"]').focus();
      } }, says)))));
  };
  draw();
  place.parentElement.hidden = false;
}

// startSift leaves of a list what holds all words that are typed; what is left is in sight.
function startSift(place) {
  const main = document.getElementById('main');
  const items = [...main.querySelectorAll('.line, .bench-list > li')].map((el) => ({ el, text: el.textContent.toLowerCase() }));
  const around = [...main.querySelectorAll('section, .fold:not(.line)')].filter((el) => el.querySelector('.line, .bench-list')).map((el) => ({ el, open: el.open }));
  const [words, said] = [place.querySelector('input'), place.querySelector('[role=status]')];
  words.addEventListener('input', () => {
    const typed = words.value.toLowerCase().split(/\s+/).filter(Boolean);
    let n = 0;
    for (const i of items) if (!(i.el.hidden = !typed.every((w) => i.text.includes(w)))) n++;
    for (const a of around) {
      a.el.hidden = !a.el.querySelector(':is(.line, .bench-list > li):not([hidden])');
      if ('open' in a.el) a.el.open = a.open || !!typed.length;
    }
    said.textContent = typed.length ? n + ' of ' + items.length : '';
  });
  place.hidden = false;
}
