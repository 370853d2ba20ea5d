// The list of alarms: each keeps its element while it stands, and what is being typed in it.
import {fill, put} from './dom.js';
import {act, me, onSend} from './talk.js';
import {trailChart} from './chart.js';
import {SHAPES, clock, hour, short, span, state, title} from './words.js';

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
  q('.priority').textContent = short(a.priority);
  q('.shape').textContent = SHAPES[a.priority];
  put(q('.title'), title(a) + (a.times > 1 ? `, ${a.times} times` : ''));
  put(q('.size'), a.size ?? '');
  put(q('.state'), state(a, a.log));
  q('.live').hidden = !a.live;
  put(q('.live'), a.live ? `Now: ${a.live}.` : '');
  put(q('.sentence'), `At ${clock(a.raised)}: ${a.returned ? a.raised_summary : a.summary}`);
  q('.returned').hidden = !a.returned;
  q('.returned').dataset.recovered = a.recovered === false ? 'no' : 'yes';
  put(q('.returned'), a.returned ? `Returned to normal at ${hour(a.returned, a.log)}: ${a.summary} ${a.returned_text ?? ''}` : '');
  q('.returned').dataset.note = a.returned_text ?? '';
  put(q('.advice'), `Advice: ${a.advice}`);
  const limits = Object.entries(a.limits).map(([k, v]) => `${k} ${v}`).join(', ');
  put(q('.facts'), `Began ${clock(a.onset)}, raised ${clock(a.raised)}, rule ${a.rule}, phase ${a.phase || 'not stated'}${a.change ? `, change ${a.change}` : ''}. `
    + `Limits in force: ${limits}.${a.acknowledged_by ? ` Acknowledged by ${a.acknowledged_by}${a.note ? `: ${a.note}` : ''}.` : ''}`);
  const latched = a.state === 'latched-acknowledged';
  q('form.acknowledge').hidden = !(a.asks || latched);
  q('form.acknowledge label').hidden = latched;
  q('form.acknowledge button').textContent = latched ? 'Reset' : 'Acknowledge';
  q('details.explain').hidden = !a.change;
  q('.explained').hidden = !a.explained;
  q('.explained').textContent = a.explained ? `Explained by ${a.explained.by}, ${clock(a.explained.at)}, cause ${a.explained.cause}: ${a.explained.why}` : '';
  li.dataset.change = a.change ?? '';
  q('.hypotheses').hidden = !a.hypotheses;
  fill(q('.hypotheses tbody'), a.hypotheses, () => q('.hypotheses tbody').replaceChildren(...Object.entries(a.hypotheses ?? {}).map(([cause, h]) => {
    const tr = document.createElement('tr');
    for (const text of [cause, (h.for ?? []).join('; ') || 'nothing', (h.against ?? []).join('; ') || 'nothing']) tr.insertCell().textContent = text;
    return tr;
  })));
  q('form.remove').hidden = me.role !== 'administer';
  const behind = a.behind ?? [];
  q('.behind').hidden = behind.length === 0;
  put(q('.behind summary'), `explains ${a.behind_count} more`);
  fill(q('.behind ul'), behind.map(({age_s: age, ...rest}) => rest), () => q('.behind ul').replaceChildren(...behind.map((b) => {
    const line = document.createElement('li');
    line.textContent = `${b.priority.toUpperCase()} ${title(b)}: ${b.summary} (${state(b, a.log)})`;
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

/** Makes the list show these alarms in this order. One with the focus is not moved, nor taken away while somebody reads or types there. */
export function list(ol, alarms) {
  const busy = (li) => li.contains(document.activeElement);
  const used = (li) => busy(li) && (document.activeElement.value || document.activeElement.matches('details.row[open] summary'));
  const have = new Map([...ol.children].map((li) => [li.dataset.id, li]));
  const wanted = new Set(alarms.map((a) => a.id));
  have.forEach((li, id) => {
    if (wanted.has(id)) return;
    if (used(li)) put(li.querySelector('.state'), 'no longer in this list');
    else li.remove();
  });
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

/** Shows what is shelved or out of service, by whom and until when, with a way to end it. */
export function holds(ul, all, exercise) {
  fill(ul, all, () => ul.replaceChildren(...all.map((h) => {
    const li = document.createElement('li');
    li.textContent = `${h.point}: ${h.how} by ${h.by}, ${h.until ? `until ${clock(h.until)}${exercise ? ' by this machine\'s clock' : ''}` : 'until it is returned to service'}: ${h.reason} `;
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = 'End';
    button.addEventListener('click', () => act('api/holds/restore', {point: h.point}).catch((e) => { li.append(` ${e.message}`); }));
    li.append(button);
    return li;
  })));
}

/** Goes to an alarm and opens it; says whether it is there. */
export function toAlarm(id) {
  const alarm = document.querySelector(`li[data-id="${CSS.escape(id)}"]`);
  if (!alarm) return false;
  alarm.closest('details:not(.row)')?.setAttribute('open', '');
  alarm.hidden = false;
  alarm.querySelector('details.row').open = true;
  alarm.scrollIntoView({block: 'start'});
  alarm.querySelector('summary').focus();
  return true;
}
