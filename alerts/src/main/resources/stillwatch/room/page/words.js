// The page's one home of times, durations, numbers and words.
import {local} from './choice.js';

/** A duration of seconds for people. */
export function span(seconds) {
  if (seconds < 10) return `${Math.max(0, seconds).toFixed(1)} s`;
  if (seconds < 120) return `${Math.round(seconds)} s`;
  if (seconds < 7200) return `${Math.round(seconds / 60)} min`;
  return `${Math.floor(seconds / 3600)} h ${String(Math.floor(seconds / 60 % 60)).padStart(2, '0')} min`;
}

/** An instant in full, UTC. */
export const clock = (iso) => iso ? `${iso.slice(0, 10)} ${iso.slice(11, 19)} UTC` : 'no information';

/** An instant to the minute; with its day when that is not the day of the log. */
export function hour(iso, log) {
  if (!iso) return 'no information';
  return `${log && iso.slice(0, 10) !== log.slice(0, 10) ? `${iso.slice(5, 10)} ` : ''}${iso.slice(11, 16)}`;
}

/** An instant to the second, UTC; with its day when that is not the day of the log. */
export function second(iso, log) {
  if (!iso) return 'no information';
  return `${log && iso.slice(0, 10) !== log.slice(0, 10) ? `${iso.slice(5, 10)} ` : ''}${iso.slice(11, 19)} UTC`;
}

/** A priority as a row has room for. */
export const short = (priority) => priority === 'information' ? 'info' : priority;

/** The age of a reading. */
export const age = (seconds) => seconds == null ? 'no information' : `${span(seconds)} ago`;

/** Priorities, the most urgent first. */
export const PRIORITIES = ['high', 'medium', 'low', 'information'];

/** A shape for each priority, so that none is told by colour alone. */
export const SHAPES = {high: '▲', medium: '◆', low: '●', information: '○'};

const STATES = { // as in ANSI/ISA-18.2
  'unacknowledged': 'unacknowledged',
  'acknowledged': 'acknowledged',
  'returned-unacknowledged': 'unacknowledged',
  'latched-unacknowledged': 'latched, unacknowledged',
  'latched-acknowledged': 'latched, acknowledged, to be reset',
  'shelved': 'shelved',
  'suppressed-by-design': 'suppressed by design',
  'out-of-service': 'out of service',
  'normal': 'acknowledged',
};

/** The state of an alarm in a few words. */
export function state(a, log) {
  const active = a.returned ? `returned to normal ${hour(a.returned, log)}` : `active since ${hour(a.onset, log)}${a.age_s == null ? '' : ` (${span(a.age_s)})`}`;
  const information = a.state === 'acknowledged' && !a.acknowledged_by;
  return `${active}, ${information ? 'for information' : STATES[a.state]}`;
}

/** An alarm's title with the gauges it is based on. */
export const title = (a) => `${a.title}${a.gauges.length ? ` (${a.gauges.join(', ')})` : ''}`;

/** Alarms in the order in which they want a person: unacknowledged before the others, urgent before less so, new before old. */
export function urgent(alarms) {
  const rank = (a) => (a.asks ? 0 : PRIORITIES.length) + PRIORITIES.indexOf(a.priority);
  return [...alarms].sort((a, b) => rank(a) - rank(b) || Date.parse(b.raised) - Date.parse(a.raised));
}

/** Times on an axis, as a clock of the charts' zone shows them: with the day where more than a day is shown, with seconds where less than ten minutes are. */
export function axisTimes(u, splits) {
  const {min, max} = u.scales.x;
  const [from, to] = max - min > 86400 ? [5, 16] : max - min < 600 ? [11, 19] : [11, 16];
  return splits.map((s) => s == null ? '' : local(s).slice(from, to));
}
