// What is read at a glance: counts, the pressure with its place among the bands, clocks, senses. Shows what the state says.
import {by, fill, put} from './dom.js';
import {PRIORITIES, SHAPES, age, hour, span} from './words.js';

const NONE = 'no information';
const TRAIL_S = 6 * 3600;

function counts(all) {
  const shown = PRIORITIES.slice(0, 3);
  fill(by('counts'), all, () => by('counts').replaceChildren(...shown.map((p) => {
    const li = document.createElement('li');
    li.dataset.priority = p;
    li.dataset.any = all[p] ? 'yes' : 'no';
    li.textContent = `${SHAPES[p]} ${p.toUpperCase()} ${all[p]}`;
    return li;
  })));
}

/** The range of the scale: both bands and the ceiling, with room below and above. */
function range(live) {
  const step = live.intact_low - live.leak_high;
  return [live.leak_high - 1.2 * step, live.ceiling + 0.35 * step];
}

function scale(live) {
  const [low, high] = range(live);
  const y = (v) => 100 * (1 - (Math.min(high, Math.max(low, v)) - low) / (high - low));
  const edges = {leak: [live.leak_high, low], ambiguous: [live.intact_low, live.leak_high], intact: [live.ceiling, live.intact_low], above: [high, live.ceiling]};
  for (const [zone, [top, bottom]] of Object.entries(edges)) {
    const e = by(`zone-${zone}`);
    e.style.top = `${y(top)}%`;
    e.style.height = `${y(bottom) - y(top)}%`;
    e.dataset.here = zone === 'above' ? (live.band === 'above-ceiling' ? 'yes' : 'no') : zone === live.band ? 'yes' : 'no';
  }
  put(by('edge-ceiling'), live.ceiling.toFixed(1));
  put(by('edge-intact'), live.intact_low.toFixed(1));
  put(by('edge-leak'), live.leak_high.toFixed(1));
  by('edge-ceiling').style.top = `${y(live.ceiling)}%`;
  by('edge-intact').style.top = `${y(live.intact_low)}%`;
  by('edge-leak').style.top = `${y(live.leak_high)}%`;
  const at = live.trail.filter(([ago]) => ago <= TRAIL_S).map(([ago, v]) => `${(1000 * (1 - ago / TRAIL_S)).toFixed(1)},${y(v).toFixed(2)}`);
  by('trail-line').setAttribute('points', at.join(' '));
  by('here').style.top = `${y(live.value)}%`;
  by('expected').hidden = live.expected == null;
  if (live.expected != null) by('expected').style.top = `${y(live.expected)}%`;
  by('band-scale').setAttribute('aria-label',
    `${live.value_text} ${live.unit}: ${live.band_text}. Leak up to ${live.leak_high.toFixed(1)}, intact from ${live.intact_low.toFixed(1)}, ceiling ${live.ceiling.toFixed(1)} ${live.unit}.${live.expected == null ? '' : ` Expected ${live.expected.toFixed(2)}.`}`);
}

/** How long the pressure may be low. */
const lowLimit = (live) => `${+(live.low_of_s / 3600).toFixed(1)} h`;

function figure(state) {
  const live = state.live;
  by('figure').dataset.band = live?.band ?? 'none';
  put(by('pressure'), live ? live.value_text : NONE);
  put(by('pressure-unit'), live?.unit ?? '');
  put(by('pressure-by'), live ? `${live.gauge}, last reading ${age(state.age_s)}` : 'No shut-in gauge can be trusted.');
  put(by('rate'), live?.rate_text ? `${!/[1-9]/.test(live.rate_text) ? '' : live.rate > 0 ? '▲' : '▼'} ${live.rate_text} ${live.unit}/h`.trim() : NONE);
  put(by('band'), live?.band_text ?? NONE);
  put(by('low-hours'), !live ? NONE : live.band === 'open' ? 'not counted' : live.low_since ? `${(live.low_s / 3600).toFixed(1)} h${live.low_s < live.low_of_s ? ` of ${lowLimit(live)}` : `, over ${lowLimit(live)}`}` : 'no');
  put(by('expected-text'), !live ? NONE : live.expected == null ? 'expected course: no information' : `expected ${live.expected.toFixed(2)} ${live.unit} ◇`);
  by('band-scale').hidden = !live;
  if (live) fill(by('band-scale'), live, () => scale(live));
}

/** One clock: how long, and the time of day beside it. */
function time(id, text, at, late) {
  put(by(id), text);
  put(by(`${id}-at`), at);
  by(id).dataset.overdue = late ? 'yes' : 'no';
}

function clocks(s) {
  time('shut-in', s.shut_in_s == null ? 'not shut in' : span(s.shut_in_s), s.shut_in ? `since ${hour(s.shut_in, s.log)}` : '');
  const late = s.hold_point_s < 0;
  time('hold-point', s.hold_point_s == null ? 'none set' : late ? `OVERDUE by ${span(-s.hold_point_s)}` : `in ${span(s.hold_point_s)}`, s.hold_point ? `at ${hour(s.hold_point, s.log)}` : '', late);
  const over = s.test_end_s < 0;
  time('test-end', s.test_end_s == null ? 'not running' : over ? `over by ${span(-s.test_end_s)}` : `in ${span(s.test_end_s)}`, s.test_end ? `at ${hour(s.test_end, s.log)}` : '', over);
  const live = s.live;
  const used = live?.low_s >= live?.low_of_s;
  time('low-clock', !live ? NONE : live.band === 'open' ? 'not counted' : !live.low_since ? 'not low' : `${span(live.low_s)}${used ? '' : ` of ${lowLimit(live)}`}`,
    live?.low_since ? `${used ? `over ${lowLimit(live)} since` : 'runs out at'} ${hour(live.low_full, s.log)}` : '', Boolean(live?.low_since));
}

function senses(all) {
  const ul = by('senses');
  while (ul.children.length < all.length) ul.append(document.getElementById('sense').content.firstElementChild.cloneNode(true));
  all.forEach((s, i) => {
    const li = ul.children[i];
    li.dataset.abnormal = s.abnormal ? 'yes' : 'no';
    put(li.querySelector('.name'), s.name);
    put(li.querySelector('.word'), s.word);
    put(li.querySelector('.number'), s.number);
    put(li.querySelector('.age'), s.age_s == null ? 'age: no information' : age(s.age_s));
  });
}

/** Shows all of it. */
export function glance(state) {
  counts(state.unacknowledged);
  figure(state);
  clocks(state);
  senses(state.senses);
}
