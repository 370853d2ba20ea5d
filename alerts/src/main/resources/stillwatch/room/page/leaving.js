// Weather and leaving: the hours still needed, the question whether the well may be left, who watches from shore, and what happened meanwhile.
import {by, fill, heads, put, sentences, stacked} from './dom.js';
import {lastLook} from './last-look.js';
import {act, onSend} from './talk.js';
import {second} from './words.js';

const columns = ['yes', 'no', 'nothing', 'missing']; // what a row may answer, one column each
const answers = {yes: 'yes', no: 'no', nothing: 'no information', missing: 'missing'};

/** Who watches from shore, in a sentence; empty while people are with the watch. */
export const fromShore = (a, log) => a ? `Watched from shore by ${a.by} since ${second(a.since, log)} by ${a.links}.` : '';

function row(r) {
  const tr = stacked(heads(by('leaving-rows')), [r.about, ...columns.map((c) => c === r.answer ? '●' : ''), r.says]);
  tr.dataset.answer = r.answer;
  const mark = tr.cells[1 + columns.indexOf(r.answer)].appendChild(document.createElement('span'));
  mark.className = 'unseen';
  mark.textContent = answers[r.answer];
  return tr;
}

function meanwhile(a, log) {
  by('meanwhile-part').hidden = !a;
  if (!a) return;
  put(by('meanwhile-head'), `Watched from shore by ${a.by} from ${second(a.from, log)} ${a.to ? `until ${second(a.to, log)}, when ${a.back} took over on site.` : 'on.'}`);
  put(by('meanwhile-pressures'), a.pressures);
  const body = by('meanwhile-rows');
  fill(body, a.meanwhile, () => body.replaceChildren(...a.meanwhile.map((m) => stacked(heads(body), [second(m.at, log), m.text]))));
}

/** Brings the sheet to what the watch now says. */
export async function leaving() {
  const l = await (await fetch('api/leaving')).json();
  put(by('leaving-decided'), l.decided ? `Decided at ${second(l.decided.at, l.log)}: ${l.decided.choice}, by ${l.decided.by}: ${l.decided.why}` : 'Nothing is decided about leaving.');
  fill(by('leaving-rows'), l.rows, () => by('leaving-rows').replaceChildren(...l.rows.map(row)));
  by('no-weather').hidden = l.forecasts.length > 0;
  sentences(by('weather-forecasts'), l.forecasts.map((f, i) => `${f}${i === l.forecasts.length - 1 ? ' (this one counts)' : ''}`));
  put(by('attends'), l.ashore ? `${fromShore(l.ashore, l.log)} Confirmed ${second(l.ashore.confirmed, l.log)}.` : 'People are with the watch.');
  sentences(by('cannot'), l.cannot);
  meanwhile(l.absence, l.log);
  return l;
}

/** Sets up what people enter on the sheet. */
export function leavingForms() {
  onSend(by('forecast'), async (f) => {
    await act('api/weather', f);
    by('forecast').reset();
    await leaving();
    return 'It is in the log.';
  });
  const attendance = by('attendance');
  const links = () => {
    const shore = attendance.elements.from.value === 'shore';
    by('by-links').hidden = !shore;
    attendance.elements.links.disabled = !shore;
  };
  attendance.addEventListener('change', links);
  onSend(attendance, async (f) => {
    await act('api/attendance', f);
    attendance.reset();
    links();
    await leaving();
    return 'It is in the log.';
  });
  onSend(by('leaving'), async (f) => {
    const {rows} = await leaving();
    const choice = by('leaving').querySelector(`[value=${f.choice}]`).parentElement.textContent.trim();
    const table = columns.map((c) => `${answers[c]}: ${rows.filter((r) => r.answer === c).map((r) => r.about).join(', ') || 'none'}`).join('; ');
    const yes = await lastLook({'Decided': choice, 'By whom': f.by, 'Why': f.why, 'May it be left unattended?': table});
    if (!yes) return 'Not recorded.';
    const said = await act('api/decisions', {choice: f.choice, by: f.by, why: f.why});
    by('leaving').reset();
    await leaving();
    return `Logged, entry ${said.entry} of the record.`;
  });
}
