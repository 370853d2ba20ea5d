// The sounds of the page: until somebody acknowledges, and when the watch is lost. Two tones up and down, nothing a browser or
// a vessel says by itself; the loss of the watch is one long falling tone.

const HIGH = [[784, 0], [587, 0.25], [784, 0.6], [587, 0.85]];
const MEDIUM = [[587, 0], [784, 0.3]];
const KEY = 'sound';

const settings = {every: 10, from: '', to: '', ...JSON.parse(localStorage.getItem(KEY) ?? '{}')};
let context = null;
let lastMs = {};

const running = () => context?.state === 'running';

function tone(from, to, at, lasts) {
  const o = context.createOscillator();
  const g = context.createGain();
  const start = context.currentTime + at;
  o.frequency.setValueAtTime(from, start);
  o.frequency.linearRampToValueAtTime(to, start + lasts);
  g.gain.setValueAtTime(0.0001, start);
  g.gain.exponentialRampToValueAtTime(0.4, start + 0.02);
  g.gain.exponentialRampToValueAtTime(0.0001, start + lasts - 0.02);
  o.connect(g).connect(context.destination);
  o.start(start);
  o.stop(start + lasts);
}

const sounds = {
  high: () => HIGH.forEach(([f, at]) => tone(f, f, at, 0.24)),
  medium: () => MEDIUM.forEach(([f, at]) => tone(f, f, at, 0.24)),
  lost: () => tone(660, 220, 0, 1.4),
};

/** Whether the hour of this machine lies in the person's quiet hours. */
export function quiet(now, {from, to} = settings) {
  if (!from || !to || from === to) return false;
  const at = `${String(now.getHours()).padStart(2, '0')}:${String(now.getMinutes()).padStart(2, '0')}`;
  return from < to ? at >= from && at < to : at >= from || at < to;
}

/**
 * Sounds what is due, again and again until it is no more.
 * @param sight what the page believes of the watch
 * @param counts unacknowledged alarms by priority
 */
export function soundFor(sight, counts) {
  const lost = sight === 'cut' || sight === 'blind';
  const what = lost ? 'lost' : counts?.high ? 'high' : counts?.medium && !quiet(new Date()) ? 'medium' : '';
  if (!what) lastMs = {};
  if (!what || !running()) return;
  const now = performance.now();
  if (now - (lastMs[what] ?? -Infinity) < 1000 * settings.every) return;
  lastMs = {[what]: now};
  sounds[what]();
}

/** Sets up what a person does with sounds. A browser lets a page sound only after somebody pressed something on it. */
export function soundControls({button, every, from, to}) {
  const show = () => {
    button.textContent = running() ? 'Sound on: test' : 'Sound OFF: press to turn on';
    button.dataset.on = running() ? 'yes' : 'no';
  };
  button.addEventListener('click', async () => {
    context ??= new AudioContext();
    await context.resume();
    show();
    sounds.high();
  });
  for (const [name, input] of Object.entries({every, from, to})) {
    input.value = settings[name];
    input.addEventListener('change', () => {
      settings[name] = name === 'every' ? Math.min(60, Math.max(5, Number(input.value) || 10)) : input.value;
      localStorage.setItem(KEY, JSON.stringify(settings));
    });
  }
  show();
}
