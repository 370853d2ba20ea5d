// Light or dark: as the person chose on this machine, else as the machine is set.
const dark = matchMedia('(prefers-color-scheme: dark)');
const listeners = [];

const choice = () => localStorage.getItem('theme') ?? 'system';

function apply() {
  const is = choice() === 'dark' || (choice() === 'system' && dark.matches);
  document.documentElement.dataset.theme = is ? 'dark' : 'light';
  listeners.forEach((l) => l());
}

/** A colour of now, by its name in the style sheet. */
export const css = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/** Calls this whenever the colours have changed. */
export function onTheme(listener) {
  listeners.push(listener);
}

/** Lets a select element choose. */
export function themeChoice(select) {
  select.value = choice();
  select.addEventListener('change', () => {
    localStorage.setItem('theme', select.value);
    apply();
  });
}

dark.addEventListener('change', apply);
apply();
