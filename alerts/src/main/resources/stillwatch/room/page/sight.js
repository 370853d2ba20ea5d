// Whether the page can be believed: the watch sees, is blind, its exercise is over, or it is gone.
import {clock, span} from './words.js';

/** The watch speaks every second; after this long without a word the page does not believe itself, ms. */
export const QUIET_MS = 4000;

/**
 * Judges what was heard.
 * @param heard {state, broken, quietMs, fault, openMs}: the newest state or null, why the page cannot show it, how long ago it
 *   came, what the watch said against itself, and how long the page is open
 * @returns {{which: string, text: string}} which of waiting, sees, over, blind, cut, and what to say of it
 */
export function judge({state, broken, quietMs, fault, openMs}) {
  const because = fault ? ` ${fault}.` : '';
  if (!state) {
    return openMs > 2 * QUIET_MS ? {which: 'cut', text: `NO DATA FROM THE WATCH since this page was opened.${because}`}
      : {which: 'waiting', text: 'Waiting for the first state from the watch.'};
  }
  if (broken) return {which: 'cut', text: `THIS PAGE HAS FAILED and shows old figures: load it again. ${broken}`};
  if (quietMs > QUIET_MS) {
    return {which: 'cut', text: `${fault ? `THE WATCH CANNOT REPORT ITS STATE, since ${span(quietMs / 1000)}:${because}` : `CONNECTION TO THE WATCH LOST ${span(quietMs / 1000)} ago.`} Everything below is old.`};
  }
  if (state.exercise_over) {
    return {which: 'over', text: `EXERCISE OVER at ${clock(state.log)}: the recording has been played to its end.`};
  }
  if (!state.watching) return {which: 'blind', text: `THE WATCH IS BLIND. ${state.blind.join(' ')} Everything below is old.`};
  return {which: 'sees', text: ''};
}
