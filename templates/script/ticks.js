// Checklists. In a job every step is ok, fails, or is not done for a reason, and a
// step that measures has a field whose reading is judged when it is left. Without
// a job the ticks last as long as the page.
'use strict';

function startTicks(list) {
  const job = jobs.here;
  const id = list.dataset.ticks;
  const boxes = [...list.querySelectorAll('input[data-tick]')];
  const count = document.querySelector('[data-ticks-count]');
  const clear = document.querySelector('[data-ticks-clear]');
  const key = (box) => 'tick/' + id + '/' + box.dataset.tick;
  const here = new Map(); // without a job
  if (!job) {
    for (const [tick, fact] of stays.back('ticks/' + id) || []) { const box = boxes.find((b) => b.dataset.tick === tick); if (box) here.set(box, fact); }
    stays.keep('ticks/' + id, () => [...here].map(([box, fact]) => [box.dataset.tick, fact]));
  }
  const factOf = (box) => {
    const f = job ? job.value(key(box)) : here.get(box);
    return f && typeof f === 'object' ? f : {};
  };
  const parts = new Map(); // box -> what the script added to its step
  const unasked = new Set(); // boxes of what the class of the device does not ask for

  function put(box, change) {
    const fact = { ...factOf(box), ...change };
    if (box.dataset.proof) fact.proof = box.dataset.proof;
    fact.text = box.getAttribute('aria-label').slice(0, 90);
    if (job) job.set(key(box), fact.is || fact.read || fact.why ? fact : null); else here.set(box, fact);
    draw();
  }

  function draw() {
    const is = { ok: 0, fails: 0, not: 0 };
    for (const box of boxes) {
      const f = factOf(box);
      if (f.is in is) is[f.is]++;
      box.checked = f.is === 'ok';
      const p = parts.get(box);
      p.li.dataset.is = f.is || '';
      p.fails.setAttribute('aria-pressed', String(f.is === 'fails'));
      p.not.setAttribute('aria-pressed', String(f.is === 'not'));
      p.because.hidden = f.is !== 'not';
      p.stays.hidden = f.is !== 'fails';
      if (document.activeElement !== p.why) p.why.value = asText(f.why);
      if (p.read) {
        if (document.activeElement !== p.read) p.read.value = asText(f.read);
        p.judged.textContent = asText(f.says);
        p.judged.className = f.is === 'fails' ? 'wrong' : 'small';
      }
    }
    const asked = boxes.filter((box) => !unasked.has(box) || factOf(box).is).length;
    const todo = asked - is.ok - is.fails - is.not;
    count.textContent = todo + ' of ' + asked + ' to do' + (is.fails ? ' · it stays here' : '');
    for (const at of document.querySelectorAll('[data-ticks-of]')) at.textContent = is[at.dataset.ticksOf] || '';
    clear.hidden = todo === asked;
  }

  async function judge(box, field) {
    const value = field.value.trim();
    if (value === '') { put(box, { read: '', says: '', limit: '', is: '' }); return; }
    const mark = field.closest('[data-read]').dataset;
    const deviceClass = job ? job.text('class') : '';
    const got = await ask('judge', { kind: mark.read, value, inputs: mark.inputs, class: deviceClass });
    if (got.error) { put(box, { read: value, says: got.error.says, limit: '', is: '' }); return; }
    put(box, { read: got.value, says: got.says, limit: got.limit || '', is: { passes: 'ok', fails: 'fails' }[got.word] ?? 'ok' });
  }

  for (const box of boxes) {
    const li = box.closest('li');
    const name = 'Step ' + (boxes.indexOf(box) + 1);
    const why = make('input', { 'aria-label': name + ': why it was not done', autocomplete: 'off', change: () => put(box, { why: why.value.trim() }) });
    const p = {
      li, why,
      fails: make('button', { type: 'button', class: 'tick-way tick-fails', 'aria-label': name + ' fails', click: () => put(box, { is: factOf(box).is === 'fails' ? '' : 'fails' }) }),
      not: make('button', { type: 'button', class: 'tick-way tick-not', 'aria-label': name + ' not done', click: () => { put(box, { is: factOf(box).is === 'not' ? '' : 'not' }); if (!p.because.hidden) why.focus(); } }),
      stays: make('strong', { class: 'tick-stays', hidden: true }, 'It stays here.'),
      because: make('label', { class: 'tick-why', hidden: true }, 'not done, because ', why),
    };
    const mark = li.querySelector('[data-read]');
    if (mark) {
      p.judged = make('span', { class: 'small', role: 'status' });
      if (mark.dataset.read === 'polarity') {
        p.read = make('select', { 'aria-label': name + ': ' + mark.textContent, change: () => judge(box, p.read) },
          [['', 'not read'], ['right', 'right'], ['crossed', 'crossed'], ['open', 'a core is open']].map(([v, t]) => make('option', { value: v }, t)));
      } else {
        p.read = make('input', { 'aria-label': name + ': ' + mark.textContent + ', with its unit', autocomplete: 'off', spellcheck: 'false', inputmode: 'text', placeholder: { bond: 'Ω', insulation: 'MΩ', resistance: 'Ω', voltage: 'V', temperature: '°C', power: 'W', time: 'min' }[mark.dataset.read] || 'mA', change: () => judge(box, p.read) });
      }
      mark.append(' ', p.read, ' ', p.judged);
    }
    const at = mark ? mark.closest('[data-read]') : null;
    li.append(make('span', { class: 'tick-ways' }, p.fails, p.not, p.stays, p.because));
    if (at) li.insertBefore(at, li.querySelector('.tick-ways'));
    parts.set(box, p);
    box.disabled = false;
    box.addEventListener('change', () => put(box, { is: box.checked ? 'ok' : '' }));
    // the whole line ticks, for hands that are not clean
    li.addEventListener('click', (e) => {
      if (e.target.closest('a, input, button, select, label, [data-read], .timer')) return;
      if (li.classList.contains('tick-unasked')) li.classList.remove('tick-unasked'); else box.click();
    });
  }
  for (const wait of list.querySelectorAll('[data-wait]')) {
    if (!job) continue;
    const minutes = Number(wait.dataset.wait);
    wait.append(' ', make('button', { type: 'button', class: 'tick-timer', click: () => startTimer(job, wait.firstChild.textContent.trim(), minutes) }, 'Timer'));
  }
  clear.addEventListener('click', () => {
    here.clear();
    if (job) for (const box of boxes) job.set(key(box), null);
    draw();
    boxes[0]?.focus();
  });

  if (job) {
    list.after(make('p', { class: 'trace-tools ticks-on' }, make('a', { class: 'button go', 'data-to-sheet': true, href: jobs.address('job.html', job.code) }, 'To the job sheet')));
    job.watch(draw);
    // a list that was written anew: what has gone is said, and stays in the job
    const known = new Set(boxes.map((b) => b.dataset.tick));
    const lost = job.all('tick/' + id + '/').filter(([step]) => !known.has(step));
    if (lost.length) {
      list.after(make('section', { 'data-ticks-gone': true }, make('h2', {}, 'No longer on this list'),
        make('ul', {}, lost.map(([, f]) => make('li', {}, asText(f?.text) + ': ' + ({ ok: 'ok', fails: 'fails', not: 'not done' }[f?.is] || '') + (f?.read ? ', ' + asText(f.read) : ''))))));
    }
    benchOf(job.text('device')).then((d) => {
      const needs = (d?.proofs || []).flat();
      for (const [box, p] of parts) {
        const kind = box.dataset.proof;
        if (!kind || needs.includes(kind)) continue;
        // what this class does not ask for takes one line, until it is tapped
        unasked.add(box);
        p.li.insertBefore(make('span', { class: 'tick-spare' }, job.text('class') ? 'Not asked for in class ' + job.text('class') + ': ' : 'Not asked for here: '), box.nextSibling);
        p.li.classList.toggle('tick-unasked', !factOf(box).is);
      }
      draw();
    }).catch(() => {});
  } else {
    const open = jobs.all();
    count.closest('.ticks-head').before(make('p', { class: 'small ticks-looking', 'data-looking': true }, 'Just looking: these ticks are not kept. ', open.length ? ['For ', open.map((j) => [make('a', { href: jobs.address(location.pathname.split('/').slice(-2).join('/'), j.code) }, j.title + ' ' + j.code), ' '])] : make('a', { href: root + 'counter.html' }, 'Take something in')));
  }
  draw();
  if (location.hash.startsWith('#step-')) document.getElementById(location.hash.slice(1))?.closest('li')?.scrollIntoView({ block: 'center' });
}

