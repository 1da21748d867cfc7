// A device that nobody has written up: its blocks are picked in order, its plate
// and class asked for, and what they expand to is traced like any device. The
// address holds all of it. All thinking is done in Go (calc/blocks).
'use strict';

function startUnwritten(place) {
  const data = JSON.parse(place.querySelector('[data-unwritten-data]').textContent);
  const form = place.querySelector('[data-unwritten-form]');
  const traced = place.querySelector('[data-unwritten-trace]');
  const kinds = new Map(data.kinds.map((k) => [k.name, k]));
  const asked = new URLSearchParams(location.search);
  const picked = {
    title: asked.get('name') || '',
    blocks: (asked.get('blocks') || '').split(' ').filter(Boolean),
    class: ['I', 'II', 'III'].includes(asked.get('class')) ? asked.get('class') : '',
    plate: { mains: data.mains },
    shows: (asked.get('says') || '').split(',').filter(Boolean),
  };
  for (const [name, value] of asked) if (name.startsWith('plate.')) picked.plate[name.slice(6)] = value;
  let loaded = null; // the library, once the core has it
  let turn = 0;

  const plain = (s) => ' ' + s.toLowerCase().replaceAll('-', ' ').split(/\s+/).join(' ').trim() + ' ';
  const shut = () => data.shut.find((x) => plain(picked.title).includes(' ' + plain(x.name).trim() + ' '));
  const kindOf = (word) => kinds.get(word.includes('=') ? word.split('=')[1] : word);
  const used = () => picked.blocks.map(kindOf).filter(Boolean);
  const plateNames = () => [...new Set(used().flatMap((k) => k.plate || []))];

  function address() {
    const a = new URLSearchParams();
    if (picked.title) a.set('name', picked.title);
    if (picked.blocks.length) a.set('blocks', picked.blocks.join(' '));
    if (picked.class) a.set('class', picked.class);
    for (const name of plateNames()) if (picked.plate[name]) a.set('plate.' + name, picked.plate[name]);
    if (picked.shows.length) a.set('says', picked.shows.join(','));
    const text = a.toString();
    return location.pathname + (text ? '?' + text : '');
  }

  // changed keeps the picks in the address, and traces them anew.
  function changed(redraw) {
    try { window.history.replaceState(null, '', address()); } catch { /* refused on some disks */ }
    if (redraw) draw();
    run();
  }

  function add(word) {
    const taken = new Set(picked.blocks.map((w) => w.split('=')[0]));
    let name = word;
    for (let n = 2; taken.has(name) && kinds.has(word); n++) name = word + '-' + n;
    picked.blocks.push(name === word ? word : name + '=' + word);
    changed(true);
  }

  // depth is how many brackets are open, and whether a way has just begun.
  function depth() { return picked.blocks.filter((w) => w === '[').length - picked.blocks.filter((w) => w === ']').length; }

  function draw() {
    const last = picked.blocks.filter((w) => !['[', '|', ']'].includes(w)).map((w) => kindOf(w)?.name).pop() || '';
    const first = data.follows[last] || [];
    const rest = data.kinds.map((k) => k.name).filter((n) => !first.includes(n));
    const option = (n) => make('option', { value: n }, kinds.get(n).title + (kinds.get(n).shut ? ' (stays shut)' : ''));
    const choose = make('select', { id: 'unwritten-next', change: (e) => { if (e.target.value) add(e.target.value); } },
      make('option', { value: '' }, picked.blocks.length ? 'what comes next' : 'where the energy comes from'),
      first.length ? make('optgroup', { label: 'Mostly next' }, first.filter((n) => kinds.has(n)).map(option)) : null,
      make('optgroup', { label: 'All blocks' }, rest.map(option)));
    const button = (text, click) => make('button', { type: 'button', click }, text);
    const open = depth() > 0;
    const row = make('p', { class: 'unwritten-row', 'data-unwritten-row': true }, picked.blocks.length
      ? picked.blocks.map((w) => ({ '[': '( ', '|': ' or beside it ', ']': ' )' }[w] || w.split('=')[0].replaceAll('-', ' '))).join(' → ').replaceAll('→ ( → ', '→ ( ').replaceAll(' →  or beside it  → ', ' | ').replaceAll(' →  )', ' )').replaceAll('( →', '(')
      : 'Nothing picked yet.');
    form.replaceChildren(...[
      make('p', {}, make('label', { for: 'unwritten-name' }, 'What is it?'), make('input', { id: 'unwritten-name', value: picked.title, autocomplete: 'off', input: (e) => { picked.title = e.target.value; changed(false); } })),
      make('p', {}, make('label', { for: 'unwritten-ready' }, 'A usual build to begin with'),
        make('select', { id: 'unwritten-ready', change: (e) => { const r = data.ready[Number(e.target.value)]; if (!r) return; picked.blocks = r.blocks.split(' '); Object.assign(picked.plate, r.plate || {}); changed(true); } },
          make('option', { value: '' }, 'none'), data.ready.map((r, i) => make('option', { value: String(i) }, r.title)))),
      make('p', {}, make('label', { for: 'unwritten-next' }, picked.blocks.length ? 'The block after it' : 'The first block'), choose),
      row,
      make('div', { class: 'unwritten-ways' }, open ? [button('The other way', () => add('|')), button('Both ways meet again', () => add(']'))] : picked.blocks.length ? button('It parts into two ways', () => add('[')) : null,
        picked.blocks.length ? button('Take the last away', () => { picked.blocks.pop(); changed(true); }) : null),
      make('fieldset', {}, make('legend', {}, 'Class of protection, from its rating plate'),
        [['I', 'I: it has an earth'], ['II', 'II: a square in a square, no earth'], ['III', 'III: safe extra-low voltage']].map(([v, text]) => make('label', {},
          make('input', { type: 'radio', name: 'unwritten-class', value: v, checked: picked.class === v, change: () => { picked.class = v; changed(false); } }), text))),
      plateNames().length ? make('fieldset', {}, make('legend', {}, 'From its rating plate'), plateNames().map((n) => make('label', {}, n,
        make('input', { 'data-unwritten-plate': n, value: picked.plate[n] || '', placeholder: used().map((k) => k.example?.[n]).find(Boolean) || '', autocomplete: 'off', input: (e) => { picked.plate[n] = e.target.value; changed(false); } })))) : '',
      make('p', {}, make('label', { for: 'unwritten-says' }, 'What the owner says'),
        make('select', { id: 'unwritten-says', change: (e) => { picked.shows = e.target.value ? [e.target.value] : []; changed(false); } },
          make('option', { value: '' }, 'not asked yet'), data.library.complaints.map((c) => make('option', { value: c.id, selected: picked.shows.includes(c.id) }, c.says))))].filter(Boolean));
    form.hidden = false;
  }

  const say = (...what) => traced.replaceChildren(make('p', { class: 'shown', role: 'status' }, ...what));

  async function run() {
    const mine = ++turn;
    const closed = shut();
    const red = used().find((k) => k.shut);
    if (closed) { say('This stays shut here: ', make('a', { href: closed.address }, closed.title), '.'); return; }
    if (red) { say(red.title + ': ' + red.shut + '.'); return; }
    if (!picked.blocks.length) { traced.replaceChildren(); return; }
    let got;
    try {
      loaded ||= ask('blocks', { library: data.library, shop: data.shop });
      await loaded;
      const plate = Object.fromEntries(['mains', ...plateNames()].map((n) => [n, picked.plate[n] || '']));
      got = await ask('unwritten', { title: picked.title, blocks: picked.blocks.join(' '), class: picked.class, plate, shows: picked.shows });
    } catch (e) {
      loaded = null;
      if (mine === turn) say('The trace does not run here: ' + e.message + '.');
      return;
    }
    if (mine !== turn) return;
    if (got.error) { say(got.error.says + '.'); return; }
    const section = make('section', { class: 'trace', 'data-trace': 'unwritten', 'aria-labelledby': 'trace' },
      make('h2', { id: 'trace' }, 'Find the fault'),
      make('p', { class: 'small' }, 'From common blocks: nobody has written this device up.'),
      make('p', { class: 'unwritten-chain' }, got.row),
      make('script', { type: 'application/json', 'data-device': true }, JSON.stringify(got.device)),
      make('div', { 'data-trace-live': true, hidden: true }),
      make('div', { 'data-trace-paper': true }));
    const name = (picked.title || 'unwritten device').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '') || 'unwritten-device';
    traced.replaceChildren(section, make('p', {}, make('button', { type: 'button', 'data-unwritten-keep': true, click: () => download(got.note, name + '.md') }, 'Keep it: download the device’s note'),
      ' ', make('span', { class: 'small' }, 'for content/devices/; a job sheet needs it.')));
    const shows = picked.shows.filter((s) => got.device.symptoms.some((x) => x.id === s));
    if (shows.length && !new URLSearchParams(location.hash.slice(1)).get('shows')) {
      try { window.history.replaceState(null, '', location.pathname + location.search + '#shows=' + shows.join(',')); } catch { /* refused on some disks */ }
    }
    startTrace(section);
  }

  place.querySelector('[data-unwritten-paper]').hidden = true;
  draw();
  run();
}
