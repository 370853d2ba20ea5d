// The page of the operations room. It shows only what the watch said last, and says so when that is old.
import {holds, list, redrawTrails} from './alarms.js';
import {pressureChart, smallChart} from './chart.js';
import {fill, put} from './dom.js';
import {follow, redraw, sheets, span} from './sheets.js';
import {me, onSend, whoAmI} from './talk.js';

const QUIET_MS = 4000; // the watch speaks every second; after this long without a word the page does not believe itself
const by = (id) => document.getElementById(id);
const clock = (iso) => iso ? `${iso.slice(0, 10)} ${iso.slice(11, 19)} UTC` : 'not known';

let heardMs = 0;
let fault = ''; // why the watch cannot say how it is
let state = null;
let newest = null; // what the watch said and is not shown yet
let chart = null;
let fixed = null;
let spanS = 0;
let logTime = false;
let sounder = null;
let strips = null;
let stripsSay = ''; // what the strips were asked for
let costMs = 0; // how long the last state took to be shown
let drawn = 0; // how often everything had to be drawn anew
let known = null; // alarms that have been heard

function sight(which, text) {
  document.body.dataset.sight = which;
  if (by('sight').textContent !== text) by('sight').textContent = text;
  put(by('none'), which === 'sees' ? 'Nothing.' : 'Nothing, as far as the watch could see.');
  const asking = state?.alarms.filter((a) => a.asks).length ?? 0;
  document.title = which === 'sees' ? `${asking ? `(${asking}) ` : ''}${state?.name ?? ''} · Stillwatch` : `${which.toUpperCase()} · Stillwatch`;
}

function judge() {
  const quietMs = Date.now() - heardMs;
  if (!state) {
    if (performance.now() > 8000 && !by('door').open) sight('cut', `NO WORD OF THE WATCH since this page was opened.${fault && ` ${fault}.`}`);
  } else if (quietMs > QUIET_MS) {
    sight('cut', `${fault ? `THE WATCH CANNOT SAY HOW IT IS, since ${span(quietMs / 1000)}: ${fault}.` : `CONNECTION TO THE WATCH LOST ${span(quietMs / 1000)} ago.`} Everything below is old.`);
  } else if (!state.watching) {
    sight('blind', `THE WATCH IS BLIND. ${state.blind.join(' ')} Everything below is old.`);
  } else {
    sight('sees', '');
  }
}

/** Two tones, twice: nothing a browser or a vessel says by itself. */
function sound() {
  if (sounder?.state !== 'running') return;
  [0, 0.25, 0.6, 0.85].forEach((at, i) => {
    const o = sounder.createOscillator();
    const g = sounder.createGain();
    o.frequency.value = i % 2 ? 587 : 784;
    g.gain.setValueAtTime(0.0001, sounder.currentTime + at);
    g.gain.exponentialRampToValueAtTime(0.4, sounder.currentTime + at + 0.02);
    g.gain.exponentialRampToValueAtTime(0.0001, sounder.currentTime + at + 0.22);
    o.connect(g).connect(sounder.destination);
    o.start(sounder.currentTime + at);
    o.stop(sounder.currentTime + at + 0.24);
  });
}

/** A browser lets a page sound only after somebody pressed something on it. */
function soundState() {
  const on = sounder?.state === 'running';
  by('sound').textContent = on ? 'Alarm sound: on, try it' : 'Alarm sound: OFF until you press here';
  by('sound').dataset.on = on ? 'yes' : 'no';
}

function listen() {
  const high = state.alarms.filter((a) => a.priority === 'high' && a.state === 'unacknowledged').map((a) => a.id);
  if (known && high.some((id) => !known.has(id))) sound();
  known = new Set([...(known ?? []), ...high]);
}

/** A gauge's health over the time shown: a bar, filled where it stood under an alarm of its own. */
function strip(id) {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  const all = strips?.gauges[id] ?? [];
  svg.setAttribute('viewBox', '0 0 200 10');
  svg.setAttribute('preserveAspectRatio', 'none');
  svg.setAttribute('role', 'img');
  svg.setAttribute('aria-label', all.length ? all.map((s) => `${s.title}, ${clock(new Date(s.from).toISOString())}${s.to == null ? ', lasts' : ` for ${span((s.to - s.from) / 1000)}`}`).join('; ') : 'none');
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
    put(tr.cells[2], faults.length ? faults.join('; ') : g.at ? 'no fault seen' : 'has not spoken');
    fill(tr.cells[3], [g.id, strips], () => tr.cells[3].replaceChildren(strip(g.id)));
    put(tr.cells[4], !g.at ? 'never' : g.age_s < 1 ? 'now' : `${span(g.age_s)} ago`);
    put(tr.cells[5], g.where);
  });
}

