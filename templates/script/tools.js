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

// unescaped is what stands behind the # of an address, whoever wrote it.
function unescaped(text) {
  try { return decodeURIComponent(text); } catch { return text; }
}

// bare is a table that holds its own entries and no others: names come from addresses, and
// “constructor” is a name like any other.
const bare = (table) => (table ? Object.setPrototypeOf(table, null) : table);

// kept is what this shop keeps in this browser. All sites opened from disk
// share one storage, so every key starts with the shop's id. A browser that
// refuses storage, or has no more room, keeps things as long as the page is open,
// and the page says so at once.
const kept = {
  aside: new Map(), // what the storage did not take
  key: (name) => page.dataset.shop + ':' + name,
  read(key) {
    if (this.aside.has(key)) return this.aside.get(key);
    try { return localStorage.getItem(key); } catch { return null; }
  },
  get(name) {
    try { return JSON.parse(this.read(this.key(name))); } catch { return null; }
  },
  set(name, value) {
    const key = this.key(name);
    const text = JSON.stringify(value);
    try {
      localStorage.setItem(key, text);
      this.aside.delete(key);
    } catch (e) {
      this.aside.set(key, text);
      refused(e);
    }
  },
  // all lists what is kept under names with a beginning, as [name, value].
  all(beginning) {
    const keys = new Set(this.aside.keys());
    try { for (const k of Object.keys(localStorage)) keys.add(k); } catch { /* forbidden */ }
    return [...keys].filter((k) => k.startsWith(this.key(beginning))).sort()
      .map((k) => { const name = k.slice(this.key('').length); return [name, this.get(name)]; });
  },
  drop(name) {
    this.aside.delete(this.key(name));
    try { localStorage.removeItem(this.key(name)); } catch { /* forbidden */ }
  },
};

// refused says that the browser keeps nothing any more.
function refused(e) {
  const why = e && e.name === 'QuotaExceededError' ? 'has no more room' : 'is not allowed to keep anything';
  const says = 'This browser ' + why + ': what you enter from now on is lost when this page closes. Print it, copy the sheet, or go on in another browser.';
  let at = document.querySelector('[data-refused]');
  if (!at) {
    at = make('p', { class: 'wrong refused', role: 'alert', 'data-refused': true });
    document.querySelector('main')?.before(at);
  }
  at.textContent = says;
}

// setSVG puts a drawing that our own Go code made into its place.
function setSVG(place, text) {
  const drawing = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
  if (drawing.nodeName !== 'svg') return;
  place.replaceChildren(document.importNode(drawing, true));
}

// download hands a text over as a file.
function download(text, name) {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/markdown;charset=utf-8' }));
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
