// A picture of the chart that stands by itself: which well, when, by which plan, and whether it is an exercise.
import {localClock} from './choice.js';
import {css} from './theme.js';

/** What a picture must say of itself. */
export function headline(state, [from, to]) {
  return `${state.exercise ? 'EXERCISE. ' : ''}${state.name}, shut-in pressure, ${localClock(from)} to ${localClock(to)}. Plan ${state.plan}. Record ends with hash ${state.journal}.`;
}

/** Breaks a text into lines of so many pixels. */
function lines(ctx, text, wide) {
  const all = [''];
  for (const word of text.split(' ')) {
    const longer = `${all.at(-1)} ${word}`.trim();
    if (ctx.measureText(longer).width > wide) all.push(word);
    else all[all.length - 1] = longer;
  }
  return all;
}

/** Saves the chart as it is shown as a PNG file. */
export function picture(chart, state, cautions) {
  const drawn = chart.canvas();
  const px = devicePixelRatio;
  const canvas = document.createElement('canvas');
  const ctx = canvas.getContext('2d');
  const font = `${13 * px}px system-ui, "DejaVu Sans", sans-serif`;
  const margin = 12 * px;
  ctx.font = font;
  const above = lines(ctx, headline(state, chart.ends()), drawn.width - 2 * margin);
  const below = lines(ctx, cautions, drawn.width - 2 * margin);
  const row = 18 * px;
  canvas.width = drawn.width;
  canvas.height = drawn.height + (above.length + below.length) * row + 2 * margin;
  ctx.fillStyle = css('--plate');
  ctx.fillRect(0, 0, canvas.width, canvas.height);
  ctx.fillStyle = css('--ink');
  ctx.font = font;
  above.forEach((line, i) => ctx.fillText(line, margin, margin + (i + 0.7) * row));
  ctx.drawImage(drawn, 0, margin + above.length * row);
  below.forEach((line, i) => ctx.fillText(line, margin, canvas.height - margin - (below.length - i - 0.7) * row));
  const a = document.createElement('a');
  a.href = canvas.toDataURL('image/png');
  a.download = `${state.well}-${state.log.slice(0, 19).replaceAll(':', '')}.png`;
  a.click();
}
