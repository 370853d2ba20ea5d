// The page of the operations room. It shows only what the watch said last, and says so when that is old.
import {onTheme, themeChoice} from './theme.js';
import {holds, list, redrawTrails} from './alarms.js';
import {pressureChart, smallChart} from './chart.js';
import {fill, put} from './dom.js';
import {glance} from './glance.js';
import {follow, redraw, sheets} from './sheets.js';
import {showLanes} from './lanes.js';
import {judge} from './sight.js';
import {soundControls, soundFor} from './sound.js';
import {act, me, onSend, whoAmI} from './talk.js';
import {age, clock, span, urgent} from './words.js';

const by = (id) => document.getElementById(id);

let heardMs = 0;
let fault = ''; // why the watch cannot say how it is
let state = null;
let newest = null; // what the watch said and is not shown yet
let chart = null;
let fixed = null;
let spanS = 0;
let logTime = false;
let strips = null;
let stripsSay = ''; // what the strips were asked for
let costMs = 0; // how long the last state took to be shown
let placed = null; // where the chart has its moments
let drawn = 0; // how often everything had to be drawn anew

const SEES = {waiting: 'WAITING', sees: 'WATCHING', over: 'EXERCISE OVER', blind: 'BLIND', cut: 'LOST'};

/** Title and icon carry the count of unacknowledged alarms, or that the watch is lost. */
function tab(which, asking) {
  document.title = which === 'sees' || which === 'over' ? `${asking ? `(${asking}) ` : ''}${state?.name ?? ''} · Stillwatch` : `${SEES[which]} · Stillwatch`;
  const text = which === 'blind' || which === 'cut' ? '?' : asking > 99 ? '99' : asking || '';
  fill(by('icon'), text, () => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" fill="${text === '' ? '#565d62' : '#a3123c'}"/><text x="16" y="24" font-size="22" font-family="sans-serif" font-weight="bold" text-anchor="middle" fill="#fff">${text || '–'}</text></svg>`;
    by('icon').href = `data:image/svg+xml,${encodeURIComponent(svg)}`;
  });
}

/** Says whether the page can be believed, and sounds what is due. */
function look() {
  if (!state && by('door').open) return;
  const {which, text} = judge({state, quietMs: Date.now() - heardMs, fault, openMs: performance.now()});
  document.body.dataset.sight = which;
  put(by('sight'), text);
  put(by('sees'), SEES[which]);
  put(by('none'), which === 'sees' ? 'None.' : 'None, as far as the watch could see.');
  tab(which, Object.entries(state?.unacknowledged ?? {}).reduce((n, [p, c]) => n + (p === 'information' ? 0 : c), 0));
  soundFor(which, state?.unacknowledged);
}

/** A gauge's health over the time shown: a bar, filled where it stood under an alarm of its own. */
function strip(id) {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  const all = strips?.gauges[id] ?? [];
  svg.setAttribute('viewBox', '0 0 200 10');
  svg.setAttribute('preserveAspectRatio', 'none');
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', all.length ? all.map((s) => `${s.title}, ${clock(new Date(s.from).toISOString())}${s.to == null ? ', active' : ` for ${span((s.to - s.from) / 1000)}`}`).join('; ') : 'none');
  svg.classList.add('strip');
  const length = Math.max(1, (strips?.to ?? 1) - (strips?.from ?? 0));
  for (const s of all) {
    const rect = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
    const x = (200 * (s.from - strips.from)) / length;
    rect.setAttribute('x', x);
    rect.setAttribute('width', Math.max(2, (200 * ((s.to ?? strips.to) - s.from)) / length));
    rect.setAttribute('height', 10);
    svg.append(rect);
  }
  return svg;
}

/** How much longer ago the readings came than the log's own time says, seconds. */
const stale = () => Math.max(0, (state.age_s ?? 0) - 2);

