// The end of the worker's script: what stands before it starts Go and the
// binary. It answers the page's questions, each under its number, one after the other.
'use strict';

let resting = 0;
let before = Promise.resolve();

onmessage = ({ data: { turn, name, what, args } }) => {
  before = before.then(async () => {
    clearTimeout(resting);
    try {
      postMessage({ turn, text: await (what === 'begin' ? begin(name, ...args) : answer(name, what, ...args)) });
    } catch (e) {
      postMessage({ turn, trouble: e.message });
    }
    resting = setTimeout(() => binaries[name] && tell(binaries[name], [new TextEncoder().encode('rest')]), 500);
  });
};
