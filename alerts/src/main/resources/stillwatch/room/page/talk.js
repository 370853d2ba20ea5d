// How the page talks to the watch: who is here, and what they do.

export let me = {};

/** Asks who is here. */
export async function whoAmI() {
  me = await (await fetch('api/me')).json();
  return me;
}

/** Sends an action once; answers its result or throws what the watch says against it. */
export async function act(path, body) {
  let answer;
  try {
    answer = await fetch(path, {
      method: 'POST',
      headers: {'Content-Type': 'application/json', 'Idempotency-Key': crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`, 'X-Stillwatch-Guard': me.guard ?? ''},
      body: JSON.stringify(body),
    });
  } catch {
    throw new Error('Not done: the watch does not answer. Try again.');
  }
  const said = await answer.json().catch(() => ({}));
  if (!answer.ok) throw new Error(said.fault ?? `Not done: the watch answered ${answer.status}.`);
  return said;
}

/** Makes a form do something when it is sent; what it says goes into its output. */
export function onSend(form, doing) {
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    const out = form.querySelector('output');
    if (form.dataset.sending) return; // a button that is switched off would lose the focus
    form.dataset.sending = 'yes';
    out.textContent = 'sending';
    try {
      out.textContent = (await doing(Object.fromEntries(new FormData(form)))) ?? '';
    } catch (fault) {
      out.textContent = fault.message;
    } finally {
      delete form.dataset.sending;
    }
  });
}
