// The table of evidence: one row a sense, read by the place of its mark.
import {fill} from './dom.js';
import {span} from './words.js';

const columns = ['intact', 'leak', 'nothing', 'missing']; // what a row may support, one column each
const supports = {intact: 'supports intact', leak: 'supports a leak', nothing: 'no information', missing: 'missing'};

const cells = (tr, ...texts) => texts.forEach((text) => { tr.insertCell().textContent = text; });

/** Fills a body of the table; a row that is based on something else goes to it. */
export function evidenceRows(into, rows, go) {
  fill(into, rows.map(({age_s: age, ...rest}) => [rest, age == null ? '' : span(age)]), () => into.replaceChildren(...rows.map((r) => {
    const tr = document.createElement('tr');
    tr.dataset.supports = r.supports;
    cells(tr, r.sense, ...columns.map((c) => c === r.supports ? '●' : ''), r.says, r.age_s == null ? 'none' : span(r.age_s));
    const mark = tr.cells[1 + columns.indexOf(r.supports)].appendChild(document.createElement('span'));
    mark.className = 'unseen';
    mark.textContent = supports[r.supports];
    if (r.link) {
      const a = document.createElement('a');
      a.href = '#';
      a.textContent = 'show';
      a.setAttribute('aria-label', `show ${r.sense}`);
      a.addEventListener('click', (event) => { event.preventDefault(); go(r.link); });
      tr.cells[0].append(' ', a);
    }
    return tr;
  })));
}

/** What the evidence supports, counted, with the open changes in full. */
export function summed(rows) {
  const changes = rows.filter((r) => r.sense === 'open change').map((r) => r.says);
  const counts = columns.map((c) => `${supports[c]}: ${rows.filter((r) => r.supports === c).length}`).join(', ');
  return `${counts}.${changes.length ? ` Open: ${changes.join(' ')}` : ' No change is open.'}`;
}