function head() {
  put(by('name'), state.name);
  by('exercise').hidden = !state.exercise;
  put(by('phase'), `${state.phase || 'not stated'}${state.phase_refused ? `. ${state.phase_refused}` : ''}`);
  put(by('shut-in'), state.shut_in_s == null ? 'not shut in' : span(state.shut_in_s));
  const hold = by('hold-point');
  put(hold, state.hold_point_s == null ? 'none set' : state.hold_point_s < 0 ? `OVERDUE by ${span(-state.hold_point_s)}` : `in ${span(state.hold_point_s)}`);
  hold.dataset.overdue = state.hold_point_s < 0 ? 'yes' : 'no';
  put(by('on-shift'), state.shift?.who ?? 'nobody said');
  put(by('mode'), state.mode);
  put(by('log'), clock(state.log));
  put(by('age'), state.age_s == null ? 'none yet' : `${span(state.age_s)} ago`);
  put(by('done'), state.last_operation
    ? `${state.last_operation.text || state.last_operation.what}, ${span((Date.parse(state.log) - Date.parse(state.last_operation.at)) / 1000)} ago`
    : 'nothing logged');
  put(by('plan'), `Plan ${state.plan}. Record ends with hash ${state.journal}.`);
}

function show() {
  head();
  const flood = by('flood');
  flood.hidden = !state.flood && !state.chattering.length;
  put(flood, [
    state.flood ? `ALARM FLOOD ${state.flood.at_least ? `of more than ${state.flood.alarms}` : `since ${clock(state.flood.from)}: ${state.flood.alarms}`} alarms. The most urgent stand first; nothing is left out of the record.` : '',
    state.chattering.length ? `Chattering: ${state.chattering.join('; ')}.` : '',
  ].join(' ').trim());
  by('none').hidden = state.alarms.length > 0;
  list(by('alarms'), state.alarms);
  by('more').hidden = !state.more;
  put(by('more'), `And ${state.more} less urgent ones, shown as these are seen to.`);
  list(by('held'), state.held);
  holds(by('holds'), state.holds);
  put(by('held-count'), state.held.length + (state.holds.length > state.held.length ? `, ${state.holds.length} points` : ''));
  list(by('over'), state.over);
  put(by('over-count'), state.over.length);
  gauges(state.gauges);
  follow(state);
  fill(by('routes'), state.routes, () => by('routes').replaceChildren(...(state.routes.length ? state.routes : [null]).map((r) => {
    const li = document.createElement('li');
    li.textContent = r == null ? 'The plan names no route: alarms are seen on this page and nowhere else.'
      : `${r.name}: ${r.waiting === 0 ? 'everything delivered' : `${r.waiting} waiting`}${r.failing ? `, fails: ${r.fault}` : ''}`;
    li.dataset.failing = r?.failing ? 'yes' : 'no';
    return li;
  })));
  listen();
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
    const done = (state?.operations ?? []).map((o) => ({at: Date.parse(o.at) / 1000}));
    const pressure = await series(fixed.shut_in, 800);
    fill(by('chart'), [pressure, done, marks, logTime, drawn], () => chart.draw(pressure, marks, done));
    await others(pressure);
    await health();
  } catch {
    // the state stream says when the watch does not answer
  }
}

/** Asks for the gauges' health when it has changed, or has moved by a two hundredth of its width. */
async function health() {
  const says = JSON.stringify([spanS, state?.gauges.map((g) => g.against)]);
  if (says === stripsSay && Date.parse(state?.log) - strips.to < (strips.to - strips.from) / 200) return;
  strips = await (await fetch(`api/strips?span_s=${spanS}`)).json();
  stripsSay = says;
}

/** Twins apart, and what is no shut-in pressure: one small chart each. */
async function others(pressure) {
  const into = by('others');
  const sets = [];
  if (fixed.shut_in.length > 1) {
    const [a, b] = fixed.shut_in;
    const n = pressure.gauges[a]?.low.length ?? 0;
    sets.push({name: `${a} less ${b}`, unit: fixed.bands.unit, times: seconds(pressure, n),
      lines: [{name: 'apart', values: Array.from({length: n}, (_, c) => { const x = middle(pressure.gauges[a], c); const y = middle(pressure.gauges[b], c); return x == null || y == null ? null : x - y; })}]});
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
by('sound').addEventListener('click', async () => {
  sounder ??= new AudioContext();
  await sounder.resume();
  soundState();
  sound();
});
by('leave').addEventListener('click', async () => {
  await fetch('api/logout', {method: 'POST'});
  location.reload();
});

/** Lets somebody in: by a link that works once, or by name and password. */
function door() {
  const link = location.hash.startsWith('#enter=') ? location.hash.slice(7) : '';
  by('door-why').textContent = link ? 'Choose the name that is to stand in the record, and a password of ten characters or more.'
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
  judge();
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
  by('me').textContent = me.open ? 'Open: the record knows no names.' : `${me.name}, may ${me.role}`;
  by('leave').hidden = me.open;
  by('cautions').textContent = fixed.cautions;
  by('legend').textContent = `${fixed.shut_in.map((id, i) => `${id} ${i % 2 ? 'dashed' : 'solid'}`).join(', ')}. Upright lines: where an alert's condition began, named where there is room; dotted: what was done. Times in UTC.`;
  for (const [id, words] of [['steps', [...fixed.closure_steps, ...fixed.phases]], ['means', fixed.means]]) {
    by(id).replaceChildren(...words.map((w) => { const o = document.createElement('option'); o.value = w; return o; }));
  }
  chart = pressureChart(by('chart'), fixed);
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
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', anew);
setInterval(judge, 500);
soundState();
start();
