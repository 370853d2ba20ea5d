// The list of alarms: each keeps its element while it stands, and what is being typed in it.
import {fill} from './dom.js';
import {span} from './sheets.js';
import {act, me, onSend} from './talk.js';
import {trailChart} from './chart.js';

const words = {
  'unacknowledged': 'lasts, nobody has acknowledged it',
  'acknowledged': 'lasts, acknowledged',
  'returned-unacknowledged': 'is over, nobody has acknowledged it',
  'latched-unacknowledged': 'is over, latched, nobody has acknowledged it',
  'latched-acknowledged': 'is over, acknowledged, waits to be reset',
  'shelved': 'shelved',
  'suppressed-by-design': 'suppressed by the plan in this phase',
  'out-of-service': 'out of service',
  'normal': 'is over, seen to',
};

const clock = (iso) => iso ? `${iso.slice(0, 10)} ${iso.slice(11, 19)} UTC` : 'not known';
const title = (a) => `${a.title}${a.gauges.length ? ` (${a.gauges.join(', ')})` : ''}`;

const trails = new Map(); // what is drawn where

/** Draws the trails that stand open again, in the colours of now. */
export function redrawTrails() {
  for (const [into, alarm] of trails) {
    if (into.isConnected) trailChart(into, alarm);
    else trails.delete(into);
  }
}

function tell(li, a) {
  const q = (c) => li.querySelector(c);
  li.dataset.id = a.id;
  li.dataset.rule = a.rule;
  li.dataset.priority = a.priority;
  li.dataset.state = a.state;
  li.dataset.asks = a.asks ? 'yes' : 'no';
  li.dataset.lasts = a.returned ? 'no' : 'yes';
  q('.priority').textContent = a.priority;
  q('.title').textContent = title(a) + (a.times > 1 ? `, ${a.times} times` : '');
  const information = a.state === 'acknowledged' && !a.acknowledged_by;
  q('.state').textContent = (information ? 'lasts; to know, nobody need act' : words[a.state]) + (a.age_s == null ? '' : `; began ${span(a.age_s)} ago`);
  q('.sentence').textContent = a.returned ? `${a.raised_summary} Over since ${clock(a.returned)}: ${a.summary}` : a.summary;
  q('.advice').textContent = `Advice: ${a.advice}`;
  const limits = Object.entries(a.limits).map(([k, v]) => `${k} ${v}`).join(', ');
  q('.facts').textContent = `Began ${clock(a.onset)}, raised ${clock(a.raised)}, rule ${a.rule}, phase ${a.phase || 'not stated'}${a.change ? `, change ${a.change}` : ''}. `
    + `Limits in force: ${limits}.${a.acknowledged_by ? ` Acknowledged by ${a.acknowledged_by}${a.note ? `: ${a.note}` : ''}.` : ''}`;
  const latched = a.state === 'latched-acknowledged';
  q('form.acknowledge').hidden = !(a.asks || latched);
  q('form.acknowledge label').hidden = latched;
  q('form.acknowledge button').textContent = latched ? 'Reset' : 'Acknowledge';
  q('details.explain').hidden = !a.change;
  q('.explained').hidden = !a.explained;
  q('.explained').textContent = a.explained ? `Explained by ${a.explained.by}, ${clock(a.explained.at)}, cause ${a.explained.cause}: ${a.explained.why}` : '';
  li.dataset.change = a.change ?? '';
  q('form.remove').hidden = me.role !== 'administer';
  const behind = a.behind ?? [];
  q('.behind').hidden = behind.length === 0;
  q('.behind summary').textContent = `explains ${a.behind_count} more`;
  fill(q('.behind ul'), behind.map(({age_s: age, ...rest}) => rest), () => q('.behind ul').replaceChildren(...behind.map((b) => {
    const line = document.createElement('li');
    line.textContent = `${b.priority.toUpperCase()} ${title(b)}: ${b.summary} (${words[b.state]})`;
    if (b.asks) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = 'Acknowledge';
      button.addEventListener('click', () => act(`api/alarms/${b.id}/acknowledge`, {note: ''}).catch((e) => { line.append(` ${e.message}`); }));
      line.append(' ', button);
    }
    return line;
  })));
}

function make(a) {
  const li = document.getElementById('alarm').content.firstElementChild.cloneNode(true);
  const on = (c, doing) => {
    const form = li.querySelector(c);
    onSend(form, async (f) => {
      const said = await doing(f);
      form.reset(); // what was typed is done with
      return said;
    });
  };
  on('form.acknowledge', async (f) => {
    await act(`api/alarms/${a.id}/${li.dataset.state === 'latched-acknowledged' ? 'reset' : 'acknowledge'}`, {note: f.note ?? ''});
  });
  on('form.shelve', async (f) => {
    await act(`api/alarms/${a.id}/shelve`, {minutes: Number(f.minutes), reason: f.reason});
    return 'Shelved.';
  });
  on('form.explain', async (f) => {
    await act('api/explanations', {change: li.dataset.change, ...f});
    return 'It is in the log.';
  });
  on('form.note', async (f) => {
    await act(`api/alarms/${a.id}/note`, f);
    return 'It is in the record.';
  });
  on('form.remove', async (f) => {
    await act(`api/alarms/${a.id}/remove`, f);
  });
  li.querySelector('details.evidence').addEventListener('toggle', async (event) => {
    const into = li.querySelector('.trail');
    if (!event.target.open || trails.has(into)) return;
    trails.set(into, await (await fetch(`api/alarms/${a.id}`)).json());
    trailChart(into, trails.get(into));
  });
  return li;
}

/** Makes the list show these alarms in this order. One with the focus is not moved, nor taken away while something is typed there. */
export function list(ol, alarms) {
  const busy = (li) => li.contains(document.activeElement);
  const typed = (li) => busy(li) && document.activeElement.value;
  const have = new Map([...ol.children].map((li) => [li.dataset.id, li]));
  const wanted = new Set(alarms.map((a) => a.id));
  have.forEach((li, id) => { if (!wanted.has(id) && !typed(li)) li.remove(); });
  let next = ol.firstElementChild;
  for (const a of alarms) {
    const li = have.get(a.id) ?? make(a);
    const {age_s: age, behind, ...rest} = a;
    fill(li, [rest, behind?.map((b) => [b.id, b.state]), age == null ? '' : span(age)], () => tell(li, a));
    if (li !== next && !busy(li)) {
      ol.insertBefore(li, next);
      continue;
    }
    while (next !== li) { // the others go round it; their turn comes
      const passed = next;
      next = next.nextElementSibling;
      ol.append(passed);
    }
    next = li.nextElementSibling;
  }
}

/** Shows what is held back, by whom and until when, with a way to end it. */
export function holds(ul, all) {
  fill(ul, all, () => ul.replaceChildren(...all.map((h) => {
    const li = document.createElement('li');
    li.textContent = `${h.point}: ${h.how} by ${h.by}, ${h.until ? `until ${clock(h.until)}` : 'until somebody returns it'}: ${h.reason} `;
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = 'End it';
    button.addEventListener('click', () => act('api/holds/restore', {point: h.point}).catch((e) => { li.append(` ${e.message}`); }));
    li.append(button);
    return li;
  })));
}
