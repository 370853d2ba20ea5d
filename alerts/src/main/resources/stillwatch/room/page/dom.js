// Changes only what is different: what stays keeps its focus, is not read out again and costs nothing.

/** The element of that id. */
export const by = (id) => document.getElementById(id);

const said = new WeakMap();

/** Sets an element's text. */
export function put(element, text) {
  if (element.textContent !== String(text)) element.textContent = text;
}

/** A row of a table that is shown on a narrow screen with its heads beside its cells. */
export function stacked(heads, texts) {
  const tr = document.createElement('tr');
  texts.forEach((text, i) => {
    const td = tr.insertCell();
    td.textContent = text;
    td.dataset.head = heads[i];
  });
  return tr;
}

/** The heads of a table. */
export const heads = (body) => [...body.closest('table').querySelectorAll('th')].map((th) => th.textContent);

/** Fills an element when what it says is not what it was filled with last. */
export function fill(element, says, filling) {
  const key = JSON.stringify(says);
  if (said.get(element) === key) return;
  said.set(element, key);
  filling();
}

/** Fills a list with sentences. */
export const sentences = (list, texts) => fill(list, texts, () => list.replaceChildren(...texts.map((text) => {
  const li = document.createElement('li');
  li.textContent = text;
  return li;
})));
