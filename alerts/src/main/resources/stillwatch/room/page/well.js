// The sheet of the well: the charts, what is shown of time, and the lanes under them.
import {pressureChart, smallChart} from './chart.js';
import {choices, decimals, inUnit, localClock, moment, onChoice, unit, zone} from './choice.js';
import {by, fill, put} from './dom.js';
import {health} from './gauges.js';
import {showLanes} from './lanes.js';
import {picture} from './picture.js';
import {onSend} from './talk.js';

const iso = (s) => new Date(s * 1000).toISOString();

let fixed = null; // the answer of /api/fixed
let chart = null;
let state = null; // the newest
const view = {spanS: 0, log: false}; // what is shown of time
let placed = null; // where the chart has its moments
let drawn = 0; // how often everything had to be drawn anew

async function series(ids, points) {
  return (await fetch(`api/series?gauges=${ids.map(encodeURIComponent).join(',')}&points=${points}&span_s=${view.spanS}`)).json();
}

const seconds = (s, n) => Array.from({length: n}, (_, c) => (s.from + (c + 0.5) * s.column_ms) / 1000);
const middle = (g, c) => g?.low[c] == null ? null : (g.low[c] + g.high[c]) / 2;
const at = (o) => Date.parse(o) / 1000;

/** Draws what the newest state and the series say. */
export async function draw() {
  if (!chart || !state || document.hidden || by('well').hidden) return;
  try {
    const shutIn = state.shut_in ? at(state.shut_in) : null;
    chart.logSince(view.log ? shutIn : null);
    const marks = alarms().map((a) => ({at: at(a.onset), priority: a.priority}));
    const pressure = await series(fixed.shut_in, 800);
    fill(by('chart'), [pressure, marks, view, drawn], () => chart.draw(pressure, marks, state.live?.gauge, shutIn));
    lanes();
    await others(pressure);
    await health(state, view.spanS);
  } catch {
    // the state stream says when the watch does not answer
  }
}

const alarms = () => [...state.alarms, ...state.over];

/** Puts alarms, operations and passes into the lanes under the chart. */
function lanes() {
  if (!placed || !state) return;
  const all = {
    alarms: alarms().map((a) => ({at: at(a.onset), text: `${a.priority.toUpperCase()} ${a.title}`, priority: a.priority, id: a.id})),
    operations: state.operations.map((o) => ({at: at(o.at), text: o.text || o.what})),
    passes: state.passes.map((p) => ({at: at(p.at), text: `${p.means}: ${p.result}. ${p.text}`, bad: p.result !== 'clear'})),
  };
  const [place, ends] = placed;
  fill(by('lanes'), [all, ends, Object.values(all).flat().map((m) => Math.round(place(m.at)))],
    () => showLanes(by('lanes'), all, place, ends, (text) => put(by('readout'), text)));
}

/** The address says which stretch of time is shown, so that it can be sent to a colleague. */
function address() {
  const shown = chart.shown();
  if (location.hash === '#wall') return;
  history.replaceState(null, '', shown ? `#from=${iso(Math.floor(shown[0]))}&to=${iso(Math.ceil(shown[1]))}`.replaceAll('.000Z', 'Z') : location.pathname);
}

/** Shows the stretch of time that the address names, if it does. */
function asAddressed() {
  const asked = new URLSearchParams(location.hash.slice(1));
  const [from, to] = [asked.get('from'), asked.get('to')].map((t) => Date.parse(t) / 1000);
  if (from < to) chart.stretch(from, to);
}

const shows = {
  read(read) {
    if (!read) return;
    const when = read.since == null ? localClock(read.at) : `${read.at.toFixed(2)} h after shut-in`;
    put(by('readout'), `${when}: ${read.values.map(([id, v]) => `${id} ${v == null ? 'no reading' : `${v.toFixed(decimals())} ${unit()}`}`).join(', ')}`);
  },
  live(is) {
    by('live').setAttribute('aria-pressed', String(is));
    if (chart) address();
  },
  placed(place, ends) {
    placed = [place, ends];
    lanes();
  },
};

