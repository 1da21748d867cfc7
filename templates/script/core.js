// The browser binaries and what they read, loaded when the page is idle or when
// first needed: one for the search, one for the trace, one for calculators. Each runs in
// a worker, so that the page takes keys and scrolls while it computes.
'use strict';

const coming = {};        // name -> promise of what is on its way
const running = {};       // name of a binary -> promise of what calls it
const opening = [];       // promises of what the page was opened for; what can wait comes after them
let indexLoading = null;

// once has those who ask for the same at the same time wait for one load, which is
// tried again by whoever asks after it failed.
function once(name, load) {
  coming[name] ||= load().finally(() => { delete coming[name]; });
  return coming[name];
}

// payload is faultleafBytes, for all who wait for the same.
const payload = (name) => once(name, () => faultleafBytes(name));

// unpacked is what a payload of JSON holds.
const unpacked = async (name) => JSON.parse(await inflate(await payload(name)).text());

// start resolves to a function that calls one of a binary's functions by name and
// gives a promise of its text; told is what is told to it before all else.
function start(name, told) {
  running[name] ||= (async () => {
    if (typeof WebAssembly === 'undefined' || typeof DecompressionStream === 'undefined') {
      throw new Error('This browser is too old to compute here; the pages, tables and printed trees still read');
    }
    const call = await inWorker(name, () => { delete running[name]; indexLoading = null; }).catch(() => inPage(name));
    await told?.(call);
    return call;
  })();
  running[name].catch(() => { delete running[name]; });
  return running[name];
}

// core is the binary of the calculators, tracer that of the trace, finder that of the
// search. The shop's mains and rate are the calculators' defaults.
const core = () => start('core', (call) => call('shop', JSON.stringify(faultleafFiles.shop)));
const tracer = () => start('trace');
const finder = () => start('find');

// inWorker starts a binary beside the page, unless faultleaf.js has. It gets it from the page: a
// worker that was still fetching one when the page was left has hung the page that followed.
async function inWorker(name, stopped) {
  const early = faultleafBegun[name];
  const call = early && !early.ended ? early : faultleafBeside(name);
  call.stopped = stopped; // the next question starts another
  await (call.runs || payload(name).then((packed) => call('begin', packed))).catch((e) => { call.end(e.message); throw e; });
  return call;
}

// inPage is for browsers that refuse such a worker.
async function inPage(name) {
  if (typeof Go === 'undefined') await once('go', () => faultleafScript(faultleafFiles.go));
  await begin(name, await payload(name));
  return (what, ...args) => answer(name, what, ...args);
}

// ofTrace are the questions that the trace answers; all others are the calculators'.
const ofTrace = ['device', 'next', 'arm', 'reading', 'lookBack', 'draft'];

// ask calls one function with plain values.
async function ask(what, question) {
  const call = await (ofTrace.includes(what) ? tracer() : core());
  return JSON.parse(await call(what, JSON.stringify(question)));
}

// index resolves, once the dictionary of the search is open, to what calls the finder.
function index() {
  indexLoading ||= (async () => {
    const dictionary = faultleafBegun.find ? null : payload('dictionary'); // comes beside the binary
    dictionary?.catch(() => {});
    const call = await finder();
    await call.handed?.catch(() => {});
    const opened = JSON.parse(await call.opened?.catch(() => '') || await call('open', await (dictionary || payload('dictionary'))));
    if (opened.error) throw new Error(opened.error.says || opened.error);
    return call;
  })();
  indexLoading.catch(() => { indexLoading = null; });
  return indexLoading;
}

// search answers a query. It fetches the shards that the answer waits for, where start.js
// has not: first those of its words, then those of the notes to be shown. What cannot be fetched is
// told to the finder, which says so, and is tried again with the next question. A finder that start.js has
// begun does one thing after the other, so it is asked before it has opened the index.
async function search(question) {
  const about = ['query', 'limit', 'first', 'typing', 'device', 'kind', 'here', 'every'].map((part) => question[part]);
  const missing = [];
  for (let came = (await Promise.all(faultleafEarly.splice(0))).filter(Boolean); ;) {
    const ask = async (call) => {
      const got = JSON.parse(await call('search', ...about, missing.join('\n'), ...came.flat()));
      if (got.error) throw new Error(got.error.says || got.error);
      return got;
    };
    const begun = faultleafBegun.find;
    const soon = begun && !begun.ended && await begun.handed.then(() => true, () => false);
    const got = await (soon ? ask(begun).catch(() => index().then(ask)) : index().then(ask));
    if (!got.waits) return got;
    const answers = await Promise.all(got.waits.map((name) => payload(name).then((bytes) => [name, bytes], () => [name])));
    came = answers.filter(([, bytes]) => bytes);
    missing.push(...answers.filter(([, bytes]) => !bytes).map(([name]) => name));
  }
}

// printed gives the code of an address, to be drawn on paper.
async function printed(address) {
  const call = await finder();
  return JSON.parse(await call('code', address));
}

// whenIdle starts the load early without holding up the page, or what it was opened for.
function whenIdle(work) {
  const start = async () => (await Promise.allSettled(opening), globalThis.requestIdleCallback || ((f) => setTimeout(f, 200)))(work);
  if (document.readyState === 'complete') start();
  else addEventListener('load', start);
}
