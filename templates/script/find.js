// Search as one types.
'use strict';

function startFind(form) {
  const words = form.querySelector('[data-find-words]');
  const list = form.querySelector('[data-find-hits]');
  const said = form.querySelector('[data-find-said]');
  const onStart = page.dataset.page === 'start';
  let chosen = -1;
  let asked = '';
  let busy = false;
  let remembering = 0;
  let later = 0;

  list.id = 'find-hits';
  list.setAttribute('role', 'listbox');
  list.setAttribute('aria-label', 'What was found');
  words.setAttribute('role', 'combobox');
  words.setAttribute('aria-controls', list.id);
  words.setAttribute('aria-expanded', 'false');
  words.setAttribute('aria-autocomplete', 'list');

  const links = () => [...list.querySelectorAll('.find-hit')];

  function choose(n) {
    const all = links();
    if (!all.length) return;
    chosen = (n + all.length) % all.length;
    all.forEach((a, i) => a.setAttribute('aria-selected', String(i === chosen)));
    words.setAttribute('aria-activedescendant', all[chosen].id);
    all[chosen].scrollIntoView({ block: 'nearest' });
  }

  function close() {
    clearTimeout(later);
    list.hidden = true;
    list.replaceChildren();
    chosen = -1;
    words.setAttribute('aria-expanded', 'false');
    words.removeAttribute('aria-activedescendant');
    said.textContent = '';
  }

  // marked builds text in which the matching pieces are <mark>.
  const marked = (pieces) => pieces.map((p) => (p.hit ? make('mark', {}, p.text) : p.text));

  function row(h, i) {
    const first = h.firstTest ? 'First: ' + h.firstTest + (h.firstMinutes ? ', ' + h.firstMinutes : '') : h.snippet || '';
    return make('a', { class: 'find-hit', role: 'option', id: 'find-hit-' + i, 'aria-selected': 'false', href: root + h.address, 'data-id': h.id },
      make('span', { class: 'find-hit-title' }, marked(h.titleParts)),
      make('span', { class: 'find-hit-kind' }, ' · ' + (h.deviceTitle && h.kind !== 'device' ? h.deviceTitle : h.kindText)),
      h.symptomParts.length ? make('span', { class: 'find-hit-shows' }, ' · ', marked(h.symptomParts)) : null,
      first ? make('span', { class: 'find-hit-first' }, first) : null);
  }

  // show lists what was found: the first ones at once, the rest when no key
  // follows, so that the next one need not wait for all of them to be laid out.
  function show(hits) {
    chosen = -1;
    words.removeAttribute('aria-activedescendant');
    clearTimeout(later);
    if (!hits.length) {
      list.replaceChildren(make('p', { class: 'find-empty' }, 'Nothing in the notes matches. Try the symptom in other words, or the device alone.'));
      said.textContent = 'Nothing found';
    } else {
      const rows = hits.map(row);
      list.replaceChildren(...rows.slice(0, 5));
      later = setTimeout(() => list.append(...rows.slice(5)), 120);
      said.textContent = hits.length + ' found';
    }
    list.hidden = false;
    words.setAttribute('aria-expanded', 'true');
  }

  // remember puts the query into the address, so that coming back finds it again.
  function remember() {
    clearTimeout(remembering);
    const here = new URL(location.href);
    const query = asked.trim();
    if (query) here.searchParams.set('q', query); else here.searchParams.delete('q');
    try { history.replaceState(null, '', here); } catch { /* some browsers refuse on disk */ }
  }

  async function find() {
    asked = words.value;
    const query = asked.trim();
    clearTimeout(remembering);
    if (onStart) remembering = setTimeout(remember, 250); // not at every key: it holds up typing
    if (!query) { close(); return; }
    if (busy) return; // what was typed last is asked for when the answer comes
    busy = true;
    try {
      await index();
      for (let last = null; asked.trim() && asked !== last;) {
        last = asked;
        const got = await ask('search', { query: last.trim(), limit: onStart ? 12 : 8, typing: !/\s$/.test(last) });
        if (asked === last) show(got.hits || []);
      }
    } catch (e) {
      list.replaceChildren(make('p', { class: 'find-empty' }, 'Searching does not work here: ' + e.message + '.'));
      list.hidden = false;
    } finally {
      busy = false;
    }
  }

  words.addEventListener('input', find);
  if (onStart) list.addEventListener('click', remember);
  words.addEventListener('focus', () => { index().catch(() => {}); if (words.value && list.hidden) find(); });
  words.addEventListener('keydown', (e) => {
    if (e.key === 'ArrowDown') { e.preventDefault(); choose(chosen + 1); }
    else if (e.key === 'ArrowUp') { e.preventDefault(); choose(chosen - 1); }
    else if (e.key === 'Escape') { e.preventDefault(); if (list.hidden) words.value = ''; close(); }
    else if (e.key === 'Enter') {
      e.preventDefault();
      const all = links();
      const go = all[Math.max(chosen, 0)];
      if (go && !list.hidden) go.click();
      else find();
    }
  });
  form.addEventListener('submit', (e) => e.preventDefault());
  if (!onStart) document.addEventListener('click', (e) => { if (!form.contains(e.target)) close(); });
  document.addEventListener('keydown', (e) => {
    if (e.key !== '/' || e.ctrlKey || e.metaKey || e.altKey || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName)) return;
    e.preventDefault();
    words.focus();
    words.select();
  });
  if (onStart) {
    const q = new URL(location.href).searchParams.get('q');
    if (q) { words.value = q; find(); }
  }
}
