// The end of the test: when it is, the whole evidence, the cycles side by side, and the decision.
import {costRows} from './costs.js';
import {by, fill, put, sentences} from './dom.js';
import {evidenceRows, summed} from './evidence.js';
import {lastLook} from './last-look.js';
import {act, onSend} from './talk.js';
import {second, span} from './words.js';

function when(e) {
  if (e.ended) return 'The test is ended.';
  if (e.test_end == null) return 'The test does not run: the well is not watched shut in.';
  const length = `The planned ${span(e.length_s)}`;
  return e.test_end_s > 0 ? `${length} end at ${second(e.test_end, e.log)}, in ${span(e.test_end_s)}.`
    : `${length} are over since ${second(e.test_end, e.log)}, for ${span(-e.test_end_s)}: ASSESS the test and log the decision.`;
}

function table(head, body, heads, rows) {
  head.replaceChildren(...heads.map((text) => {
    const th = document.createElement('th');
    th.scope = 'col';
    th.textContent = text;
    return th;
  }));
  body.replaceChildren(...rows.map((texts) => {
    const tr = document.createElement('tr');
    texts.forEach((text) => { tr.insertCell().textContent = text; });
    return tr;
  }));
}

const told = (c, log) => `Cycle ${c.number}: ${[
  c.changes ? `changes: ${c.changes}` : '',
  `begun ${second(c.begun, log)}`,
  c.shut_in ? `shut in ${second(c.shut_in, log)}` : 'not shut in',
  c.over ? `over ${second(c.over, log)}` : '',
  `departures from the plan: ${c.departures}`,
].filter(Boolean).join('; ')}.`;

/** Brings the sheet to what the watch now says; a row that is based on something goes to it. */
export async function end(go) {
  const e = await (await fetch('api/end')).json();
  put(by('end-when'), when(e));
  put(by('end-leads'), e.leads ? `Build-up ${e.leads_over ? 'of the shut-in before, ' : ''}as of ${second(e.leads_at, e.log)}: ${e.leads}` : 'The build-up has not been read yet.');
  evidenceRows(by('end-rows'), e.rows, go);
  costRows('end-costs', e);
  by('no-cycles').hidden = e.cycles.length > 0;
  sentences(by('cycles'), e.cycles.map((c) => told(c, e.log)));
  by('units-part').hidden = e.units.length === 0;
  put(by('balance'), `${e.balance}.`);
  sentences(by('units'), e.units.map((u) => `${second(u.at, e.log)}: ${u.lost ? 'LOST' : 'collects'}: ${u.text}${u.by ? ` (${u.by})` : ''}.`));
  by('compare-part').hidden = e.compare.length === 0;
  fill(by('compare-rows'), [e.compare_heads, e.compare], () => table(by('compare-heads'), by('compare-rows'), e.compare_heads, e.compare));
  return e;
}

/** Sets up the decision about the end. */
export function endForm() {
  const form = by('ending');
  const another = () => {
    const cycle = form.elements.choice.value === 'cycle';
    by('what-changes').hidden = !cycle;
    form.elements.changes.disabled = !cycle;
  };
  form.addEventListener('change', another);
  onSend(form, async (f) => {
    const e = await end(() => {});
    const choice = form.querySelector(`[value=${f.choice}]`).parentElement.textContent.trim();
    const changes = f.changes ? {changes: f.changes} : {};
    const yes = await lastLook({'Decided': choice, ...(f.changes ? {'What changes': f.changes} : {}), 'By whom': f.by, 'Why': f.why, 'Evidence': summed(e.rows)});
    if (!yes) return 'Not recorded.';
    const said = await act('api/decisions', {choice: f.choice, by: f.by, why: f.why, ...changes});
    form.reset();
    another();
    return `Logged, entry ${said.entry} of the record.`;
  });
}
