// Lanes under the chart of pressure: alarms, operations and passes, each as a mark that tells its text when pointed at.
import {toAlarm} from './alarms.js';
import {localClock} from './choice.js';
import {PRIORITIES, SHAPES} from './words.js';

const APART = 26; // nearer marks could not be pressed each by itself (WCAG 2.2, 2.5.8: 24 pixels)

/** Marks that lie nearer than a finger or a pointer can tell apart are one, which says all of them. */
function together(some) {
  const all = [];
  for (const m of some.sort((a, b) => a.x - b.x)) {
    const text = `${localClock(m.at)}, ${m.text}`;
    const last = all.at(-1);
    if (last && m.x - last.x < APART) {
      last.texts.push(text);
      last.bad ||= m.bad;
      if (PRIORITIES.indexOf(m.priority) < PRIORITIES.indexOf(last.priority)) Object.assign(last, {priority: m.priority, id: m.id});
    } else {
      all.push({...m, texts: [text]});
    }
  }
  return all;
}

/**
 * Shows marks in lanes.
 * @param {HTMLElement} into holds one element a lane
 * @param lanes {name: [{at, text, bad, priority, id}]}: at in seconds since 1970; id of the alarm that pressing it goes to
 * @param {(at: number) => number} place where a moment is, pixels from the left of the lanes
 * @param {[number, number]} ends where the lanes begin and end, pixels
 * @param {(text: string) => void} tell told what a mark says when somebody comes to it
 */
export function showLanes(into, lanes, place, [left, right], tell) {
  const marks = (name, some) => together(some.map((m) => ({...m, x: place(m.at)})).filter((m) => m.x >= left && m.x <= right)).map((m) => {
    const b = document.createElement('button');
    b.type = 'button';
    b.className = 'mark';
    b.style.left = `${m.x}px`;
    b.dataset.bad = m.bad ? 'yes' : 'no';
    const text = `${name}: ${m.texts.join('; ')}`;
    b.setAttribute('aria-label', text);
    b.title = text;
    for (const kind of ['focus', 'click', 'pointerenter']) b.addEventListener(kind, () => tell(text));
    if (m.priority) {
      b.dataset.priority = m.priority;
      b.textContent = SHAPES[m.priority];
      b.addEventListener('click', () => toAlarm(m.id));
    }
    return b;
  });
  into.replaceChildren(...Object.entries(lanes).map(([name, some]) => {
    const lane = document.createElement('div');
    lane.className = 'lane';
    const word = document.createElement('span');
    word.textContent = name;
    lane.append(word, ...marks(name, some));
    return lane;
  }));
}
