// The browser binary (calculators, trace and search in Go) and the search
// index, loaded when the page is idle or when first needed.
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

// payload gives a stream of the inflated bytes of one payload.
async function payload(name) {
  const file = faultleafFiles.payloads[name];
  let packed;
  if (location.protocol === 'file:') {
    const arrived = new Promise((done) => { waiting[name] = done; });
    await loadScript(file + '.js');
    await arrived;
    packed = new Blob([payloads[name]]).stream();
    delete payloads[name];
  } else {
    const answer = await fetch(root + file + '.bin');
    if (!answer.ok) throw new Error(file + '.bin is missing; publish the site again');
    packed = answer.body;
  }
  return packed.pipeThrough(new DecompressionStream('gzip'));
}

async function payloadBytes(name) {
  return new Uint8Array(await new Response(await payload(name)).arrayBuffer());
}

// core resolves to faultleafCore once the binary runs.
function core() {
  coreLoading ||= (async () => {
    if (typeof WebAssembly === 'undefined' || typeof DecompressionStream === 'undefined') {
      throw new Error('This browser is too old to compute here; the pages, tables and printed trees still read');
    }
    const [, stream] = await Promise.all([loadScript(faultleafFiles.go), payload('core')]);
    const go = new Go();
    const answer = new Response(stream, { headers: { 'Content-Type': 'application/wasm' } });
    const { instance } = await WebAssembly.instantiateStreaming(answer, go.importObject);
    go.run(instance);
    return globalThis.faultleafCore;
  })();
  coreLoading.catch(() => { coreLoading = null; });
  return coreLoading;
}

// ask calls one function of the core with plain values.
async function ask(what, question) {
  const c = await core();
  return JSON.parse(c[what](JSON.stringify(question)));
}

// index resolves once the search index is open.
function index() {
  indexLoading ||= (async () => {
    const c = await core();
    const parts = await Promise.all(faultleafFiles.parts.map(payloadBytes));
    const stats = await payloadBytes('stats');
    const opened = JSON.parse(c.open(parts, stats));
    if (opened.error) throw new Error(opened.error.says || opened.error);
    return c;
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
