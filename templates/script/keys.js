// The card of keys, and the search that a telephone keeps folded.
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