function gauges(all) {
  const body = by('gauges');
  while (body.rows.length < all.length) {
    const tr = body.insertRow();
    for (let i = 0; i < 6; i++) tr.insertCell();
  }
  all.forEach((g, i) => {
    const tr = body.rows[i];
    const value = g.value == null ? 'no value' : `${g.value.toFixed(g.decimals)} ${g.unit}`;
    const bad = g.quality && g.quality !== 'good' ? [`source says ${g.quality}`] : [];
    const faults = [...g.against, ...bad];
    tr.dataset.fault = faults.length || !g.at ? 'yes' : 'no';
    put(tr.cells[0], g.id);
    put(tr.cells[1], value);
    put(tr.cells[2], faults.length ? faults.join('; ') : g.at ? 'no fault seen' : 'no reading yet');
    fill(tr.cells[3], [g.id, strips], () => tr.cells[3].replaceChildren(strip(g.id)));
    put(tr.cells[4], !g.at ? 'no reading yet' : age(g.age_s + stale()));
    put(tr.cells[5], g.where);
  });
}

/** The last of some operations in words. */
function last(some) {
  const o = some.at(-1);
  return o ? `${o.gauge ? `${o.gauge}: ` : ''}${o.text || o.what}, ${span((Date.parse(state.log) - Date.parse(o.at)) / 1000)} ago` : 'none logged';
}

function head() {
  put(by('name'), state.name);
  by('exercise').hidden = !state.exercise;
  put(by('phase'), `${state.phase || 'not stated'}${state.phase_refused ? `. ${state.phase_refused}` : ''}`);
  put(by('on-shift'), state.shift?.who ?? 'not set');
  put(by('mode'), state.mode);
  put(by('log'), clock(state.log));
  put(by('age'), age(state.age_s));
  put(by('done'), last(state.last_operation ? [state.last_operation] : []));
  put(by('near'), (state.near ?? []).map((p) => `${p.text || p.what}, for ${span((Date.parse(state.log) - Date.parse(p.from)) / 1000)}`).join('; ') || 'none logged');
  put(by('worked'), last((state.operations ?? []).filter((o) => o.gauge)));
  put(by('plan'), `Plan ${state.plan}. Record ends with hash ${state.journal}.`);
}

/** An alarm with the log's time, by which days are told apart. */
const dated = (a) => ({...a, log: state.log.slice(0, 10)});

function show() {
  head();
  glance(state);
  const flood = by('flood');
  flood.hidden = !state.flood && !state.chattering.length;
  put(flood, [
    state.flood ? `ALARM FLOOD ${state.flood.at_least ? `of more than ${state.flood.alarms}` : `since ${clock(state.flood.from)}: ${state.flood.alarms}`} alarms. The most urgent are on top; the record has all of them.` : '',
    state.chattering.length ? `Chattering: ${state.chattering.join('; ')}.` : '',
  ].join(' ').trim());
  by('none').hidden = state.alarms.length > 0;
  list(by('alarms'), urgent(state.alarms).map(dated));
  by('more').hidden = !state.more;
  put(by('more'), `${state.more} more of lower priority.`);
  list(by('held'), state.held.map(dated));
  holds(by('holds'), state.holds);
  put(by('held-count'), state.held.length + (state.holds.length > state.held.length ? `, ${state.holds.length} points` : ''));
  list(by('over'), state.over.map(dated));
  put(by('over-count'), state.over.length);
  gauges(state.gauges);
  follow(state);
  fill(by('routes'), state.routes, () => by('routes').replaceChildren(...(state.routes.length ? state.routes : [null]).map((r) => {
    const li = document.createElement('li');
    li.textContent = r == null ? 'The plan names no notification route: alarms are shown on this page only.'
      : `${r.name}: ${r.waiting === 0 ? 'everything delivered' : `${r.waiting} waiting`}${r.failing ? `, fails: ${r.fault}` : ''}`;
    li.dataset.failing = r?.failing ? 'yes' : 'no';
    return li;
  })));
}

async function series(ids, points) {
  return (await fetch(`api/series?gauges=${ids.map(encodeURIComponent).join(',')}&points=${points}&span_s=${spanS}`)).json();
}

