// The sheets beside the alarms: evidence and decision, log book, build-up, shift, figures; those of the test's beginning and end have files of their own.
import uPlot from './uplot/uPlot.esm.js';
import {buildUpPlots} from './build-up.js';
import {toAlarm} from './alarms.js';
import {closing} from './closing.js';
import {costRows} from './costs.js';
import {by, fill, put} from './dom.js';
import {end, endForm} from './end.js';
import {evidenceRows, summed} from './evidence.js';
import {lastLook} from './last-look.js';
import {leaving, leavingForms} from './leaving.js';
import {readiness, readinessForms} from './readiness.js';
import {seabed, seabedForm} from './seabed.js';
import {act, me, onSend} from './talk.js';
import {css} from './theme.js';
import {clock, span} from './words.js';

const cells = (tr, ...texts) => texts.forEach((text) => { tr.insertCell().textContent = text; });
let plotted = null;
let newest = null; // what the watch said last

async function evidence() {
  const e = await (await fetch('api/evidence')).json();
  put(by('question'), e.shut_in ? `Shut in for ${span(e.shut_in_s)}.${e.hold_point ? ` Hold point ${e.hold_point_s < 0 ? `OVERDUE by ${span(-e.hold_point_s)}` : `in ${span(e.hold_point_s)}`}, at ${clock(e.hold_point)}.` : ''}` : 'The well is not shut in, or nobody logged it.');
  evidenceRows(by('evidence-rows'), e.rows, go);
  costRows('costs', e);
  return e;
}

/** Goes to what a row of the evidence is based on. */
function go(link) {
  if (link === 'review') return sheet('buildup');
  if (!toAlarm(link)) sheet('well');
}

async function shift() {
  const s = await (await fetch('api/shift')).json();
  by('shift-head').textContent = s.who ? `${s.who} took over from ${s.from} at ${clock(s.since)}. ${s.text}` : 'No hand-over accepted yet; everything since the beginning:';
  const next = s.proposed;
  by('proposed').hidden = !next;
  put(by('proposed-says'), next ? `${next.by} proposed at ${clock(next.at)} to hand over to ${next.to}, who has not accepted yet. ${next.text}` : '');
  by('accept').elements.entry.value = next?.entry ?? '';
  by('accept').hidden = !next || !(me.open || me.name.toLowerCase() === next.to.toLowerCase());
  by('left-out').hidden = !s.left_out;
  put(by('left-out'), `${s.left_out} earlier alarms are left out here; the record and the report have them.`);
  fill(by('told'), s.told, () => by('told').replaceChildren(...s.told.map(entry)));
  fill(by('told-before'), s.told_before, () => by('told-before').replaceChildren(...s.told_before.map(entry)));
  find();
  by('people-part').hidden = me.role !== 'administer' || me.open;
  if (me.role === 'administer' && !me.open) {
    const {people, passes} = await (await fetch('api/people')).json();
    fill(by('people'), people, () => by('people').replaceChildren(...people.map((p) =>
      mayEnd(`${p.name} may ${p.role}, invited by ${p.invited_by || 'the watch'} `, p.name === me.name ? '' : `Remove ${p.name}`, 'api/people/remove', {name: p.name}))));
    fill(by('passes'), passes, () => by('passes').replaceChildren(...passes.map((p) => {
      const what = p.what === 'link' ? `Link ${p.id}` : `Token of ${p.name} (${p.id})`;
      return mayEnd(`${what}: ${p.role}, made by ${p.made_by || 'the watch'}, ${p.until ? `until ${clock(p.until)}` : 'until ended'} `, `End ${p.id}`, 'api/people/revoke', {id: p.id});
    })));
    by('no-passes').hidden = passes.length > 0;
  }
}

/** A row of the list of entries; what somebody entered in words can be corrected. */
function entry(t) {
  const tr = document.createElement('tr');
  cells(tr, t.seq, clock(t.at), t.what, t.by, t.text);
  const cell = tr.insertCell();
  if (t.entered) {
    const b = document.createElement('button');
    b.type = 'button';
    b.textContent = 'Correct';
    b.setAttribute('aria-label', `Correct entry ${t.seq}`);
    b.addEventListener('click', () => {
      by('correction').elements.entry.value = t.seq;
      by('correction').elements.text.focus();
    });
    cell.append(b);
  }
  return tr;
}

