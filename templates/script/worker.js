// The end of the worker's script: what stands before it starts Go and the
// binary. It answers the page's questions, each under its number.
'use strict';

let resting = 0;

onmessage = async ({ data: { turn, what, args } }) => {
  clearTimeout(resting);
  try {
    postMessage({ turn, text: await (what === 'begin' ? begin(...args) : answer(what, ...args)) });
  } catch (e) {
    postMessage({ turn, trouble: e.message });
  }
  resting = setTimeout(() => globalThis.faultleafCore?.rest(), 500);
};
