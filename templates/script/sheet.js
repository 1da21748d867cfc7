// The end of a job, on its own page: what must be shown before it goes back, the sheet, and its papers.
'use strict';

const outcomes = [['mended', 'mended'], ['given-up', 'given up'], ['replaced', 'replaced'], ['came-back', 'came back']];

// startJob fills the page of the job itself.
async function startJob(place) {
  const job = jobs.here;
  if (!job) {
    const open = jobs.all();
    place.replaceChildren(make('p', {}, jobs.absent ? 'The job ' + jobs.absent + ' is not in this browser.' : 'No job is on this bench.'),
      ...(open.length ? [make('ul', { class: 'bench-list' }, open.map((j) => jobRow(j, () => location.reload())))] : []),
      make('p', {}, make('a', { class: 'button', href: root + 'counter.html' }, 'Take something in')));
    return;
  }
  let b, of;
  try { [b, of] = await Promise.all([bench(), benchOf(job.text('device'))]); } catch (e) { place.replaceChildren(make('p', { class: 'wrong' }, 'The job cannot be shown here: ' + e.message + '.')); return; }
  const d = of || { title: job.title, class: job.text('class'), symptoms: [], causes: [], proofs: [], tests: {} };
  const gone = !of;
  job.suits({ symptoms: d.symptoms, tests: Object.keys(d.tests).map((id) => ({ id })), causes: d.causes, was: d.was });
  const lostOf = () => [...job.all('shows/').filter(([id, v]) => v === true && !job.fits('symptoms', id)).map(([id]) => id), ...job.all('known/readings/').filter(([, r]) => r && !job.fits('readings', r)).map(([, r]) => asText(r.test) + ': ' + asText(r.value))];
  const says = (id) => d.symptoms.find((s) => s.id === id)?.says || id + ' (no longer in the notes)';
  const causeOf = () => d.causes.find((c) => c.id === (d.was?.causes?.[job.text('cause')] || job.text('cause')));
  const preview = make('pre', { class: 'sheet-preview', tabindex: '0', 'aria-label': 'The job sheet as Markdown' });
  const said = make('span', { role: 'status' });
  const trouble = make('p', { class: 'wrong', role: 'alert', hidden: true, 'data-sheet-trouble': true });
  const proofs = make('div', { 'data-proofs': true });
  const papers = make('div', { class: 'papers', 'aria-hidden': 'true' });
  let made = null;
  // the chain in small: where it was found, once that is known
  const chainNow = () => { const c = causeOf(); return d.chain ? miniChain(c && c.at >= 0 ? miniAt(d.chain, c.at) : d.chain) : null; };
  const chainHere = make('div', { class: 'job-chain' });

  const field = (name, label, props) => {
    const el = make(props && props.rows ? 'textarea' : 'input', { id: 'sheet-' + name, name, autocomplete: 'off', ...props, input: () => { job.set(name, el.value.trim() === '' ? null : el.value); write(); } });
    el.value = job.text(name);
    return make('p', { class: 'sheet-field' }, make('label', { for: 'sheet-' + name }, label), el);
  };
  const choice = (name, label, choices) => {
    const el = make('select', { id: 'sheet-' + name, name, change: () => { job.set(name, el.value || null); if (name === 'cause') { suggestParts(); } showMore(); write(); } }, choices.map(([v, text]) => make('option', { value: v }, text)));
    el.value = job.text(name);
    if (el.selectedIndex < 0) el.value = '';
    return make('p', { class: 'sheet-field' }, make('label', { for: 'sheet-' + name }, label), el);
  };
  const hint = make('p', { class: 'small' });
  const minutes = make('input', { id: 'sheet-minutes', inputmode: 'decimal', autocomplete: 'off', change: () => { if (correctClock(job, minutes.value)) write(); } });
  const showMinutes = () => { if (document.activeElement !== minutes) { const m = minutesOf(job); minutes.value = m > 0 ? String(Math.round(m)) : ''; } };

  const soak = field('soak', 'Minutes it passed under full load, watched', { inputmode: 'decimal' });
  const reason = field('reason', 'Why it failed', {});
  const reasons = make('p', { class: 'trace-tools', 'data-reasons': true });
  const parts = field('parts', 'Parts used, as 1 × name at price; parted by semicolons', {});
  const partsOffer = make('p', { class: 'trace-tools' });
  function suggestParts() {
    const c = causeOf();
    const list = c && c.parts ? c.parts : [];
    partsOffer.replaceChildren(...list.map((p) => make('button', { type: 'button', click: () => {
      const el = parts.querySelector('input');
      const text = p.count + ' × ' + p.part + (p.price ? ' at ' + p.price : '');
      el.value = el.value.trim() ? el.value.trim() + '; ' + text : text;
      job.set('parts', el.value);
      write();
    } }, '+ ' + p.part)));
    // what the note knows is offered, and is a reason only by a tap
    reasons.replaceChildren(...(c && c.because ? c.because : []).map((text) => make('button', { type: 'button', click: () => { reason.querySelector('input').value = text; job.set('reason', text); write(); } }, text)));
  }
  const form = make('form', { class: 'sheet', submit: (e) => e.preventDefault() },
    choice('cause', 'Cause', [['', 'choose'], ...d.causes.map((c) => [c.id, c.title]), ['unknown', 'unknown']]),
    reason, reasons, soak, parts, partsOffer,
    field('told', 'What the owner should know', { rows: '2' }),
    make('details', { class: 'fold sheet-more', open: ['money', 'reproduced', 'by', 'notes'].some((name) => job.text(name)) }, make('summary', {}, 'Money, minutes, by whom, for the next one'),
    field('money', 'Money for parts', { inputmode: 'decimal' }),
    choice('reproduced', 'Seen here on the bench', [['', 'not written'], ['yes', 'yes'], ['no', 'no'], ['now and then', 'now and then']]),
    make('p', { class: 'sheet-field' }, make('label', { for: 'sheet-minutes' }, 'Minutes in all, by the clock; correct them if they are wrong'), minutes),
    field('by', 'By whom, if wanted', {}),
    field('notes', 'For the next one on this bench', { rows: '2' })));
  const outcome = choice('outcome', 'How it ends', [['', 'not yet'], ...outcomes]);

  function showMore() {
    const c = causeOf();
    soak.hidden = !(c && c.protective);
    const mended = job.text('outcome') === 'mended';
    proofs.hidden = !mended;
    suggestParts();
  }

  function drawProofs(lacks) {
    const shown = proofsOf(job, b.lists);
    const list = checksOf(b.lists);
    const wanted = d.proofs.map((need) => {
      const of = need.map((k) => shown.find((p) => p.kind === k)).filter(Boolean);
      const p = of.find((x) => x.pass) || of.find((x) => x.why) || of.find((x) => x.begun) || of[0];
      const text = !p || (!p.pass && !p.why && !p.begun) ? 'to do' : p.pass === 'ok' ? (p.value ? p.value + ', passes' : 'ok') : p.pass === 'fails' ? 'FAILS' : p.why ? 'not done: ' + p.why : p.begun + ' of ' + p.steps + ' steps';
      const step = p && list ? '#step-' + p.step.id : '';
      return make('li', { 'data-need': need[0], 'data-pass': p ? p.pass : '' }, list ? make('a', { href: jobs.address(list.address, job.code) + step }, proofNames[need[0]] || need[0]) : make('span', {}, proofNames[need[0]]), ' ', make('strong', {}, text));
    });
    proofs.replaceChildren(make('h3', {}, 'Before it goes back'), make('ul', { class: 'plain counter-list' }, wanted),
      list ? make('p', {}, make('a', { class: lacks.length ? 'button go' : 'button', 'data-to-checks': true, href: jobs.address(list.address, job.code) }, list.title + (list.minutes ? ', about ' + list.minutes + ' min' : ''))) : null,
      lacks.length ? make('p', { class: 'wrong', 'data-lacks': true }, 'It is not mended yet: ' + lacks.join('; ') + '.') : make('p', { 'data-proved': true }, 'All that class ' + (d.class || 'without a sign') + ' asks for is shown.'));
    return shown;
  }
  const proofNames = { __proto__: null, visual: 'Visual inspection', bond: 'Earth bond', insulation: 'Insulation', leakage: 'Leakage current', 'touch-current': 'Touch current', polarity: 'Polarity', function: 'Function under load' };

  async function write() {
    showMinutes();
    const c = causeOf();
    const known = job.known({ symptoms: [], absent: [], readings: [], tried: [], mended: [], byHand: [] });
    const shown = proofsOf(job, b.lists).filter((p) => p.pass || p.why);
    const got = await ask('sheet', {
      code: job.code, device: job.text('device'), type: job.text('type'), by: job.text('by'), date: job.code.slice(0, 10),
      ownerSays: job.text('says'), before: job.text('before'), tried: job.text('tried'), limit: job.text('limit') ? job.text('limit') + ' ' + b.shop.currency : '', reproduced: job.text('reproduced'),
      symptoms: known.symptoms.filter((id) => d.symptoms.some((s) => s.id === id)),
      readings: known.readings.filter((r) => r && r.test in d.tests).map((r) => ({ test: r.test, value: asText(r.value), minutes: Number(r.minutes) || 0 })),
      byHand: known.byHand.map((h) => h.block), gone: lostOf(),
      cause: c ? c.id : 'unknown', causeGone: job.text('cause') && job.text('cause') !== 'unknown' && !c ? job.text('cause') : '', protective: Boolean(c && c.protective),
      reason: job.text('reason'), soak: job.text('soak'), parts: job.text('parts'), minutes: Math.round(minutesOf(job)), money: job.text('money'),
      outcome: job.text('outcome'), told: job.text('told'), notes: job.text('notes'),
      proofs: shown.map((p) => ({ kind: p.kind, value: p.value, limit: p.limit, pass: p.pass, why: p.why })), needs: d.proofs,
    });
    if (job !== jobs.here) return;
    drawProofs(got.lacks || []);
    made = got.error || !job.text('outcome') ? null : got;
    trouble.hidden = !got.error;
    if (got.error) trouble.textContent = got.error.says;
    preview.textContent = got.markdown || '';
    chainHere.replaceChildren(...[chainNow()].filter(Boolean));
    for (const el of ways.querySelectorAll('button')) { el.disabled = !made; el.classList.toggle('go', Boolean(made) && el.classList.contains('first')); }
    preview.hidden = !made;
    drawPapers(known, shown);
  }

  function saved(where) {
    job.set('kept', where);
    said.textContent = where;
    finish.hidden = false;
  }
  const finish = make('p', { class: 'trace-tools', hidden: !job.value('kept') },
    make('button', { type: 'button', 'data-job-close': true, click: () => { job.end('saved'); location.href = root + 'index.html?job='; } }, 'It is saved: close the job'), make('span', { class: 'small' }, ' Until then it stays here.'));
  const ways = make('p', { class: 'trace-tools' },
    theInbox ? make('button', { type: 'button', class: 'first', 'data-sheet-inbox': true, click: async () => {
      const at = await theInbox.sheet(job.code, made.name, made.markdown);
      trouble.hidden = !at.error;
      if (at.error) { trouble.textContent = at.error; return; }
      saved('Kept in the shop’s inbox as ' + at.name + '.');
    } }, 'Save it in the shop’s inbox') : null,
    make('button', { type: 'button', class: theInbox ? null : 'first', 'data-sheet-save': true, click: () => { download(made.markdown, made.name); saved('Handed to the browser as ' + made.name + '. See that it is there.'); } }, 'Download the sheet'),
    make('button', { type: 'button', click: () => { copy(made.markdown, said); finish.hidden = false; } }, 'Copy it'),
    navigator.share && navigator.canShare ? make('button', { type: 'button', click: async () => {
      const file = new File([made.markdown], made.name, { type: 'text/plain' });
      try { await navigator.share(navigator.canShare({ files: [file] }) ? { files: [file] } : { title: made.name, text: made.markdown }); saved('Shared as ' + made.name + '.'); } catch { /* changed their mind */ }
    } }, 'Share it') : null, said);

  function print(which) {
    document.body.dataset.paper = which;
    window.print();
  }
  addEventListener('afterprint', () => { delete document.body.dataset.paper; });

  function drawPapers(known, shown) {
    const line = (name, text) => (text ? make('p', {}, make('strong', {}, name + ': '), text) : null);
    const c = causeOf();
    const byHand = known.byHand.map((h) => h.block.replaceAll('-', ' ') || 'outside the chain').join('; ');
    const money = job.text('money') ? job.text('money') + ' ' + b.shop.currency : '';
    const head = () => [make('h2', {}, job.title + (job.text('type') ? ', ' + job.text('type') : '')), make('p', { class: 'papers-code' }, job.code)];
    const proofLines = shown.map((p) => make('li', {}, (proofNames[p.kind] || p.kind) + ': ' + [p.value, p.pass === 'ok' ? 'passes' : p.pass === 'fails' ? 'fails' : '', p.why ? 'not done: ' + p.why : '', p.limit].filter(Boolean).join(', ')));
    const code = papers.querySelector('[data-paper-qr]')?.cloneNode(true);
    papers.replaceChildren(
      make('section', { 'data-for': 'ticket' }, head(), line('The owner says', job.text('says')), line('It shows', known.symptoms.map(says).join('; ')), line('It does not show', known.absent.map(says).join('; ')),
        line('Before', job.text('before')), line('Tried', job.text('tried')), line('Limit', job.text('limit') ? job.text('limit') + ' ' + b.shop.currency : ''),
        make('p', {}, 'Name and how to reach the owner, on this paper only:'), make('p', { class: 'papers-blank' }), make('p', { class: 'papers-blank' }), make('div', { 'data-qr': true })),
      make('section', { 'data-for': 'label' }, make('p', { class: 'papers-code' }, job.code), make('p', {}, job.title), make('div', { 'data-qr': true })),
      make('section', { 'data-for': 'owner' }, make('p', {}, b.shop.name), head(), c ? chainNow() : null, line('What was wrong', c ? c.title : job.text('outcome') && !byHand ? 'not found' : ''), line('Put right by hand', byHand), line('Why', job.text('reason')), line('How it ended', (outcomes.find(([v]) => v === job.text('outcome')) || ['', ''])[1]),
        line('Parts', job.text('parts')), line('Money for parts', money), line('To know', job.text('told')),
        shown.length ? make('div', {}, make('strong', {}, 'Shown before it went back'), make('ul', {}, proofLines)) : null, line('Checked by', job.text('by') || '______________________')),
      make('section', { 'data-for': 'shop' }, head(), chainNow(), line('The owner said', job.text('says')), line('Before', job.text('before')), line('Tried', job.text('tried')), line('It shows', known.symptoms.map(says).join('; ')),
        make('ol', {}, known.readings.filter(Boolean).map((r) => make('li', {}, (d.tests[r.test] || asText(r.test)) + ': ' + asText(r.value).replace(/^[a-z][a-z-]*$/, (id) => id.replaceAll('-', ' ')) + (r.minutes ? ', ' + r.minutes + ' min' : '')))),
        line('Found', c ? c.title : 'unknown'), line('Put right by hand', byHand), line('Why', job.text('reason')), line('Outcome', job.text('outcome')), line('Parts', job.text('parts')), line('Money', money), line('Minutes', minutesOf(job) > 0 ? String(Math.round(minutesOf(job))) : 'not known'),
        make('ul', {}, proofLines), line('By', job.text('by')), line('For the next one', job.text('notes'))));
    if (code) for (const at of papers.querySelectorAll('[data-qr]')) at.replaceChildren(code.cloneNode(true));
  }

  async function drawCode() {
    if (location.protocol === 'file:') return; // no address that another screen could use
    if (/^(localhost|127\.|\[::1\])/.test(location.hostname)) {
      hint.textContent = 'This is the host’s own screen: open the shop’s address here before printing, or the code on the ticket leads to no other screen.';
    }
    const to = new URL(location.href);
    to.search = '?job=' + job.code;
    to.hash = '';
    const got = await printed(to.href);
    if (got.error) return;
    for (const at of papers.querySelectorAll('[data-qr]')) {
      const box = make('span', { 'data-paper-qr': true });
      setSVG(box, got.svg);
      at.replaceChildren(box);
    }
  }

  const known = job.known({ symptoms: [], absent: [], readings: [] });
  const next = nextOf(job);
  place.replaceChildren(...[
    gone ? make('p', { class: 'wrong' }, 'The notes have no device “' + job.text('device') + '” any more. What was entered is all here; choose the new one at the counter.') : null,
    chainHere,
    make('dl', { class: 'strip' }, [['Code', job.code], ['Device', job.title], ['Type', job.text('type')], ['Class', job.text('class')], ['The owner says', job.text('says')], ['It shows', known.symptoms.map(says).join('; ')],
      ['Readings', known.readings.length ? String(known.readings.length) : '']].filter(([, v]) => v).map(([k, v]) => make('div', {}, make('dt', {}, k), make('dd', {}, v)))),
    make('p', { class: 'trace-tools' }, next.to !== 'job.html' || job.text('outcome') ? make('a', { class: 'button', href: jobs.address('devices/' + encodeURIComponent(job.text('device')) + '.html', job.code) }, job.text('outcome') ? 'Back to the trace' : next.says) : null,
      make('a', { class: 'button', href: jobs.address('counter.html', job.code) }, 'What was taken in'),
      make('button', { type: 'button', click: () => print('ticket') }, 'Print a ticket'), make('button', { type: 'button', click: () => print('label') }, 'Print a label')),
    hint,
    make('h2', {}, 'The end'), outcome, proofs, form, trouble,
    make('h2', {}, 'The sheet'), ways, finish,
    make('p', { class: 'trace-tools' }, make('button', { type: 'button', click: () => print('owner') }, 'Print for the owner'), make('button', { type: 'button', click: () => print('shop') }, 'Print for the shop')),
    preview, papers].filter(Boolean));
  showMore();
  job.watch((name, here) => { if (!here) { for (const el of [...form.elements, ...outcome.querySelectorAll('select')]) if (el.name && document.activeElement !== el) el.value = job.text(el.name); showMore(); } if (!name.startsWith('span/')) write(); });
  await write();
  drawCode();
}
