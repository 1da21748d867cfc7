// A calculator's form: computes on every keystroke, in the browser, with the
// same Go code that wrote the numbers on the page.
'use strict';

function startCalculator(form) {
  const name = form.dataset.calc;
  const own = page.dataset.page === 'calculator';
  const controls = [...form.elements].filter((el) => el.name);
  const link = form.querySelector('[data-calc-link]');
  const copied = form.querySelector('[data-calc-copied]');
  const trouble = form.querySelector('[data-calc-error]');
  let turn = 0;
  let address = '';

  // the values as the page came, so that only changed ones go into the address
  const first = Object.fromEntries(controls.map((el) => [el.name, el.value]));

  function addressOf(calculator, inputs) {
    return root + 'calc/' + calculator + '.html' +
      (inputs.length ? '?' + inputs.map(([n, v]) => encodeURIComponent(n) + '=' + encodeURIComponent(v.replaceAll(' ', '_'))).join('&') : '');
  }

  function fill(values) {
    for (const el of controls) if (values[el.name] != null) el.value = values[el.name];
  }

  function clear() {
    trouble.hidden = true;
    for (const p of form.querySelectorAll('[data-input-error]')) p.hidden = true;
    for (const el of controls) el.removeAttribute('aria-invalid');
  }

  function complain(error) {
    const at = form.querySelector('[data-input-error="' + CSS.escape(error.input || '') + '"]');
    const say = at || trouble;
    say.textContent = error.says;
    say.hidden = false;
    const el = controls.find((c) => c.name === error.input);
    if (el) el.setAttribute('aria-invalid', 'true');
    for (const out of form.querySelectorAll('[data-out]')) out.textContent = '–';
  }

  async function compute() {
    const mine = ++turn;
    const inputs = controls.filter((el) => el.value.trim() !== '').map((el) => [el.name, el.value]);
    let got;
    try { got = await ask('calc', { name, inputs, plots: true }); } catch (e) {
      if (mine === turn) { trouble.textContent = 'Computing does not work here: ' + e.message + '.'; trouble.hidden = false; }
      return;
    }
    if (mine !== turn) return;
    clear();
    if (got.error) { complain(got.error); return; }
    const texts = Object.fromEntries(got.outputs.map((o) => [o.name, o.text]));
    for (const row of form.querySelectorAll('[data-out-row]')) {
      const text = texts[row.dataset.outRow];
      row.hidden = text == null;
      if (text != null) row.querySelector('[data-out]').textContent = text;
    }
    form.querySelector('[data-calc-notes]').replaceChildren(...(got.notes || []).map((n) => make('li', {}, n)));
    for (const p of got.plots || []) {
      const place = form.querySelector('[data-plot="' + CSS.escape(p.name) + '"]');
      if (place) setSVG(place, p.svg);
    }
    for (const w of got.onward || []) {
      const a = form.querySelector('[data-leads-to="' + CSS.escape(w.name) + '"]');
      if (a) a.href = addressOf(w.name, w.inputs);
    }
    address = got.link;
    const changed = controls.filter((el) => el.value !== first[el.name]);
    link.href = addressOf(name, changed.map((el) => [el.name, el.value]));
    if (own && jobs.here) jobs.here.set('input/' + name, Object.fromEntries(controls.map((el) => [el.name, el.value])));
  }

  form.addEventListener('input', compute);
  form.addEventListener('submit', (e) => e.preventDefault());
  const button = form.querySelector('[data-calc-copy]');
  button.hidden = false;
  button.addEventListener('click', () => copy('[=](' + address + '#' + (form.querySelector('[data-out-row]') || { dataset: {} }).dataset.outRow + ')', copied));

  if (own) {
    const asked = new URL(location.href).searchParams;
    asked.delete('job');
    const values = Object.fromEntries([...asked].map(([n, v]) => [n, v.replaceAll('_', ' ')]));
    if (Object.keys(values).length) { fill(values); compute(); } else {
      const last = jobs.here?.value('input/' + name); // what this job was given here before
      if (last && typeof last === 'object' && controls.some((el) => last[el.name] != null && last[el.name] !== el.value)) { fill(last); compute(); }
    }
    const out = decodeURIComponent(location.hash.slice(1));
    const row = out && form.querySelector('[data-out-row="' + CSS.escape(out) + '"]');
    if (row) { row.classList.add('asked'); row.scrollIntoView({ block: 'center' }); }
  }
}
