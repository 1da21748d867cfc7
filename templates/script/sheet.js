// The job sheet at the end of a trace: filled by the trace, completed by hand,
// downloaded as Markdown for content/jobs/.
'use strict';

function startSheet(place, { device, known, cause, outcome, back }) {
  const saved = kept.get('sheet:' + device.id) || {};
  const now = new Date();
  const today = [now.getFullYear(), String(now.getMonth() + 1).padStart(2, '0'), String(now.getDate()).padStart(2, '0')].join('-');
  const field = (name, label, value, props) => {
    const el = make(props && props.rows ? 'textarea' : 'input', { id: 'sheet-' + name, name, autocomplete: 'off', ...props });
    el.value = saved[name] ?? value ?? '';
    return make('p', { class: 'sheet-field' }, make('label', { for: 'sheet-' + name }, label), el);
  };
  const select = (name, label, value, choices) => {
    const el = make('select', { id: 'sheet-' + name, name }, choices.map(([v, text]) => make('option', { value: v }, text)));
    el.value = value;
    return make('p', { class: 'sheet-field' }, make('label', { for: 'sheet-' + name }, label), el);
  };
  const mended = device.causes.find((c) => c.id === cause);
  const trouble = make('p', { class: 'wrong', role: 'alert', hidden: true });
  const preview = make('pre', { class: 'sheet-preview', tabindex: '0', 'aria-label': 'The job sheet as Markdown' });
  const said = make('span', { role: 'status' });
  let made = null;

  const form = make('form', { class: 'sheet', submit: (e) => e.preventDefault() },
    make('h3', { id: 'trace-step', tabindex: '-1' }, 'Job sheet'),
    make('p', {}, make('a', { href: root + 'index.html#checklists' }, 'First the checks after a repair'), ': nothing goes back without them.'),
    make('p', { class: 'small' }, 'Fill in what you know; names and addresses of owners do not belong here.'),
    field('date', 'Date', today, { type: 'date' }),
    field('ownerSays', 'The owner said', '', { rows: '2' }),
    field('before', 'What came before', ''),
    field('tried', 'Tried before it came here', ''),
    field('limit', 'The owner’s limit', known.terms.limit ? known.terms.limit + ' ' + device.shop.currency : ''),
    select('reproduced', 'Seen here on the bench', saved.reproduced || 'yes', [['yes', 'yes'], ['no', 'no'], ['now and then', 'now and then']]),
    select('cause', 'Cause', cause, [...device.causes.map((c) => [c.id, c.title]), ['unknown', 'unknown']]),
    field('reason', 'Why it failed', mended && mended.because ? mended.because[0] : ''),
    mended && mended.protective ? field('soak', 'Minutes it passed under full load, watched', '', { inputmode: 'decimal' }) : null,
    field('parts', 'Parts used, parted by commas', mended && outcome === 'mended' && mended.mend.parts ? mended.mend.parts.map((p) => p.part).join(', ') : ''),
    field('minutes', 'Minutes in all', '', { inputmode: 'decimal' }),
    field('money', 'Money for parts', '', { inputmode: 'decimal' }),
    select('outcome', 'Outcome', outcome, [['mended', 'mended'], ['given-up', 'given up'], ['replaced', 'replaced'], ['came-back', 'came back']]),
    trouble,
    make('p', { class: 'trace-tools' },
      make('button', { type: 'button', 'data-sheet-save': true, click: save }, 'Download the job sheet'),
      make('button', { type: 'button', click: () => made && copy(made.markdown, said) }, 'Copy it'),
      make('button', { type: 'button', click: back }, 'Back to the trace'), said),
    make('p', { class: 'small' }, 'Put the file into content/jobs/ and commit it; it counts from the next publishing on.'),
    preview);

  async function write() {
    const v = Object.fromEntries([...form.elements].filter((el) => el.name).map((el) => [el.name, el.value]));
    kept.set('sheet:' + device.id, v);
    const got = await ask('sheet', { ...v, device: device.id, symptoms: known.symptoms, readings: known.readings, priced: mended ? mended.mend.parts || [] : [] });
    trouble.hidden = !got.error;
    if (got.error) { trouble.textContent = got.error.says; made = null; return; }
    made = got;
    preview.textContent = got.markdown;
  }

  async function save() {
    await write();
    if (!made) return;
    download(made.markdown, made.name);
    kept.drop('sheet:' + device.id);
    said.textContent = 'Saved as ' + made.name + '.';
  }

  // lookBack shows the way taken beside the best one, and what to note.
  async function lookBack(at) {
    if (!mended || (!known.readings.length && !known.tried.length && !known.mended.length)) return;
    const got = await ask('lookBack', { known, cause });
    if (got.error) return;
    const way = (title, minutes, steps) => make('div', {}, make('h4', {}, title + ': ' + minutes),
      make('ol', { class: 'plain' }, steps.map((s) => {
        const ruler = make('span', { class: 'mark-ruler' });
        setSVG(ruler, s.ruler);
        return make('li', { class: 'mark' }, ruler, make('div', { class: 'mark-what' }, s.title, s.reading ? ': ' : '', s.reading ? make('strong', {}, s.reading) : null,
          s.extra ? make('span', { class: 'small trace-lead' }, s.extra) : null));
      })));
    at.replaceChildren(make('details', { class: 'look' }, make('summary', {}, 'Looking back: ' + got.takenMinutes + ' this time, ' + got.bestMinutes + ' the best way'),
      make('div', { class: 'look-ways' }, way('The way taken', got.takenMinutes, got.taken), way('The best way, if all reads as noted', got.bestMinutes, got.best))),
    got.toNote.length ? make('div', {}, make('h4', {}, 'What the notes should learn'), make('ul', {}, got.toNote.map((n) => make('li', {}, n)))) : '');
  }

  const looked = make('section', { 'aria-label': 'Looking back' });
  form.addEventListener('input', write);
  place.replaceChildren(form, looked);
  lookBack(looked);
  form.querySelector('#trace-step').focus();
  write();
}
