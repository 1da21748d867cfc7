// Taking in: what the owner says becomes what it shows, each by a tap.
'use strict';

/** @type {[string, string, string?, object?][]} */
const counterFields = [
  ['type', 'Type, from its rating label', 'KE-88, 230 V, 2 kW', {}],
  ['before', 'What came before', 'a fall, water, a move, a storm', {}],
  ['tried', 'Tried already, and by whom', 'another outlet', {}],
  ['limit', 'The owner pays at most', '', { inputmode: 'decimal' }],
  ['price', 'A new one costs', '', { inputmode: 'decimal' }],
];
const asSum = (text) => { const n = Number(text.replace(',', '.').replace(/[^0-9.]/g, '')); return n > 0 ? n : null; };

async function startCounter(place) {
  const asked = new URLSearchParams(location.search);
  const job = jobs.here;
  let b;
  try { b = await bench(); } catch (e) { place.replaceChildren(make('p', { class: 'wrong' }, 'Nothing can be taken in here: ' + e.message + '.')); return; }
  const had = job ? null : kept.get('counter');
  const draft = had && typeof had === 'object' ? had : {};
  const shows = new Map(job ? job.all('shows/') : Array.isArray(draft.shows) ? draft.shows.filter((x) => Array.isArray(x)) : []);
  const value = (name) => (job ? job.text(name) : asText(draft[name]));
  let device = job ? job.text('device') : b.devices[asked.get('device')] ? asked.get('device') : b.devices[draft.device] ? draft.device : '';
  const handed = new URLSearchParams(location.hash.slice(1)); // a trace that was begun just looking
  for (const id of (handed.get('shows') || '').split(',').filter(Boolean)) shows.set(id, true);
  for (const id of (handed.get('not') || '').split(',').filter(Boolean)) shows.set(id, false);

  const words = make('textarea', { id: 'counter-says', rows: '2', autocomplete: 'off', input: () => { keep(); later(); } });
  words.value = value('says');
  // what was searched for just now is offered as the owner's words
  let searched = '';
  try { searched = job || words.value ? '' : sessionStorage.getItem(page.dataset.shop + ':asked') || ''; } catch { /* nothing was kept */ }
  const again = searched ? make('button', { type: 'button', class: 'trace-quiet', 'data-asked': true, click: () => { words.value = searched; again.remove(); keep(); propose(); words.focus(); } }, 'As searched: “' + searched + '”') : null;
  const offered = make('div', { class: 'counter-offered', role: 'group', 'aria-label': 'What it may be' });
  const select = make('select', { id: 'counter-device', change: () => choose(select.value) }, make('option', { value: '' }, 'choose'),
    Object.entries(b.devices).sort((x, y) => (x[1].title < y[1].title ? -1 : 1)).map(([id, d]) => make('option', { value: id }, d.title)));
  const symptoms = make('div', { 'data-counter-symptoms': true });
  const trouble = make('p', { class: 'wrong', role: 'alert', hidden: true });
  const boxes = Object.fromEntries(counterFields.map(([name, , hint, props]) => {
    const box = make('input', { id: 'counter-' + name, name, placeholder: hint, autocomplete: 'off', input: keep, ...props });
    box.value = value(name);
    return [name, box];
  }));
  let proposed = [];
  let picked = Boolean(device); // somebody chose the device; until then it is what the words name
  let known = null; // what the notes say of the device, once that is here
  let turn = 0;
  let waiting = 0;

  function keep() {
    if (job) {
      job.set('says', words.value);
      for (const [name] of counterFields) job.set(name, ['limit', 'price'].includes(name) ? asSum(boxes[name].value) : boxes[name].value.trim() || null);
      return;
    }
    kept.set('counter', { says: words.value, device, shows: [...shows], ...Object.fromEntries(counterFields.map(([name]) => [name, boxes[name].value])) });
  }

  async function choose(id) {
    picked = Boolean(id);
    await become(id);
    propose();
  }

  // become takes a device for what it is. What was said of another stays only as far
  // as this one can show it.
  async function become(id) {
    const other = id !== device;
    device = id;
    select.value = id;
    trouble.hidden = true;
    if (other) known = null;
    let d;
    try { d = await benchOf(id); } catch (e) {
      if (device === id) { trouble.textContent = 'What it shows cannot be offered: ' + e.message + '.'; trouble.hidden = false; }
      return;
    }
    if (device !== id) return; // another was chosen meanwhile
    known = d;
    if (other) for (const s of [...shows.keys()]) if (!d?.symptoms.some((x) => x.id === s)) shows.delete(s);
    boxes.price.placeholder = d?.price ? 'about ' + d.price + ' ' + b.shop.currency : '';
    keep();
  }

  function say(id, v) {
    const next = shows.get(id) === v ? undefined : v;
    if (next === undefined) shows.delete(id); else shows.set(id, next);
    if (job) job.set('shows/' + id, next === undefined ? null : next);
    keep();
    draw();
    symptoms.querySelector('[data-says="' + CSS.escape(id) + '"] [data-is="' + v + '"]')?.focus();
  }

  function draw() {
    const d = known;
    if (!d) { symptoms.replaceChildren(); return; }
    const first = d.symptoms.filter((s) => proposed.includes(s.id) || shows.has(s.id)).sort((x, y) => proposed.indexOf(x.id) - proposed.indexOf(y.id));
    const row = (s) => make('li', { 'data-says': s.id }, make('span', {}, s.says), make('span', { class: 'counter-ways' },
      make('button', { type: 'button', 'data-is': 'true', 'aria-pressed': String(shows.get(s.id) === true), 'aria-label': 'Shows: ' + s.says, click: () => say(s.id, true) }, 'yes'), ' ',
      make('button', { type: 'button', 'data-is': 'false', 'aria-pressed': String(shows.get(s.id) === false), 'aria-label': 'Does not show: ' + s.says, click: () => say(s.id, false) }, 'no')));
    const rest = d.symptoms.filter((s) => !first.includes(s));
    const wasOpen = symptoms.querySelector('details')?.open;
    symptoms.replaceChildren(...[
      first.length ? make('p', { class: 'small' }, words.value.trim() ? 'The words may mean this; tap what is so.' : '') : null,
      first.length ? make('ul', { class: 'plain counter-list', 'data-counter-proposed': true }, first.map(row)) : null,
      rest.length ? make('details', { open: wasOpen ?? !first.length }, make('summary', {}, first.length ? 'All that a ' + d.title.toLowerCase() + ' may show' : 'What it shows'), make('ul', { class: 'plain counter-list' }, rest.map(row))) : null,
    ].filter(Boolean));
  }

  function later() { clearTimeout(waiting); waiting = setTimeout(propose, 200); }

  // propose asks the search what the words mean: which device, which symptoms.
  async function propose() {
    const mine = ++turn;
    const query = words.value.trim().slice(0, 300);
    proposed = [];
    let devices = [];
    if (query) {
      try {
        if (!picked) {
          const got = await search({ query, limit: 12 });
          if (mine !== turn) return;
          const titled = (title) => Object.keys(b.devices).find((k) => b.devices[k].title === title);
          for (const h of got.hits || []) {
            const id = titled(h.deviceTitle);
            if (id && !devices.includes(id)) devices.push(id);
          }
          const understood = got.lines?.find((l) => l.kind === 'understood')?.text.split(' · ')[0];
          await become(titled(understood) || ''); // the thing that was named; a tap puts another in its place
          if (mine !== turn) return;
          devices = devices.filter((id) => id !== device);
        }
        if (device) {
          const got = await search({ query, limit: 30, device });
          for (const h of got.hits || []) {
            const says = h.symptomParts.map((p) => p.text).join('');
            const s = known?.symptoms.find((x) => x.says === says);
            if (s && !proposed.includes(s.id)) proposed.push(s.id);
          }
          proposed = proposed.slice(0, 4);
        }
      } catch { devices = []; }
    }
    if (mine !== turn) return;
    offered.replaceChildren(...devices.slice(0, 4).map((id) => make('button', { type: 'button', 'data-offered': id, click: () => choose(id) }, b.devices[id].title)));
    draw();
  }

  async function open() {
    if (!b.devices[device]) { trouble.textContent = 'Say what it is: choose the device.'; trouble.hidden = false; select.focus(); return; }
    if (!known) await become(device);
    const d = known;
    if (!d) return; // the trouble is said
    const facts = { device, title: d.title, class: d.class, chain: d.chain, says: words.value.trim() };
    for (const [name] of counterFields) facts[name] = ['limit', 'price'].includes(name) ? asSum(boxes[name].value) : boxes[name].value.trim();
    let j = job;
    if (j) { for (const [name, v] of Object.entries(facts)) j.set(name, v || null); } else {
      j = jobs.begin(facts);
      kept.drop('counter');
      try { sessionStorage.removeItem(page.dataset.shop + ':asked'); } catch { /* nothing was kept */ }
    }
    for (const [id, v] of shows) j.set('shows/' + id, v);
    sessionSet(j.code);
    location.href = jobs.address('devices/' + encodeURIComponent(device) + '.html', j.code) + (job || device !== asked.get('device') ? '' : location.hash);
  }

  /** @param {any[]} field */
  const counterField = ([name, label]) => make('p', { class: 'sheet-field' }, make('label', { for: 'counter-' + name }, label + (['limit', 'price'].includes(name) ? ', ' + b.shop.currency : '')), boxes[name]);
  place.replaceChildren(make('form', { class: 'sheet counter', submit: (e) => { e.preventDefault(); open(); } },
    make('p', { class: 'small' }, 'No name, telephone or e-mail here: how to reach the owner stays on the paper ticket.'),
    make('p', { class: 'sheet-field' }, make('label', { for: 'counter-says' }, 'The owner says'), words, again),
    offered,
    make('p', { class: 'sheet-field' }, make('label', { for: 'counter-device' }, 'It is a'), select),
    symptoms,
    counterField(counterFields[0]),
    make('details', { class: 'fold counter-more', open: counterFields.slice(1).some(([name]) => boxes[name].value) }, make('summary', {}, 'What came before, what was tried, what it may cost'), counterFields.slice(1).map(counterField)),
    trouble,
    make('p', { class: 'trace-tools counter-go' }, make('button', { type: 'submit', class: 'go', 'data-counter-open': true }, job ? 'On with the job' : 'Open the job'),
      job ? make('a', { class: 'button', href: jobs.address('job.html', job.code) }, 'Ticket and label') : null,
      job ? null : make('button', { type: 'button', click: () => { kept.drop('counter'); location.href = root + 'counter.html?job='; } }, 'Empty the form'))));
  await become(device);
  propose();
}
