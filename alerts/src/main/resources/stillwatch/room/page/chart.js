// The pressure chart: each column of time as its lowest and highest value, bands and ceiling behind, alarms as marks.
import {seats} from './seats.js';
import {onTheme} from './theme.js';
import uPlot from './uplot/uPlot.esm.js';

const css = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
const utc = (s) => uPlot.tzDate(new Date(s * 1000), 'Etc/UTC');

const ROWS = 3; // of names above the chart
const ROW = 15; // pixels

/** Text on a plate of its own, so that no line runs through it. */
function label(ctx, text, x, y) {
  const wide = ctx.measureText(text).width;
  const ink = ctx.fillStyle;
  ctx.fillStyle = css('--plate');
  ctx.fillRect(x - (ctx.textAlign === 'right' ? wide : 0) - 2 * devicePixelRatio, y - 11 * devicePixelRatio, wide + 4 * devicePixelRatio, 14 * devicePixelRatio);
  ctx.fillStyle = ink;
  ctx.fillText(text, x, y);
}

/** As many decimals as the steps of an axis need. */
const steps = (u, splits, axis, space, step) => splits.map((v) => v == null ? '' : v.toFixed(Math.max(0, -Math.floor(Math.log10(step) + 1e-9))));

/** @param {HTMLElement} into @param fixed the answer of /api/fixed */
export function pressureChart(into, fixed) {
  const {bands, shut_in: ids} = fixed;
  let marks = [];
  let done = [];
  let plot;
  let since = null; // seconds since 1970 of the shut-in, when time is drawn by its logarithm

  const line = (u, value, text, above) => {
    const y = u.valToPos(value, 'y', true);
    if (y < u.bbox.top || y > u.bbox.top + u.bbox.height) return;
    u.ctx.beginPath();
    u.ctx.moveTo(u.bbox.left, y);
    u.ctx.lineTo(u.bbox.left + u.bbox.width, y);
    u.ctx.stroke();
    label(u.ctx, text, u.bbox.left + 6 * devicePixelRatio, y + (above ? -5 : 14) * devicePixelRatio);
  };

  /** Those of the marks that lie in the time shown, and where. */
  const within = (u, some) => some.filter((m) => since == null || m.at > since)
    .map((m) => ({...m, x: u.valToPos(place(m.at), 'x', true)}))
    .filter((m) => m.x >= u.bbox.left && m.x <= u.bbox.left + u.bbox.width);

  const upright = ({ctx, bbox}, x, top) => {
    ctx.lineWidth = 2 * devicePixelRatio;
    ctx.beginPath();
    ctx.moveTo(x, top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
  };

  const behind = (u) => {
    const {ctx} = u;
    ctx.save();
    ctx.strokeStyle = ctx.fillStyle = css('--dim');
    ctx.setLineDash([2 * devicePixelRatio, 3 * devicePixelRatio]);
    within(u, done).forEach((mark) => upright(u, mark.x, u.bbox.top));
    ctx.font = `${12 * devicePixelRatio}px system-ui, "DejaVu Sans", sans-serif`;
    ctx.lineWidth = devicePixelRatio;
    ctx.textAlign = 'left';
    ctx.textBaseline = 'alphabetic';
    ctx.setLineDash([6 * devicePixelRatio, 4 * devicePixelRatio]);
    line(u, bands.intact_low, 'from here up: consistent with intact', true);
    line(u, bands.leak_high, 'from here down: consistent with a leak', false);
    ctx.setLineDash([]);
    ctx.lineWidth = 2 * devicePixelRatio;
    line(u, bands.ceiling, 'ceiling', true);
    ctx.restore();
  };

  const over = (u) => {
    const {ctx, bbox} = u;
    const px = devicePixelRatio;
    ctx.save();
    ctx.setLineDash([]);
    ctx.textAlign = 'left';
    ctx.textBaseline = 'alphabetic';
    ctx.font = `${12 * px}px system-ui, "DejaVu Sans", sans-serif`;
    const seen = within(u, marks).map((m) => ({...m, wide: ctx.measureText(m.rule).width}));
    const found = seats(seen, bbox.left, ctx.canvas.width, ROWS);
    const row = (i) => bbox.top - (i * ROW + 3) * px;
    seen.forEach((mark) => {
      const seat = found.get(mark);
      ctx.strokeStyle = ctx.fillStyle = css(mark.priority === 'information' ? '--dim' : `--${mark.priority}`);
      upright(u, mark.x, seat ? row(seat.row) - 9 * px : bbox.top);
      if (seat) ctx.fillText(mark.rule, seat.from, row(seat.row));
    });
    ctx.restore();
  };

  const place = (s) => since == null ? s : (s - since) / 3600;

  const make = () => {
    const axis = {stroke: css('--dim'), grid: {stroke: css('--rule'), width: 1}, ticks: {stroke: css('--rule')}};
    return new uPlot({
      width: into.clientWidth,
      height: Math.max(320, Math.round(window.innerHeight * 0.42)),
      padding: [ROWS * ROW + 4, 16, 0, 0],
      tzDate: utc,
      legend: {show: false},
      cursor: {points: {show: false}},
      scales: {x: since == null ? {} : {time: false, distr: 3}, y: {range: (u, low, high) => low == null ? [bands.leak_high, bands.ceiling] : uPlot.rangeNum(low, high, 0.08, true)}},
      axes: [since == null ? {...axis, values: '{HH}:{mm}'} : {...axis, label: 'hours since the shut-in'}, {...axis, label: bands.unit, size: 70}],
      series: [{}, ...ids.map((id, i) => ({
        label: id, stroke: css(i % 2 ? '--line-2' : '--line-1'), width: 1.5, dash: i % 2 ? [6, 3] : [], points: {show: false},
      }))],
      hooks: {drawClear: [behind], draw: [over]},
    }, [[], ...ids.map(() => [])], into);
  };

  const rebuild = () => {
    const data = plot?.data;
    plot?.destroy();
    plot = make();
    if (data) plot.setData(data);
  };
  rebuild();
  new ResizeObserver(() => plot.setSize({width: into.clientWidth, height: plot.height})).observe(into);
  onTheme(rebuild);

  return {
    /** Draws time by its logarithm since this moment (seconds since 1970), or evenly where it is null. */
    logSince(seconds) {
      if (since === seconds) return;
      since = seconds;
      plot.destroy();
      plot = make();
    },
    /** Draws the answer of /api/series, marks alarms ({at, priority, rule}) and what was done ({at}), seconds since 1970. */
    draw(series, alarms, operations) {
      const columns = Math.max(0, ...ids.map((id) => series.gauges[id]?.low.length ?? 0));
      const x = [];
      const y = ids.map(() => []);
      for (let c = 0; c < columns; c++) {
        const start = series.from + c * series.column_ms;
        if (since != null && start / 1000 <= since) continue;
        x.push(place(start / 1000), place((start + series.column_ms / 2) / 1000));
        ids.forEach((id, i) => y[i].push(series.gauges[id]?.low[c] ?? null, series.gauges[id]?.high[c] ?? null));
      }
      marks = alarms;
      done = operations;
      plot.setData([x, ...y]);
    },
  };
}

const plots = new WeakMap(); // what is drawn where, to be taken down before it is drawn anew

/**
 * A small chart of one unit over time: lines of [seconds, values].
 * @param {HTMLElement} into replaced
 */
export function smallChart(into, {unit, times, lines, over, height = 130, reach = []}) {
  const axis = {stroke: css('--dim'), grid: {stroke: css('--rule'), width: 1}, ticks: {stroke: css('--rule')}};
  plots.get(into)?.destroy();
  into.replaceChildren();
  const plot = new uPlot({
    width: into.clientWidth, height, tzDate: utc, legend: {show: false}, cursor: {points: {show: false}},
    axes: [{...axis, values: times.at(-1) - times[0] < 600 ? '{HH}:{mm}:{ss}' : '{HH}:{mm}'}, {...axis, label: unit, size: 76, values: steps}],
    scales: {y: {range: (u, low, high) => uPlot.rangeNum(Math.min(low ?? Infinity, ...reach), Math.max(high ?? -Infinity, ...reach), 0.1, true)}},
    series: [{}, ...lines.map((l, i) => ({label: l.name, stroke: css(i % 2 ? '--line-2' : '--line-1'), width: 1.4, dash: i % 2 ? [6, 3] : [], points: {show: false}, spanGaps: true}))],
    hooks: {draw: over ? [over] : []},
  }, [times, ...lines.map((l) => l.values)], into);
  plots.set(into, plot);
}

/** The trails an alarm stands on, one chart a unit, with the moment it began. */
export function trailChart(into, alarm) {
  const byUnit = new Map();
  for (const t of alarm.evidence?.trails ?? []) byUnit.set(t.unit, [...(byUnit.get(t.unit) ?? []), t]);
  if (!byUnit.size) {
    into.textContent = 'No chart belongs to this alarm.';
    return;
  }
  into.replaceChildren();
  for (const [unit, trails] of byUnit) {
    const times = [...new Set(trails.flatMap((t) => t.points.map((p) => Date.parse(p[0]) / 1000)))].sort((a, b) => a - b);
    const figure = document.createElement('figure');
    const div = document.createElement('div');
    const caption = document.createElement('figcaption');
    caption.textContent = `${trails.map((t, i) => `${t.gauge} ${i % 2 ? 'dashed' : 'solid'}`).join(', ')}; upright line: began`;
    figure.append(caption, div);
    into.append(figure);
    const lines = trails.map((t) => {
      const at = new Map(t.points.map((p) => [Date.parse(p[0]) / 1000, p[1]]));
      return {name: t.gauge, values: times.map((s) => at.get(s) ?? null)};
    });
    const limits = (alarm.lines ?? []).filter((l) => l.unit === unit);
    const list = document.createElement('ul');
    list.replaceChildren(...limits.map((l) => { const li = document.createElement('li'); li.textContent = `${l.level.toFixed(3)} ${unit}: ${l.says} (dashed across)`; return li; }));
    figure.append(list);
    smallChart(div, {unit, times, lines, height: 200, reach: limits.map((l) => l.level), over: (u) => {
      const x = u.valToPos(Date.parse(alarm.onset) / 1000, 'x', true);
      u.ctx.save();
      u.ctx.lineWidth = 1.5 * devicePixelRatio;
      u.ctx.strokeStyle = css('--medium');
      u.ctx.setLineDash([10 * devicePixelRatio, 4 * devicePixelRatio]);
      for (const l of limits) {
        const y = u.valToPos(l.level, 'y', true);
        u.ctx.beginPath();
        u.ctx.moveTo(u.bbox.left, y);
        u.ctx.lineTo(u.bbox.left + u.bbox.width, y);
        u.ctx.stroke();
      }
      u.ctx.setLineDash([]);
      u.ctx.strokeStyle = css(`--${alarm.priority === 'information' ? 'dim' : alarm.priority}`);
      u.ctx.beginPath();
      u.ctx.moveTo(x, u.bbox.top);
      u.ctx.lineTo(x, u.bbox.top + u.bbox.height);
      u.ctx.stroke();
      u.ctx.restore();
    }});
  }
}
