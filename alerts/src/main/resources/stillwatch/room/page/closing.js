// The closing against the plan's list: the step now, the next, the hold still to run, what departs.
import {by, fill, heads, put, sentences, stacked} from './dom.js';
import {second, span} from './words.js';

const percent = (share) => `${Math.round(1000 * share) / 10} %`;

/** The rows: the steps in the order they were taken, then those of the list that are to come. */
function rows(c) {
  const done = c.steps.filter((s) => !s.undone).map((s) => s.planned);
  const planned = (name) => c.list.find((p) => p.name === name);
  const taken = c.steps.map((s) => ({...s, departures: s.departures ?? [], plan: planned(s.planned), state: s.undone ? 'taken back' : second(s.at, c.log)}));
  const coming = c.list.filter((p) => !done.includes(p.name)).map((p) => ({
    text: p.name, plan: p, state: p.name === c.next ? 'next' : 'to come', readings: '', answer: '', departures: [],
  }));
  return [...taken, ...coming];
}

function row(s) {
  const plan = s.plan ? `${s.plan.outlet}, leaves ${percent(s.plan.leaves)}` : 'in no list';
  const expected = s.plan ? [s.plan.expected, s.plan.hold_s ? `hold ${span(s.plan.hold_s)}` : ''].filter(Boolean).join('; ') : '';
  const departs = s.departures.map((why) => `${why}.`).join(' ');
  const tr = stacked(heads(by('closing-rows')), [s.text, s.state, plan, s.readings.replaceAll('; ', '\n'), expected, s.answer, departs]);
  tr.dataset.departs = s.departs ? 'yes' : 'no';
  return tr;
}

function heading(c) {
  if (c.list.length === 0 && c.steps.length === 0) return 'The plan has no closing list, and no closure step is logged.';
  if (c.over) return `${c.cycle > 1 ? `Cycle ${c.cycle}` : 'The cycle'} is over since ${second(c.over, c.log)}: the well was opened, or is to be.`;
  const now = c.steps.filter((s) => !s.undone).at(-1);
  const last = now ? `Step now: ${now.text}, since ${second(now.at, c.log)}.` : 'No step is taken yet.';
  return `${c.cycle > 1 ? `Cycle ${c.cycle}. ` : ''}${last}`;
}

/** How long the last step is still to be held. */
function hold(c) {
  if (c.held_s == null || c.over) return '';
  return c.held_s > 0 ? `Hold: ${span(c.held_s)} still to run, until ${second(c.held, c.log)}.` : 'Hold: over.';
}

/** Brings the sheet to what the watch now says. */
export async function closing() {
  const c = await (await fetch('api/closing')).json();
  put(by('closing-now'), heading(c));
  put(by('hold-left'), hold(c));
  const next = c.list.find((p) => p.name === c.next);
  put(by('closing-next'), c.over ? '' : next ? `Next: ${next.name} (${next.outlet}, leaves ${percent(next.leaves)}).` : c.list.length ? 'Next: none, every step of the list is done.' : '');
  put(by('closing-cycle'), [
    c.changes ? `Changes of this cycle: ${c.changes}.` : '',
    c.go ? `Decided before it: ${c.go.choice}, by ${c.go.by} at ${second(c.go.at, c.log)}: ${c.go.why}.` : c.cycle ? 'No go or no-go was logged before it.' : '',
    c.shut_in ? `Shut in at ${second(c.shut_in, c.log)}.` : '',
    c.next_changes ? `Another cycle is decided; changes: ${c.next_changes}.` : '',
  ].filter(Boolean).join(' '));
  const all = rows(c);
  fill(by('closing-rows'), all, () => by('closing-rows').replaceChildren(...all.map(row)));
  by('rock-part').hidden = c.rock.length === 0;
  sentences(by('rock'), c.rock);
  by('no-departures').hidden = c.departures.length > 0;
  sentences(by('departures'), c.departures.map((d) => `${second(d.at, c.log)}: ${d.why}.`));
}
