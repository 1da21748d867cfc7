// Changing a note from its page, where the host has an inbox: the change is handed in there,
// checked, and waits until somebody takes it. Nothing is written into the notes from here.
'use strict';

function startEdit(foot) {
  if (!theInbox) return;
  const file = foot.dataset.file;
  if (!/^content\/(blocks|checklists|devices|faults|pages)\//.test(file)) return;
  const button = make('button', { type: 'button', class: 'foot-edit', 'data-edit': true, click: open }, 'Change it');
  let form = null;
  const show = () => { if (theInbox.known && !button.isConnected) foot.append(' ', button); };
  theInbox.watch(show);
  show();

  async function open() {
    if (form) { form.remove(); form = null; return; }
    const got = await theInbox.call('note?file=' + encodeURIComponent(file));
    const said = make('p', { class: got.error ? 'wrong' : 'small', role: 'status' }, got.error || '');
    if (got.error) { form = said; foot.after(form); return; }
    const box = make('textarea', { id: 'edit-text', rows: '24', spellcheck: 'true', autocomplete: 'off', input: () => { form.toggleAttribute('data-unsent', box.value !== got.text); } });
    box.value = got.text;
    form = make('form', { class: 'edit-note', submit: async (e) => {
      e.preventDefault();
      hand.disabled = true;
      said.className = 'small';
      said.textContent = 'It is being looked at…';
      const answer = await theInbox.call('changes', { file, base: got.base, text: box.value });
      said.className = answer.error ? 'wrong' : 'small';
      said.textContent = answer.error || 'Handed in as ' + answer.name + '. It waits in the inbox until it is taken: faultleaf take.';
      if (answer.error) hand.disabled = false; else { box.readOnly = true; form.removeAttribute('data-unsent'); }
    } }, make('label', { for: 'edit-text' }, 'The note ' + file), box, said);
    const hand = make('button', { type: 'submit' }, 'Hand it in');
    form.append(make('p', {}, hand, ' ', make('button', { type: 'button', click: () => { form.remove(); form = null; button.focus(); } }, 'Leave it')));
    foot.after(form);
    box.focus();
    box.setSelectionRange(0, 0);
    box.scrollTop = 0;
    form.scrollIntoView({ block: 'center' });
  }
}
