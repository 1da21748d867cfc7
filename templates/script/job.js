// The job: one thing from the counter to its return. A job is a set of facts,
// each under a name of its own with the moment it was said, so that two tabs and
// two screens can add to one job at once: of two facts with one name the later
// holds, and nothing else is ever overwritten. A page opened without a job is
// just looking and keeps nothing.
'use strict';

// What a browser's own two letters are made of: none that is mistaken for a digit.
const jobLetters = 'bcdfghjkmnpqrstvwxz';

function randomText(length, among = 'abcdefghijklmnopqrstuvwxyz0123456789') {
  return Array.from(crypto.getRandomValues(new Uint8Array(length)), (b) => among[b % among.length]).join('');
}

function dayText(at = new Date()) {
  return [at.getFullYear(), String(at.getMonth() + 1).padStart(2, '0'), String(at.getDate()).padStart(2, '0')].join('-');
}

const isJobCode = (code) => typeof code === 'string' && /^\d{4}-\d\d-\d\d-[a-z]{2}\d{1,6}$/.test(code);
const isStamp = (s) => typeof s === 'string' && /^\d{13}-[a-z0-9]{2,12}$/.test(s);
const isFact = (f) => Array.isArray(f) && f.length === 2 && isStamp(f[1]);
const asText = (v) => (typeof v === 'string' ? v : typeof v === 'number' && Number.isFinite(v) ? String(v) : '');

// namesToday gives what was said under a device's former names (its note's was:)
// those that it has now.
function namesToday(device) {
  for (const table of Object.values(bare(device.was) || {})) bare(table);
  const old = (what, id) => device.was?.[what]?.[id] || id;
  return (field, item) => {
    if (field === 'symptoms') return old('symptoms', item);
    if (field === 'readings' || field === 'skipped') {
      const test = old('tests', item?.test);
      const both = [item?.test, test].map((t) => device.was?.readings?.[t + '.' + item?.value]).find(Boolean);
      if (both) { const at = both.indexOf('.'); return { ...item, test: both.slice(0, at), value: both.slice(at + 1) }; }
      return test === item?.test ? item : { ...item, test };
    }
    if (typeof item?.cause === 'string') return { ...item, cause: old('causes', item.cause) };
    return typeof item === 'string' ? old('causes', item) : item;
  };
}

class Job {
  static tab = randomText(4); // parts the stamps of two tabs made in one millisecond

  constructor(code) {
    this.code = code;
    this.facts = new Map();
    this.watchers = [];
    this.last = 0;
    this.load();
  }

  key(name) { return 'job:' + this.code + '/' + name; }

  load() {
    this.facts.clear();
    for (const [name, fact] of kept.all(this.key(''))) if (isFact(fact)) this.take(name.slice(this.key('').length), fact);
  }

  take(name, fact) {
    const had = this.facts.get(name);
    if (had && had[1] >= fact[1]) return false;
    this.facts.set(name, fact);
    this.last = Math.max(this.last, Number(fact[1].slice(0, 13)));
    return true;
  }

  // stamp is later than all that this job has heard of, whatever the clock says.
  stamp() {
    this.last = Math.max(Date.now(), this.last + 1);
    return this.last + '-' + Job.tab;
  }

  value(name) { return this.facts.get(name)?.[0] ?? null; }
  text(name) { return asText(this.value(name)); }

  // all lists the facts whose names begin so, as [rest of the name, value], in
  // the order of their names; what was taken back is left out.
  all(beginning) {
    return [...this.facts].filter(([name, f]) => name.startsWith(beginning) && f[0] !== null)
      .map(([name, f]) => [name.slice(beginning.length), f[0], f[1]]).sort((a, b) => (a[0] < b[0] ? -1 : 1));
  }

  set(name, value) {
    if (JSON.stringify(this.value(name)) === JSON.stringify(value)) return;
    const fact = [value, this.stamp()];
    this.facts.set(name, fact);
    kept.set(this.key(name), fact);
    this.changed(name, true);
  }

