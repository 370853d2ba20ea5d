// The table of gauges: newest value, state, and its faults over the time shown.
import {by, fill, put} from './dom.js';
import {age, clock, span} from './words.js';

let strips = null; // the newest answer of /api/strips
let asked = ''; // what it was asked for

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
    rect.setAttribute('x', (200 * (s.from - strips.from)) / length);
    rect.setAttribute('width', Math.max(2, (200 * ((s.to ?? strips.to) - s.from)) / length));
    rect.setAttribute('height', 10);
    svg.append(rect);
  }
  return svg;
}

/** Asks for the gauges' health when it has changed, or has moved by a two hundredth of its width. */
export async function health(state, spanS) {
  const says = JSON.stringify([spanS, state.gauges.map((g) => g.against)]);
  if (says === asked && Date.parse(state.log) - strips.to < (strips.to - strips.from) / 200) return;
  strips = await (await fetch(`api/strips?span_s=${spanS}`)).json();
  asked = says;
}

/** Shows the gauges as the state tells them. */
export function gauges(state) {
  const all = state.gauges;
  const stale = Math.max(0, (state.age_s ?? 0) - 2); // so much longer ago they came than the log's own time says
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
    put(tr.cells[4], !g.at ? 'no reading yet' : age(g.age_s + stale));
    put(tr.cells[5], g.where);
  });
}
