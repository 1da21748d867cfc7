// Past jobs: the filter above their months.
'use strict';

function startPast(form) {
  const rows = [...document.querySelectorAll('.jobs tbody tr')].map((tr) => ({ tr, text: (tr.textContent + ' ' + (tr.dataset.code || '')).toLowerCase(), date: tr.querySelector('th').textContent, outcome: tr.lastElementChild.textContent, device: tr.dataset.device }));
  const said = form.querySelector('[data-jobs-said]');
  const months = [...document.querySelectorAll('[data-month]')].map((d) => ({ d, open: d.open }));
  const asked = new URLSearchParams(location.search);
  for (const el of form.elements) if (el.name && asked.get(el.name)) el.value = asked.get(el.name);
  function filter() {
    const v = Object.fromEntries([...form.elements].filter((el) => el.name).map((el) => [el.name, el.value.trim()]));
    const words = v.words.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const r of rows) {
      const fits = (!v.device || r.device === v.device) && (!v.outcome || r.outcome === v.outcome) && (!v.from || r.date >= v.from) && (!v.to || r.date <= v.to) && words.every((w) => r.text.includes(w));
      r.tr.hidden = !fits;
      if (fits) shown++;
    }
    const all = shown === rows.length;
    said.textContent = all ? '' : shown + ' of ' + rows.length + ' sheets';
    // a month without a sheet that fits is out of the way; what fits is in sight
    for (const m of months) {
      m.d.hidden = !m.d.querySelector('tbody tr:not([hidden])');
      m.d.open = all ? m.open : true;
    }
    // the other years keep what is asked for
    const keep = new URLSearchParams(Object.entries(v).filter(([k, x]) => x && k !== 'from' && k !== 'to'));
    for (const a of document.querySelectorAll('.years a')) a.search = keep.toString();
  }
  form.addEventListener('input', filter);
  form.addEventListener('submit', (e) => e.preventDefault());
  form.hidden = false;
  filter();
}
