// Changes only what is different: what stays keeps its focus, is not read out again and costs nothing.

const said = new WeakMap();

/** Sets an element's text. */
export function put(element, text) {
  if (element.textContent !== String(text)) element.textContent = text;
}

/** Fills an element when what it says is not what it was filled with last. */
export function fill(element, says, filling) {
  const key = JSON.stringify(says);
  if (said.get(element) === key) return;
  said.set(element, key);
  filling();
}
