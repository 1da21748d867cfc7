// Paper leads back to the screen: a code with this page's address at the foot of
// a printed page. A page opened from disk has no address that another screen
// could use, so it gets none.
'use strict';

function startPaper(foot) {
  if (location.protocol === 'file:') return;
  const place = make('div', { class: 'paper-only', 'aria-hidden': 'true' });
  foot.append(place);
  let drawn = '';
  // printing does not wait, so the code is made ready when the page is idle and
  // when its address changes
  const ready = async () => {
    const here = location.href;
    if (here === drawn) return;
    try {
      const got = await printed(here);
      if (got.error) { place.replaceChildren(); return; }
      const code = make('span');
      setSVG(code, got.svg);
      place.replaceChildren(code, make('p', { class: 'small' }, here));
      drawn = here;
    } catch { /* the paper reads without it */ }
  };
  whenIdle(ready);
  addEventListener('hashchange', ready);
  setInterval(() => { if (drawn) ready(); }, 2000);
}
