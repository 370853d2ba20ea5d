// The seabed: what passes saw, compared with before the closing, on a plan view and in a table, and the form for what a pass saw.
import {by, fill, heads, put, sentences, stacked} from './dom.js';
import {act, onSend} from './talk.js';
import {second} from './words.js';

function picture(svg) {
  const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  by('seabed-plan').replaceChildren(document.importNode(drawn, true));
}

function row(t, i, log) {
  const when = (at) => at ? second(at, log) : 'by nobody';
  const state = `${t.words}${t.gone ? ` ${second(t.gone, log)}` : ''}`;
  const where = t.place ? `${t.kind}; ${t.place}` : '';
  const tr = stacked(heads(by('seabed-rows')), [i + 1, `${t.name}, by ${t.means}`, where, when(t.first), when(t.last), state, `${t.why}.`]);
  tr.dataset.state = t.state;
  return tr;
}

function pass(p, log) {
  const closing = p.before == null ? 'none logged' : p.before ? 'before it' : 'since it';
  return stacked(heads(by('pass-rows')), [`${p.means}, ${p.name}`, second(p.from, log), `${p.seen} seen, ${p.gone} gone`, closing]);
}

function heading(s) {
  if (s.passes.length === 0) return 'No pass over the seabed is logged.';
  if (!s.closing) return 'No closure step is logged: nothing is compared yet.';
  const count = (state) => s.things.filter((t) => t.state === state).length;
  return `Since the closing began at ${second(s.closing, s.log)}: ${count('new')} new, ${count('grown')} grown, ${count('gone')} gone, ${count('not-looked')} not looked for again, ${count('none-before')} without comparison.`;
}

/** Brings the sheet to what the watch now says. */
export async function seabed() {
  const s = await (await fetch('api/seabed')).json();
  put(by('seabed-head'), heading(s));
  sentences(by('seabed-without'), s.without_comparison);
  fill(by('seabed-plan'), s.picture, () => picture(s.picture));
  fill(by('seabed-rows'), s.things, () => by('seabed-rows').replaceChildren(...s.things.map((t, i) => row(t, i, s.log))));
  by('seabed-none').hidden = s.things.length > 0;
  fill(by('pass-rows'), s.passes, () => by('pass-rows').replaceChildren(...s.passes.map((p) => pass(p, s.log))));
  const names = [...new Set(s.things.map((t) => t.name))];
  fill(by('survey-names'), names, () => by('survey-names').replaceChildren(...names.map((n) => new Option(n, n))));
}

/** Sets up the form: what is not asked of a choice is neither shown nor sent. */
export function seabedForm() {
  const form = by('survey');
  const asked = () => form.querySelectorAll('[data-for]').forEach((label) => {
    const shown = label.dataset.for.split(' ').includes(form.elements.what.value || 'seen');
    label.hidden = !shown;
    label.querySelector('input').disabled = !shown;
  });
  form.addEventListener('change', asked);
  onSend(form, async (f) => {
    await act('api/survey', f);
    for (const name of ['name', 'kind', 'east', 'north', 'size', 'uncertainty', 'text', 'at']) form.elements[name].value = '';
    await seabed();
    return 'It is in the log.';
  });
}
