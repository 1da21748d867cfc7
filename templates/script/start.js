// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. Before anything is painted it puts on how this browser
// wants pages to look; it begins the binary that this kind of page asks at once, and what that reads; then it
// loads the app script, so that pages themselves never change with it.

var faultleafBegun = {}; // what calls the binaries that were begun before the app script was there, by name
var faultleafAsked = /[?&]q=./.test(location.search); // a question came with the address

// faultleafBeside starts a worker, and gives what calls the functions in it: those of a binary,
// which it puts into a box, by name. Its script comes as a blob, because a page from disk may
// not name a file for it.
function faultleafBeside(box) {
  'use strict';
  const worker = new Worker(URL.createObjectURL(new Blob([faultleafFiles.worker], { type: 'text/javascript' })));
  const turns = new Map(); // number -> what its promise waits for
  let last = 0;
  const call = /** @type {any} */ ((what, ...args) => new Promise((done, failed) => {
    turns.set(++last, { done, failed });
    worker.postMessage({ turn: last, box, what, args });
  }));
  call.end = (why) => {
    worker.terminate();
    for (const { failed } of turns.values()) failed(new Error(why));
    turns.clear();
    call.ended = true;
    call.stopped?.();
  };
  worker.onmessage = ({ data: { turn, text, trouble } }) => {
    const { done, failed } = turns.get(turn);
    turns.delete(turn);
    if (trouble) failed(new Error(trouble)); else done(text);
  };
  worker.onerror = (e) => call.end(e.message || 'the worker stopped');
  return call;
}

(() => {
  'use strict';
  const page = document.documentElement;
  try {
    const look = JSON.parse(localStorage.getItem(page.dataset.shop + ':look')) || {};
    if (['light', 'dark'].includes(look.scheme)) page.dataset.scheme = look.scheme;
    if (look.type === 'large') page.dataset.type = 'large';
  } catch { /* nothing is kept */ }
  if (page.dataset.page === 'device') page.dataset.tracing = ''; // the printed tree need not be laid out, unless the trace does not run
  const root = page.dataset.root || '';
  const app = root + faultleafFiles.app;
  const web = location.protocol !== 'file:';
  if (web && typeof DecompressionStream !== 'undefined') {
    const bytes = async (name) => {
      const answer = await fetch(root + faultleafFiles.payloads[name] + '.bin');
      if (!answer.ok) throw new Error(answer.statusText);
      return new Uint8Array(await answer.arrayBuffer());
    };
    const begin = (name, box, opens) => {
      const call = faultleafBegun[name] = faultleafBeside(box);
      const binary = bytes(name);
      call.runs = binary.then((packed) => call('begin', packed));
      call.opened = opens && Promise.all([bytes(opens), binary]).then(([packed]) => call('open', packed));
      for (const it of [call.runs, call.opened]) it?.catch(() => {}); // who waits for it begins it anew, and tells
    };
    try {
      if (page.dataset.page === 'device') begin('trace', 'faultleafTrace');
      else if (faultleafAsked) begin('find', 'faultleafFind', 'dictionary');
    } catch { /* this browser has no workers */ }
  }
  const bare = () => { delete page.dataset.tracing; page.dataset.bare = ''; }; // what waits for the script is shown as it is
  if (faultleafAsked && document.readyState === 'loading') {
    // Who waits for an answer waits for the script first: the page is read behind it, because
    // laying it out holds up what goes between page and worker.
    document.write('<script src="' + app + '"><' + '/script>');
    document.head.lastElementChild.addEventListener('error', bare);
    return;
  }
  const load = () => {
    const script = document.createElement('script');
    script.src = app;
    script.onerror = bare;
    document.head.append(script);
  };
  if (web) {
    const soon = document.createElement('link');
    Object.assign(soon, { rel: 'preload', as: 'script', href: app });
    document.head.append(soon);
  }
  if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', load); else load();
})();