/** Shows only the entries that have all the words somebody looks for. */
function find() {
  const words = by('find-entry').value.toLowerCase().split(/\s+/);
  document.querySelectorAll('#told tr, #told-before tr').forEach((tr) => {
    tr.hidden = !words.every((w) => tr.textContent.toLowerCase().includes(w));
  });
}

/** A line with a button that ends what it is about; without one where that has no name. */
function mayEnd(text, name, path, body) {
  const li = document.createElement('li');
  li.textContent = text;
  if (name) {
    const b = document.createElement('button');
    b.type = 'button';
    b.textContent = name;
    const said = document.createElement('output');
    b.addEventListener('click', async () => {
      try {
        await act(path, body);
        shift();
      } catch (fault) {
        put(said, fault.message);
      }
    });
    li.append(b, said);
  }
  return li;
}

async function figures() {
  const f = await (await fetch('api/figures')).json();
  const percent = (x) => `${(100 * x).toFixed(1)} %`;
  const rows = [
    ['Alarms', `${f.alarms} in ${f.hours.toFixed(1)} h`, ''],
    ['Mean in ten minutes', f.per_ten_minutes.toFixed(2), 'about 1 (acceptable), 2 (most an operator can handle)'],
    ['Most in any ten minutes', f.most_in_ten_minutes, '10 or fewer'],
    ['Ten-minute periods with more than 10', percent(f.busy_share), 'under about 1 %'],
    ['Floods', f.floods, ''],
    ['Time in flood', percent(f.flood_share), 'under about 1 %'],
    ['Active for more than a day', f.stale, 'fewer than 5'],
    ['Chattering', f.chattering.join('; ') || 'none', 'none'],
    ['Priorities', Object.entries(f.shares).map(([p, s]) => `${p} ${percent(s)}`).join(', ') || 'none', 'low about 80 %, medium 15 %, high 5 %'],
    ['Most frequent', Object.entries(f.busiest).map(([p, n]) => `${p}: ${n}`).join('; ') || 'none', 'the ten most frequent 1 to 5 % of all'],
  ];
  by('figure-rows').replaceChildren(...rows.map((r) => {
    const tr = document.createElement('tr');
    cells(tr, ...r);
    return tr;
  }));
}

/** Shows what the newest reading of the build-up says. */
export function review(r) {
  by('review').hidden = !r;
  by('unread').hidden = Boolean(r);
  if (!r) return;
  put(by('leads'), `As of ${clock(r.at)}: ${r.leads}`);
  put(by('verdict'), r.verdict ?? '');
  fill(by('candidates'), r, () => explanations(r));
}

function explanations(r) {
  const heads = ['Explanation', 'Weight', 'Leak rate, share of earlier flow', ...(r.ahead ?? []).map((ms) => `Forecast for ${new Date(ms).toISOString().slice(11, 16)}`)];
  by('forecasts').replaceChildren(...(r.candidates ? heads : []).map((text) => {
    const th = document.createElement('th');
    th.scope = 'col';
    th.textContent = text;
    return th;
  }));
  by('candidates').replaceChildren(...(r.candidates ?? []).map((c) => {
    const tr = document.createElement('tr');
    const weight = c.weight < 0.001 ? 'under 0.1 %' : c.weight > 0.999 ? 'over 99.9 %' : `${(100 * c.weight).toFixed(1)} %`;
    cells(tr, c.name, weight, c.leak, ...c.ahead);
    return tr;
  }));
}

async function plots(at) {
  if (!at || at === plotted || by('buildup').hidden) return;
  const answer = await fetch('api/review');
  if (!answer.ok) return;
  buildUpPlots(uPlot, {horner: by('horner'), derivative: by('derivative'), weights: by('weights')}, await answer.json(),
    {line: css('--medium'), axis: css('--dim'), grid: css('--rule'), shades: [1, 2, 3, 4, 5].map((i) => css(`--shade-${i}`))});
  plotted = at;
}

