// The browser binary (calculators, trace and search in Go) and the search
// index, loaded when the page is idle or when first needed. The binary runs in a
// worker, so that the page takes keys and scrolls while it computes.
'use strict';

const payloads = {};      // name -> bytes, from disk
const waiting = {};       // name -> resolve
let coreLoading = null;
let indexLoading = null;

// faultleafPayload is called by the payload scripts that stand in for fetch
// where a page is opened from disk.
function faultleafPayload(name, text) {
  let packed;
  if (Uint8Array.fromBase64) packed = Uint8Array.fromBase64(text);
  else packed = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  payloads[name] = packed;
  if (waiting[name]) waiting[name]();
}

function loadScript(address) {
  return new Promise((done, failed) => {
    const s = make('script', { src: root + address });
    s.addEventListener('load', done);
    s.addEventListener('error', () => failed(new Error(address + ' is missing; publish the site again')));
    document.head.append(s);
  });
}

// payload gives the bytes of one payload, packed as they came.
async function payload(name) {
  const file = faultleafFiles.payloads[name];
  if (location.protocol === 'file:') {
    const arrived = new Promise((done) => { waiting[name] = done; });
    await loadScript(file + '.js');
    await arrived;
    const packed = payloads[name];
    delete payloads[name];
    return packed;
  }
  const answer = await fetch(root + file + '.bin');
  if (!answer.ok) throw new Error(file + '.bin is missing; publish the site again');
  return new Uint8Array(await answer.arrayBuffer());
}

// core resolves to a function that calls one of the binary's functions by name
// and gives a promise of its text.
function core() {
  coreLoading ||= (async () => {
    if (typeof WebAssembly === 'undefined' || typeof DecompressionStream === 'undefined') {
      throw new Error('This browser is too old to compute here; the pages, tables and printed trees still read');
    }
    const [script, binary] = await Promise.all(['worker', 'core'].map(payload));
    const call = await inWorker(await inflate(script).blob(), binary).catch(() => inPage(binary));
    await call('shop', JSON.stringify(faultleafFiles.shop)); // its mains and rate are the calculators' defaults
    return call;
  })();
  coreLoading.catch(() => { coreLoading = null; });
  return coreLoading;
}

// inWorker starts the binary beside the page. The worker's script comes as a
// blob, because a page from disk may not name a file for it.
async function inWorker(script, binary) {
  const worker = new Worker(URL.createObjectURL(new Blob([script], { type: 'text/javascript' })));
  const turns = new Map(); // number -> what its promise waits for
  let last = 0;
  const call = (what, ...args) => new Promise((done, failed) => {
    turns.set(++last, { done, failed });
    worker.postMessage({ turn: last, what, args });
  });
  worker.onmessage = ({ data: { turn, text, trouble } }) => {
    const { done, failed } = turns.get(turn);
    turns.delete(turn);
    if (trouble) failed(new Error(trouble)); else done(text);
  };
  worker.onerror = (e) => {
    for (const { failed } of turns.values()) failed(new Error(e.message || 'the worker stopped'));
    turns.clear();
    coreLoading = indexLoading = null; // the next question starts another
  };
  await call('begin', binary);
  return call;
}

// inPage is for browsers that refuse such a worker.
async function inPage(binary) {
  await loadScript(faultleafFiles.go);
  await begin(binary);
  return answer;
}

// ask calls one function of the core with plain values.
async function ask(what, question) {
  const call = await core();
  return JSON.parse(await call(what, JSON.stringify(question)));
}

// index resolves once the search index is open.
function index() {
  indexLoading ||= (async () => {
    const call = await core();
    const [stats, ...parts] = await Promise.all(['stats', ...faultleafFiles.parts].map(payload));
    const opened = JSON.parse(await call('open', parts, stats));
    if (opened.error) throw new Error(opened.error.says || opened.error);
  })();
  indexLoading.catch(() => { indexLoading = null; });
  return indexLoading;
}

// whenIdle starts the load early without holding up the page.
function whenIdle(work) {
  const start = () => (globalThis.requestIdleCallback || ((f) => setTimeout(f, 200)))(work);
  if (document.readyState === 'complete') start();
  else addEventListener('load', start);
}
