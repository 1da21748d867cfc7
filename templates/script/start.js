// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. Before anything is painted it puts on how this browser
// wants pages to look; it fetches the binary that this kind of page asks at once, and what that reads; then it
// loads the app script, so that pages themselves never change with it.

var faultleafEarly = {};    // answers that were asked for before the app script was there, by payload
var faultleafWorker = null; // promise of a worker that was started then

(() => {
  'use strict';
  const page = document.documentElement;
  try {
    const look = JSON.parse(localStorage.getItem(page.dataset.shop + ':look')) || {};
    if (['light', 'dark'].includes(look.scheme)) page.dataset.scheme = look.scheme;
    if (look.type === 'large') page.dataset.type = 'large';
  } catch { /* nothing is kept */ }
  if (page.dataset.page === 'device') page.dataset.tracing = ''; // the printed tree need not be laid out, unless the trace does not run
  const app = (page.dataset.root || '') + faultleafFiles.app;
  const load = () => {
    const script = document.createElement('script');
    script.src = app;
    script.onerror = () => { delete page.dataset.tracing; page.dataset.bare = ''; }; // what waits for it is shown as it is
    document.head.append(script);
  };
  if (location.protocol !== 'file:') {
    const soon = document.createElement('link');
    Object.assign(soon, { rel: 'preload', as: 'script', href: app });
    document.head.append(soon);
    const needed = page.dataset.page === 'device' ? ['trace'] : /[?&]q=./.test(location.search) ? ['find', 'dictionary'] : [];
    if (needed.length && typeof DecompressionStream !== 'undefined') {
      faultleafWorker = fetch((page.dataset.root || '') + faultleafFiles.payloads.worker + '.bin')
        .then((answer) => new Response(answer.body.pipeThrough(new DecompressionStream('gzip'))).blob())
        .then((script) => {
          const worker = new Worker(URL.createObjectURL(new Blob([script], { type: 'text/javascript' })));
          worker.onerror = () => { faultleafWorker = null; };
          return worker;
        });
      faultleafWorker.catch(() => { faultleafWorker = null; }); // who needs one starts it himself
    }
    for (const each of needed) {
      faultleafEarly[each] = fetch((page.dataset.root || '') + faultleafFiles.payloads[each] + '.bin');
      faultleafEarly[each].catch(() => {}); // who waits for it tells
    }
  }
  if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', load); else load();
})();
