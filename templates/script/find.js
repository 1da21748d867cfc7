// Search as one types.
'use strict';

// miniChain draws a device's chain in small, of text such as "plug0 cord1 heating9":
// the symbol of each block with its shade, 9 for the one that something is about.
function miniChain(text) {
  const blocks = text.split(' ').map((b) => [b.slice(0, -1), b.slice(-1)]);
  const wide = blocks.length * 36 - 2;
  const at = make('span', { class: 'mini-place', 'aria-hidden': 'true' });
  setSVG(at, '<svg xmlns="http://www.w3.org/2000/svg" class="mini" viewBox="-2 -1 ' + wide + ' 28" width="' + wide + '" height="28" focusable="false"><path class="mini-wire" d="M-2 13H' + wide + '"/>'
    + blocks.map(([name, d], i) => '<g class="' + (d === '9' ? 'h4 mini-here' : 'h' + d) + '" transform="translate(' + i * 36 + ')"><path class="mini-box" d="M0 0h30v26H0z"/><g class="mini-symbol" transform="translate(15 13)">' + (symbols[name] || '') + '</g></g>').join('') + '</svg>');
  return at;
}

// miniAt is the text of a chain with one block filled, and no other shaded.
const miniAt = (text, place) => text.split(' ').map((b, i) => b.slice(0, -1) + (i === place ? '9' : '0')).join(' ');

