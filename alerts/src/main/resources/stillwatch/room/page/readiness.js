// What must be so before the first step, who answers for it, and the decision to begin.
import {by, fill, heads, put, stacked} from './dom.js';
import {lastLook} from './last-look.js';
import {act, onSend} from './talk.js';
import {second} from './words.js';

let newest = {conditions: []};

const open = () => newest.conditions.filter((c) => !c.met);

/** A condition as a row. */
function row(c) {
  const tr = stacked(heads(by('readiness-rows')), [c.met ? 'met' : 'OPEN', `${c.name}: ${c.condition}`, c.owner, c.why]);
  tr.dataset.departs = c.met ? 'no' : 'yes';
  return tr;
}

/** Brings the sheet to what the watch now says. */
export async function readiness() {
  const r = await (await fetch('api/readiness')).json();
  newest = r;
  const all = r.conditions.length;
  put(by('readiness-head'), all === 0 ? 'The plan has no readiness: list the conditions in it.'
    : open().length === 0 ? `All ${all} conditions are met.` : `${open().length} of ${all} conditions open.`);
  put(by('readiness-begun'), r.begun ? `The first closure step was at ${second(r.begun, r.log)}: this is how things stood before it.` : '');
  fill(by('readiness-rows'), r.conditions, () => by('readiness-rows').replaceChildren(...r.conditions.map(row)));
  put(by('stray'), r.stray.join(' '));
  const ticks = r.conditions.filter((c) => c.known_by === 'tick').map((c) => c.name);
  fill(by('tick').elements.name, ticks, () => by('tick').elements.name.replaceChildren(...ticks.map((name) => {
    const option = document.createElement('option');
    option.textContent = name;
    return option;
  })));
  by('tick').hidden = ticks.length === 0 || Boolean(r.begun);
  put(by('go-decided'), r.decided ? `Decided at ${second(r.decided.at, r.log)}: ${r.decided.choice}, by ${r.decided.by}: ${r.decided.why}` : 'No go or no-go is logged.');
}

/** Sets up what people enter on the sheet. */
export function readinessForms() {
  onSend(by('tick'), async (f) => {
    const text = f.remark ? `${f.name}: ${f.remark}` : f.name;
    await act('api/observations', {means: 'readiness', result: f.result, text});
    by('tick').elements.remark.value = '';
    return 'It is in the log, in your name.';
  });
  onSend(by('go'), async (f) => {
    await readiness();
    const choice = by('go').querySelector(`[value=${f.choice}]`).parentElement.textContent.trim();
    const still = open().map((c) => c.name).join(', ');
    const yes = await lastLook({'Decided': choice, 'By whom': f.by, 'Why': f.why, 'Conditions open': still || 'none'});
    if (!yes) return 'Not recorded.';
    const said = await act('api/decisions', {choice: f.choice, by: f.by, why: f.why});
    by('go').reset();
    return `Logged, entry ${said.entry} of the record.`;
  });
}
