// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. Before anything is painted it puts on how this browser
// wants pages to look; it starts the binary that this kind of page asks at once; then it
// loads the app script, so that pages themselves never change with it.

// faultleafBegin starts a binary in a worker. The promise beside the worker tells how that
// went; from is the binary's address, or the binary as it came from disk.
function faultleafBegin(worker, from) {
  'use strict';
  const begun = new Promise((done) => {
    worker.onmessage = (e) => done(e.data);
    worker.onerror = (e) => done({ trouble: e.message || 'the worker stopped' });
  });
  worker.postMessage({ turn: 0, what: 'begin', args: [from] });
  return { worker, begun };
}

// faultleafFetch has a worker fetch a binary by itself, past the page's own work.
function faultleafFetch(name) {
  'use strict';
  const root = document.documentElement.dataset.root || '';
  return faultleafBegin(new Worker(root + faultleafFiles.worker), new URL(root + faultleafFiles.payloads[name] + '.bin', location.href).href);
}

var faultleafEarly = {}; // binaries that were started before the app script was there, by name

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
    script.onerror = () => { delete page.dataset.tracing; };
    document.head.append(script);
  };
  if (location.protocol !== 'file:') {
    const soon = document.createElement('link');
    Object.assign(soon, { rel: 'preload', as: 'script', href: app });
    document.head.append(soon);
    const name = page.dataset.page === 'device' ? 'trace' : /[?&]q=./.test(location.search) ? 'find' : '';
    try { if (name && typeof DecompressionStream !== 'undefined') faultleafEarly[name] = faultleafFetch(name); } catch { /* the app says what does not run here */ }
  }
  if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', load); else load();
})();
