// The trace on a device page: symptoms and readings so far -> one question, the
// next test, with its answers. What was read stands on the trail above the chain.
// All thinking is done in Go (calc/trace); this file shows it.
'use strict';

const grave = ['NOTICE', 'CAUTION', 'WARNING', 'DANGER'];

// holds gives a tick back for as long as the power state stays as it was: after each
// step with another one, what keeps the repairer safe is to be read again.
const holds = (ticked, step) => (ticked && ticked.state === (step.state || 'off') ? ticked : null);

function startTrace(place) {
  const live = place.querySelector('[data-trace-live]');
  const paper = place.querySelector('[data-trace-paper]');
  const device = JSON.parse(place.querySelector('[data-device]').textContent);
  const job = jobFor(device.id); // without one this is just looking, and nothing is kept
  const lost = job ? job.suits(device) : [];
  const plateForm = document.querySelector('[data-plate]');
  const said = make('p', { class: 'trace-said', role: 'status' });
  let looks = {}; // the drawings of what the eye sees, by name, once they are here
  const nothing = () => ({ symptoms: [], absent: [], readings: [], tried: [], mended: [], looked: [], byHand: [], noPart: [], skipped: [], suspect: '', terms: {} });
  const today = namesToday(device); // an address may be older than the names in it
  let known = sound(job ? job.known(nothing()) : fromAddress());
  const shared = () => /[#&](shows|says|read|tried|mended|looked|byhand|suspect)=/.test(location.hash);
  if (job && shared()) handOver();
  let history = [];
  let ticked = null; // the caution that was read last: the power state of its step, and its signal word
  let advice = null;
  let moneyOpen = false;
  /** @type {boolean|string} */
  let asking = !toAddress(); // what it shows is asked, and no test yet
  const head = place.querySelector('h2');
  const trail = document.querySelector('[data-trail]');

  // sound makes what was kept or shared into what the trace takes: a list where
  // a list should be, each item of its shape, whatever else stands there.
  function sound(k) {
    const text = (x) => typeof x === 'string';
    const thing = (x) => x !== null && typeof x === 'object';
    const shape = { symptoms: text, absent: text, looked: text, byHand: (h) => thing(h) && text(h.block), noPart: text, readings: (r) => thing(r) && text(r.test) && text(r.value),
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
    const begun = known.readings.length || known.tried.length || known.mended.length || known.looked.length || known.byHand.length;
    known = begun ? { ...known, suspect: brought.suspect || known.suspect } : { ...brought, symptoms: known.symptoms.length ? known.symptoms : brought.symptoms, absent: known.absent, terms: known.terms };
    job.keepKnown(known);
    try { window.history.replaceState(null, '', location.pathname + location.search); } catch { /* refused on some disks */ }
  }

  // An address such as #shows=air-cold&read=element-ohms=open shares a trace,
  // #says=It stays cold is what the search heard, #byhand=cord~2 is a cord put right by hand
  // after two readings, and #suspect=cord-broken asks about a fault. Whatever it brings, sound sorts it.
  function fromAddress() {
    const asked = new URLSearchParams(location.hash.slice(1));
    const words = (k) => (asked.get(k) || '').split(',').filter(Boolean);
    const when = (m) => { const [what, before] = m.split('~'); return [what, before === undefined ? -1 : Number(before) || 0]; };
    const done = (m) => { const [cause, before] = when(m); return { cause, before }; };
    const sum = (k) => Math.max(0, Number(asked.get(k)) || 0);
    const now = (field, list) => list.map((item) => today(field, item));
    const heard = device.symptoms.filter((s) => s.says === asked.get('says')).map((s) => s.id); // as the search hands it over
    return {
      symptoms: [...now('symptoms', words('shows')), ...heard],
      absent: now('symptoms', words('not')),
      readings: now('readings', asked.getAll('read').map((r) => { const i = r.indexOf('='); return { test: r.slice(0, i), value: r.slice(i + 1) }; })),
      tried: now('tried', words('tried').map(done)),
      mended: now('mended', words('mended').map(done)),
      looked: asked.has('looked') ? asked.get('looked').split(',') : [],
      byHand: words('byhand').map((m) => { const [block, before] = when(m); return { block, before }; }),
      noPart: now('noPart', words('nopart')),
      skipped: now('skipped', words('skip').map((s) => { const [test, why] = s.split('~'); return { test, why: why || '' }; })),
      suspect: today('suspect', asked.get('suspect') || ''),
      terms: { price: sum('new'), limit: sum('limit') },
    };
  }

  function toAddress() {
    const a = new URLSearchParams();
    const words = (k, list) => { if (list.length) a.set(k, list.join(',')); };
    words('shows', known.symptoms);
    words('not', known.absent);
    for (const r of known.readings) a.append('read', r.test + '=' + r.value);
    const done = (m) => (typeof m === 'string' ? m : (m.cause ?? m.block) + (m.before >= 0 ? '~' + m.before : ''));
    words('tried', known.tried.map(done));
    words('mended', known.mended.map(done));
    if (known.looked.length) a.set('looked', known.looked.join(','));
    words('byhand', known.byHand.map((h) => done({ ...h, before: Math.max(0, h.before) })));
    words('nopart', known.noPart);
    words('skip', known.skipped.map((x) => x.test + (x.why ? '~' + x.why : '')));
    if (known.suspect) a.set('suspect', known.suspect);
    if (known.terms.price) a.set('new', known.terms.price);
    if (known.terms.limit) a.set('limit', known.terms.limit);
    const text = a.toString();
    return text ? '#' + text : '';
  }

  // minutes of the job by its clock; 0 where none runs.
  const minutes = () => (job ? minutesOf(job) : 0);

  // drawArm draws the rule of minutes; between two readings it goes on with the clock.
  function drawArm(svgs) {
    document.querySelector('[data-arm]')?.replaceChildren(make('div', {}, ...svgs.map((svg) => drawing(svg, 'arm-drawing'))));
  }
  // drawChain draws the whole wire, as wide or as a telephone has it, and the short one that
  // stands for it above a question on a low or narrow screen, until it is tapped. Which of
  // them are shown is the stylesheet's matter.
  const wire = document.querySelector('[data-chain]');
  function drawChain([wide, pocket, ...slim]) {
    if (!wire) return;
    const had = wire.contains(document.activeElement);
    const whole = wire.classList.contains('chain-whole');
    wire.replaceChildren(drawing(wide, 'chain-drawing'), drawing(pocket, 'chain-drawing'),
      make('button', { type: 'button', class: 'chain-slim', 'aria-expanded': String(whole) }, slim.map((svg) => drawing(svg, 'chain-drawing')), make('span', {}, whole ? 'Fold the wire' : 'Show the whole wire')));
    if (had) wire.querySelector('button').focus({ preventScroll: true });
  }
  wire?.addEventListener('click', (e) => {
    const button = e.target.closest('.chain-slim');
    if (!button) return;
    const whole = wire.classList.toggle('chain-whole');
    button.setAttribute('aria-expanded', String(whole));
    button.lastElementChild.textContent = whole ? 'Fold the wire' : 'Show the whole wire';
  });
  if (job) setInterval(async () => {
    if (!advice || advice.error || document.visibilityState !== 'visible' || !document.contains(live)) return;
    const got = await ask('arm', { clock: minutes() });
    if (!got.error) drawArm(got.arm);
  }, 30000);

  const test = (id) => device.tests.find((t) => t.id === id);
  const blocksOf = (list) => list.flatMap((b) => (b.branch ? b.branch.flatMap(blocksOf) : [b.id]));
  const blocks = [...blocksOf(device.blocks), '']; // '' is outside the chain
  const blockName = (id) => (id ? id.replaceAll('-', ' ') : 'outside the chain');
  const empty = () => toAddress() === '';

  // change takes in what was said; the view goes to the question that follows.
  function change(next, stay) {
    history.push(known);
    known = { ...known, ...next };
    save();
    return think(false, !stay);
  }

  function save() {
    if (job) { job.keepKnown(known); known = sound(job.known(nothing())); return; }
    const here = location.pathname + location.search + toAddress();
    try { window.history.replaceState(null, '', here); } catch { /* refused on some disks */ }
  }

  const step = () => ask('next', { ...known, clock: minutes() });

  function silent(e) {
    live.replaceChildren(make('p', { class: 'wrong' }, 'The trace does not run here: ' + e.message + '. The printed tree below still holds.'));
    live.hidden = paper.hidden = false;
    delete page.dataset.tracing;
  }

  async function think(quiet, arrive, coming = step()) {
    try { advice = await coming; } catch (e) { silent(e); return; }
    if (job && !advice.error) job.set('next', advice.head + ': ' + advice.title);
    draw();
    if (arrive) goToStep();
    // the question is said by the focus that goes to it; only what changed besides is
    // announced, so that nothing is said twice
    if (!quiet) said.textContent = advice.error ? advice.error.says : arrive ? 'Likeliest now: ' + advice.leads + '. ' + advice.fromHere : advice.spoken;
  }

  function drawing(svg, className) {
    const box = make('span', { class: className });
    if (svg) setSVG(box, svg);
    return box;
  }

  // pressed tells of what it shows.
  const shows = (id) => known.symptoms.includes(id);

  // symptomCard asks what it shows. One tap goes on to the first test; whoever comes
  // back to it may choose several.
  function symptomCard() {
    const list = make('fieldset', { class: 'trace-symptoms' }, make('legend', { class: 'out-of-sight' }, 'What it shows'),
      device.symptoms.map((s, i) => make('button', {
        type: 'button', class: 'trace-chip', 'aria-pressed': String(shows(s.id)), 'data-symptom': s.id, tabindex: i ? '-1' : null,
        click: () => {
          const first = asking === true && !known.symptoms.length;
          if (first) asking = false;
          change({ symptoms: shows(s.id) ? known.symptoms.filter((x) => x !== s.id) : [...known.symptoms, s.id], absent: known.absent.filter((x) => x !== s.id) }, !first);
        },
      }, make('span', { class: 'screw', 'aria-hidden': 'true' }), make('span', {}, s.says))));
    list.addEventListener('keydown', (e) => { // one stop of the tab key, and arrows within
      const all = [...list.querySelectorAll('button')];
      const at = all.indexOf(document.activeElement) + ({ ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[e.key] || 0);
      if (!e.key.startsWith('Arrow') || !all[at]) return;
      e.preventDefault();
      all.forEach((x, i) => { x.tabIndex = i === at ? 0 : -1; });
      all[at].focus();
    });
    const go = () => { asking = false; draw(); goToStep(); };
    return make('section', { class: asking ? 'trace-step' : 'trace-asked', hidden: !asking, 'aria-labelledby': 'trace-shows', 'data-step': asking ? '' : null },
      make('h2', { id: asking ? 'trace-step' : 'trace-shows', class: 'trace-ask', tabindex: '-1' }, known.mended.length ? 'What does it still show?' : 'What does it show?'), list,
      make('p', { class: 'trace-tools' }, known.symptoms.length ? make('button', { type: 'button', class: 'go', 'data-trace-on': true, click: go }, 'Go on')
        : make('button', { type: 'button', 'data-trace-on': true, click: go }, 'Nobody knows: start without a symptom')));
  }

  // drawTrail lays out what is known so far, in order: each leads back to where it
  // was said.
  function drawTrail() {
    if (!trail) return;
    const shown = device.symptoms.filter((s) => shows(s.id)).map((s) => s.says);
    const item = (small, text, click, now) => make('li', { 'aria-current': now ? 'step' : null }, click ? make('button', { type: 'button', class: 'trail-back', click }, small, make('b', {}, text)) : make('span', {}, small, make('b', {}, text)));
    const small = (text) => make('span', { class: 'small' }, text);
    trail.replaceChildren(...(asking ? [make('ol', {}, item(small('Now'), 'what it shows', null, true))] : advice.error ? [] : [make('ol', {},
      item(small(known.mended.length ? 'Still' : 'It shows'), shown.length ? shown.map((s) => s.split(/[:;]/)[0]).join('; ') : 'nothing chosen', () => { asking = 'again'; draw(); goToStep(); }),
      advice.path.map((p, i) => item(small((i + 1) + ' ✓ ' + p.short + (p.to ? ', to min ' + p.to : '')), p.reading.replace(/ \(.*\)$/, ''), () => { const done = live.querySelector('.trace-path').parentElement; done.open = true; done.scrollIntoView({ block: 'start' }); })),
      item(small(advice.number + ' now' + (advice.minutes ? ', ' + advice.minutes : '')), advice.kind === 'test' ? advice.id.replaceAll('-', ' ') : advice.head.toLowerCase(), null, true))]));
    const here = trail.querySelector('[aria-current]');
    if (here) requestAnimationFrame(() => { trail.scrollLeft = here.offsetLeft - trail.clientWidth + here.offsetWidth; }); // once all else is drawn
  }

  function pathSoFar() {
    if (!advice.path.length) return null;
    return make('details', { class: 'fold', open: innerWidth > 736 }, make('summary', {}, make('h2', { id: 'trace-done' }, 'Done so far')),
      make('ol', { class: 'trace-path', 'aria-label': 'Done so far' }, advice.path.map((p, i) => make('li', {},
        make('span', { class: 'trace-number' }, String(i + 1)),
        make('div', {}, p.title + ': ', make('strong', {}, p.reading), make('span', { class: 'small trace-lead' }, 'then likeliest: ' + p.lead)),
        drawing(p.strip, 'mark-strip')))));
  }

  // answers are what a test may read: a meter's field where something is measured,
  // and the readings low to high, each with the letter that chooses it.
  function answers(t, shut) {
    const trouble = make('p', { class: 'wrong', role: 'alert', hidden: true });
    let given = false; // a second tap while the trace still thinks is the same answer
    const enter = (value) => {
      if (given) return;
      given = true;
      change({ readings: [...known.readings, { test: t.id, value }] });
    };
    const box = make('input', { id: 'trace-value', autocomplete: 'off', spellcheck: 'false', placeholder: '– – –', disabled: shut });
    const form = make('form', {
      class: 'trace-value',
      submit: async (e) => {
        e.preventDefault();
        const typed = box.value.trim();
        const value = /^[<>]?\s*[0-9.,]+$/.test(typed) && advice.unit ? typed + ' ' + advice.unit : typed; // the unit stands beside the field
        const got = await ask('reading', { test: t.id, value });
        if (got.error) { trouble.textContent = got.error.says; trouble.hidden = false; box.focus(); return; }
        enter(value);
      },
    }, make('label', { for: 'trace-value' }, 'The meter says'), make('span', { class: 'lcd' }, box, make('span', { class: 'lcd-unit' }, advice.unit || '')), make('button', { type: 'submit', disabled: shut }, 'Enter'), trouble);
    const scale = (advice.bands ? ' trace-scaled' : '') + ' trace-of-' + advice.outcomes.length;
    return [t.kind ? form : null, advice.bands ? drawing(advice.bands, 'trace-bands') : null, make('div', { class: 'trace-readings' + scale, role: 'group', 'aria-label': 'What it reads' },
      advice.outcomes.map((o) => make('button', { type: 'button', class: 'trace-reading' + (o.healthy ? ' trace-healthy' : ''), 'data-reading': o.reading, 'data-key': o.key, 'aria-keyshortcuts': o.key, disabled: shut, 'aria-pressed': 'false', click: (e) => { e.currentTarget.setAttribute('aria-pressed', 'true'); enter(o.reading); } },
        make('span', { class: 'trace-pick', 'aria-hidden': 'true' }, make('span', { class: 'screw' }), shut ? null : make('kbd', {}, (o.key || '').toUpperCase())),
        make('span', {}, make('strong', {}, o.name), o.text ? make('span', { class: 'trace-band' }, o.text) : null,
          make('span', { class: 'small trace-leaves' }, o.chance.replace(/ %$/, ' in 100') + (o.healthy ? ', as it should be' : '') + (o.leaves ? '. Leaves ' + o.leaves : '') + '.')), seenAt(t.id, o)))), cannot(t)];
  }

  // seenAt are the drawings of what an answer looks like; the answer itself says it in
  // words. Several faults of one part have one sound drawing.
  function seenAt(id, o) {
    const names = device.looks?.[id];
    const shown = names && (o.healthy ? Object.values(names).flat() : names[o.reading]);
    const once = new Set((shown || []).map((name) => looks[name]?.[o.healthy ? 0 : 1]).filter(Boolean));
    const at = make('span', {});
    return once.size ? make('span', { class: 'trace-seen' }, [...once].map((lines) => {
      setSVG(at, '<svg xmlns="http://www.w3.org/2000/svg" class="look" viewBox="0 0 160 120" aria-hidden="true">' + lines + '</svg>');
      return at.firstChild;
    })) : null;
  }

  // cannot lets a test go that cannot be taken here, and says why.
  function cannot(t) {
    return make('details', { class: 'trace-cannot' }, make('summary', {}, 'I cannot take this test'),
      make('p', { class: 'small' }, 'That is no reading; the trace goes on without it. Why?'),
      make('p', { class: 'trace-tools' }, (advice.whyNot || []).map((w) => make('button', { type: 'button', class: 'trace-quiet', 'data-cannot': w.why,
        click: () => change({ skipped: [...known.skipped, { test: t.id, why: w.why }] }) }, w.says))));
  }

  // skipped lists the tests that were let go; each can be taken after all. Of one that
  // keeps others back a sentence at the step says so.
  function skipped() {
    const rest = known.skipped.filter((x) => !advice.leftOut?.some((o) => o.test === x.test));
    if (!rest.length) return null;
    return make('p', { class: 'small trace-skipped' }, 'Cannot be taken: ', rest.map((x, i) => make('span', {}, i ? '; ' : '', test(x.test)?.ask || x.test, ' ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => after(x.test) }, 'it can'))));
  }

  // after takes a test after all that was let go.
  const after = (id) => change({ skipped: known.skipped.filter((x) => x.test !== id) });

  function leftOut() {
    return (advice.leftOut || []).map((o) => make('p', { class: 'trace-note', 'data-left-out': o.test }, o.says, ' ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => after(o.test) }, 'Take it after all')));
  }

  // What no note describes may be seen and put right by hand at any step: a wire off its
  // tag, crumbs in a switch. It is known after that, and the trace reads again what it may
  // have spoiled.
  const putRight = (block) => change({ byHand: [...known.byHand, { block, before: known.readings.length }] });

  function byHand() {
    const here = advice.kind === 'test' ? test(advice.id)?.covers || [] : [];
    const row = (list) => (list.length ? make('p', { class: 'trace-tools' }, list.map((id) => make('button', { type: 'button', 'data-by-hand': id || 'outside', click: () => putRight(id) }, blockName(id)))) : null);
    return make('details', { class: 'trace-cannot' }, make('summary', {}, 'I put something right by hand'),
      make('p', { class: 'small' }, 'Something that is in no note, as a wire off its tag, and it is not well yet. The trace goes on with that, and reads again what it may have spoiled. Where was it?'),
      row(blocks.filter((id) => here.includes(id))), row(blocks.filter((id) => !here.includes(id))));
  }

  // handled lists what was put right by hand: each can be taken back, and a note begun.
  function handled() {
    if (!known.byHand.length) return null;
    const at = make('div', { role: 'status' });
    return make('div', { class: 'small trace-skipped' }, known.byHand.map((h) => make('p', { 'data-put-right': h.block || 'outside' }, 'Put right by hand: ', make('strong', {}, blockName(h.block)), '. ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => change({ byHand: known.byHand.filter((x) => x !== h) }) }, 'It was not'), ' ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => draftNote(at, h.block) }, 'Begin its fault note'))), at);
  }

  // asked marks the fault that somebody asks about.
  function asked() {
    if (!advice.suspect) return null;
    const c = device.causes.find((x) => x.id === advice.suspect);
    return make('p', { class: 'trace-note', 'data-suspect': advice.suspect }, 'You ask whether it is “' + c.title + '”; that changes no chance, only the question. ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => change({ suspect: '' }) }, 'Ask no more'));
  }

  function afterMend() {
    return make('div', { class: 'trace-readings trace-ways', role: 'group', 'aria-label': 'How it went' },
      make('button', { type: 'button', class: 'go', 'data-cured': 'yes', 'data-key': 'm', click: () => openSheet(advice.id, 'mended') }, 'Mended, and it works'),
      make('button', { type: 'button', 'data-cured': 'no', 'data-key': 'n', click: () => change({ tried: [...known.tried, { cause: advice.id, before: known.readings.length }] }) }, 'Done, but it did not cure'),
      make('button', { type: 'button', 'data-cured': 'partly', 'data-key': 's', click: () => { asking = 'again'; change({ mended: [...known.mended, { cause: advice.id, before: known.readings.length }] }); } }, 'It was that, and something is wrong still'),
      make('button', { type: 'button', class: 'trace-quiet', click: () => change({ noPart: [...known.noPart, advice.id] }) }, 'The part is not available'));
  }

  async function draftNote(at, block) {
    const got = await ask('draft', { ...known, block });
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

  // gate tells whether the caution of this step is still to be read. What was read
  // holds as long as the power state stays and no graver word comes: not four ticks in a
  // row for “Unplug”, and a new one after each powered step.
  function gate() {
    ticked = holds(ticked, advice);
    return Boolean(advice.caution) && !(ticked && grave.indexOf(advice.signal) <= grave.indexOf(ticked.signal));
  }

  function accept() { ticked = { state: advice.state || 'off', signal: advice.signal }; draw(); focusStep(); }

  function stepCard() {
    const card = make('section', { class: 'trace-step', 'aria-labelledby': 'trace-step', 'data-step': advice.id || '' });
    if (advice.error) {
      card.append(make('h2', { id: 'trace-step', class: 'trace-ask', tabindex: '-1' }, 'This does not go together'), make('p', {}, advice.error.says));
      return card;
    }
    const ends = !['test', 'mend'].includes(advice.kind);
    const shut = gate();
    card.append(make('div', { class: 'trace-head' }, ends ? null : make('span', { class: 'trace-no', 'aria-hidden': 'true' }, String(advice.number)),
      make('h2', { id: 'trace-step', class: 'trace-ask', tabindex: '-1', 'aria-describedby': 'trace-facts' }, make('span', { class: advice.kind === 'test' ? 'out-of-sight' : null }, advice.head + ': '), advice.title)));
    card.append(make('p', { class: 'trace-minutes', id: 'trace-facts' }, [advice.minutes ? make('strong', {}, advice.minutes) : null,
      advice.power || null, advice.unit ? 'meter on ' + advice.unit : null, advice.with?.length ? advice.with.map((w) => w.replaceAll('-', ' ')).join(', ') : null,
      advice.open ? ['first: ', make('a', { href: job ? jobs.address('opening/' + device.id + '.html', job.code) : root + 'opening/' + device.id + '.html' }, advice.open)] : null].filter(Boolean).map((x) => make('span', {}, x))));
    if (advice.caution) {
      card.append(make('div', { class: 'signal signal-' + advice.signal.toLowerCase(), role: 'note' },
        make('p', { class: 'signal-word' }, advice.signal), make('p', {}, advice.caution),
        shut ? make('button', { type: 'button', class: 'trace-accept', click: accept }, 'I have read this') : make('p', { class: 'signal-read' }, '✓ Read')));
    }
    card.append(...leftOut());
    for (const n of advice.notes) card.append(make('p', { class: 'trace-note' }, n));
    if (advice.does) card.append(make('p', { 'data-does': true }, advice.does));
    if (ends) for (const w of advice.why) card.append(make('p', {}, w));
    const note = () => make('p', {}, make('a', { href: root + advice.address }, 'The fault note'));
    if (advice.kind === 'test') card.append(...answers(test(advice.id), shut).filter(Boolean));
    else if (advice.kind === 'mend' && !shut) card.append(note(), afterMend());
    else if (advice.address) card.append(note());
    if (advice.look && !shut) {
      const at = make('div', { role: 'status' });
      card.append(make('div', { class: 'trace-readings trace-ways', role: 'group', 'aria-label': 'What was there' },
        make('button', { type: 'button', class: 'go', 'data-looked': 'cured', 'data-key': 'm', click: () => { history.push(known); known = { ...known, byHand: [...known.byHand, { block: advice.look.block, before: known.readings.length }] }; save(); openSheet('unknown', 'mended'); } }, 'Put right, and it works'),
        make('button', { type: 'button', 'data-looked': 'nothing', 'data-key': 'n', click: () => change({ looked: [...known.looked, advice.look.block] }) }, 'Looked there, nothing found: go on'),
        make('button', { type: 'button', 'data-looked': 'partly', 'data-key': 's', click: () => putRight(advice.look.block) }, 'Put right, and something is wrong still')),
      make('p', { class: 'trace-tools' }, make('button', { type: 'button', class: 'trace-quiet', 'data-draft': true, click: () => draftNote(at, advice.look.block) }, 'Begin a fault note with what was seen')), at);
    }
    if (!shut && !advice.look) card.append(byHand());
    card.append(tools());
    if (!ends && advice.why.length) {
      card.append(make('details', { class: 'trace-why' }, make('summary', {}, 'Why this, and not another'),
        make('ul', {}, advice.why.map((w) => make('li', {}, w)), (advice.instead || []).map((i) => make('li', { class: 'small' }, i.title + ': ' + i.extra)))));
    }
    if (advice.kind !== 'test') {
      const cause = ['mend', 'past-mending'].includes(advice.kind) ? advice.id : 'unknown';
      card.append(make('button', { type: 'button', class: 'trace-quiet', click: () => openSheet(cause, advice.kind === 'replace' ? 'replaced' : 'given-up') }, advice.kind === 'replace' ? 'It is replaced: to its sheet' : 'It is given up: to its sheet'));
    }
    return card;
  }

  function chances() {
    const row = (c) => make('li', { 'data-cause': c.id, 'data-block': c.block || null, class: c.suspect ? 'trace-suspect' : null },
      make('span', { class: c.letter ? 'trace-letter' : null, 'aria-hidden': 'true' }, c.letter || ''),
      make('span', { class: 'trace-cause' }, c.address ? make('a', { href: root + c.address }, c.title) : c.title, c.extra ? make('small', {}, c.extra) : null),
      make('span', { class: 'trace-chance' }, c.chance));
    const named = advice.chances.filter((c) => c.letter || c.suspect);
    const rest = advice.chances.filter((c) => !named.includes(c));
    return make('section', { class: 'trace-chances', 'aria-labelledby': 'trace-chances' },
      make('h2', { id: 'trace-chances' }, asking ? 'What it most often is' : 'What it may be'),
      drawing(advice.strip, 'trace-strip'),
      make('ol', { class: 'plain' }, named.map(row)),
      rest.length ? make('details', { class: 'trace-more' }, make('summary', {}, advice.more), make('ol', { class: 'plain' }, rest.map(row))) : null,
      advice.fromHere ? make('p', { class: 'trace-end' }, advice.fromHere) : null,
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

  // back takes back what was said last; of what an address brought, the latest that it
  // tells.
  function back() {
    const last = (field) => ({ ...known, [field]: known[field].slice(0, -1) });
    const late = ['byHand', 'mended', 'tried'].find((field) => known[field].some((m) => !(m.before >= 0 && m.before < known.readings.length)));
    if (history.length) known = history.pop();
    else if (known.looked.length) known = last('looked');
    else if (late) known = last(late);
    else if (known.readings.length) known = last('readings');
    else known = nothing();
    asking = empty();
    save();
    think(false, true);
  }

  function tools() {
    const copied = make('span', { role: 'status' });
    return make('div', { class: 'trace-tools trace-steer' },
      make('button', { type: 'button', 'data-back': true, click: () => { if (history.length || !empty()) back(); else { asking = true; draw(); goToStep(); } } }, 'One step back'),
      make('button', { type: 'button', class: 'trace-quiet', disabled: empty(), click: () => { history = []; known = nothing(); ticked = null; asking = true; save(); think(false, true); } }, 'Start over'),
      make('button', { type: 'button', class: 'trace-quiet', disabled: empty(), 'data-share': true, click: () => copy(location.href.split('#')[0].replace(/[?&]job=[^&#]*/, '') + toAddress(), copied) }, 'Copy the address of this trace'),
      make('button', { type: 'button', class: 'trace-quiet', 'data-open-sheet': true, click: () => openSheet('unknown', '') }, job ? 'To the sheet' : 'Open a job sheet'), copied);
  }

  function focusStep() { live.querySelector('#trace-step')?.focus({ preventScroll: true }); }

  // goToStep brings the question into view, with the chain above it, and the focus to
  // it.
  function goToStep(still) {
    if (!still) focusStep();
    const at = live.querySelector('#trace-step');
    if (!at) return;
    const y = at.getBoundingClientRect().top;
    if (y > 0 && y < innerHeight * .45 && scrollY > 0) return;
    const chain = document.querySelector('[data-chain]');
    const room = chain ? at.getBoundingClientRect().top - chain.getBoundingClientRect().top : innerHeight;
    const low = innerWidth <= 736 ? 380 : innerHeight * .6; // the question never begins lower: of a tall chain its foot is seen
    if (room < low) chain.scrollIntoView({ block: 'start' }); else scrollBy(0, y - Math.min(low, room));
  }

  function draw() {
    const hadFocus = live.contains(document.activeElement);
    document.body.classList.toggle('tracing', !asking && !empty()); // paper then holds this trace alone
    const again = document.activeElement?.dataset?.symptom ? '[data-symptom="' + CSS.escape(document.activeElement.dataset.symptom) + '"]'
      : ['trace-price', 'trace-limit'].includes(document.activeElement?.id) ? '#' + document.activeElement.id : '';
    if (!advice.error) {
      // the chain stands above all this, and the rule of minutes at the left: both
      // are drawn anew after each reading; no test reaches over it while none is asked
      drawChain(asking ? advice.atRest : advice.chain);
      drawArm(advice.arm);
      document.body.classList.add('has-arm');
    }
    drawTrail();
    head.hidden = true;
    const looked = job?.text('outcome') ? make('section', { 'aria-label': 'Looking back' }) : null; // the way taken, once it has ended
    if (looked) lookBack(looked, device, known, job.text('cause'));
    const main = make('div', { class: 'trace-main' }, symptomCard(), asking ? null : stepCard(), asking || advice.error ? null : asked(), asking ? null : handled(), asking ? null : skipped(), advice.error ? null : pathSoFar(), looked);
    live.replaceChildren(...[make('div', { class: 'trace-bench' }, main, advice.error ? null : chances()), said].filter(Boolean));
    live.hidden = false;
    paper.hidden = true;
    if (again) live.querySelector(again)?.focus({ preventScroll: true });
    else if (hadFocus) focusStep();
  }

  // keys: letters choose answers; digits only ever go into the meter's field,
  // wherever the focus is.
  function onKey(e) {
    if (!document.contains(live) || !live.querySelector('.trace-step') || e.defaultPrevented || e.ctrlKey || e.metaKey || e.altKey
      || e.target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(e.target.tagName)) return;
    if (/^[a-z]$/i.test(e.key)) {
      const answer = live.querySelector('[data-key="' + e.key.toLowerCase() + '"]:not(:disabled)');
      if (answer) { e.preventDefault(); answer.click(); }
    } else if (/^[0-9.,<>]$/.test(e.key)) {
      live.querySelector('#trace-value:not(:disabled)')?.focus();
    } else if (e.key === 'Enter' && (e.target.id === 'trace-step' || e.target === document.body)) {
      const go = live.querySelector('.trace-accept') || live.querySelector('[data-trace-on]');
      if (go && go.getClientRects().length) { e.preventDefault(); go.click(); }
    } else if (e.key === 'Backspace' && !asking) {
      e.preventDefault();
      back();
    }
  }
  document.addEventListener('keydown', onKey);

  function openSheet(id, outcome) {
    startSheet(live, { device, known, cause: id, outcome, back: draw });
    live.querySelector('#trace-step')?.scrollIntoView({ block: 'start' });
  }

  // what it shows can be said before the binary is there
  if (asking) {
    head.hidden = true;
    drawTrail();
    live.replaceChildren(make('div', { class: 'trace-bench' }, make('div', { class: 'trace-main' }, symptomCard())), said);
    live.hidden = false;
    paper.hidden = true;
  }
  if (lost.length) {
    head.after(make('p', { class: 'wrong', 'data-gone': true }, 'Entered before the notes changed, and of no use to the trace now: ' + lost.join('; ') + '. It stays in the job.'));
  }
  // both are asked at once, as the one need not wait for this page to hear of the other
  const loaded = ask('device', device);
  const begun = known;
  const opened = step();
  const seen = device.looks ? unpacked('looks').then((all) => { looks = all; }, () => {}) : null;
  opening.push((async () => {
    try {
      const ready = await loaded;
      if (ready.error) throw new Error(ready.error.says);
    } catch (e) {
      opened.catch(() => {});
      silent(e);
      return;
    }
    if (plateForm) {
      const trouble = plateForm.querySelector('[data-plate-error]');
      let entered = 0;
      const apply = async () => {
        const plate = Object.fromEntries([...plateForm.elements].filter((el) => el.name).map((el) => [el.name, el.value]));
        const mine = ++entered;
        const got = await ask('plate', { device, plate });
        if (mine !== entered) return;
        trouble.hidden = !got.error;
        if (got.error) { trouble.textContent = got.error.says; return; }
        await ask('device', got.device);
        for (const b of got.bands) {
          const cell = document.querySelector('[data-band="' + CSS.escape(b.test + '/' + b.reading) + '"]');
          if (cell) (cell.querySelector('a') || cell).textContent = b.text;
          if (!test(b.test)?.reads.some((r) => r.healthy && r.id === b.reading)) continue;
          for (const row of document.querySelectorAll('[data-test-is="' + CSS.escape(b.test) + '"]')) row.textContent = b.text;
        }
        think(true);
      };
      plateForm.addEventListener('focusin', () => core().catch(() => {})); // bands are computed by the calculators
      plateForm.addEventListener('input', apply);
      plateForm.addEventListener('submit', (e) => e.preventDefault());
    }
    addEventListener('hashchange', () => { // the address of another trace was entered above this page
      if (!shared()) return;
      history.push(known);
      if (job) handOver(); else known = sound(fromAddress());
      ticked = null;
      asking = false;
      think(true);
    });
    job?.watch((what, here) => { // another tab or screen has added something
      if (here || what === 'next') return;
      const now = sound(job.known(nothing()));
      if (JSON.stringify(now) === JSON.stringify(known)) return;
      if (asking === true && (now.readings.length || now.mended.length || now.tried.length || now.byHand.length)) asking = false;
      known = now;
      think(true);
    });
    await seen; // so that nothing moves when they come
    if (known !== begun) { opened.catch(() => {}); return; } // more was said meanwhile, and asked
    await think(true, false, opened);
    // on a telephone what is known already stands above the view, so that the test does not begin below it
    if (!asking && innerWidth <= 736 && scrollY === 0 && !/^#test-/.test(location.hash)) goToStep(true);
  })());
}
