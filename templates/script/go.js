// Starts what a page holds.
'use strict';

// what scrolls sideways can be scrolled by keyboard. What is folded away is not measured, as
// it would be laid out for that alone; nor is anything before the page itself was laid out.
let measuring = false;
function reachable() {
  if (measuring) return;
  measuring = true;
  requestAnimationFrame(() => setTimeout(() => {
    measuring = false;
    const boxes = [...document.querySelectorAll('.wide, .formula, .calc-circuit, .prose pre')].filter((box) => !box.closest('details:not([open])'));
    const wider = boxes.map((box) => box.scrollWidth > box.clientWidth);
    boxes.forEach((box, i) => { if (wider[i]) box.tabIndex = 0; else box.removeAttribute('tabindex'); });
  }));
}

// what an address names is unfolded, also in browsers that leave it folded, and
// paper has no folds
function unfold() {
  const at = /^#[\w.-]+$/.test(location.hash) && document.getElementById(location.hash.slice(1));
  if (!at) return;
  for (let d = at.closest('details:not([open])'); d; d = d.parentElement.closest('details:not([open])')) d.open = true;
  at.scrollIntoView();
}

// startFew starts what stands on few pages, with the script that only these load. Without it
// a page is shown as it is without any.
async function startFew() {
  try {
    await faultleafScript(faultleafFiles.few);
  } catch {
    page.dataset.bare = '';
    return;
  }
  for (const form of document.querySelectorAll('[data-calc]')) startCalculator(form);
  for (const place of document.querySelectorAll('[data-unwritten]')) startUnwritten(place);
  for (const place of document.querySelectorAll('[data-counter]')) startCounter(place);
  for (const form of document.querySelectorAll('[data-jobs-filter]')) startPast(form);
  for (const place of document.querySelectorAll('[data-job-page]')) startJob(place);
}

// What was searched for is mostly what the owner says: in this tab it is kept for the
// counter, which offers it.
function keepAsked() {
  const words = document.querySelector('[data-find-words]')?.value.trim().slice(0, 300);
  try { if (words) sessionStorage.setItem(page.dataset.shop + ':asked', words); } catch { /* then it is typed again */ }
}

// go starts it all, once the page is read.
function go() {
  reachable();
  addEventListener('resize', reachable);
  addEventListener('toggle', reachable, true);

  // a telephone scrolls too long past what is long; until here the stylesheet hid it there
  for (const d of document.querySelectorAll('[data-fold-small]')) { if (innerWidth <= 736) d.open = false; d.dataset.set = ''; }
  unfold();
  addEventListener('hashchange', unfold);
  addEventListener('pagehide', keepAsked);
  addEventListener('beforeprint', () => { for (const d of document.querySelectorAll('main details:not([open], .test, .trace-more, .line, .spare)')) { d.open = true; d.dataset.folded = ''; } });
  addEventListener('afterprint', () => { for (const d of document.querySelectorAll('[data-folded]')) { d.open = false; delete d.dataset.folded; } });

  jobs.find();
  startInbox();
  startBar();
  for (const form of document.querySelectorAll('[data-find]')) startFind(form);
  for (const place of document.querySelectorAll('[data-trace]')) startTrace(place);
  for (const list of document.querySelectorAll('[data-ticks]')) startTicks(list);
  for (const place of document.querySelectorAll('[data-unfinished]')) startUnfinished(place);
  for (const place of document.querySelectorAll('[data-last-time]')) startLastTime(place);
  for (const button of document.querySelectorAll('[data-print]')) { button.hidden = false; button.addEventListener('click', () => window.print()); }
  for (const place of document.querySelectorAll('[data-vain]')) startVain(place);
  for (const way of document.querySelectorAll('.of-fault a[href*="#suspect="]')) handOn(way);
  for (const card of document.querySelectorAll('[data-keys]')) startKeys(card);
  for (const sign of document.querySelectorAll('[data-arm-find]')) startArmFind(sign);
  for (const place of document.querySelectorAll('[data-look]')) startLook(place);
  for (const place of document.querySelectorAll('[data-sift]')) startSift(place);
  if (document.querySelector('[data-calc], [data-unwritten], [data-counter], [data-jobs-filter], [data-job-page]')) opening.push(startFew());
  startClock();
  for (const foot of document.querySelectorAll('[data-file]')) startEdit(foot);
  startNews();
  for (const foot of document.querySelectorAll('.of-checklist .foot, .of-device .foot, .of-job .foot, .of-fault .foot')) startPaper(foot);
  whenIdle(() => index().catch(() => {}));
  if (document.querySelector('[data-calc], [data-ticks], [data-job-page]')) whenIdle(() => core().catch(() => {}));
}
faultleafRead(go);
if (faultleafAsked) index().catch(() => {});
