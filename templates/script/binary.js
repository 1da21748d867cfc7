// A browser binary, wherever it runs: in the worker or in the page.
'use strict';

// inflate gives what a payload holds, as a response to read in any form.
function inflate(packed, type = '') {
  const stream = packed instanceof ReadableStream ? packed : new Blob([packed]).stream();
  return new Response(stream.pipeThrough(new DecompressionStream('gzip')), { headers: { 'Content-Type': type } });
}

// binaryAt fetches a binary. A host that says what the file holds has the browser unpack it,
// which then may keep what it made of it; from any other it is unpacked here, as it comes.
async function binaryAt(address) {
  const answer = await fetch(address);
  if (!answer.ok || !answer.body) throw new Error(new URL(address).pathname + ' is missing; publish the site again');
  return answer.headers.get('Content-Type') === 'application/wasm' ? answer : inflate(answer.body, 'application/wasm');
}

// begin starts a binary, which puts its functions into a box of its own. from is its address,
// or the packed binary. One thread computes and collects, so collections are few, within
// bounds, until the page rests.
async function begin(from) {
  const go = new Go();
  go.env = { GOGC: '1000', GOMEMLIMIT: '96MiB' };
  const { instance } = await WebAssembly.instantiateStreaming(typeof from === 'string' ? binaryAt(from) : inflate(from, 'application/wasm'), go.importObject);
  go.run(instance);
}

// answer calls one of the functions in a box; packed bytes among what it takes are
// inflated for it.
async function answer(box, what, ...args) {
  const bytes = async (a) => new Uint8Array(await inflate(a).arrayBuffer());
  const unpack = (a) => (a instanceof Uint8Array ? bytes(a) : Array.isArray(a) ? Promise.all(a.map(unpack)) : a);
  return globalThis[box][what](...await Promise.all(args.map(unpack)));
}
