// What will be recorded is read once more before it counts.
import {by} from './dom.js';

/** Shows what will be recorded; answers whether it shall be. */
export function lastLook(says) {
  by('last-look-says').replaceChildren(...Object.entries(says).flatMap(([name, text]) => {
    const dt = document.createElement('dt');
    const dd = document.createElement('dd');
    dt.textContent = name;
    dd.textContent = text;
    return [dt, dd];
  }));
  const dialog = by('last-look');
  dialog.returnValue = 'no';
  dialog.showModal();
  return new Promise((done) => dialog.addEventListener('close', () => done(dialog.returnValue === 'yes'), {once: true}));
}
