// The page of the operations room. It shows only what the watch said last, and says so when that is old.
import {onChoice} from './choice.js';
import {onTheme, themeChoice} from './theme.js';
import {holds, list, redrawTrails} from './alarms.js';
import {by, fill, put, sentences} from './dom.js';
import {filter, filterControls} from './filter.js';
import {gauges} from './gauges.js';
import {glance} from './glance.js';
import {follow, redraw, sheets} from './sheets.js';
import {judge} from './sight.js';
import {fromShore} from './leaving.js';
import {soundControls, soundFor} from './sound.js';
import {me, onSend, whoAmI} from './talk.js';
import {draw, redrawWell, well, wellSays} from './well.js';
import {age, clock, span, urgent} from './words.js';

let heardMs = 0;
let fault = ''; // why the watch cannot say how it is
let broken = ''; // why this page cannot show what the watch says
let state = null;
let newest = null; // what the watch said and is not shown yet
let costMs = 0; // how long the last state took to be shown

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
  const {which, text} = judge({state, broken, quietMs: Date.now() - heardMs, fault, openMs: performance.now()});
  document.body.dataset.sight = which;
  put(by('sight'), text);
  put(by('sees'), SEES[which]);
  put(by('none'), which === 'waiting' ? 'no information' : which === 'sees' ? 'None.' : 'None, as far as the watch could see.');
  tab(which, Object.entries(state?.unacknowledged ?? {}).reduce((n, [p, c]) => n + (p === 'information' ? 0 : c), 0));
  soundFor(which, state?.unacknowledged);
}

/** The last of some operations in words. */
function last(some) {
  const o = some.at(-1);
  return o ? `${o.gauge ? `${o.gauge}: ` : ''}${o.text || o.what}, ${span((Date.parse(state.log) - Date.parse(o.at)) / 1000)} ago` : 'none logged';
}

/** How a source is, in a sentence. */
function source(s) {
  const refused = Object.entries(s.refused).map(([why, n]) => `${n} refused as ${why}`);
  return [`${s.name}: ${s.connected ? 'connected' : 'not connected'}`, `${s.taken} readings taken`, ...refused].join(', ') + (s.fault ? `. ${s.fault}` : '');
}

function head() {
  put(by('name'), state.name);
  by('exercise').hidden = !state.exercise;
  put(by('phase'), `${state.phase || 'not stated'}${state.phase_refused ? `. ${state.phase_refused}` : ''}`);
  const next = state.shift?.proposed;
  put(by('on-shift'), `${state.shift?.who ?? 'not set'}${next ? `, hand-over to ${next.to} not accepted yet` : ''}`);
  by('ashore').hidden = !state.ashore;
  put(by('ashore'), fromShore(state.ashore, state.log));
  put(by('mode'), state.mode);
  by('sources-part').hidden = !state.sources;
  sentences(by('sources'), (state.sources ?? []).map(source));
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
  holds(by('holds'), state.holds, state.exercise);
  put(by('held-count'), state.held.length + (state.holds.length > state.held.length ? `, ${state.holds.length} points` : ''));
  list(by('over'), state.over.map(dated));
  put(by('over-count'), state.over.length);
  filter();
  gauges(state);
  wellSays(state);
  follow(state);
  fill(by('routes'), state.routes, () => by('routes').replaceChildren(...(state.routes.length ? state.routes : [null]).map((r) => {
    const li = document.createElement('li');
    li.textContent = r == null ? 'The plan names no notification route: alarms are shown on this page only.'
      : `${r.name}: ${r.waiting === 0 ? 'everything delivered' : `${r.waiting} waiting`}${r.failing ? `, fails: ${r.fault}` : ''}`;
    li.dataset.failing = r?.failing ? 'yes' : 'no';
    return li;
  })));
}

soundControls({button: by('sound'), every: by('every'), from: by('quiet-from'), to: by('quiet-to')});
themeChoice(by('theme'));
filterControls();
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
  try {
    show();
    broken = '';
  } catch (e) {
    broken = String(e);
    console.error(e);
  }
  look();
  if (document.hidden) return; // nothing is painted, and what waits for that would pile up for days
  requestAnimationFrame(() => setTimeout(() => { costMs = performance.now() - from; }, 0));
}

async function start() {
  let fixed;
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
  for (const [id, words] of [['steps', [...fixed.closure_steps, ...fixed.phases]], ['means', fixed.means], ['gauge-ids', fixed.gauges]]) {
    by(id).replaceChildren(...words.map((w) => { const o = document.createElement('option'); o.value = w; o.textContent = w; return o; }));
  }
  well(fixed);
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
  redrawWell();
  redraw();
  redrawTrails();
}

addEventListener('resize', anew);
onTheme(anew);
onChoice(redrawTrails);

/** The wall view shows without a control what is read from four metres. */
function view() {
  document.body.dataset.view = location.hash === '#wall' ? 'wall' : 'desk';
  dispatchEvent(new Event('resize'));
}
addEventListener('hashchange', view);
view();
setInterval(look, 500);
start();
