// A browser binary, wherever it runs: in the worker or in the page.
'use strict';

// inflate gives what a payload holds, as a response to read in any form. It makes no blob of
// it, which would go to another process and come back.
function inflate(packed, type = '') {
  const stream = new ReadableStream({ start: (to) => { to.enqueue(packed); to.close(); } });
  return new Response(stream.pipeThrough(new DecompressionStream('gzip')), { headers: { 'Content-Type': type } });
}

const binaries = {}; // what each that runs here exports, by name

// begin starts a binary. One thread computes and collects, so collections are few, within bounds,
// until the page rests.
async function begin(name, packed) {
  const go = new Go();
  go.env = { GOGC: '1000', GOMEMLIMIT: '96MiB' };
  const { instance } = await WebAssembly.instantiateStreaming(inflate(packed, 'application/wasm'), go.importObject);
  go.run(instance);
  binaries[name] = instance.exports;
}

// answer calls one of a binary's functions with texts and numbers; what is not there, or does not hold, is
// empty. Packed bytes among what it takes are inflated for it.
async function answer(name, what, ...args) {
  const bytes = (a) => (a instanceof Uint8Array ? inflate(a).arrayBuffer().then((b) => new Uint8Array(b)) : new TextEncoder().encode(a === true ? '1' : String(a || '')));
  const parts = await Promise.all([what, ...args].map(bytes));
  return tell(binaries[name], parts);
}

// tell writes parts into the memory of a binary, each behind its length, and reads its answer there.
function tell({ mem, room, answer, said }, parts) {
  let at = room(parts.reduce((n, p) => n + 4 + p.length, 0)) >>> 0;
  for (const p of parts) {
    new DataView(mem.buffer).setUint32(at, p.length, true);
    new Uint8Array(mem.buffer).set(p, at + 4);
    at += 4 + p.length;
  }
  const long = answer() >>> 0;
  return new TextDecoder().decode(new Uint8Array(mem.buffer, said() >>> 0, long));
}