  // add keeps a value under a name that nobody else will use.
  add(beginning, value) {
    const name = beginning + this.stamp();
    this.set(name, value);
    return name.slice(beginning.length);
  }

  // merge takes in facts from another tab or screen; what is newer here stays.
  merge(facts) {
    let any = false;
    for (const [name, fact] of Object.entries(facts)) {
      if (name && isFact(fact) && this.take(name, fact)) { kept.set(this.key(name), fact); any = true; }
    }
    if (any) this.changed('', false);
    return any;
  }

  watch(f) { this.watchers.push(f); }
  changed(name, here) { for (const f of this.watchers) f(name, here); }

  get open() { return this.text('device') !== '' && this.value('end') === null; }
  get title() { return this.text('title') || this.text('device'); }

  // end closes the job: 'saved' after its sheet is kept elsewhere, or 'deleted'.
  end(how) {
    this.set('end', how);
    if (theInbox) jobs.letGo(this.code); else this.forget();
  }

  // forget takes the job out of this browser; other screens may have it still.
  forget() {
    for (const [name] of kept.all(this.key(''))) kept.drop(name);
    this.facts.clear();
    jobs.letGo(this.code);
  }

  // what the trace knows, in the form in which it is asked for

  // fits tells whether a thing entered belongs to the device as the notes are
  // now; what does not is neither given to the trace nor taken out of the job.
  fits = (field, item) => (field === 'readings' ? typeof item?.test === 'string' && typeof item.value === 'string'
    : field === 'mended' ? typeof item?.cause === 'string' : field === 'tried' ? typeof (item?.cause ?? item) === 'string' : field === 'byHand' ? typeof item?.block === 'string' : field === 'noPart' || field === 'looked' ? typeof item === 'string' : true);

  now = (field, item) => item; // what a thing entered is called in today's notes

  // suits makes fits ask a device too, and lists what of the job has gone from it.
  suits(device) {
    this.now = namesToday(device);
    const shape = this.fits;
    const among = (list) => (id) => list.some((x) => x.id === id);
    const [symptom, test, cause] = [device.symptoms, device.tests, device.causes].map(among);
    const inChain = (list) => list.flatMap((b) => (b.branch ? b.branch.flatMap(inChain) : [b.id]));
    const chain = device.blocks && inChain(device.blocks);
    const block = (id) => !chain || id === '' || chain.includes(id); // a page that knows no chain judges none
    this.fits = (field, was) => {
      const item = this.now(field, was);
      return field === 'symptoms' ? symptom(item) : shape(field, item) && ({
        readings: () => test(item.test), mended: () => cause(item.cause), tried: () => cause(item?.cause ?? item), noPart: () => cause(item),
        skipped: () => test(item?.test), suspect: () => cause(item), looked: () => block(item), byHand: () => block(item.block),
      }[field]?.() ?? true);
    };
    return [...this.all('shows/').filter(([id]) => !this.fits('symptoms', id)).map(([id]) => id.replaceAll('-', ' ')),
      ...this.all('known/').filter(([name, v]) => !this.fits(name.split('/')[0], v)).map(([, v]) => (v?.test ? asText(v.test) + ': ' + asText(v.value) : asText(v?.cause ?? v?.block ?? v))).filter(Boolean)];
  }

  known(empty) {
    const known = structuredClone(empty);
    const shown = this.all('shows/').filter(([id]) => this.fits('symptoms', id)).map(([id, v]) => [this.now('symptoms', id), v]);
    known.symptoms = shown.filter(([, v]) => v === true).map(([id]) => id);
    known.absent = shown.filter(([, v]) => v === false).map(([id]) => id);
    known.terms = { price: Number(this.text('price')) || 0, limit: Number(this.text('limit')) || 0 };
    for (const [name, v] of this.all('known/')) {
      const [field, id] = name.split('/');
      if (field in { symptoms: 1, absent: 1, terms: 1 } || !this.fits(field, v)) continue;
      if (!id) { if (!Array.isArray(known[field])) known[field] = this.now(field, v); }
      else if (!(field in known) || Array.isArray(known[field])) (known[field] ||= []).push(this.now(field, v));
    }
    return known;
  }

