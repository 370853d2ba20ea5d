// The filter over the list of alarms. What it hides is counted, so that nobody takes a filtered list for the whole.
import {by, put} from './dom.js';

function wanted(li, {words, priority, asks}) {
  return (!priority.value || li.dataset.priority === priority.value) && (!asks.checked || li.dataset.asks === 'yes')
    && words.value.toLowerCase().split(/\s+/).every((w) => li.textContent.toLowerCase().includes(w));
}

/** Hides what somebody does not want to see, and says how much that is. */
export function filter() {
  const wants = by('filter').elements;
  const all = [...document.querySelectorAll('#alarms > li, #over > li')];
  for (const li of all) li.hidden = !wanted(li, wants);
  const hidden = all.filter((li) => li.hidden);
  const asking = hidden.filter((li) => li.dataset.asks === 'yes').length;
  by('unfilter').hidden = !hidden.length;
  put(by('hidden-alarms'), hidden.length ? `${hidden.length} hidden, ${asking} of them unacknowledged` : '');
}

/** Sets the filter up. */
export function filterControls() {
  by('filter').addEventListener('input', filter);
  by('filter').addEventListener('submit', (event) => event.preventDefault());
  by('unfilter').addEventListener('click', () => {
    by('filter').reset();
    filter();
  });
}
