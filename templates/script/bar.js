// The line above a page that says which job is on this bench, or that this is
// just looking; the open jobs on the start page; and which sheets are of the type on
// this bench.
'use strict';

// nextOf says what comes next in a job, and where.
function nextOf(job) {
  const device = 'devices/' + encodeURIComponent(job.text('device')) + '.html';
  if (job.text('outcome')) {
    if (job.value('kept')) return { says: 'The sheet is written: say that it is saved', to: 'job.html' };
    return { says: job.text('outcome') === 'mended' ? 'Show that it is safe, then the sheet' : 'Close it with its sheet', to: 'job.html' };
  }
  return { says: job.text('next') || 'Find the fault', to: device };
}

function startBar() {
  const kind = page.dataset.page;
  const main = document.querySelector('main');
  const bar = make('aside', { class: 'jobbar', 'data-jobbar': true, 'aria-label': 'The job on this bench' });
  const job = jobs.here;
  if (jobs.absent && kind !== 'job-page') {
    bar.append(make('p', { 'data-absent': true }, 'The job ' + jobs.absent + ' is not in this browser' + (theInbox ? ' yet.' : ', so nothing is kept here. Open it on the screen where it was begun, or host the site with --inbox.')));
    main.before(bar);
    return;
  }
  if (job) {
    const next = nextOf(job);
    const device = document.querySelector('[data-trace]')?.dataset.trace;
    bar.append(make('p', { class: 'jobbar-what' }, make('a', { href: jobs.address('job.html', job.code) }, make('strong', {}, job.code)), make('span', { class: 'jobbar-title' }, ' ' + job.title + (job.text('type') ? ', ' + job.text('type') : ''))),
      make('p', { class: 'jobbar-clock' }, make('span', { 'data-clock': true }), ' ', make('button', { type: 'button', 'data-clock-pause': true, click: () => { tickClock(); job.set('paused', job.value('paused') !== true); drawClock(); } }, 'Pause'), ' ',
        make('button', { type: 'button', 'data-job-aside': true, click: () => { tickClock(); sessionSet(''); location.href = root + 'index.html?job='; } }, 'Set aside')),
      make('span', { 'data-timer-offer': true }), make('div', { 'data-timers': true }));
    if (device && device !== job.text('device')) {
      bar.append(make('p', {}, 'This page is about another device, so nothing of it is kept. ', make('a', { class: 'button', href: jobs.address(next.to, job.code) }, 'Back to the job')));
    } else if (kind !== 'job-page' && kind !== 'counter' && !device) {
      bar.append(make('p', {}, make('a', { href: jobs.address(next.to, job.code) }, next.says)));
    }
    job.watch(() => { if (!job.open) gone(bar, job); else drawTimers(); });
    main.before(bar);
    return;
  }
  if (document.querySelector('[data-trace]')) {
    const take = make('a', { class: 'button', 'data-take-in': true, href: '#' }, 'Take it in');
    const lead = () => { take.href = root + 'counter.html?device=' + encodeURIComponent(document.querySelector('[data-trace]').dataset.trace) + location.hash; };
    for (const event of ['pointerdown', 'focus', 'click']) take.addEventListener(event, lead);
    lead();
    bar.classList.add('jobbar-looking');
    bar.append(make('p', { 'data-looking': true }, make('span', {}, 'Just looking: nothing is kept here. '), take));
    const open = jobs.all().filter((j) => j.text('device') === document.querySelector('[data-trace]').dataset.trace);
    if (open.length) {
      bar.append(make('p', {}, 'Open: ', open.map((j) => [make('a', { href: jobs.address(location.pathname.split('/').slice(-2).join('/'), j.code) }, j.code), ' '])));
    }
    main.before(bar);
  }
}

// gone says that another tab has closed or deleted the job.
function gone(bar, job) {
  if (bar.dataset.gone) return;
  bar.dataset.gone = 'yes';
  bar.replaceChildren(make('p', { role: 'alert' }, 'The job ' + job.code + ' was closed in another tab or on another screen: what is entered here is kept no more. ', make('a', { href: root + 'index.html?job=', 'data-no-job': true }, 'To the start')));
  jobs.letGo(job.code);
}

// jobRow is an open job in a list.
function jobRow(job, onGone) {
  const next = nextOf(job);
  const done = job.all('known/readings/').length;
  const sure = make('span');
  const remove = make('button', { type: 'button', class: 'small', 'data-job-delete': job.code, click: () => {
    if (sure.childNodes.length) { sure.replaceChildren(); return; }
    sure.replaceChildren(' Its readings are lost for good. ', make('button', { type: 'button', 'data-job-delete-sure': true, click: () => { job.end('deleted'); theInbox?.later(); onGone(); } }, 'Delete it'), ' ',
      make('button', { type: 'button', click: () => sure.replaceChildren() }, 'Keep it'));
    sure.querySelector('button').focus();
  } }, 'Delete');
  return make('li', { 'data-job': job.code }, make('a', { href: jobs.address(next.to, job.code), 'data-no-job': true },
    make('strong', {}, job.title + (job.text('type') ? ', ' + job.text('type') : '')),
    job.text('chain') ? miniChain(job.text('chain')) : null,
    make('span', { class: 'small' }, job.code + ' · ' + minutesText(minutesOf(job)) + (done ? ' · ' + (done === 1 ? '1 reading' : done + ' readings') : '') + ' · ' + next.says)),
  make('p', { class: 'small job-ways' }, make('a', { href: jobs.address('job.html', job.code), 'data-no-job': true }, 'The job'), ' ', remove, sure));
}

// adoptOld makes jobs of the traces that an older edition kept by device.
function adoptOld() {
  for (const [name, k] of kept.all('trace:')) {
    try {
      if (k && Array.isArray(k.readings) && Array.isArray(k.symptoms)) {
        jobs.begin({ device: name.slice('trace:'.length), title: asText(k.title) }).keepKnown({ absent: [], tried: [], mended: [], noPart: [], terms: {}, symptoms: k.symptoms, readings: k.readings });
      }
    } catch { /* junk */ }
    kept.drop(name);
  }
  for (const old of ['ticks:', 'sheet:', 'calc:']) for (const [name] of kept.all(old)) kept.drop(name);
}

function startUnfinished(place) {
  adoptOld();
  const list = place.querySelector('[data-unfinished-list]');
  const draw = () => {
    const open = jobs.all();
    list.replaceChildren(...open.map((j) => jobRow(j, draw)));
    place.hidden = open.length === 0;
  };
  draw();
  addEventListener('storage', draw);
  if (theInbox) theInbox.watch(draw);
}

// startLastTime marks the sheets of the type on the bench, for others may have
// other insides.
function startLastTime(place) {
  const type = jobs.here?.text('type').split(',')[0].trim();
  if (!type) return;
  const same = [...place.querySelectorAll('li')].filter((li) => li.querySelector('a').textContent.toLowerCase().endsWith(' ' + type.toLowerCase()));
  const summary = place.querySelector('summary');
  if (same.length) {
    summary.textContent = 'Last time, this type: ' + same[0].textContent.trim();
    place.querySelector('ul').prepend(...same);
  } else {
    summary.textContent += ' (another type: its insides may differ)';
  }
}
