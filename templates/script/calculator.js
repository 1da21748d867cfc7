// A calculator's form: computes as one types, in the browser, with the same Go
// code that wrote the numbers on the page. What is shown always belongs to the inputs
// that stand beside it: an edit blanks the results at once, and they come back
// with the answer to the newest inputs.
'use strict';

function startCalculator(form) {
  const name = form.dataset.calc;
  const own = page.dataset.page === 'calculator';
  const controls = [...form.elements].filter((el) => el.name);
  const part = (what) => form.querySelector('[data-calc-' + what + ']');
  const link = part('link'), copied = part('copied'), trouble = part('error'), caption = part('caption');
  const first = Object.fromEntries(controls.map((el) => [el.name, el.value])); // as the page came
  const called = caption.textContent;
  let touched = false; // somebody entered something: it is no example any more
  let asking = false, again = false; // a question is on its way; the inputs changed meanwhile
  let answered = null;

  function addressOf(calculator, inputs) {
    return root + 'calc/' + calculator + '.html' +
      (inputs.length ? '?' + inputs.map(([n, v]) => encodeURIComponent(n) + '=' + encodeURIComponent(v.replaceAll(' ', '_'))).join('&') : '');
  }

  function fill(values) {
    for (const el of controls) if (values[el.name] != null) el.value = values[el.name];
    for (const el of controls) if (el.value !== first[el.name]) unfold(el);
  }

  function unfold(el) {
    const more = el.closest('details');
    if (more) more.open = true;
  }

  // every input, so that one left empty is told; a reading not taken yet is left out
  function inputs() {
    if (!touched && own) return [];
    return controls.filter((el) => el.value.trim() !== '' || !('measured' in el.dataset)).map((el) => [el.name, el.value]);
  }

  function blank() {
    answered = null;
    form.classList.add('stale');
    form.setAttribute('aria-busy', 'true');
    trouble.hidden = true;
    for (const p of form.querySelectorAll('[data-input-error]')) { p.hidden = true; p.textContent = ''; }
    for (const el of controls) { el.removeAttribute('aria-invalid'); el.removeAttribute('aria-errormessage'); }
    for (const out of form.querySelectorAll('[data-out]')) out.textContent = '–';
    for (const a of form.querySelectorAll('[data-leads-to], [data-calc-link]')) a.removeAttribute('href');
    for (const b of form.querySelectorAll('[data-calc-copy]')) b.disabled = true;
    part('notes').replaceChildren();
    copied.replaceChildren();
  }

  function complain(error) {
    const el = controls.find((c) => c.name === error.input);
    const at = el && form.querySelector('[data-input-error="' + CSS.escape(el.name) + '"]');
    const say = at || trouble;
    say.textContent = error.says;
    say.hidden = false;
    if (!at) return;
    el.setAttribute('aria-invalid', 'true');
    el.setAttribute('aria-errormessage', at.id);
    unfold(el);
  }

  // compute asks for the newest inputs; keystrokes that come while a question is on its
  // way become one question after it.
  async function compute() {
    blank();
    if (asking) { again = true; return; }
    asking = true;
    do {
      again = false;
      const asked = inputs();
      let got;
      try { got = await ask('calc', { name, inputs: asked, plots: true }); } catch (e) {
        got = { error: { says: 'Computing does not work here: ' + e.message + '.' } };
      }
      if (!again) show(asked, got);
    } while (again);
    asking = false;
  }

  function show(asked, got) {
    form.setAttribute('aria-busy', 'false');
    if (got.error) { complain(got.error); return; }
    const texts = Object.fromEntries(got.outputs.map((o) => [o.name, o.text]));
    for (const row of form.querySelectorAll('[data-out-row]')) {
      const text = texts[row.dataset.outRow];
      row.hidden = text == null;
      if (text != null) row.querySelector('[data-out]').textContent = text;
    }
    caption.textContent = touched ? 'Result for these inputs' : called;
    part('notes').replaceChildren(...(got.notes || []).map((n) => make('li', {}, n)));
    const plots = Object.fromEntries((got.plots || []).map((p) => [p.name, p.svg]));
    for (const place of form.querySelectorAll('[data-plot]')) {
      const svg = plots[place.dataset.plot];
      place.closest('figure').hidden = svg == null;
      if (svg != null) setSVG(place, svg);
    }
    for (const w of got.onward || []) {
      const a = form.querySelector('[data-leads-to="' + CSS.escape(w.name) + '"]');
      if (a) a.href = addressOf(w.name, w.inputs);
    }
    const all = controls.filter((el) => el.value.trim() !== '' || first[el.name] !== '').map((el) => [el.name, el.value]);
    link.href = addressOf(name, all);
    for (const b of form.querySelectorAll('[data-calc-copy]')) b.disabled = false;
    answered = got;
    form.classList.remove('stale');
    if (!own) return;
    // what was entered belongs to the job and is kept with it, never for the next device
    jobs.here?.set('input/' + name, touched ? Object.fromEntries(controls.map((el) => [el.name, el.value])) : null);
    const here = new URL(touched ? link.href : location.pathname, location.href);
    const job = new URL(location.href).searchParams.get('job');
    if (job != null) here.searchParams.set('job', job);
    here.hash = location.hash;
    try { history.replaceState(null, '', here); } catch { /* the link beside it holds the address */ }
  }

  function resultText() {
    const rows = [...form.querySelectorAll('[data-out-row]')].filter((row) => !row.hidden);
    const label = (row) => row.querySelector('[data-out-label]').textContent;
    const entered = controls.filter((el) => el.value.trim() !== '').map((el) => form.querySelector('label[for="' + CSS.escape(el.id) + '"] [data-label]').textContent + ': ' + (el.selectedOptions ? el.selectedOptions[0].textContent : el.value));
    return [...entered, '', ...rows.map((row) => label(row) + ': ' + row.querySelector('[data-out]').textContent), ...(answered.notes || []), '', link.href].join('\n');
  }

  function noteLink() {
    const row = form.querySelector('[data-out-row].asked') || [...form.querySelectorAll('[data-out-row]')].find((r) => !r.hidden);
    return '[=](' + answered.link + (row ? '#' + row.dataset.outRow : '') + ')';
  }

  form.addEventListener('input', () => { touched = true; compute(); });
  form.addEventListener('submit', (e) => e.preventDefault());
  form.addEventListener('reset', (e) => {
    e.preventDefault();
    fill(first);
    touched = !own;
    compute();
  });
  part('reset').hidden = false;
  const nothing = { link: 'calc:' + name, notes: [] }; // before the first question the page's own answer stands
  for (const b of form.querySelectorAll('[data-calc-copy]')) {
    b.hidden = false;
    b.addEventListener('click', () => {
      answered ||= nothing;
      copy(b.dataset.calcCopy === 'result' ? resultText() : noteLink(), copied);
    });
  }

  if (!own) return;
  const asked = new URL(location.href).searchParams;
  asked.delete('job');
  const values = Object.fromEntries([...asked].map(([n, v]) => [n, v.replaceAll('_', ' ')]));
  const unknown = Object.keys(values).filter((n) => !(n in first));
  const before = Object.keys(values).length ? values : Object(jobs.here?.value('input/' + name)); // what this job was given here before
  if (controls.some((el) => before[el.name] != null)) { touched = true; fill(before); compute(); }
  if (unknown.length) { trouble.textContent = 'The address asks for “' + unknown.join('”, “') + '”, which this calculator has not; what else it holds is filled in.'; trouble.hidden = false; }
  const out = unescaped(location.hash.slice(1));
  const row = out && form.querySelector('[data-out-row="' + CSS.escape(out) + '"]');
  if (row) { row.classList.add('asked'); unfold(row); row.scrollIntoView({ block: 'center' }); }
}