  keepKnown(known) {
    const shows = new Map([...known.symptoms.map((id) => [id, true]), ...known.absent.map((id) => [id, false])]);
    for (const [id] of this.all('shows/')) if (!shows.has(this.now('symptoms', id)) && this.fits('symptoms', id)) this.set('shows/' + id, null);
    const said = new Map(this.all('shows/').map(([id, v]) => [this.now('symptoms', id), v])); // under whichever name
    for (const [id, v] of shows) if (said.get(id) !== v) this.set('shows/' + id, v);
    for (const key of ['price', 'limit']) this.set(key, known.terms?.[key] || null);
    for (const [field, v] of Object.entries(known)) {
      if (['symptoms', 'absent', 'terms'].includes(field)) continue;
      if (!Array.isArray(v)) { this.set('known/' + field, v ?? null); continue; }
      const rest = v.map((item) => JSON.stringify(item));
      for (const [id, item] of this.all('known/' + field + '/')) {
        if (!this.fits(field, item)) continue;
        const i = rest.indexOf(JSON.stringify(this.now(field, item)));
        if (i < 0) this.set('known/' + field + '/' + id, null); else rest[i] = null;
      }
      rest.forEach((text) => {
        if (text === null) return;
        const item = JSON.parse(text);
        if (field === 'readings') Object.assign(item, minutesSince(this));
        this.add('known/' + field + '/', item);
      });
    }
  }
}

// jobs are those of this browser, and the one of this tab.
const jobs = {
  here: null,   // the job of this page
  absent: '',   // the code in the address of a job that this browser does not have

  // all lists the jobs, oldest first.
  all() {
    const codes = new Set(kept.all('job:').map(([name]) => name.slice(4).split('/')[0]).filter(isJobCode));
    return [...codes].map((code) => (this.here?.code === code ? this.here : new Job(code)))
      .filter((j) => j.open).sort((a, b) => (a.text('begun') < b.text('begun') ? -1 : 1));
  },

  // begin opens a job under the next code of this browser.
  begin(facts) {
    let letters = kept.get('letters');
    if (typeof letters !== 'string' || !/^[a-z]{2}$/.test(letters)) {
      letters = randomText(2, jobLetters);
      kept.set('letters', letters);
    }
    let number = Number(kept.get('number')) || 0;
    let code;
    do { code = dayText() + '-' + letters + ++number; } while (kept.all('job:' + code + '/').length);
    kept.set('number', number);
    const job = new Job(code);
    job.set('born', randomText(12));
    job.set('begun', new Date().toISOString());
    for (const [name, value] of Object.entries(facts)) if (value !== '' && value != null) job.set(name, value);
    return job;
  },

  // renamed moves a job to a code of its own, where another has the same.
  renamed(job) {
    const facts = Object.fromEntries([...job.facts].map(([name, f]) => [name, f]));
    const next = this.begin({});
    delete facts.begun;
    next.merge(facts);
    for (const [name] of kept.all(job.key(''))) kept.drop(name);
    return next;
  },

  address: (page, code) => root + page + (page.includes('?') ? '&' : '?') + 'job=' + encodeURIComponent(code),

  letGo(code) {
    if (sessionGet() === code) sessionSet('');
    if (this.here?.code === code) this.here = null;
  },

  // find says which job this page belongs to: the one in its address, or else the
  // one of this tab.
  find() {
    const asked = new URLSearchParams(location.search).get('job');
    const code = asked === null ? sessionGet() : asked;
    if (asked === '') { sessionSet(''); }
    if (!isJobCode(code)) return;
    const job = new Job(code);
    if (!job.open) {
      this.absent = job.value('end') === null ? code : '';
      if (asked === null) { sessionSet(''); this.absent = ''; }
      return;
    }
    this.here = job;
    sessionSet(code);
    if (asked === null) {
      const here = new URL(location.href);
      here.searchParams.set('job', code);
      try { history.replaceState(null, '', here); } catch { /* some browsers refuse on disk */ }
    }
    addEventListener('storage', (e) => {
      if (e.key === null) return;
      const own = kept.key(job.key(''));
      if (!e.key.startsWith(own)) return;
      if (e.newValue === null) { job.load(); job.changed('', false); return; }
      try { job.merge({ [e.key.slice(own.length)]: JSON.parse(e.newValue) }); } catch { /* no fact */ }
    });
  },
};

