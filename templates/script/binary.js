// A browser binary, wherever it runs: in the worker or in the page.
'use strict';

// inflate gives what a payload holds, as a response to read in any form. It makes no blob of
// it, which would go to another process and come back.
function inflate(packed, type = '') {
  const stream = new ReadableStream({ start: (to) => { to.enqueue(packed); to.close(); } });
  return new Response(stream.pipeThrough(new DecompressionStream('gzip')), { headers: { 'Content-Type': type } });
}

// begin starts a binary, which puts its functions into a box of its own. One thread
// computes and collects, so collections are few, within bounds, until the page rests.
async function begin(packed) {
  const go = new Go();
  go.env = { GOGC: '1000', GOMEMLIMIT: '96MiB' };
  const { instance } = await WebAssembly.instantiateStreaming(inflate(packed, 'application/wasm'), go.importObject);
  go.run(instance);
}

// answer calls one of the functions in a box; packed bytes among what it takes are
// inflated for it.
async function answer(box, what, ...args) {
  const bytes = async (a) => new Uint8Array(await inflate(a).arrayBuffer());
  const unpack = (a) => (a instanceof Uint8Array ? bytes(a) : Array.isArray(a) ? Promise.all(a.map(unpack)) : a);
  return globalThis[box][what](...await Promise.all(args.map(unpack)));
}
