// What it costs to be wrong: a row for each leak kept shut, one for an intact well reopened.
import {by, fill, heads, put, stacked} from './dom.js';

/** Fills the table whose ids begin with this name. */
export function costRows(name, said) {
  const rows = by(`${name}-rows`);
  fill(rows, said.costs, () => rows.replaceChildren(...said.costs.map((c) =>
    stacked(heads(rows), [`${c.explanation}, ${c.error}`, c.cost, c.assumes]))));
  put(by(`${name}-cautions`), said.cautions);
}
