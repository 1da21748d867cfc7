// The trace on a device page: symptoms and readings so far -> the next test,
// and why. All thinking is done in Go (calc/trace); this file shows it.
'use strict';

function startTrace(place) {
  const live = place.querySelector('[data-trace-live]');
  const paper = place.querySelector('[data-trace-paper]');
  const device = JSON.parse(place.querySelector('[data-device]').textContent);
  const name = 'trace:' + device.id;
  const plateForm = document.querySelector('[data-plate]');
  const said = make('p', { class: 'trace-said', role: 'status' });
  let known = { symptoms: [], absent: [], readings: [], tried: [], ...fromAddress(), };
  let history = [];
  let accepted = ''; // the step whose caution was read
  let advice = null;

  // An address such as #shows=air-cold&read=element-ohms=open shares a trace.
  function fromAddress() {
    const asked = new URLSearchParams(location.hash.slice(1));
    if (!asked.has('shows') && !asked.has('read') && !asked.has('tried')) return kept.get(name) || {};
    return {
      symptoms: (asked.get('shows') || '').split(',').filter(Boolean),
      absent: (asked.get('not') || '').split(',').filter(Boolean),
      readings: asked.getAll('read').map((r) => { const i = r.indexOf('='); return { test: r.slice(0, i), value: r.slice(i + 1) }; }),
      tried: (asked.get('tried') || '').split(',').filter(Boolean),
    };
  }

  function toAddress() {
    const a = new URLSearchParams();
    if (known.symptoms.length) a.set('shows', known.symptoms.join(','));
    if (known.absent.length) a.set('not', known.absent.join(','));
    for (const r of known.readings) a.append('read', r.test + '=' + r.value);
    if (known.tried.length) a.set('tried', known.tried.join(','));
    const text = a.toString();
    return text ? '#' + text : '';
  }

  const test = (id) => device.tests.find((t) => t.id === id);
  const cause = (id) => device.causes.find((c) => c.id === id);
  const empty = () => !known.symptoms.length && !known.absent.length && !known.readings.length && !known.tried.length;

  function change(next) {
    history.push(known);
    known = { ...known, ...next };
    save();
    think();
  }

  function save() {
    if (empty()) kept.drop(name); else kept.set(name, known);
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
    draw();
    if (!quiet) said.textContent = advice.error ? advice.error.says : advice.spoken;
  }

  function symptomChips() {
    return make('fieldset', { class: 'trace-symptoms' },
      make('legend', {}, 'What does it show?'),
      device.symptoms.map((s) => make('button', {
        type: 'button', class: 'trace-chip', 'aria-pressed': String(known.symptoms.includes(s.id)), 'data-symptom': s.id,
        click: () => change({
          symptoms: known.symptoms.includes(s.id) ? known.symptoms.filter((x) => x !== s.id) : [...known.symptoms, s.id],
          absent: known.absent.filter((x) => x !== s.id),
        }),
      }, s.says)));
  }

  function pathSoFar() {
    if (!known.readings.length && !known.tried.length) return null;
    return make('ol', { class: 'trace-path' },
      known.readings.map((r, i) => make('li', {}, (test(r.test) || { ask: r.test }).ask + ': ',
        make('strong', {}, (advice.taken && advice.taken[i]) || r.value))),
      known.tried.map((id) => make('li', {}, (cause(id) || { title: id }).title + ': ', make('strong', {}, 'mended, and it did not cure'))));
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
      t.kind ? form : null);
  }

  function stepCard() {
    const card = make('section', { class: 'trace-step', 'aria-labelledby': 'trace-step', 'data-step': advice.id || '' });
    if (advice.error) {
      card.append(make('h3', { id: 'trace-step' }, 'This does not go together'), make('p', {}, advice.error.says));
      return card;
    }
    const head = { test: 'Next: ', mend: 'Mend: ', stop: 'Stop: ' }[advice.kind];
    card.append(make('h3', { id: 'trace-step', tabindex: '-1' }, head, advice.title));
    card.append(make('p', { class: 'trace-minutes' }, advice.minutes ? make('strong', {}, advice.minutes) : null,
      advice.power ? ' · ' + advice.power : '', advice.open ? ' · first: ' + advice.open : ''));
    for (const w of advice.why) card.append(make('p', {}, w));
    for (const n of advice.notes) card.append(make('p', { class: 'trace-note' }, n));
    const gate = advice.caution && accepted !== advice.kind + advice.id;
    if (advice.caution) {
      card.append(make('div', { class: 'signal signal-' + advice.signal.toLowerCase() },
        make('p', { class: 'signal-word' }, advice.signal), make('p', {}, advice.caution)));
    }
    if (gate) {
      card.append(make('button', { type: 'button', class: 'trace-accept', click: () => { accepted = advice.kind + advice.id; draw(); focusStep(); } }, 'I have read this'));
    } else if (advice.kind === 'test') {
      card.append(readingForm(test(advice.id)));
    } else if (advice.kind === 'mend') {
      card.append(make('p', {}, make('a', { href: root + advice.address }, 'The fault note')));
      card.append(make('div', { class: 'trace-readings' },
        make('button', { type: 'button', 'data-cured': 'yes', click: () => openSheet(advice.id, 'mended') }, 'Mended, and it works'),
        make('button', { type: 'button', 'data-cured': 'no', click: () => change({ tried: [...known.tried, advice.id] }) }, 'Done, but it did not cure')));
    }
    if (advice.kind === 'stop' || advice.kind === 'mend') {
      card.append(make('button', { type: 'button', class: 'trace-quiet', click: () => openSheet(advice.kind === 'stop' ? 'unknown' : advice.id, 'given-up') }, 'Write the job sheet as it stands'));
    }
    return card;
  }

  function chances() {
    return make('section', { class: 'trace-chances', 'aria-labelledby': 'trace-chances' },
      make('h3', { id: 'trace-chances' }, 'Chances now'),
      make('ol', { class: 'plain' }, advice.chances.map((c) => make('li', { 'data-cause': c.id },
        make('span', { class: 'trace-cause' }, c.address ? make('a', { href: root + c.address }, c.title) : c.title),
        make('meter', { min: '0', max: '1', value: String(c.share), 'aria-label': c.title }),
        make('span', { class: 'trace-chance' }, c.chance)))),
      advice.fromHere ? make('p', { class: 'small' }, advice.fromHere) : null);
  }

  function instead() {
    if (!advice.instead || !advice.instead.length) return null;
    return make('details', { class: 'trace-instead' }, make('summary', {}, 'Something else first?'),
      make('ul', {}, advice.instead.map((i) => make('li', {}, i.title + ': ' + i.extra))));
  }

  function tools() {
    const copied = make('span', { role: 'status' });
    return make('p', { class: 'trace-tools' },
      make('button', { type: 'button', disabled: history.length === 0 && empty(), click: () => {
        if (history.length) known = history.pop();
        else if (known.tried.length) known = { ...known, tried: known.tried.slice(0, -1) };
        else if (known.readings.length) known = { ...known, readings: known.readings.slice(0, -1) };
        else known = { ...known, symptoms: [], absent: [] };
        save(); think();
      } }, 'One step back'),
      make('button', { type: 'button', disabled: empty(), click: () => { history = []; known = { symptoms: [], absent: [], readings: [], tried: [] }; accepted = ''; kept.drop('sheet:' + device.id); save(); think(); } }, 'Start over'),
      make('button', { type: 'button', disabled: empty(), click: () => copy(location.href, copied) }, 'Copy the address of this trace'), copied);
  }

  function focusStep() { live.querySelector('#trace-step')?.focus(); }

  function draw() {
    const hadFocus = live.contains(document.activeElement);
    const chip = document.activeElement?.dataset?.symptom;
    const parts = [symptomChips()];
    if (!advice.error) parts.push(pathSoFar());
    parts.push(stepCard());
    if (!advice.error) parts.push(chances(), instead());
    parts.push(tools(), said);
    live.replaceChildren(...parts.filter(Boolean));
    live.hidden = false;
    paper.hidden = true;
    if (chip) live.querySelector('[data-symptom="' + CSS.escape(chip) + '"]')?.focus();
    else if (hadFocus) focusStep();
  }

  function openSheet(id, outcome) {
    startSheet(live, { device, known, cause: id, outcome, back: draw });
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
    await think(true);
  })();
}