/** The difference between twins, and what is no shut-in pressure: one small chart each. */
async function others(pressure) {
  const into = by('others');
  const sets = [];
  if (fixed.shut_in.length > 1) {
    const [a, b] = fixed.shut_in;
    const n = pressure.gauges[a]?.low.length ?? 0;
    sets.push({name: `${a} minus ${b} (twin difference)`, unit: unit(), times: seconds(pressure, n),
      lines: [{name: 'difference', values: Array.from({length: n}, (_, c) => { const x = middle(pressure.gauges[a], c); const y = middle(pressure.gauges[b], c); return x == null || y == null ? null : inUnit(x - y); })}]});
  }
  for (const kind of ['temperature', 'sound', 'tilt']) {
    const some = state.gauges.filter((g) => g.kind === kind);
    if (!some.length) continue;
    const s = await series(some.map((g) => g.id), 300);
    const n = Math.max(0, ...some.map((g) => s.gauges[g.id]?.low.length ?? 0));
    sets.push({name: some.map((g, i) => `${g.id} ${i % 2 ? 'dashed' : 'solid'}`).join(', '), unit: some[0].unit, times: seconds(s, n),
      lines: some.map((g) => ({name: g.id, values: Array.from({length: n}, (_, c) => middle(s.gauges[g.id], c))}))});
  }
  while (into.children.length < sets.length) into.append(document.createElement('figure'));
  sets.forEach((set, i) => {
    const figure = into.children[i];
    if (!figure.firstChild) figure.append(document.createElement('figcaption'), document.createElement('div'));
    figure.firstChild.textContent = set.name;
    fill(figure.lastChild, [set, drawn], () => smallChart(figure.lastChild, set));
  });
}

/** Draws everything anew, in the size and the colours of now. */
export function redrawWell() {
  drawn++;
}

/** Takes the newest state. */
export function wellSays(newest) {
  const first = !state;
  state = newest;
  if (first) draw();
}

/** Sets the sheet up. */
export function well(answer) {
  fixed = answer;
  choices(fixed, by('chart-unit'), by('chart-zone'));
  put(by('stretch-zone'), zone());
  onChoice(() => {
    put(by('stretch-zone'), zone());
    chart.chosen();
    redrawWell();
    draw();
  });
  chart = pressureChart(by('chart'), fixed, shows);
  by('legend').textContent = `${fixed.shut_in.map((id, i) => `${id} ${i % 2 ? 'dashed' : 'solid'}`).join(', ')}. `
    + `${fixed.expected.length ? 'Blue fan: expected of an intact well, P10 to P90, P50 dotted, closed at once. ' : ''}`
    + `Upright lines: where an alarm's condition began. ▼▲ at the edge: readings outside the range shown. Drag or turn the wheel to zoom, double-click back.`;
  const spans = document.querySelectorAll('#spans [data-span]');
  spans.forEach((b) => b.addEventListener('click', () => {
    view.spanS = Number(b.dataset.span);
    spans.forEach((o) => o.setAttribute('aria-pressed', String(o === b)));
    draw();
  }));
  by('log-time').addEventListener('click', () => {
    view.log = !view.log;
    by('log-time').setAttribute('aria-pressed', String(view.log));
    draw();
  });
  by('live').addEventListener('click', () => chart.live());
  onSend(by('stretch'), async (f) => {
    const [from, to] = [f.from, f.to].map(moment);
    if (!(from < to)) throw new Error('Type two times, the earlier first, for example 2026-03-08 11:30.');
    chart.stretch(from, to);
  });
  by('picture').addEventListener('click', () => picture(chart, state, fixed.cautions));
  by('print').addEventListener('click', () => print());
  asAddressed();
  addEventListener('hashchange', asAddressed);
  setInterval(draw, 2000);
}
