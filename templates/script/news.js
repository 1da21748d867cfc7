// News from the host, where a host watches the notes: a newer page takes the place of
// the open one, which keeps its place, its ticks and what was typed; and a site that is older
// than the notes says so, and why. Elsewhere nothing is asked.
'use strict';

// stays keeps what scripts hold in memory alone over such a change: give says what to
// keep, and what was kept comes back once, to the same page.
const stays = {
  givers: new Map(),
  key: () => page.dataset.shop + ':stays',
  brought: null,
  keep(name, give) { this.givers.set(name, give); },
  back(name) {
    if (this.brought === null) {
      this.brought = {};
      try {
        const kept = JSON.parse(sessionStorage.getItem(this.key()));
        sessionStorage.removeItem(this.key());
        if (kept && kept.path === location.pathname && Date.now() - kept.at < 60000) this.brought = Object(kept.values);
      } catch { /* nothing was kept, or the browser keeps nothing */ }
    }
    return this.brought[name];
  },
  leave() {
    const values = Object.fromEntries([...this.givers].map(([name, give]) => [name, give()]));
    try { sessionStorage.setItem(this.key(), JSON.stringify({ path: location.pathname, at: Date.now(), values })); return true; } catch { return false; }
  },
};

// what a person may fill in; a passphrase is never kept, and ticks keep themselves
/** @returns {[string, any][]} */
function fieldsOf() {
  const seen = new Map();
  return [...document.querySelectorAll('main input, main textarea, main select, header input')]
    .filter((el) => !['password', 'file', 'hidden'].includes(el.type) && !('tick' in el.dataset))
    .map((el) => {
      const name = el.id || el.name || el.getAttribute('aria-label') || el.className;
      seen.set(name, (seen.get(name) || 0) + 1);
      return [name + ' ' + seen.get(name), el];
    });
}

function fieldsNow() {
  const box = (el) => el.type === 'checkbox' || el.type === 'radio';
  const first = (el) => (el.options ? [...el.options].some((o) => o.selected !== o.defaultSelected) : box(el) ? el.checked !== el.defaultChecked : el.value !== el.defaultValue);
  return Object.fromEntries(fieldsOf().filter(([, el]) => first(el)).map(([name, el]) => [name, box(el) ? el.checked : el.value]));
}

// placeNow is the first thing with a name at the top of the window, and how far from it.
function placeNow() {
  const named = [...document.querySelectorAll('main [id], main h2, main h3')].find((el) => el.getBoundingClientRect().bottom > 0);
  const open = [...document.querySelectorAll('main details')].map((d) => d.open);
  const at = document.activeElement;
  const focused = fieldsOf().find(([, el]) => el === at);
  return { y: scrollY, id: named?.id || '', text: named?.id ? '' : named?.textContent || '', top: named ? named.getBoundingClientRect().top : 0, open,
    focus: focused ? focused[0] : '', from: focused ? at.selectionStart : null, to: focused ? at.selectionEnd : null };
}

// putBack brings the fields and the place back, also into what scripts draw a while later, until
// somebody moves on.
function putBack() {
  const fields = Object(stays.back('fields')), place = stays.back('place');
  if (!place) return;
  let moved = false;
  for (const what of ['wheel', 'touchstart', 'keydown', 'mousedown']) addEventListener(what, () => { moved = true; }, { once: true, passive: true });
  const left = new Set(Object.keys(fields));
  const once = () => {
    for (const [name, el] of fieldsOf()) {
      if (!left.has(name)) continue;
      left.delete(name);
      if (el.type === 'checkbox' || el.type === 'radio') { if (el.checked === fields[name]) continue; el.checked = fields[name]; } else { if (el.value === fields[name]) continue; el.value = fields[name]; }
      el.dispatchEvent(new Event('input', { bubbles: true }));
    }
    if (moved) return;
    const boxes = [...document.querySelectorAll('main details')];
    if (boxes.length === place.open.length) boxes.forEach((d, i) => { d.open = place.open[i]; });
    const focus = fieldsOf().find(([name]) => name === place.focus)?.[1];
    if (focus && document.activeElement !== focus) {
      focus.focus({ preventScroll: true });
      try { if (place.from !== null) focus.setSelectionRange(place.from, place.to); } catch { /* a field without a cursor */ }
    }
    const named = place.id ? document.getElementById(place.id) : [...document.querySelectorAll('main h2, main h3')].find((el) => el.textContent === place.text);
    if (named) scrollBy(0, named.getBoundingClientRect().top - place.top); else scrollTo(0, place.y);
  };
  once();
  for (const wait of [100, 400, 1200, 2500]) setTimeout(once, wait);
}

class News {
  constructor() {
    this.tag = '';
    this.made = '';
    this.mine = null; // the tag of this page as it is open
    this.busy = false;
  }

  async pageTag() {
    const answer = await fetch(location.pathname, { method: 'HEAD', cache: 'no-cache' });
    return answer.ok ? answer.headers.get('ETag') : null;
  }

  async begin() {
    try { this.mine = await this.pageTag(); } catch { return; }
    this.timer = setInterval(() => { if (document.visibilityState === 'visible') this.round(); }, 2000);
    document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') this.round(); });
    this.round();
  }

  async round() {
    if (this.busy) return;
    this.busy = true;
    try {
      const answer = await fetch(root + 'host/news', { cache: 'no-store', headers: this.tag ? { 'If-None-Match': this.tag } : {} });
      if (answer.status === 404) { clearInterval(this.timer); return; } // another server by now
      if (answer.status !== 200) return;
      const news = await answer.json();
      this.tag = answer.headers.get('ETag') || '';
      this.say(news);
      const before = this.made;
      this.made = news.made;
      if (before && before !== news.made) await this.follow();
    } catch { /* the host is away: the page goes on without it */ } finally { this.busy = false; }
  }

  // follow shows this page anew, if it is one of those that changed.
  async follow() {
    const now = await this.pageTag();
    if (now === null || now === this.mine) return;
    if (document.querySelector('[data-unsent]')) { this.wait(); return; } // what is being written is not lost for it
    stays.keep('fields', fieldsNow);
    stays.keep('place', placeNow);
    if (stays.leave()) location.reload();
  }

  // wait says that the page has changed, where a note is being written on it.
  wait() {
    if (document.querySelector('[data-newer]')) return;
    const at = make('p', { class: 'stale', role: 'status', 'data-newer': true }, make('strong', {}, 'This note was changed meanwhile. '), 'Yours is still here: hand it in, and whoever takes it sees both; or ',
      make('button', { type: 'button', class: 'trace-quiet', click: () => location.reload() }, 'drop yours and show the new one'), '.');
    document.querySelector('.edit-note')?.prepend(at);
  }

  say(news) {
    document.querySelector('[data-stale]')?.remove();
    const list = Array.isArray(news.mistakes) ? news.mistakes : [];
    if (!list.length) return;
    const n = list.length + (news.more || 0);
    document.querySelector('main')?.before(make('details', { class: 'stale', 'data-stale': true, role: 'status' },
      make('summary', {}, n + (n === 1 ? ' mistake' : ' mistakes') + ' in the notes since ' + news.stale + ': pages that rest on them stand as they stood before.'),
      make('ul', {}, list.map((m) => make('li', {}, m)), news.more ? make('li', {}, 'and ' + news.more + ' more') : null)));
  }
}

// The host says by a cookie that it watches, so that no page asks in vain.
function startNews() {
  putBack();
  if (location.protocol === 'file:' || !document.cookie.split('; ').includes('faultleaf-host=open')) return;
  new News().begin();
}
