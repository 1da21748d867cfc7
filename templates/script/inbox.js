// The shop's inbox on the host, where there is one: it keeps sheets, and the open
// jobs, so that one begun on one screen goes on at another. What this screen knows
// stays here too; facts are added on both sides and none is written over.
'use strict';

let theInbox = null;

class Inbox {
  constructor() {
    this.known = false;   // this screen was let in
    this.plain = false;
    this.watchers = [];
    this.revs = new Map(); // code -> how far the host's facts are known
    this.sent = new Map(); // code -> the last stamp that the host has of ours
    this.waiting = 0;
    this.busy = false;
    this.trouble = '';
  }

  watch(f) { this.watchers.push(f); }
  changed() { for (const f of this.watchers) f(); }

  async call(what, question) {
    let answer;
    try {
      answer = await fetch(root + 'inbox/' + what, question === undefined ? { headers: {} } : { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(question) });
    } catch { return { error: 'The host does not answer; it stays on this screen until it does.', gone: true }; }
    try { return { status: answer.status, ...await answer.json() }; } catch { return { error: 'The host gave no answer that can be read.', gone: true }; }
  }

  async begin() {
    const state = await this.call('state');
    if (state.gone || state.status !== 200) { this.trouble = state.error; return; }
    this.known = state.known === true;
    this.plain = state.plain === true;
    this.draw();
    if (this.known) await this.round();
    setInterval(() => { if (document.visibilityState === 'visible' && this.known) this.round(); }, 4000);
    this.changed();
  }

  // later sends what is new, once the hand rests.
  later() {
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.round(), 400);
  }

  // round brings this page's job, or on the start page all jobs, to one state.
  async round() {
    if (!this.known || this.busy) { if (this.busy) this.later(); return; }
    this.busy = true;
    try {
      if (jobs.here) await this.job(jobs.here);
      else if (page.dataset.page === 'start' || page.dataset.page === 'job-page' || jobs.absent) await this.all();
      await this.ended();
    } finally { this.busy = false; }
  }

  async job(job) {
    const last = this.sent.get(job.code) || '';
    const facts = Object.fromEntries([...job.facts].filter(([, f]) => f[1] > last));
    const most = Object.values(facts).reduce((m, f) => (f[1] > m ? f[1] : m), last);
    const got = await this.call('jobs/' + job.code, { facts, since: this.revs.get(job.code) || '' });
    if (got.status === 409) { // another job has this code: ours takes a new one
      const moved = jobs.renamed(job);
      if (jobs.here === job) { sessionSet(moved.code); location.replace(jobs.address(location.pathname.split('/').slice(root === '' ? -1 : -2).join('/'), moved.code)); }
      return;
    }
    this.say(got.error && got.status !== 401 ? got.error : '');
    if (got.status === 401) { this.known = false; this.draw(); return; }
    if (got.error) return;
    // a host that began anew, as from an older backup, is told all once more
    const run = (rev) => String(rev).split(':')[0];
    const anew = this.revs.has(job.code) && run(this.revs.get(job.code)) !== run(got.rev);
    this.sent.set(job.code, anew ? '' : most);
    this.revs.set(job.code, got.rev);
    if (got.facts && typeof got.facts === 'object') job.merge(got.facts);
  }

  async all() {
    const mine = jobs.all();
    for (const job of mine) if (!this.sent.has(job.code)) await this.job(job);
    const got = await this.call('jobs');
    if (got.error) { this.say(got.error); return; }
    for (const [code, facts] of Object.entries(got)) {
      if (!isJobCode(code) || typeof facts !== 'object') continue;
      const job = new Job(code);
      if (job.value('end') === null) job.merge(facts);
    }
    for (const job of jobs.all()) if (!(job.code in got)) { this.sent.delete(job.code); await this.job(job); } // ended elsewhere
    this.changed();
    if (jobs.absent && kept.all('job:' + jobs.absent + '/').length) location.reload();
  }

  // ended tells the host of jobs that were closed here, and then forgets them.
  async ended() {
    const codes = new Set(kept.all('job:').filter(([name]) => name.endsWith('/end')).map(([name]) => name.slice(4).split('/')[0]).filter(isJobCode));
    for (const code of codes) {
      const job = new Job(code);
      if (job.value('end') === null) continue;
      const got = await this.call('jobs/' + code, { facts: Object.fromEntries(job.facts), since: '' });
      if (!got.error || got.status === 409) job.forget();
    }
  }

  async sheet(code, name, text) {
    const got = await this.call('sheets', { name, text });
    return got.error ? { error: got.error } : { name: got.name };
  }

  async note(name, text) {
    const got = await this.call('notes', { name, text });
    return got.error ? { error: got.error } : { name: got.name };
  }

  say(text) {
    if (text === this.trouble) return;
    this.trouble = text;
    let at = document.querySelector('[data-inbox-trouble]');
    if (!at) {
      at = make('p', { class: 'wrong refused', role: 'status', 'data-inbox-trouble': true });
      document.querySelector('main')?.before(at);
    }
    at.textContent = text;
    at.hidden = !text;
  }

  // draw asks for the passphrase on the pages of a job.
  draw() {
    document.querySelector('[data-inbox-enter]')?.remove();
    if (this.known || !(jobs.here || jobs.absent || ['start', 'counter', 'job-page'].includes(page.dataset.page))) return;
    const box = make('input', { id: 'inbox-pass', type: 'password', autocomplete: 'current-password', spellcheck: 'false' });
    const said = make('span', { class: 'wrong', role: 'alert' });
    const form = make('form', { class: 'inbox-enter', submit: async (e) => {
      e.preventDefault();
      const got = await this.call('enter', { passphrase: box.value });
      if (got.error) { said.textContent = got.error; box.select(); return; }
      this.known = true;
      this.draw();
      this.changed();
      await this.round();
    } }, make('label', { for: 'inbox-pass' }, 'The shop’s inbox asks for its passphrase'), make('p', { class: 'inbox-field' }, box, make('button', { type: 'submit' }, 'Open it')), said,
    this.plain ? make('span', { class: 'small' }, 'Not encrypted: others in this network could read it.') : null);
    document.querySelector('main')?.before(make('section', { class: 'jobbar', 'data-inbox-enter': true, 'aria-label': 'The inbox' }, form));
  }
}

// The host says by a cookie that it has an inbox, so that no page asks in vain.
function startInbox() {
  if (location.protocol === 'file:' || !document.cookie.split('; ').includes('faultleaf-inbox=open')) return;
  theInbox = new Inbox();
  jobs.here?.watch((name, here) => { if (here && !name.startsWith('span/')) theInbox.later(); });
  theInbox.begin();
}