const brings = {evidence, shift, figures, readiness, closing, end: () => end(go), weather: leaving, seabed};
let shown = 'well';
let changed = () => {};

/** Shows a sheet. */
export function sheet(name) {
  shown = name;
  document.querySelectorAll('.sheet').forEach((s) => { s.hidden = s.id !== name; });
  document.querySelectorAll('nav [data-sheet]').forEach((b) => b.setAttribute('aria-pressed', String(b.dataset.sheet === name)));
  bring();
  changed();
}

function bring() {
  brings[shown]?.().catch(() => { /* the state stream says when the watch does not answer */ });
}

/** Draws anew what is drawn once. */
export function redraw() {
  plotted = null;
}

/** Sets the sheets up; told when another one is shown. */
export function sheets(onChange) {
  changed = onChange;
  document.querySelectorAll('nav [data-sheet]').forEach((b) => b.addEventListener('click', () => sheet(b.dataset.sheet)));
  const what = by('operation').elements.what;
  what.addEventListener('change', () => { // only work on a gauge names one
    const work = what.selectedOptions[0].parentElement.id === 'gauge-work';
    by('worked-on').hidden = !work;
    by('gauge-ids').disabled = !work;
  });
  onSend(by('operation'), async (f) => {
    await act('api/operations', f);
    by('operation').elements.text.value = '';
    return 'It is in the log.';
  });
  onSend(by('observation'), async (f) => {
    await act('api/observations', f);
    by('observation').elements.text.value = '';
    return 'It is in the log.';
  });
  onSend(by('note'), async (f) => {
    await act('api/notes', f);
    by('note').reset();
    return 'It is in the record.';
  });
  onSend(by('decision'), async (f) => {
    const e = await evidence();
    const next = f.hours ? {next_review: new Date(Date.parse(e.log) + f.hours * 3_600_000).toISOString()} : {};
    const choice = by('decision').querySelector(`[value=${f.choice}]`).parentElement.textContent.trim();
    const yes = await lastLook({Decided: choice, 'By whom': f.by, Why: f.why, 'Next review': next.next_review ? clock(next.next_review) : 'as planned', Evidence: summed(e.rows)});
    if (!yes) return 'Not recorded.';
    const said = await act('api/decisions', {choice: f.choice, by: f.by, why: f.why, ...next});
    by('decision').reset();
    return `Logged, entry ${said.entry} of the record.`;
  });
  readinessForms();
  endForm();
  leavingForms();
  seabedForm();
  onSend(by('handover'), async (f) => {
    await act('api/handover', f);
    by('handover').reset();
    shift();
    return `Proposed to ${f.to}, who must accept it.`;
  });
  onSend(by('accept'), async (f) => {
    await act('api/handover/accept', {entry: Number(f.entry)});
    shift();
    return '';
  });
  onSend(by('correction'), async (f) => {
    await act('api/corrections', {entry: Number(f.entry), text: f.text});
    by('correction').reset();
    shift();
    return 'It is in the record.';
  });
  by('report').addEventListener('click', () => { by('sign').elements.hash.value = newest.journal; });
  onSend(by('sign'), async (f) => {
    const {entry} = await act('api/signatures', f);
    by('sign').reset();
    shift();
    return `Signed: entry ${entry} of the record.`;
  });
  by('find-entry').addEventListener('input', find);
  onSend(by('invite'), async (f) => {
    const {link} = await act('api/people/invite', f);
    shift();
    return `${location.origin}/#enter=${link} (good once, within a day)`;
  });
  setInterval(() => { if (!document.hidden) bring(); }, 5000);
}

/** Brings the sheets to what the watch now says. */
export function follow(state) {
  newest = state;
  review(state.review);
  plots(state.review?.at).catch(() => { /* the state stream says when the watch does not answer */ });
  fill(by('decisions'), state.decisions, () => by('decisions').replaceChildren(...(state.decisions ?? []).map((d) => {
    const li = document.createElement('li');
    li.textContent = `${clock(d.at)}: ${d.choice}, by ${d.by}: ${d.why}`;
    return li;
  })));
}
