// The page of the operations room. It shows only what the watch said last, and says so when that is old.
import uPlot from './uplot/uPlot.esm.js';
import {buildUpPlots} from './build-up.js';
import {pressureChart} from './chart.js';

const QUIET_MS = 4000; // the watch speaks every second; after this long without a word the page does not believe itself
const by = (id) => document.getElementById(id);
const clock = (iso) => iso ? `${iso.slice(0, 10)} ${iso.slice(11, 19)} UTC` : 'not known';

let heardMs = 0;
let state = null;
let chart = null;
let fixed = null;
let spanS = 0;
let plotted = null;

function span(seconds) {
  if (seconds < 10) return `${Math.max(0, seconds).toFixed(1)} s`;
  if (seconds < 120) return `${Math.round(seconds)} s`;
  if (seconds < 7200) return `${Math.round(seconds / 60)} min`;
  return `${Math.floor(seconds / 3600)} h ${String(Math.floor(seconds / 60 % 60)).padStart(2, '0')} min`;
}

function sight(which, text) {
  document.body.dataset.sight = which;
  if (by('sight').textContent !== text) by('sight').textContent = text;
  document.title = which === 'sees' ? `${state?.name ?? ''} · Stillwatch` : `${which.toUpperCase()} · Stillwatch`;
}

function judge() {
  const quietMs = Date.now() - heardMs;
  if (!state) {
    if (performance.now() > 8000) sight('cut', 'NO CONNECTION TO THE WATCH since this page was opened.');
  } else if (quietMs > QUIET_MS) {
    sight('cut', `CONNECTION TO THE WATCH LOST ${span(quietMs / 1000)} ago. Everything below is old.`);
  } else if (!state.watching) {
    sight('blind', `THE WATCH IS BLIND. ${state.blind.join(' ')} Everything below is old.`);
  } else {
    sight('sees', '');
  }
}

const words = {
  'unacknowledged': 'lasts, nobody has acknowledged it',
  'acknowledged': 'lasts, acknowledged',
  'returned-unacknowledged': 'is over, nobody has acknowledged it',
  'normal': 'is over, acknowledged',
};

function fill(li, a) {
  const q = (c) => li.querySelector(c);
  li.dataset.id = a.id;
  li.dataset.rule = a.rule;
  li.dataset.priority = a.priority;
  const asks = a.state === 'unacknowledged' || a.state === 'returned-unacknowledged';
  li.dataset.asks = asks ? 'yes' : 'no';
  li.dataset.lasts = a.returned ? 'no' : 'yes';
  q('.priority').textContent = a.priority;
  q('.title').textContent = `${a.title}${a.gauges.length ? ` (${a.gauges.join(', ')})` : ''}`;
  q('.state').textContent = asks || a.acknowledged_by ? words[a.state] : 'lasts; to know, nobody need act';
  q('.sentence').textContent = a.returned ? `${a.raised_summary} Over since ${clock(a.returned)}: ${a.summary}` : a.summary;
  q('.advice').textContent = `Advice: ${a.advice}`;
  const limits = Object.entries(a.limits).map(([k, v]) => `${k} ${v}`).join(', ');
  q('.facts').textContent = `Began ${clock(a.onset)}, raised ${clock(a.raised)}, rule ${a.rule}, phase ${a.phase || 'not stated'}. `
    + `Limits in force: ${limits}.${a.acknowledged_by ? ` Acknowledged by ${a.acknowledged_by}${a.note ? `: ${a.note}` : ''}.` : ''}`;
  q('form').hidden = !asks;
}

function make(a) {
  const li = by('alarm').content.firstElementChild.cloneNode(true);
  const form = li.querySelector('form');
  form.elements.by.value = localStorage.getItem('name') ?? '';
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    const out = form.querySelector('output');
    out.textContent = 'sending';
    localStorage.setItem('name', form.elements.by.value);
    try {
      const answer = await fetch(`api/alarms/${a.id}/acknowledge`, {
        method: 'POST', headers: {'Content-Type': 'application/json'},
        body: JSON.stringify({by: form.elements.by.value, note: form.elements.note.value}),
      });
      out.textContent = answer.ok ? '' : (await answer.json()).fault;
    } catch {
      out.textContent = 'Not acknowledged: the watch does not answer. Try again.';
    }
  });
  return li;
}

/** Makes the list show these alarms in this order, keeping the elements (and what is being typed in them). */
function list(ol, alarms) {
  const have = new Map([...ol.children].map((li) => [li.dataset.id, li]));
  alarms.forEach((a, i) => {
    const li = have.get(a.id) ?? make(a);
    have.delete(a.id);
    fill(li, a);
    if (ol.children[i] !== li) ol.insertBefore(li, ol.children[i] ?? null);
  });
  have.forEach((li) => li.remove());
}

