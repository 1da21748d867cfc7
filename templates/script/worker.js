// The end of the worker's script: what stands before it starts Go. It runs the
// browser binary and answers the page, one question after the other.
'use strict';

let resting = 0;

onmessage = async ({ data: { turn, what, args } }) => {
  clearTimeout(resting);
  try {
    let text = '';
    if (what === 'begin') {
      const go = new Go();
      go.run(await WebAssembly.instantiate(args[0], go.importObject));
    } else {
      text = faultleafCore[what](...args);
    }
    postMessage({ turn, text });
  } catch (e) {
    postMessage({ turn, trouble: e.message });
  }
  resting = setTimeout(() => globalThis.faultleafCore?.rest(), 500);
};