// proofsOf gathers from the ticks of a job what it has shown: a reading by
// itself, what is looked at and tried by all its steps.
function proofsOf(job, lists) {
  const out = [];
  const ticks = new Map(job.all('tick/').map(([name, f]) => [name, f && typeof f === 'object' ? f : {}]));
  const byKind = new Map();
  for (const l of lists) {
    for (const s of l.steps) {
      const at = l.id + '/' + s.id;
      if (!byKind.has(s.proof)) byKind.set(s.proof, new Map());
      if (!byKind.get(s.proof).has(l.id)) byKind.get(s.proof).set(l.id, []);
      byKind.get(s.proof).get(l.id).push({ ...s, at, fact: ticks.get(at) || {} });
    }
  }
  for (const [kind, of] of byKind) {
    // the list that was begun, or else the first
    const steps = [...of.values()].sort((a, b) => b.filter((s) => s.fact.is).length - a.filter((s) => s.fact.is).length)[0];
    const done = steps.filter((s) => s.fact.is);
    const fails = done.some((s) => s.fact.is === 'fails');
    const oks = done.filter((s) => s.fact.is === 'ok');
    const whys = done.filter((s) => s.fact.is === 'not' && asText(s.fact.why)).map((s) => asText(s.fact.why));
    const complete = done.length === steps.length && oks.length + whys.length === done.length && oks.length > 0;
    const read = done.find((s) => asText(s.fact.read));
    out.push({
      kind, value: read ? asText(read.fact.read) : '', limit: read ? asText(read.fact.limit) : '',
      pass: fails ? 'fails' : complete ? 'ok' : '', why: fails ? '' : whys.join('; '),
      begun: done.length, steps: steps.length, step: (steps.find((s) => !s.fact.is) || steps[0]),
    });
  }
  return out;
}