// Below the box stand, from the top: what was understood, which devices and which
// kinds the notes are of, and the notes. The upper rows keep their height, so that
// nothing moves under the finger while somebody types; they change when the typing
// rests.
function startFind(form) {
  const words = form.querySelector('[data-find-words]');
  const panel = form.querySelector('[data-find-panel]');
  const heard = form.querySelector('[data-find-heard]');
  const narrow = form.querySelector('[data-find-narrow]');
  const list = form.querySelector('[data-find-hits]');
  const said = form.querySelector('[data-find-said]');
  const open = 'find' === page.dataset.page; // the page of results
  const onPage = open || page.dataset.page === 'start'; // the box is part of the page, and the query of its address
  const here = page.dataset.device || '';
  const limit = open ? 40 : onPage ? 12 : 8;
  const atOnce = 5; // while somebody types; who came with a question sees the best at once, and then the others
  const rest = 150; // ms without a key after which the typing rests
  let only = { device: '', kind: '' };
  let every = null; // all devices there are
  let chosen = -1;
  let asked = null;
  let busy = false;
  let resting = 0;

  list.id = 'find-hits';
  list.setAttribute('role', 'listbox');
  list.setAttribute('aria-label', 'What was found');
  words.setAttribute('role', 'combobox');
  words.setAttribute('aria-controls', list.id);
  words.setAttribute('aria-expanded', 'false');
  words.setAttribute('aria-autocomplete', 'list');

  const links = () => [...list.querySelectorAll('.find-hit')];
  const state = () => [words.value, only.device, only.kind].join('\n');

  function choose(n) {
    const all = links();
    if (!all.length) return;
    chosen = (n + all.length) % all.length;
    all.forEach((a, i) => a.setAttribute('aria-selected', String(i === chosen)));
    words.setAttribute('aria-activedescendant', all[chosen].id);
    all[chosen].scrollIntoView({ block: 'nearest' });
  }

  function close() {
    clearTimeout(resting);
    panel.hidden = true;
    document.body.classList.remove('found');
    list.replaceChildren();
    chosen = -1;
    words.setAttribute('aria-expanded', 'false');
    words.removeAttribute('aria-activedescendant');
    said.textContent = '';
  }

  // marked builds text in which the matching pieces are <mark>.
  const marked = (pieces) => pieces.map((p) => (p.hit ? make('mark', {}, p.text) : p.text));

  // hazard parts a caution into its signal word and the rest.
  function hazard(text) {
    const [, word, rest] = /^(DANGER|WARNING|CAUTION|NOTICE)[.:]?\s*(.*)$/s.exec(text) || [null, '', text];
    return make('span', { class: 'find-hit-hazard' }, word ? make('strong', { class: 'signal-' + word.toLowerCase() }, word) : null, ' ' + rest);
  }

  // bar draws minutes as a length, an hour at most.
  function bar(text) {
    const at = make('span', { class: 'mini-bar', 'aria-hidden': 'true' });
    const minutes = Math.min(60, parseFloat(text) || 0);
    setSVG(at, '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 92 9" width="92" height="9"><path class="ruler-tick" stroke="currentColor" d="M0 8.5H92M.5 5V9M16 5V9M31 5V9M46 5V9M61 5V9M76 5V9M91.5 5V9"/><rect fill="currentColor" y="1" height="5" width="' + Math.max(1, minutes * 1.533).toFixed(1) + '"/></svg>');
    return at;
  }

  function row(h, i) {
    const first = h.firstTest ? ['First: ' + h.firstTest, h.firstMinutes ? make('span', { class: 'find-hit-minutes' }, bar(h.firstMinutes), ' ', make('b', {}, h.firstMinutes)) : null] : h.snippet || '';
    // a device is entered with what was heard, so that its first test stands there at once; a fault's page hands it on
    const heard = ['device', 'fault'].includes(h.kind) && h.symptomParts.length ? '#says=' + encodeURIComponent(h.symptomParts.map((p) => p.text).join('')) : '';
    const also = [...new Set((h.also || []).map((o) => o.deviceTitle).filter(Boolean))]; // a common block's note is of no device
    return make('a', { class: 'find-hit', role: 'option', id: 'find-hit-' + i, 'aria-selected': 'false', href: root + h.address + heard, 'data-id': h.id },
      make('span', { class: 'find-hit-title' }, marked(h.titleParts)), make('span', { class: 'find-hit-about' },
      make('span', { class: 'find-hit-kind' }, (h.deviceTitle && h.kind !== 'device' ? h.deviceTitle : h.kindText)),
      h.symptomParts.length ? make('span', { class: 'find-hit-shows' }, ' · ', marked(h.symptomParts)) : null),
      h.chain ? miniChain(h.chain) : null,
      first ? make('span', { class: 'find-hit-first' }, first) : null,
      h.hazard ? hazard(h.hazard) : null,
      also.length ? make('span', { class: 'find-hit-also' }, 'The same on: ' + also.join(', ')) : null);
  }

  // show lists what was found: the first ones at once, the rest, which is asked for
  // then, and what stands above them when no key follows, so that the next one need
  // not wait for it.
  function show(got, question, first) {
    chosen = -1;
    words.removeAttribute('aria-activedescendant');
    clearTimeout(resting);
    list.setAttribute('role', got.hits.length ? 'listbox' : 'group'); // a list to choose from holds something
    if (got.hits.length) list.replaceChildren(...got.hits.map(row));
    else list.replaceChildren(make('p', { class: 'find-empty' }, 'Nothing in the notes matches. Try the symptom in other words, or the device alone.'));
    panel.hidden = false;
    if (onPage) document.body.classList.add('found'); // what was found takes the place of the shelves
    words.setAttribute('aria-expanded', 'true');
    const now = state();
    resting = setTimeout(async () => {
      if (now !== state()) return;
      const all = got.hits.length < first && every ? got : await search({ ...question, every: !every }).catch(() => got);
      every ||= all.everyDevice;
      if (now !== state() || panel.hidden) return;
      list.append(...all.hits.slice(got.hits.length).map((h, i) => row(h, got.hits.length + i)));
      above({ ...all, every });
      remember();
      vain(all);
    }, first < atOnce ? 0 : rest);
  }

  // above fills the rows above the notes.
  function above(got) {
    const lines = got.lines.map((l) => make('span', { class: 'find-' + l.kind }, l.text));
    if (got.unwritten) {
      const asked = new URLSearchParams({ name: got.unwritten, ...(got.says ? { says: got.says.join(',') } : {}) });
      lines.push(make('a', { class: 'find-unwritten', href: root + 'unwritten.html?' + asked }, 'Trace it by its parts'));
    }
    if (!lines.length) lines.push(make('span', {}, got.hits.length < limit ? got.hits.length + ' found' : 'The likeliest ' + limit));
    heard.replaceChildren(...lines.flatMap((l, i) => (i ? [' ', l] : [l])));
    said.textContent = (got.hits.length ? got.hits.length + ' found. ' : 'Nothing found. ') + got.lines.map((l) => l.text).join('; ');
    narrow.replaceChildren(
      group('Which device?', 'device', got.devices, got.every),
      group('Kind', 'kind', got.kinds.length > 1 || only.kind ? got.kinds : []));
    if (!open && got.hits.length) {
      narrow.append(make('a', { class: 'find-more', href: results() }, 'All in a long list'));
    }
  }

  const results = () => root + 'find.html?' + new URLSearchParams(Object.entries({ q: words.value.trim(), ...only }).filter(([, v]) => v));

  // group is a row of choices to narrow the search by; one is pressed or none.
  function group(label, name, choices, all) {
    if (!choices.length && !only[name] && !all?.length) return '';
    const box = make('span', { class: 'find-group', role: 'group', 'aria-label': label }, make('span', { class: 'find-group-label' }, label));
    const listed = choices.slice();
    if (only[name] && !listed.some((c) => c.name === only[name])) {
      listed.unshift((all || []).find((c) => c.name === only[name]) || { name: only[name], title: only[name] });
    }
    for (const c of listed) {
      box.append(make('button', { type: 'button', class: 'find-choice', 'aria-pressed': String(c.name === only[name]), click: () => press(name, c.name) }, c.title));
    }
    if (all && all.length > listed.length) {
      const rest = make('select', { class: 'find-rest', 'aria-label': 'Another device', change: () => press(name, rest.value) },
        make('option', { value: '' }, listed.length ? 'another …' : 'choose …'),
        all.filter((c) => !listed.some((l) => l.name === c.name)).map((c) => make('option', { value: c.name }, c.title)));
      box.append(rest);
    }
    return box;
  }

  // press narrows by a choice, or takes it back; the choice stays in the address.
  function press(name, value) {
    only = { ...only, [name]: only[name] === value ? '' : value };
    remember(true);
    find();
    words.focus();
  }

  // remember puts the query and what it is narrowed by into the address, so that
  // coming back finds it again.
  function remember(step) {
    if (!onPage) return;
    const at = new URL(location.href);
    for (const [name, value] of Object.entries({ q: words.value.trim(), ...only })) {
      if (value) at.searchParams.set(name, value); else at.searchParams.delete(name);
    }
    if (at.href === location.href) return;
    try { if (step) history.pushState(null, '', at); else history.replaceState(null, '', at); } catch { /* some browsers refuse on disk */ }
  }

  // recall reads them from the address.
  function recall() {
    const at = new URL(location.href).searchParams;
    words.value = at.get('q') || '';
    only = { device: at.get('device') || '', kind: at.get('kind') || '' };
    if (words.value || only.device || only.kind) find(1); else close();
  }

  async function find(first = atOnce) {
    if (!words.value.trim()) { clearTimeout(resting); close(); return; }
    if (busy) return; // what was typed last is asked for when the answer comes
    busy = true;
    try {
      for (asked = null; words.value.trim() && asked !== state();) {
        asked = state();
        const text = words.value;
        const question = { query: text.trim(), limit, typing: !/\s$/.test(text), ...only, here };
        const got = await search({ ...question, first });
        if (asked === state()) show(got, question, first);
      }
    } catch (e) {
      list.setAttribute('role', 'group');
      list.replaceChildren(make('p', { class: 'find-empty' }, 'Searching does not work here: ' + e.message + '.'));
      panel.hidden = false;
    } finally {
      busy = false;
    }
  }

  // vain keeps what was searched in vain, when the typing has rested for long, so
  // that the shop sees which notes it lacks.
  let longer = 0;
  function vain(got) {
    clearTimeout(longer);
    const text = words.value.trim().toLowerCase().slice(0, 80);
    if (!got.vain || only.device || only.kind || text.length < 4) return;
    longer = setTimeout(() => {
      if (text !== words.value.trim().toLowerCase().slice(0, 80)) return;
      const all = kept.get('vain') || {};
      all[text] = (all[text] || 0) + 1;
      const most = Object.entries(all).sort((a, b) => b[1] - a[1]).slice(0, 60);
      if (!most.some(([t]) => t === text)) most.push([text, 1]);
      kept.set('vain', Object.fromEntries(most));
    }, 1500);
  }

  words.addEventListener('input', () => find());
  if (onPage) list.addEventListener('click', () => remember());
  words.addEventListener('focus', () => { index().catch(() => {}); if (words.value && panel.hidden) find(); });
  form.addEventListener('keydown', (e) => {
    if (e.key === 'Escape') {
      e.preventDefault();
      if (only.device || only.kind) { only = { device: '', kind: '' }; remember(true); find(); words.focus(); }
      else if (panel.hidden) { words.value = ''; remember(); }
      else close();
    }
  });
  words.addEventListener('keydown', (e) => {
    if (e.key === 'ArrowDown') { e.preventDefault(); choose(chosen + 1); }
    else if (e.key === 'ArrowUp') { e.preventDefault(); choose(chosen - 1); }
    else if (e.key === 'Enter') {
      e.preventDefault();
      const all = links();
      const go = all[Math.max(chosen, 0)];
      if (go && !panel.hidden && asked === state() && !busy) { remember(); go.click(); }
      else find();
    }
  });
  form.addEventListener('submit', (e) => e.preventDefault());
  if (!onPage) document.addEventListener('click', (/** @type {any} */ e) => { if (!form.contains(e.target) && document.contains(e.target)) close(); });
  document.addEventListener('keydown', (e) => {
    if (e.key !== '/' || e.ctrlKey || e.metaKey || e.altKey || e.target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName)) return;
    e.preventDefault();
    form.closest('.arm-top')?.classList.add('searching');
    words.focus();
    words.select();
  });
  if (onPage) {
    recall();
    addEventListener('popstate', recall);
  }
}

// handOn has the way from a fault to its trace tell what the search heard, which came with the address.
function handOn(way) {
  const says = new URLSearchParams(location.hash.slice(1)).get('says');
  if (says) way.href += '&says=' + encodeURIComponent(says);
}

// startVain lists what was searched in vain in this browser.
function startVain(place) {
  const all = Object.entries(kept.get('vain') || {}).sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  if (!all.length) return;
  place.querySelector('[data-vain-list]').replaceChildren(...all.map(([text, n]) =>
    make('li', {}, make('a', { href: root + 'find.html?q=' + encodeURIComponent(text) }, text), make('span', { class: 'small' }, n > 1 ? ' ' + n + ' times' : ''))));
  place.querySelector('[data-vain-forget]').addEventListener('click', () => { kept.drop('vain'); place.hidden = true; });
  place.hidden = false;
}
