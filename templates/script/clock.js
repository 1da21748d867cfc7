// The clock of a job: it runs while a step is on screen, and counts nothing that
// it has not seen. A pause holds on every screen of the job; the sum can be
// corrected by hand. Timers are for waits and soaks.
'use strict';

const clock = { span: '', step: '', from: 0, to: 0, touched: Date.now(), asked: false };
const clockLimit = 45 * 60000; // so long without a touch, and it asks

// onScreen names the step that the page shows, "" where it shows none.
function onScreen() {
  if (document.visibilityState !== 'visible') return '';
  const at = document.querySelector('[data-step]');
  if (at) return at.dataset.step || 'trace';
  if (['checklist', 'opening'].includes(page.dataset.page)) return document.querySelector('[data-ticks]')?.dataset.ticks || '';
  if (page.dataset.page === 'counter') return 'counter';
  return '';
}

// tickClock brings the span under way up to now. A gap, as when the machine
// slept, ends it.
function tickClock() {
  const job = jobs.here;
  const now = Date.now();
  const step = job && job.open && job.value('paused') !== true && !clock.asked ? onScreen() : '';
  if (clock.span && (step !== clock.step || now - clock.to > 30000)) clock.span = '';
  if (!step) { clock.to = now; return; }
  if (now - clock.touched > clockLimit) { clock.asked = true; askClock(); return; }
  if (!clock.span) {
    clock.from = now;
    clock.span = 'span/' + job.stamp();
    clock.step = step;
    clock.to = now;
    return;
  }
  clock.to = now;
  job.set(clock.span, { step, from: clock.from, to: now });
}

// askClock takes the untouched time back until somebody says that it was work.
function askClock() {
  const job = jobs.here;
  const { span, step, from, touched } = clock;
  const until = clock.to;
  if (span) job.set(span, { step, from, to: Math.max(from, Math.min(touched, until)) });
  clock.span = '';
  const answer = (worked) => {
    if (worked && span) job.set(span, { step, from, to: until });
    clock.asked = false;
    clock.touched = Date.now();
    box.remove();
    drawClock();
  };
  const box = make('p', { class: 'jobbar-ask', role: 'alert' }, 'Nothing was touched for ' + Math.round((until - touched) / 60000) + ' minutes. Were you at it? ',
    make('button', { type: 'button', click: () => answer(true) }, 'Yes, count them'), ' ', make('button', { type: 'button', click: () => answer(false) }, 'No'));
  document.querySelector('[data-jobbar]')?.append(box);
}

const minutesText = (m) => (m < 1 ? (m > 0 ? 'under 1 min' : '0 min') : Math.round(m) + ' min');

function drawClock() {
  const at = document.querySelector('[data-clock]');
  if (!at || !jobs.here) return;
  const m = minutesOf(jobs.here);
  const text = m < 1 ? '0 min' : minutesText(m); // the bar keeps its width
  if (at.textContent !== text) at.textContent = text;
  const pause = document.querySelector('[data-clock-pause]');
  const paused = jobs.here.value('paused') === true;
  pause.textContent = paused ? 'Go on' : 'Pause';
  pause.setAttribute('aria-pressed', String(paused));
}

// correctClock takes what was typed for the whole job so far.
function correctClock(job, text) {
  const total = Number(text.replace(',', '.'));
  if (!(total >= 0 && total < 100000) || text.trim() === '') return false;
  tickClock();
  clock.span = '';
  job.set('minutes', { total, at: Date.now() });
  drawClock();
  return true;
}

// timers

function startTimer(job, what, minutes) {
  job.add('timer/', { what, from: Date.now(), minutes });
  wakeSound();
  drawTimers();
}

let sound = null;
// wakeSound must come of a tap: browsers let nothing sound by itself.
function wakeSound() {
  try { sound ||= new AudioContext(); sound.resume(); } catch { /* silent */ }
}

function ring() {
  if (Object(kept.get('look')).sound === 'off') return;
  try {
    for (let i = 0; i < 6; i++) {
      const tone = sound.createOscillator();
      const loud = sound.createGain();
      tone.frequency.value = i % 2 ? 880 : 660;
      loud.gain.value = 0.2;
      tone.connect(loud).connect(sound.destination);
      tone.start(sound.currentTime + i * 0.35);
      tone.stop(sound.currentTime + i * 0.35 + 0.25);
    }
  } catch { /* the notice stands there all the same */ }
  try { navigator.vibrate?.([300, 150, 300]); } catch { /* no motor */ }
}

const rung = new Set();
function drawTimers() {
  const at = document.querySelector('[data-timers]');
  const job = jobs.here;
  if (!at || !job) return;
  const rows = job.all('timer/').filter(([, t]) => t && typeof t === 'object' && Number.isFinite(t.from) && Number.isFinite(t.minutes)).map(([id, t]) => {
    const left = t.from + t.minutes * 60000 - Date.now();
    const over = left <= 0;
    if (over && !rung.has(id)) { rung.add(id); ring(); document.title = 'Over: ' + asText(t.what) + ' · ' + document.title.replace(/^Over: .*? · /, ''); }
    const s = Math.max(0, Math.ceil(left / 1000));
    const row = at.querySelector('[data-timer="' + id + '"]') || make('p', { class: 'timer', 'data-timer': id }, make('span', { 'data-timer-text': true }), ' ',
      make('button', { type: 'button', click: () => { job.set('timer/' + id, null); document.title = document.title.replace(/^Over: .*? · /, ''); drawTimers(); } }, 'Done'));
    const text = over ? 'Over: ' + asText(t.what) : asText(t.what) + ': ' + Math.floor(s / 60) + ':' + String(s % 60).padStart(2, '0');
    const says = row.querySelector('[data-timer-text]');
    if (says.textContent !== text) says.textContent = text;
    if (over && row.getAttribute('role') !== 'alert') row.setAttribute('role', 'alert');
    return row;
  });
  if (rows.length !== at.children.length || rows.some((r, i) => at.children[i] !== r)) at.replaceChildren(...rows);
}

// offerTimer puts the wait of the test on screen beside the clock.
function offerTimer() {
  const at = document.querySelector('[data-timer-offer]');
  const step = document.querySelector('[data-step]')?.dataset.step || '';
  if (!at || at.dataset.for === step) return;
  at.dataset.for = step;
  const data = document.querySelector('script[data-device]');
  const test = step && data ? JSON.parse(data.textContent).tests.find((t) => t.id === step) : null;
  at.replaceChildren(...(test && test.waits ? [make('button', { type: 'button', click: () => startTimer(jobs.here, step.replaceAll('-', ' '), test.waits) }, 'Timer: ' + test.waits + ' min')] : []));
}

function startClock() {
  if (!jobs.here) return;
  for (const event of ['pointerdown', 'keydown', 'scroll']) addEventListener(event, () => { if (!clock.asked) clock.touched = Date.now(); }, { passive: true, capture: true });
  const tick = () => { tickClock(); drawClock(); drawTimers(); };
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'hidden') { if (clock.span) { clock.to = Date.now(); jobs.here?.set(clock.span, { step: clock.step, from: clock.from, to: clock.to }); } clock.span = ''; } else tick(); });
  addEventListener('pagehide', () => { if (clock.span && Date.now() - clock.to < 30000) jobs.here?.set(clock.span, { step: clock.step, from: clock.from, to: Date.now() }); });
  tick();
  let n = 0;
  setInterval(() => { if (++n % 5 === 0) tickClock(); drawClock(); drawTimers(); offerTimer(); }, 1000);
}