function sessionGet() { try { return sessionStorage.getItem(kept.key('here')) || ''; } catch { return ''; } }
function sessionSet(code) { try { if (code) sessionStorage.setItem(kept.key('here'), code); else sessionStorage.removeItem(kept.key('here')); } catch { /* the address says it */ } }

// jobFor is the job of this page if it is about this device.
function jobFor(device) { return jobs.here && jobs.here.text('device') === device ? jobs.here : null; }

// Links within the site carry the job along, so that one opened in another tab
// belongs to it too.
function carryJob(e) {
  const a = e.target.closest?.('a[href]');
  if (!a || !jobs.here || a.dataset.noJob !== undefined) return;
  const to = new URL(a.href, location.href);
  const site = new URL(root || './', location.href).href;
  if (!to.href.startsWith(site) || !to.pathname.endsWith('.html') || to.searchParams.has('job') || (to.pathname === location.pathname && to.hash)) return;
  to.searchParams.set('job', jobs.here.code);
  a.href = to.href;
}
for (const event of ['pointerdown', 'click', 'auxclick', 'keydown']) document.addEventListener(event, carryJob, true);

// bench is what every page of a job needs of the notes: the devices by name, the
// lists that hold proofs.
let benchLoading = null;
function bench() {
  benchLoading ||= unpacked('bench').then((b) => {
    bare(b.devices);
    return b;
  });
  benchLoading.catch(() => { benchLoading = null; });
  return benchLoading;
}

// benchOf is what they need of one device: its symptoms and causes, the proofs asked
// for. It is null where the notes have no such device.
async function benchOf(id) {
  const d = (await bench()).devices[id];
  if (!d) return null;
  d.whole ||= unpacked(d.at).then((w) => { bare(w.tests); return w; }).catch((e) => { d.whole = null; throw e; });
  return d.whole;
}

// minutes

// union is how many minutes some spans of time [from, to] cover together.
function unionMinutes(spans) {
  let sum = 0;
  let end = -Infinity;
  for (const [from, to] of spans.slice().sort((a, b) => a[0] - b[0])) {
    if (to > end) { sum += to - Math.max(from, end); end = to; }
  }
  return sum / 60000;
}

// minutesOf counts a job's time: what was corrected by hand, and the clock since.
function minutesOf(job, since = 0, step = '') {
  const fixed = job.facts.get('minutes');
  let from = since;
  let base = 0;
  if (fixed && typeof fixed[0] === 'object' && fixed[0] && Number(fixed[0].at) >= since && !step) { from = Number(fixed[0].at); base = since ? 0 : Number(fixed[0].total) || 0; }
  const spans = job.all('span/').map(([, v]) => v).filter((v) => v && Number.isFinite(v.from) && Number.isFinite(v.to) && v.to > v.from && (!step || v.step === step))
    .map((v) => [Math.max(v.from, from), v.to]).filter(([a, b]) => b > a);
  return base + unionMinutes(spans);
}

// minutesSince is the clock's time since the reading before, for the next one.
function minutesSince(job) {
  const before = Math.max(0, ...job.all('known/readings/').map(([, v]) => Number(v?.at) || 0));
  tickClock();
  const minutes = Math.round(minutesOf(job, before) * 10) / 10;
  return { at: Date.now(), ...(minutes > 0 ? { minutes } : {}) };
}