const seconds = (s, n) => Array.from({length: n}, (_, c) => (s.from + (c + 0.5) * s.column_ms) / 1000);
const middle = (g, c) => g?.low[c] == null ? null : (g.low[c] + g.high[c]) / 2;

async function draw() {
  if (!chart || document.hidden || by('well').hidden) return;
  try {
    const shutIn = state?.shut_in ? Date.parse(state.shut_in) / 1000 : null;
    chart.logSince(logTime ? shutIn : null);
    const marks = [...(state?.alarms ?? []), ...(state?.over ?? [])]
      .map((a) => ({at: Date.parse(a.onset) / 1000, priority: a.priority, rule: a.rule}));
    const pressure = await series(fixed.shut_in, 800);
    fill(by('chart'), [pressure, marks, logTime, drawn], () => chart.draw(pressure, marks, state?.live?.gauge));
    lanes();
    await others(pressure);
    await health();
  } catch {
    // the state stream says when the watch does not answer
  }
}

/** Puts operations and passes into the lanes under the chart. */
function lanes() {
  if (!placed) return;
  const at = (o) => Date.parse(o.at) / 1000;
  const all = {
    operations: (state?.operations ?? []).map((o) => ({at: at(o), text: o.text || o.what})),
    passes: (state?.passes ?? []).map((p) => ({at: at(p), text: `${p.means}: ${p.result}. ${p.text}`, bad: p.result !== 'clear'})),
  };
  const [place, ends] = placed;
  fill(by('lanes'), [all, ends, Object.values(all).flat().map((m) => Math.round(place(m.at)))], () => showLanes(by('lanes'), all, place, ends, (text) => put(by('readout'), text)));
}

const shows = {
  read(at) {
    if (!at) return;
    const when = at.since == null ? clock(new Date(at.at * 1000).toISOString()) : `${at.at.toFixed(2)} h after shut-in`;
    put(by('readout'), `${when}: ${at.values.map(([id, v]) => `${id} ${v == null ? 'no reading' : `${v.toFixed(2)} ${fixed.bands.unit}`}`).join(', ')}`);
  },
  live(is) {
    by('live').setAttribute('aria-pressed', String(is));
  },
  placed(place, ends) {
    placed = [place, ends];
    lanes();
  },
};

/** Asks for the gauges' health when it has changed, or has moved by a two hundredth of its width. */
async function health() {
  const says = JSON.stringify([spanS, state?.gauges.map((g) => g.against)]);
  if (says === stripsSay && Date.parse(state?.log) - strips.to < (strips.to - strips.from) / 200) return;
  strips = await (await fetch(`api/strips?span_s=${spanS}`)).json();
  stripsSay = says;
}

