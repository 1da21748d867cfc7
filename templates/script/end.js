// The end of a trace: what it leads on to, and what the way taken teaches.
'use strict';

// checksOf is the checklist that shows most of what a job must show.
const checksOf = (lists) => [...lists].sort((x, y) => new Set(y.steps.map((s) => s.proof)).size - new Set(x.steps.map((s) => s.proof)).size)[0];

// startSheet leads on from the trace: in a job to what must be shown before it goes
// back, or else to its sheet; just looking, to the counter.
async function startSheet(place, { device, known, cause, outcome, back }) {
  const job = jobFor(device.id);
  if (job) {
    job.set('cause', cause);
    if (outcome) job.set('outcome', outcome);
    job.set('next', outcome === 'mended' ? 'Show that it is safe' : 'Close it with its sheet');
    tickClock();
    const [b, d] = await Promise.all([bench(), benchOf(device.id)]).catch(() => []);
    const list = outcome === 'mended' && b && d?.proofs.length ? checksOf(b.lists) : null;
    location.href = jobs.address(list ? list.address : 'job.html', job.code);
    return;
  }
  const looked = make('section', { 'aria-label': 'Looking back' });
  const head = make('h2', { id: 'trace-step', class: 'trace-ask', tabindex: '-1' }, outcome === 'mended' ? 'Mended: now show that it is safe' : 'The job sheet');
  place.replaceChildren(make('div', { class: 'sheet' }, head,
    make('p', {}, 'This was just looking, so there is no sheet yet: take it in, and what you entered comes along.'),
    make('p', { class: 'trace-tools' },
      make('a', { class: 'button go', 'data-to-job': true, href: root + 'counter.html?device=' + encodeURIComponent(device.id) + location.hash }, 'Take it in'),
      make('button', { type: 'button', click: back }, 'Back to the trace'))), looked);
  head.focus();
  lookBack(looked, device, known, cause);
}

// lookBack shows the way taken beside the best one, and what to note.
async function lookBack(at, device, known, cause) {
  if (!device.causes.some((c) => c.id === cause) || (!known.readings.length && !known.tried.length && !known.mended.length && !known.byHand?.length)) return;
  const got = await ask('lookBack', { known, cause });
  if (got.error) return;
  const way = (title, minutes, steps) => make('div', {}, make('h3', {}, title + ': ' + minutes),
    make('ol', { class: 'plain' }, steps.map((s) => {
      const ruler = make('span', { class: 'mark-ruler' });
      setSVG(ruler, s.ruler);
      return make('li', { class: 'mark' }, ruler, make('div', { class: 'mark-what' }, s.title, s.reading ? ': ' : '', s.reading ? make('strong', {}, s.reading) : null,
        s.extra ? make('span', { class: 'small trace-lead' }, s.extra) : null));
    })));
  at.replaceChildren(make('details', { class: 'look' }, make('summary', {}, 'Looking back: ' + got.takenMinutes + ' this time, ' + got.bestMinutes + ' the best way'),
    make('div', { class: 'look-ways' }, way('The way taken', got.takenMinutes, got.taken), way('The best way, if all reads as noted', got.bestMinutes, got.best))),
  got.toNote.length ? make('div', {}, make('h3', {}, 'What the notes should learn'), make('ul', {}, got.toNote.map((n) => make('li', {}, n)))) : '');
}