function gauges(all) {
  by('gauges').replaceChildren(...all.map((g) => {
    const tr = document.createElement('tr');
    const value = g.value == null ? 'no value' : `${g.value.toFixed(g.decimals)} ${g.unit}`;
    const bad = g.quality && g.quality !== 'good' ? [`source says ${g.quality}`] : [];
    const faults = [...g.against, ...bad];
    const says = faults.length ? faults.join('; ') : g.at ? 'no fault seen' : 'has not spoken';
    tr.dataset.fault = faults.length || !g.at ? 'yes' : 'no';
    for (const text of [g.id, value, says, !g.at ? 'never' : g.age_s < 1 ? 'now' : `${span(g.age_s)} ago`, g.where]) {
      tr.insertCell().textContent = text;
    }
    return tr;
  }));
}

function review(r) {
  by('review').hidden = !r;
  if (!r) return;
  by('leads').textContent = `As of ${clock(r.at)}: ${r.leads}`;
  by('verdict').textContent = r.verdict ?? '';
  const heads = ['Explanation', 'Weight', 'Leaks, of the flow before', ...(r.ahead ?? []).map((ms) => `Foretold for ${clock(new Date(ms).toISOString()).slice(11, 16)}`)];
  by('foretold').replaceChildren(...(r.candidates ? heads : []).map((text) => {
    const th = document.createElement('th');
    th.scope = 'col';
    th.textContent = text;
    return th;
  }));
  by('candidates').replaceChildren(...(r.candidates ?? []).map((c) => {
    const tr = document.createElement('tr');
    const weight = c.weight < 0.001 ? 'under 0.1 %' : c.weight > 0.999 ? 'over 99.9 %' : `${(100 * c.weight).toFixed(1)} %`;
    for (const text of [c.name, weight, c.leak, ...c.ahead]) tr.insertCell().textContent = text;
    return tr;
  }));
}

async function plots() {
  const at = state?.review?.at;
  if (!at || at === plotted || document.hidden) return;
  try {
    const answer = await fetch('api/review');
    if (!answer.ok) return;
    const css = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
    buildUpPlots(uPlot, {horner: by('horner'), derivative: by('derivative'), weights: by('weights')}, await answer.json(),
      {line: css('--medium'), axis: css('--dim'), grid: css('--rule'), shades: [1, 2, 3, 4, 5].map((i) => css(`--shade-${i}`))});
    plotted = at;
  } catch {
    // the state stream says when the watch does not answer
  }
}

function redrawPlots() {
  plotted = null;
  plots();
}

function show() {
  by('name').textContent = state.name;
  by('phase').textContent = state.phase || 'not stated';
  by('mode').textContent = state.mode;
  by('log').textContent = clock(state.log);
  by('age').textContent = state.age_s == null ? 'none yet' : `${span(state.age_s)} ago`;
  by('done').textContent = state.last_operation
    ? `${state.last_operation.text || state.last_operation.what}, ${span((Date.parse(state.log) - Date.parse(state.last_operation.at)) / 1000)} ago`
    : 'nothing logged';
  by('plan').textContent = `Plan ${state.plan}.`;
  by('none').hidden = state.alarms.length > 0;
  list(by('alarms'), state.alarms);
  list(by('over'), state.over);
  by('over-count').textContent = state.over.length;
  gauges(state.gauges);
  review(state.review);
  by('routes').replaceChildren(...(state.routes.length ? state.routes : [null]).map((r) => {
    const li = document.createElement('li');
    li.textContent = r == null ? 'The plan names no route: alarms are seen on this page and nowhere else.'
      : `${r.name}: ${r.waiting === 0 ? 'everything delivered' : `${r.waiting} waiting`}${r.failing ? `, fails: ${r.fault}` : ''}`;
    li.dataset.failing = r?.failing ? 'yes' : 'no';
    return li;
  }));
}

async function draw() {
  if (!chart || document.hidden) return;
  try {
    const answer = await fetch(`api/series?gauges=${fixed.shut_in.map(encodeURIComponent).join(',')}&points=800&span_s=${spanS}`);
    const alarms = [...(state?.alarms ?? []), ...(state?.over ?? [])]
      .map((a) => ({at: Date.parse(a.onset) / 1000, priority: a.priority, rule: a.rule}));
    chart.draw(await answer.json(), alarms);
  } catch {
    // the state stream says when the watch does not answer
  }
}

document.querySelectorAll('#spans button').forEach((b) => b.addEventListener('click', () => {
  spanS = Number(b.dataset.span);
  document.querySelectorAll('#spans button').forEach((o) => o.setAttribute('aria-pressed', String(o === b)));
  draw();
}));

async function start() {
  try {
    fixed = await (await fetch('api/fixed')).json();
  } catch {
    setTimeout(start, 2000);
    return;
  }
  by('cautions').textContent = fixed.cautions;
  by('legend').textContent = `${fixed.shut_in.map((id, i) => `${id} ${i % 2 ? 'dashed' : 'solid'}`).join(', ')}. Upright lines: where an alert's condition began. Times in UTC.`;
  chart = pressureChart(by('chart'), fixed);
  const events = new EventSource('api/events');
  events.addEventListener('state', (event) => {
    heardMs = Date.now();
    state = JSON.parse(event.data);
    show();
    judge();
  });
  draw();
  setInterval(() => {
    draw();
    plots();
  }, 2000);
}

addEventListener('resize', redrawPlots);
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', redrawPlots);
setInterval(judge, 500);
start();