/** The difference between twins, and what is no shut-in pressure: one small chart each. */
async function others(pressure) {
  const into = by('others');
  const sets = [];
  if (fixed.shut_in.length > 1) {
    const [a, b] = fixed.shut_in;
    const n = pressure.gauges[a]?.low.length ?? 0;
    sets.push({name: `${a} minus ${b} (twin difference)`, unit: fixed.bands.unit, times: seconds(pressure, n),
      lines: [{name: 'difference', values: Array.from({length: n}, (_, c) => { const x = middle(pressure.gauges[a], c); const y = middle(pressure.gauges[b], c); return x == null || y == null ? null : x - y; })}]});
  }
  for (const kind of ['temperature', 'sound']) {
    const some = (state?.gauges ?? []).filter((g) => g.kind === kind);
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

document.querySelectorAll('#spans [data-span]').forEach((b) => b.addEventListener('click', () => {
  spanS = Number(b.dataset.span);
  document.querySelectorAll('#spans [data-span]').forEach((o) => o.setAttribute('aria-pressed', String(o === b)));
  draw();
}));
by('log-time').addEventListener('click', () => {
  logTime = !logTime;
  by('log-time').setAttribute('aria-pressed', String(logTime));
  draw();
});
by('live').addEventListener('click', () => chart.live());
onSend(by('stretch'), async (f) => {
  const [from, to] = [f.from, f.to].map((t) => Date.parse(`${t.trim().replace(' ', 'T').replace(/Z$/, '')}Z`) / 1000);
  if (!(from < to)) throw new Error('Type two times, the earlier first, for example 2026-03-08 11:30.');
  chart.stretch(from, to);
});
soundControls({button: by('sound'), every: by('every'), from: by('quiet-from'), to: by('quiet-to')});
themeChoice(by('theme'));
by('leave').addEventListener('click', async () => {
  await fetch('api/logout', {method: 'POST'});
  location.reload();
});

/** Lets somebody in: by a link that works once, or by name and password. */
function door() {
  const link = location.hash.startsWith('#enter=') ? location.hash.slice(7) : '';
  by('door-why').textContent = link ? 'Choose your name for the record, and a password of ten characters or more.'
    : me.nobody ? 'Nobody can enter yet: open the link that the watch printed when it started.' : 'Name and password, please.';
  onSend(by('entry'), async (f) => {
    const answer = await fetch(link ? 'api/enter' : 'api/login', {
      method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify({...f, link}),
    });
    if (!answer.ok) throw new Error((await answer.json()).fault);
    history.replaceState(null, '', location.pathname);
    location.reload();
  });
  by('door').showModal();
}

function retry() {
  setTimeout(start, 2000);
}

/** Shows the newest state, and leaves the browser twice as long as that took for what people do. */
function take() {
  const from = performance.now();
  state = JSON.parse(newest);
  newest = null;
  show();
  look();
  if (document.hidden) return; // nothing is painted, and what waits for that would pile up for days
  requestAnimationFrame(() => setTimeout(() => { costMs = performance.now() - from; }, 0));
}

async function start() {
  try {
    await whoAmI();
    if (!me.name) return door();
    fixed = await (await fetch('api/fixed')).json();
  } catch {
    return retry();
  }
  by('me').textContent = me.open ? 'Open: no names are recorded.' : `${me.name}, may ${me.role}`;
  by('leave').hidden = me.open;
  by('cautions').textContent = fixed.cautions;
  by('legend').textContent = `${fixed.shut_in.map((id, i) => `${id} ${i % 2 ? 'dashed' : 'solid'}`).join(', ')}. Upright lines: where an alarm's condition began, named where there is room; ▼▲ at the edge: readings outside the range shown. Drag or turn the wheel to zoom, double-click back. Times in UTC.`;
  for (const [id, words] of [['steps', [...fixed.closure_steps, ...fixed.phases]], ['means', fixed.means], ['gauge-ids', fixed.gauges]]) {
    by(id).replaceChildren(...words.map((w) => { const o = document.createElement('option'); o.value = w; o.textContent = w; return o; }));
  }
  chart = pressureChart(by('chart'), fixed, shows);
  sheets(draw);
  const events = new EventSource('api/events');
  events.addEventListener('state', (event) => {
    heardMs = Date.now();
    fault = '';
    if (newest == null) setTimeout(take, Math.min(1000, 2 * costMs)); // what piles up while the page is busy is passed over
    newest = event.data;
  });
  events.addEventListener('fault', (event) => { fault = event.data; });
  events.addEventListener('error', () => {
    if (events.readyState === EventSource.CLOSED) retryWhenKnown();
  });
  draw();
  setInterval(draw, 2000);
}

/** A watch that started again knows no sessions: ask who is here before going on. */
async function retryWhenKnown() {
  try {
    await whoAmI();
    location.reload();
  } catch {
    setTimeout(retryWhenKnown, 2000);
  }
}

/** Draws everything anew, in the size and the colours of now. */
function anew() {
  drawn++;
  redraw();
  redrawTrails();
}

addEventListener('resize', anew);
onTheme(anew);

/** The wall view shows without a control what is read from four metres. */
function view() {
  document.body.dataset.view = location.hash === '#wall' ? 'wall' : 'desk';
  dispatchEvent(new Event('resize'));
}
addEventListener('hashchange', view);
view();
setInterval(look, 500);
start();
