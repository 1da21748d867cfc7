// Traces begun in this browser and not finished, on the start page.
'use strict';

function startUnfinished(place) {
  const begun = kept.all('trace:').filter(([, k]) => k && k.title);
  if (!begun.length) return;
  const list = place.querySelector('[data-unfinished-list]');
  for (const [name, k] of begun) {
    const device = name.slice('trace:'.length);
    const steps = (k.readings || []).length + (k.tried || []).length + (k.mended || []).length;
    list.append(make('li', {}, make('a', { href: root + 'devices/' + encodeURIComponent(device) + '.html' },
      make('strong', {}, k.title), make('span', { class: 'small' }, steps === 0 ? 'symptoms noted' : steps === 1 ? 'one step done' : steps + ' steps done'))));
  }
  place.hidden = false;
}
