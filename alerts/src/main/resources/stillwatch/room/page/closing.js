// The closing against the plan's list: the step now, the next, the hold still to run, what departs.
import {fill, put} from './dom.js';
import {clock, span} from './words.js';

const by = (id) => document.getElementById(id);
const percent = (share) => `${Math.round(1000 * share) / 10} %`;

/** The rows: the steps in the order they were taken, then those of the list that are to come. */
function rows(c) {
  const done = c.steps.filter((s) => !s.undone).map((s) => s.planned);
  const planned = (name) => c.list.find((p) => p.name === name);
  const taken = c.steps.map((s) => ({...s, plan: planned(s.planned), state: s.undone ? 'taken back' : clock(s.at)}));
  const coming = c.list.filter((p) => !done.includes(p.name)).map((p) => ({
    text: p.name, plan: p, state: p.name === c.next ? 'next' : 'to come', readings: '', answer: '', departures: [],
  }));
  return [...taken, ...coming];
}

function row(s) {
  const tr = document.createElement('tr');
  tr.dataset.departs = s.departs ? 'yes' : 'no';
  const plan = s.plan ? `${s.plan.outlet}, leaves ${percent(s.plan.leaves)}` : 'in no list';
  const expected = s.plan ? [s.plan.expected, s.plan.hold_s ? `hold ${span(s.plan.hold_s)}` : ''].filter(Boolean).join('; ') : '';
  [s.text, s.state, plan, s.readings, expected, s.answer].forEach((text) => { tr.insertCell().textContent = text; });
  const departs = tr.insertCell();
  departs.textContent = (s.departures ?? []).map((why) => `${why}.`).join(' ');
  return tr;
}

function heading(c) {
  if (c.list.length === 0 && c.steps.length === 0) return 'The plan has no closing list, and no closure step is logged.';
  const now = c.steps.filter((s) => !s.undone).at(-1);
  const last = now ? `Step now: ${now.text}, since ${clock(now.at)}.` : 'No step is taken yet.';
  return `${c.cycle > 1 ? `Cycle ${c.cycle}. ` : ''}${last}`;
}

/** How long the last step is still to be held. */
function hold(c) {
  if (c.held_s == null || c.over) return '';
  return c.held_s > 0 ? `Hold: ${span(c.held_s)} still to run, until ${clock(c.held)}.` : 'Hold: over.';
}

/** Brings the sheet to what the watch now says. */
export async function closing() {
  const c = await (await fetch('api/closing')).json();
  put(by('closing-now'), heading(c));
  put(by('closing-hold'), hold(c));
  const next = c.list.find((p) => p.name === c.next);
  put(by('closing-next'), next ? `Next: ${next.name} (${next.outlet}, leaves ${percent(next.leaves)}).` : c.list.length ? 'Next: none, every step of the list is done.' : '');
  put(by('closing-cycle'), [
    c.changes ? `Changes of this cycle: ${c.changes}.` : '',
    c.go ? `${c.go.choice} before it, by ${c.go.by} at ${clock(c.go.at)}: ${c.go.why}.` : c.cycle ? 'No go or no-go was logged before it.' : '',
    c.shut_in ? `Shut in at ${clock(c.shut_in)}.` : '',
    c.over ? `Over at ${clock(c.over)}.` : '',
    c.next_changes ? `Another cycle is decided; changes: ${c.next_changes}.` : '',
  ].filter(Boolean).join(' '));
  const all = rows(c);
  fill(by('closing-rows'), all, () => by('closing-rows').replaceChildren(...all.map(row)));
  by('no-departures').hidden = c.departures.length > 0;
  fill(by('departures'), c.departures, () => by('departures').replaceChildren(...c.departures.map((d) => {
    const li = document.createElement('li');
    li.textContent = `${clock(d.at)}: ${d.why}.`;
    return li;
  })));
}
