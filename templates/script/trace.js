// The trace on a device page: symptoms and readings so far -> the next test,
// and why, on a ruler of minutes that runs down the page. All thinking is done in
// Go (calc/trace); this file shows it.
'use strict';

function startTrace(place) {
  const live = place.querySelector('[data-trace-live]');
  const paper = place.querySelector('[data-trace-paper]');
  const device = JSON.parse(place.querySelector('[data-device]').textContent);
  const job = jobFor(device.id); // without one this is just looking, and nothing is kept
  const lost = job ? job.suits(device) : [];
  const plateForm = document.querySelector('[data-plate]');
  const said = make('p', { class: 'trace-said', role: 'status' });
  const nothing = () => ({ symptoms: [], absent: [], readings: [], tried: [], mended: [], looked: [], noPart: [], skipped: [], suspect: '', terms: {} });
  let known = sound(job ? job.known(nothing()) : fromAddress());
  if (job && /[#&](shows|read|tried|mended|suspect)=/.test(location.hash)) handOver();
  let history = [];
  let accepted = ''; // the step whose caution was read
  let advice = null;
  let moneyOpen = false;
  let chipsOpen = false;

  // sound makes what was kept or shared into what the trace takes: a list where
  // a list should be, each item of its shape, whatever else stands there.
  function sound(k) {
    const text = (x) => typeof x === 'string';
    const thing = (x) => x !== null && typeof x === 'object';
    const shape = { symptoms: text, absent: text, looked: text, noPart: text, readings: (r) => thing(r) && text(r.test) && text(r.value),
      tried: (m) => text(m) || (thing(m) && text(m.cause)), mended: (m) => thing(m) && text(m.cause), skipped: (x) => thing(x) && text(x.test) };
    const out = nothing();
    if (!thing(k)) return out;
    for (const [field, ok] of Object.entries(shape)) if (Array.isArray(k[field])) out[field] = k[field].filter(ok);
    if (text(k.suspect)) out.suspect = k.suspect;
    for (const key of ['price', 'limit']) out.terms[key] = Math.max(0, Number(k.terms?.[key]) || 0);
    return out;
  }

  // handOver takes into the job what an address brings: a trace that was begun just
  // looking, or the question whether it is this fault.
  function handOver() {
    const brought = sound(fromAddress());
    const begun = known.readings.length || known.tried.length || known.mended.length;
    known = begun ? { ...known, suspect: brought.suspect || known.suspect } : { ...brought, symptoms: known.symptoms.length ? known.symptoms : brought.symptoms, absent: known.absent, terms: known.terms };
    job.keepKnown(known);
    try { window.history.replaceState(null, '', location.pathname + location.search); } catch { /* refused on some disks */ }
  }

  // An address such as #shows=air-cold&read=element-ohms=open shares a trace, and
  // #suspect=cord-broken asks about a fault. Whatever it brings, sound sorts it.
  function fromAddress() {
    const asked = new URLSearchParams(location.hash.slice(1));
    const words = (k) => (asked.get(k) || '').split(',').filter(Boolean);
    const done = (m) => { const [cause, before] = m.split('~'); return { cause, before: before === undefined ? -1 : Number(before) || 0 }; };
    const sum = (k) => Math.max(0, Number(asked.get(k)) || 0);
    return {
      symptoms: words('shows'),
      absent: words('not'),
      readings: asked.getAll('read').map((r) => { const i = r.indexOf('='); return { test: r.slice(0, i), value: r.slice(i + 1) }; }),
      tried: words('tried').map(done),
      mended: words('mended').map(done),
      looked: asked.has('looked') ? asked.get('looked').split(',') : [],
      noPart: words('nopart'),
      skipped: words('skip').map((s) => { const [test, why] = s.split('~'); return { test, why: why || '' }; }),
      suspect: asked.get('suspect') || '',
      terms: { price: sum('new'), limit: sum('limit') },
    };
  }

  function toAddress() {
    const a = new URLSearchParams();
    const words = (k, list) => { if (list.length) a.set(k, list.join(',')); };
    words('shows', known.symptoms);
    words('not', known.absent);
    for (const r of known.readings) a.append('read', r.test + '=' + r.value);
    const done = (m) => (typeof m === 'string' ? m : m.cause + (m.before >= 0 ? '~' + m.before : ''));
    words('tried', known.tried.map(done));
    words('mended', known.mended.map(done));
    if (known.looked.length) a.set('looked', known.looked.join(','));
    words('nopart', known.noPart);
    words('skip', known.skipped.map((x) => x.test + (x.why ? '~' + x.why : '')));
    if (known.suspect) a.set('suspect', known.suspect);
    if (known.terms.price) a.set('new', known.terms.price);
    if (known.terms.limit) a.set('limit', known.terms.limit);
    const text = a.toString();
    return text ? '#' + text : '';
  }

  const test = (id) => device.tests.find((t) => t.id === id);
  const empty = () => toAddress() === '';

  function change(next) {
    history.push(known);
    known = { ...known, ...next };
    save();
    think();
  }

  function save() {
    if (job) { job.keepKnown(known); known = sound(job.known(nothing())); return; }
    const here = location.pathname + location.search + toAddress();
    try { window.history.replaceState(null, '', here); } catch { /* refused on some disks */ }
  }

  async function think(quiet) {
    try {
      advice = await ask('next', known);
    } catch (e) {
      live.replaceChildren(make('p', { class: 'wrong' }, 'The trace does not run here: ' + e.message + '. The printed tree below still holds.'));
      live.hidden = false;
      return;
    }
    if (job && !advice.error) job.set('next', advice.head + ': ' + advice.title);
    draw();
    if (!quiet) said.textContent = advice.error ? advice.error.says : advice.spoken;
  }

  function drawing(svg, className) {
    const box = make('span', { class: className });
    if (svg) setSVG(box, svg);
    return box;
  }

  function symptomChips() {
    const chips = make('fieldset', { class: 'trace-symptoms' },
      make('legend', {}, known.mended.length ? 'What does it still show?' : 'What does it show?'),
      device.symptoms.map((s) => make('button', {
        type: 'button', class: 'trace-chip', 'aria-pressed': String(known.symptoms.includes(s.id)), 'data-symptom': s.id,
        click: () => change({
          symptoms: known.symptoms.includes(s.id) ? known.symptoms.filter((x) => x !== s.id) : [...known.symptoms, s.id],
          absent: known.absent.filter((x) => x !== s.id),
        }),
      }, s.says)));
    if (!known.readings.length && !known.tried.length && !known.mended.length) return chips;
    // once the bench work has begun, what it shows takes one line
    const shown = device.symptoms.filter((s) => known.symptoms.includes(s.id)).map((s) => s.says);
    return make('details', { class: 'trace-shown', open: chipsOpen, toggle: (e) => { chipsOpen = e.target.open; } },
      make('summary', {}, known.mended.length ? 'Still: ' : 'It shows: ', make('strong', {}, shown.length ? shown.join('; ') : 'nothing chosen')), chips);
  }

  function pathSoFar() {
    if (!advice.path.length) return null;
    return make('ol', { class: 'trace-path', 'aria-label': 'Done so far' }, advice.path.map((p) => make('li', { class: 'mark' },
      drawing(p.ruler, 'mark-ruler'),
      make('div', { class: 'mark-what' }, p.title + ': ', make('strong', {}, p.reading), make('span', { class: 'small trace-lead' }, 'then likeliest: ' + p.lead)),
      drawing(p.strip, 'mark-strip'))));
  }

  function readingForm(t) {
    const trouble = make('p', { class: 'wrong', role: 'alert', hidden: true });
    const enter = (value) => change({ readings: [...known.readings, { test: t.id, value }] });
    const box = make('input', { id: 'trace-value', autocomplete: 'off', spellcheck: 'false' });
    const form = make('form', {
      class: 'trace-value',
      submit: async (e) => {
        e.preventDefault();
        const got = await ask('reading', { test: t.id, value: box.value });
        if (got.error) { trouble.textContent = got.error.says; trouble.hidden = false; box.focus(); return; }
        enter(box.value.trim());
      },
    }, make('label', { for: 'trace-value' }, 'or as measured '), box, make('button', { type: 'submit' }, 'Enter'), trouble);
    return make('div', { class: 'trace-readings', role: 'group', 'aria-label': 'What it reads' },
      advice.outcomes.map((o) => make('button', { type: 'button', class: 'trace-reading', 'data-reading': o.reading, click: () => enter(o.reading) },
        make('strong', {}, o.name), o.text ? ' ' + o.text : '',
        make('span', { class: 'small trace-leaves' }, o.healthy ? 'as it should be · ' : '', o.chance + ' likely',
          o.leaves ? ' · leaves ' + o.leaves : ''))),
      t.kind ? form : null, cannot(t));
  }

  // cannot lets a test go that cannot be taken here, and says why.
  function cannot(t) {
    return make('details', { class: 'trace-cannot' }, make('summary', {}, 'I cannot take this test'),
      make('p', { class: 'small' }, 'That is no reading; the trace goes on without it. Why?'),
      make('p', { class: 'trace-tools' }, (advice.whyNot || []).map((w) => make('button', { type: 'button', class: 'trace-quiet', 'data-cannot': w.why,
        click: () => change({ skipped: [...known.skipped, { test: t.id, why: w.why }] }) }, w.says))));
  }

  // skipped lists the tests that were let go; each can be taken after all.
  function skipped() {
    if (!known.skipped.length) return null;
    return make('p', { class: 'small trace-skipped' }, 'Cannot be taken: ', known.skipped.map((x, i) => make('span', {}, i ? '; ' : '', test(x.test)?.ask || x.test, ' ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => change({ skipped: known.skipped.filter((y) => y !== x) }) }, 'it can'))));
  }

  // asked marks the fault that somebody asks about.
  function asked() {
    if (!advice.suspect) return null;
    const c = device.causes.find((x) => x.id === advice.suspect);
    return make('p', { class: 'trace-note', 'data-suspect': advice.suspect }, 'Is it “' + c.title + '”? ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => change({ suspect: '' }) }, 'Ask no more'));
  }

  function afterMend() {
    return make('div', { class: 'trace-readings' },
      make('button', { type: 'button', 'data-cured': 'yes', click: () => openSheet(advice.id, 'mended') }, 'Mended, and it works'),
      make('button', { type: 'button', 'data-cured': 'no', click: () => change({ tried: [...known.tried, { cause: advice.id, before: known.readings.length }] }) }, 'Done, but it did not cure'),
      make('button', { type: 'button', 'data-cured': 'partly', click: () => { chipsOpen = true; change({ mended: [...known.mended, { cause: advice.id, before: known.readings.length }] }); } }, 'It was that, and something is wrong still'),
      make('button', { type: 'button', class: 'trace-quiet', click: () => change({ noPart: [...known.noPart, advice.id] }) }, 'The part is not to be had'));
  }

  async function draftNote(at) {
    const got = await ask('draft', known);
    if (got.error) { at.textContent = got.error.says; return; }
    const copied = make('span', { role: 'status' });
    at.replaceChildren(make('p', { class: 'small' }, 'A fault note to begin with, for content/faults/. Give it a name and a title, fill in what you find, inspect and commit.'),
      make('pre', { class: 'sheet-preview', tabindex: '0', 'aria-label': 'The new fault note as Markdown' }, got.markdown),
      make('p', { class: 'trace-tools' },
        make('button', { type: 'button', click: () => download(got.markdown, got.name) }, 'Download the note'),
        make('button', { type: 'button', click: () => copy(got.markdown, copied) }, 'Copy it'),
        theInbox?.known ? make('button', { type: 'button', click: async () => {
          const kept = await theInbox.note(got.name, got.markdown);
          copied.textContent = kept.error || 'Kept in the shop’s inbox as ' + kept.name + '.';
        } }, 'Save it in the shop’s inbox') : null, copied));
  }

  function stepCard() {
    const card = make('section', { class: 'trace-step', 'aria-labelledby': 'trace-step', 'data-step': advice.id || '' });
    if (advice.error) {
      card.append(make('h3', { id: 'trace-step' }, 'This does not go together'), make('p', {}, advice.error.says));
      return card;
    }
    const ends = !['test', 'mend'].includes(advice.kind);
    card.append(make('h3', { id: 'trace-step', tabindex: '-1' }, advice.head + ': ', advice.title));
    card.append(make('p', { class: 'trace-minutes' }, advice.minutes ? make('strong', {}, advice.minutes) : null,
      advice.minutes && advice.at !== '0 min' ? ' from minute ' + advice.at.replace(' min', '') : '',
      advice.power ? ' · ' + advice.power : '', advice.open ? ' · first: ' + advice.open : ''));
    const gate = advice.caution && accepted !== advice.kind + advice.id;
    if (advice.caution) {
      card.append(make('div', { class: 'signal signal-' + advice.signal.toLowerCase() },
        make('p', { class: 'signal-word' }, advice.signal), make('p', {}, advice.caution)));
    }
    for (const n of advice.notes) card.append(make('p', { class: 'trace-note' }, n));
    if (ends) for (const w of advice.why) card.append(make('p', {}, w));
    if (gate) {
      card.append(make('button', { type: 'button', class: 'trace-accept', click: () => { accepted = advice.kind + advice.id; draw(); focusStep(); } }, 'I have read this'));
    } else if (advice.kind === 'test') {
      card.append(readingForm(test(advice.id)));
    } else if (advice.kind === 'mend') {
      card.append(make('p', {}, make('a', { href: root + advice.address }, 'The fault note')), afterMend());
    } else if (advice.address) {
      card.append(make('p', {}, make('a', { href: root + advice.address }, 'The fault note')));
    }
    if (advice.look) {
      const at = make('div', { role: 'status' });
      card.append(make('p', { class: 'trace-tools' },
        make('button', { type: 'button', 'data-draft': true, click: () => draftNote(at) }, 'Begin a fault note with what was seen'),
        make('button', { type: 'button', class: 'trace-quiet', 'data-looked': true, click: () => change({ looked: [...known.looked, advice.look.block] }) }, 'Looked there, nothing found: go on')), at);
    }
    if (!ends && advice.why.length) {
      card.append(make('details', { class: 'trace-why', open: true }, make('summary', {}, 'Why this'),
        make('ul', {}, advice.why.map((w) => make('li', {}, w)), (advice.instead || []).map((i) => make('li', { class: 'small' }, i.title + ': ' + i.extra)))));
    }
    if (advice.kind !== 'test') {
      const cause = ['mend', 'past-mending'].includes(advice.kind) ? advice.id : 'unknown';
      card.append(make('button', { type: 'button', class: 'trace-quiet', click: () => openSheet(cause, advice.kind === 'replace' ? 'replaced' : 'given-up') }, 'Write the job sheet as it stands'));
    }
    return card;
  }

  function chances() {
    return make('section', { class: 'trace-chances', 'aria-labelledby': 'trace-chances' },
      make('h3', { id: 'trace-chances' }, 'What it may be'),
      drawing(advice.strip, 'trace-strip'),
      make('ol', { class: 'plain' }, advice.chances.map((c) => make('li', { 'data-cause': c.id, 'data-block': c.block || null, class: c.suspect ? 'trace-suspect' : null },
        make('span', { class: 'trace-letter', 'aria-hidden': 'true' }, c.letter || ''),
        make('span', { class: 'trace-cause' }, c.address ? make('a', { href: root + c.address }, c.title) : c.title),
        make('span', { class: 'trace-chance' }, c.chance)))),
      advice.fromHere ? make('p', { class: 'small' }, advice.fromHere) : null,
      advice.money && ['test', 'mend'].includes(advice.kind) ? make('p', { class: 'small', 'data-money': true }, advice.money) : null,
      money());
  }

  // money asks what a new one costs and what the owner will pay.
  function money() {
    if (!device.shop.rate) return null;
    const field = (key, label, hint) => {
      const box = make('input', { id: 'trace-' + key, inputmode: 'decimal', autocomplete: 'off', placeholder: hint,
        change: (e) => {
          const sum = Number(e.target.value.replace(',', '.').replace(/[^0-9.]/g, '')) || 0;
          moneyOpen = true;
          change({ terms: { ...known.terms, [key]: sum } });
        } });
      if (known.terms[key]) box.value = known.terms[key];
      return make('p', { class: 'sheet-field' }, make('label', { for: 'trace-' + key }, label + ', ' + device.shop.currency), box);
    };
    return make('details', { class: 'trace-money', open: moneyOpen, toggle: (e) => { moneyOpen = e.target.open; } },
      make('summary', {}, 'Is it worth mending?'),
      field('price', 'A new one costs', device.price ? 'about ' + device.price : 'not known'),
      field('limit', 'The owner pays at most', 'not known'));
  }

  function tools() {
    const copied = make('span', { role: 'status' });
    return make('p', { class: 'trace-tools' },
      make('button', { type: 'button', 'data-open-sheet': true, click: () => openSheet('unknown', '') }, job ? 'To the sheet' : 'Open a job sheet'),
      make('button', { type: 'button', disabled: history.length === 0 && empty(), click: () => {
        if (history.length) known = history.pop();
        else if (known.looked.length) known = { ...known, looked: known.looked.slice(0, -1) };
        else if (known.mended.length) known = { ...known, mended: known.mended.slice(0, -1) };
        else if (known.tried.length) known = { ...known, tried: known.tried.slice(0, -1) };
        else if (known.readings.length) known = { ...known, readings: known.readings.slice(0, -1) };
        else known = nothing();
        save(); think();
      } }, 'One step back'),
      make('button', { type: 'button', disabled: empty(), click: () => { history = []; known = nothing(); accepted = ''; save(); think(); } }, 'Start over'),
      make('button', { type: 'button', disabled: empty(), click: () => copy(location.href.split('#')[0].replace(/[?&]job=[^&#]*/, '') + toAddress(), copied) }, 'Copy the address of this trace'), copied);
  }

  function focusStep() { live.querySelector('#trace-step')?.focus(); }

  function draw() {
    const hadFocus = live.contains(document.activeElement);
    const again = document.activeElement?.dataset?.symptom ? '[data-symptom="' + CSS.escape(document.activeElement.dataset.symptom) + '"]'
      : ['trace-price', 'trace-limit'].includes(document.activeElement?.id) ? '#' + document.activeElement.id : '';
    if (!advice.error) {
      // the chain stands above all this, and the rule of minutes at the left: both
      // are drawn anew after each reading
      document.querySelector('[data-chain]')?.replaceChildren(...advice.chain.map((svg) => drawing(svg, 'chain-drawing')));
      document.querySelector('[data-arm]')?.replaceChildren(make('div', {}, ...advice.arm.map((svg) => drawing(svg, 'arm-drawing'))));
      document.body.classList.add('has-arm');
    }
    const step = make('div', { class: 'mark mark-now' }, drawing(advice.ruler, 'mark-ruler'), stepCard());
    const main = make('div', { class: 'trace-main' }, advice.error ? null : pathSoFar(), step);
    live.replaceChildren(...[symptomChips(), advice.error ? null : asked(), skipped(), make('div', { class: 'trace-bench' }, main, advice.error ? null : chances()), tools(), said].filter(Boolean));
    live.hidden = false;
    paper.hidden = true;
    if (again) live.querySelector(again)?.focus();
    else if (hadFocus) focusStep();
  }

  function openSheet(id, outcome) {
    startSheet(live, { device, known, cause: id, outcome, back: draw });
  }

  if (lost.length) {
    place.querySelector('h2').after(make('p', { class: 'wrong', 'data-gone': true }, 'Entered before the notes changed, and of no use to the trace now: ' + lost.join('; ') + '. It stays in the job.'));
  }
  (async () => {
    try {
      const ready = await ask('device', device);
      if (ready.error) throw new Error(ready.error.says);
    } catch (e) {
      live.replaceChildren(make('p', { class: 'wrong' }, 'The trace does not run here: ' + e.message + '. The printed tree below still holds.'));
      live.hidden = false;
      return;
    }
    if (plateForm) {
      const trouble = plateForm.querySelector('[data-plate-error]');
      const apply = async () => {
        const plate = Object.fromEntries([...plateForm.elements].filter((el) => el.name).map((el) => [el.name, el.value]));
        const got = await ask('plate', plate);
        trouble.hidden = !got.error;
        if (got.error) { trouble.textContent = got.error.says; return; }
        for (const b of got.bands) {
          const cell = document.querySelector('[data-band="' + CSS.escape(b.test + '/' + b.reading) + '"]');
          if (cell) (cell.querySelector('a') || cell).textContent = b.text;
        }
        think(true);
      };
      plateForm.addEventListener('input', apply);
      plateForm.addEventListener('submit', (e) => e.preventDefault());
    }
    job?.watch((what, here) => { // another tab or screen has added something
      if (here || what === 'next') return;
      const now = sound(job.known(nothing()));
      if (JSON.stringify(now) === JSON.stringify(known)) return;
      known = now;
      think(true);
    });
    await think(true);
  })();
}
