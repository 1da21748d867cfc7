// Small tools that the other scripts share.
'use strict';

const page = document.documentElement;
const root = page.dataset.root || '';

// make('button', {type: 'button', class: 'x'}, 'text', child...) builds an
// element; a function as a property listens to that event.
function make(tag, props, ...children) {
  const el = document.createElement(tag);
  for (const [name, value] of Object.entries(props || {})) {
    if (typeof value === 'function') el.addEventListener(name, value);
    else if (value === true) el.setAttribute(name, '');
    else if (value !== false && value != null) el.setAttribute(name, value);
  }
  for (const child of children.flat()) if (child != null && child !== '') el.append(child);
  return el;
}

// kept is what this shop keeps in this browser. All sites opened from disk
// share one storage, so every key starts with the shop's id; a browser that
// refuses storage just forgets.
const kept = {
  key: (name) => page.dataset.shop + ':' + name,
  get(name) {
    try { return JSON.parse(localStorage.getItem(this.key(name))); } catch { return null; }
  },
  set(name, value) {
    try { localStorage.setItem(this.key(name), JSON.stringify(value)); } catch { /* forgets */ }
  },
  // all lists what is kept under names with a beginning, as [name, value].
  all(beginning) {
    try {
      return Object.keys(localStorage).filter((k) => k.startsWith(this.key(beginning))).sort()
        .map((k) => { const name = k.slice(this.key('').length); return [name, this.get(name)]; });
    } catch { return []; }
  },
  drop(name) {
    try { localStorage.removeItem(this.key(name)); } catch { /* forgets */ }
  },
};

// setSVG puts a drawing that our own Go code made into its place.
function setSVG(place, text) {
  const drawing = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
  if (drawing.nodeName !== 'svg') return;
  place.replaceChildren(document.importNode(drawing, true));
}

// download hands a text over as a file.
function download(text, name) {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/markdown' }));
  const a = make('a', { href: address, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}

// copy puts text on the clipboard. Over plain HTTP on a LAN there is none: then
// the text is shown, selected, to be copied by hand.
async function copy(text, said) {
  try {
    await navigator.clipboard.writeText(text);
    said.textContent = 'Copied.';
  } catch {
    const box = make('textarea', { readonly: true, rows: '3', class: 'copy-box', 'aria-label': 'To copy by hand' });
    box.value = text;
    said.replaceChildren('Copy it from here: ', box);
    box.focus();
    box.select();
  }
}
