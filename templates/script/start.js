// The end of faultleaf.js: everything before this line names the site's hashed
// files in faultleafFiles. It begins the binary that this kind of page asks at once, and what that reads; before
// anything is painted it puts on how this browser wants pages to look; then it loads the app script, so that pages
// themselves never change with it. It stands before the stylesheet, for which it would wait otherwise.

var faultleafBegun = {}; // what calls the binaries that were begun before the app script was there, by name
var faultleafEarly = []; // promises of shards that were asked for before the search could name them: name and bytes, or null
var faultleafAsked = /[?&]q=./.test(location.search); // a question came with the address

// faultleafRead calls what may measure the page, once that is read and its stylesheet is there.
function faultleafRead(then) {
  'use strict';
  const styled = () => {
    const look = /** @type {HTMLLinkElement} */ (document.querySelector('link[rel=stylesheet]'));
    if (!look || look.sheet) { then(); return; }
    for (const end of ['load', 'error']) look.addEventListener(end, () => then(), { once: true });
  };
  if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', styled); else styled();
}

var faultleafPayloads = {}; // from disk: name -> packed bytes, until they are taken

// faultleafPayload is called by the payload scripts that stand in for fetch
// where a page is opened from disk.
function faultleafPayload(name, text) {
  'use strict';
  faultleafPayloads[name] = Uint8Array.fromBase64 ? Uint8Array.fromBase64(text) : Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
}

// faultleafScript loads one more script.
function faultleafScript(address) {
  'use strict';
  return new Promise((done, failed) => {
    const s = document.createElement('script');
    s.src = (document.documentElement.dataset.root || '') + address;
    s.onload = () => { s.remove(); done(); };
    s.onerror = () => { s.remove(); failed(new Error(address + ' is missing; publish the site again')); };
    document.head.append(s);
  });
}

// faultleafBytes gives the bytes of one payload, packed as they came. A shard of the index
// is named by what it holds; faultleafFiles says the file of any other.
async function faultleafBytes(name) {
  'use strict';
  const file = faultleafFiles.payloads[name] || 'run/' + name;
  if (location.protocol === 'file:') {
    await faultleafScript(file + '.js'); // a whole one has called faultleafPayload by then
    const packed = faultleafPayloads[name];
    delete faultleafPayloads[name];
    if (!packed) throw new Error(file + '.js is damaged; publish the site again');
    return packed;
  }
  const answer = await fetch((document.documentElement.dataset.root || '') + file + '.bin');
  if (!answer.ok) throw new Error(file + '.bin is missing; publish the site again');
  return new Uint8Array(await answer.arrayBuffer());
}

// faultleafBeside starts a worker, and gives what calls the functions of a binary in it. Its script comes as a blob, because a page from disk may
// not name a file for it.
function faultleafBeside(name) {
  'use strict';
  const worker = new Worker(URL.createObjectURL(new Blob([faultleafFiles.worker], { type: 'text/javascript' })));
  const turns = new Map(); // number -> what its promise waits for
  let last = 0;
  const call = /** @type {any} */ ((what, ...args) => new Promise((done, failed) => {
    turns.set(++last, { done, failed });
    worker.postMessage({ turn: last, name, what, args });
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
  if (page.dataset.page === 'device') page.dataset.tracing = ''; // the printed tree need not be laid out, unless the trace does not run
  const root = page.dataset.root || '';
  const app = root + faultleafFiles.app;
  if (typeof DecompressionStream !== 'undefined') {
    const begin = (name, opens) => {
      const call = faultleafBegun[name] = faultleafBeside(name);
      const packed = [name, opens].filter(Boolean).map(faultleafBytes);
      call.runs = packed[0].then((binary) => call('begin', binary));
      call.handed = Promise.all(packed).then(([, open]) => { if (open) (call.opened = call('open', open)).catch(() => {}); });
      for (const it of [call.runs, call.handed]) it.catch(() => {}); // who waits for it begins it anew, and tells
      return call;
    };
    // early asks for the shards of words that the answer will most likely wait for, a way to the host and back before the
    // search can name them: those in which its words would stand, and those of the complaints, whose keys come first (file.Complaint).
    const early = () => {
      const shards = faultleafFiles.words || [];
      const words = new URLSearchParams(location.search).get('q')?.toLowerCase().match(/[a-z0-9]+/g) || [];
      const at = new Set(words.slice(0, 8).map((word) => shards.filter(([first]) => first <= word).length - 1));
      shards.forEach(([first, name], i) => {
        if (first < '\x02' || at.has(i)) faultleafEarly.push(faultleafBytes(name).then((packed) => [name, packed], () => null));
      });
    };
    try {
      if (page.dataset.page === 'device') begin('trace');
      else if (faultleafAsked) {
        const { handed } = begin('find', 'dictionary');
        early();
        // laying the page out would hold up what comes for the worker, so it waits for that, but not for a slow network
        page.hidden = true;
        const show = () => { page.hidden = false; };
        Promise.all([handed, ...faultleafEarly]).then(show, show);
        setTimeout(show, 150);
      }
    } catch { /* this browser has no workers */ }
  }
  // asked for behind what was begun, because from disk a browser takes its time to open what it keeps
  try {
    const look = JSON.parse(localStorage.getItem(page.dataset.shop + ':look')) || {};
    if (['light', 'dark'].includes(look.scheme)) page.dataset.scheme = look.scheme;
    if (look.type === 'large') page.dataset.type = 'large';
  } catch { /* nothing is kept */ }
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
  if (location.protocol !== 'file:') {
    const soon = document.createElement('link');
    Object.assign(soon, { rel: 'preload', as: 'script', href: app });
    document.head.append(soon);
  }
  faultleafRead(load);
})();
