// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. Before anything is painted it puts on how this browser
// wants pages to look; it begins the binary that this kind of page asks at once, and what that reads; then it
// loads the app script, so that pages themselves never change with it.

var faultleafBegun = {}; // what calls the binaries that were begun before the app script was there, by name
var faultleafEarly = []; // promises of shards that were asked for before the search could name them: name and bytes, or null
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
    const bytes = async (file) => {
      const answer = await fetch(root + file + '.bin');
      if (!answer.ok) throw new Error(answer.statusText);
      return new Uint8Array(await answer.arrayBuffer());
    };
    const begin = (name, box, opens) => {
      const call = faultleafBegun[name] = faultleafBeside(box);
      const binary = bytes(faultleafFiles.payloads[name]);
      call.runs = binary.then((packed) => call('begin', packed));
      call.opened = opens && Promise.all([bytes(faultleafFiles.payloads[opens]), binary]).then(([packed]) => call('open', packed));
      for (const it of [call.runs, call.opened]) it?.catch(() => {}); // who waits for it begins it anew, and tells
    };
    // early asks for the shards of words that the answer will most likely wait for, a way to the host and back before the
    // search can name them: those in which its words would stand, and the first, where complaints do.
    const early = () => {
      const shards = faultleafFiles.words || [];
      const at = (word) => shards.filter(([first]) => first <= word).length - 1;
      const words = new URLSearchParams(location.search).get('q')?.toLowerCase().match(/[a-z0-9]+/g) || [];
      for (const i of new Set([0, ...words.slice(0, 8).map(at)])) {
        if (shards[i]) faultleafEarly.push(bytes('run/' + shards[i][1]).then((packed) => [shards[i][1], packed], () => null));
      }
    };
    try {
      if (page.dataset.page === 'device') begin('trace', 'faultleafTrace');
      else if (faultleafAsked) { begin('find', 'faultleafFind', 'dictionary'); early(); }
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
