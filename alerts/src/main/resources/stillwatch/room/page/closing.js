// Closing and opening against the plan's lists: the step now, the next, the hold still to run, what departs.
import {by, fill, heads, put, sentences, stacked} from './dom.js';
import {second, span} from './words.js';

const percent = (share) => `${Math.round(1000 * share) / 10} %`;

/** The rows: the steps in the order they were taken, then those of the list that are to come. */
function rows(c, log) {
  const done = c.steps.filter((s) => !s.undone).map((s) => s.planned);
  const planned = (name) => c.list.find((p) => p.name === name);
  const taken = c.steps.map((s) => ({...s, departures: s.departures ?? [], plan: planned(s.planned), state: s.undone ? 'taken back' : second(s.at, log)}));
  const coming = c.list.filter((p) => !done.includes(p.name)).map((p) => ({
    text: p.name, plan: p, state: p.name === c.next ? 'next' : 'to come', readings: '', answer: '', departures: [],
  }));
  return [...taken, ...coming];
}

function row(s, body, flow) {
  const plan = s.plan ? `${s.plan.outlet}, ${flow(s.plan.leaves)}` : 'in no list';
  const expected = s.plan ? [s.plan.expected, s.plan.hold_s ? `hold ${span(s.plan.hold_s)}` : ''].filter(Boolean).join('; ') : '';
  const departs = s.departures.map((why) => `${why}.`).join(' ');
  const tr = stacked(heads(body), [s.text, s.state, plan, s.readings.replaceAll('; ', '\n'), expected, s.answer, departs]);
  tr.dataset.departs = s.departs ? 'yes' : 'no';
  return tr;
}

function table(id, c, log, flow) {
  const all = rows(c, log);
  fill(by(id), all, () => by(id).replaceChildren(...all.map((s) => row(s, by(id), flow))));
}

function stepNow(c, log) {
  const now = c.steps.filter((s) => !s.undone).at(-1);
  return now ? `Step now: ${now.text}, since ${second(now.at, log)}.` : 'No step is taken yet.';
}

function heading(c) {
  if (c.list.length === 0 && c.steps.length === 0) return 'The plan has no closing list, and no closure step is logged.';
  if (c.over) return `${c.cycle > 1 ? `Cycle ${c.cycle}` : 'The cycle'} is over since ${second(c.over, c.log)}: the well was opened, or is to be.`;
  return `${c.cycle > 1 ? `Cycle ${c.cycle}. ` : ''}${stepNow(c, c.log)}`;
}

/** How long the last step is still to be held. */
function hold(c, log) {
  if (c.held_s == null || c.over) return '';
  return c.held_s > 0 ? `Hold: ${span(c.held_s)} still to run, until ${second(c.held, log)}.` : 'Hold: over.';
}

function coming(c, flow) {
  const next = c.list.find((p) => p.name === c.next);
  return c.over ? '' : next ? `Next: ${next.name} (${next.outlet}, ${flow(next.leaves)}).` : c.list.length ? 'Next: none, every step of the list is done.' : '';
}

/** The opening stands first while one is under way, else below the closing. */
function opening(o, log) {
  const flow = (share) => `${percent(share)} flows`;
  const part = by('opening-part');
  const underWay = o.number > 0 && !o.over;
  part.hidden = o.list.length === 0 && o.steps.length === 0;
  const first = Boolean(part.compareDocumentPosition(by('closing-part')) & Node.DOCUMENT_POSITION_FOLLOWING);
  if (underWay && !first) by('closing-part').before(part);
  if (!underWay && first) by('closing-part').after(part);
  const over = o.over ? `Opening ${o.number} is over since ${second(o.over, log)}: a closure step was logged.` : '';
  put(by('opening-now'), over || `${o.number > 1 ? `Opening ${o.number}. ` : ''}${stepNow(o, log)}`);
  put(by('opening-hold-left'), hold(o, log));
  put(by('opening-next'), coming(o, flow));
  table('opening-rows', o, log, flow);
}

/** Brings the sheet to what the watch now says. */
export async function closing() {
  const c = await (await fetch('api/closing')).json();
  const leaves = (share) => `leaves ${percent(share)}`;
  put(by('closing-now'), heading(c));
  put(by('hold-left'), hold(c, c.log));
  put(by('closing-next'), coming(c, leaves));
  put(by('closing-cycle'), [
    c.changes ? `Changes of this cycle: ${c.changes}.` : '',
    c.go ? `Decided before it: ${c.go.choice}, by ${c.go.by} at ${second(c.go.at, c.log)}: ${c.go.why}.` : c.cycle ? 'No go or no-go was logged before it.' : '',
    c.shut_in ? `Shut in at ${second(c.shut_in, c.log)}.` : '',
    c.next_changes ? `Another cycle is decided; changes: ${c.next_changes}.` : '',
  ].filter(Boolean).join(' '));
  table('closing-rows', c, c.log, leaves);
  opening(c.opening, c.log);
  by('rock-part').hidden = c.rock.length === 0;
  sentences(by('rock'), c.rock);
  const departures = [...c.departures, ...c.opening.departures];
  by('no-departures').hidden = departures.length > 0;
  sentences(by('departures'), departures.map((d) => `${second(d.at, c.log)}: ${d.why}.`));
}
