// The pressure chart: each column of time as its lowest and highest value; bands, ceiling and the expected course behind.
import {inUnit, unit, zone} from './choice.js';
import {css, onTheme} from './theme.js';
import {axisTimes} from './words.js';
import uPlot from './uplot/uPlot.esm.js';

const zoned = (s) => uPlot.tzDate(new Date(s * 1000), zone());

/** All charts of time show the instant under the pointer. */
const SYNC = {key: 'time'};

/** The axis of times names its zone. */
const named = (axis) => ({label: zone(), labelSize: 16, labelGap: 0, labelFont: axis.font ?? '12px system-ui, sans-serif', size: axis.size ?? 34});

/** Room for the labels of an axis of times, px: those of more than a day have the day as well. */
const room = (u, axis, min, max) => max - min > 86400 ? 100 : 60;

/** As many decimals as the steps of an axis need. */
const steps = (u, splits, axis, space, step) => splits.map((v) => v == null ? '' : v.toFixed(Math.max(0, -Math.floor(Math.log10(step) + 1e-9))));

/**
 * @param {HTMLElement} into
 * @param fixed the answer of /api/fixed
 * @param shows {read, live, placed}: told what the pointer is at, whether the chart follows the data, and when places have moved
 */
export function pressureChart(into, fixed, shows) {
  const {shut_in: ids} = fixed;
  let {bands, expected} = fixed; // in the unit of the charts
  let marks = [];
  let shutIn = null; // seconds since 1970
  let zoom = null; // what somebody chose to look at; null while the chart follows the data
  let speaking = ids[0];
  let plot;
  let since = null; // seconds since 1970 of the shut-in, when time is drawn by its logarithm

  /** A band of pressure as a tinted area, its name at the right of the chart. */
  const band = (u, low, high, name, strong) => {
    const {ctx, bbox} = u;
    const edge = (v) => Math.min(bbox.top + bbox.height, Math.max(bbox.top, u.valToPos(v, 'y', true)));
    const top = high == null ? bbox.top : edge(high);
    const bottom = low == null ? bbox.top + bbox.height : edge(low);
    if (bottom - top < 1) return;
    ctx.globalAlpha = strong ? 0.13 : 0.06;
    ctx.fillStyle = css(strong ? '--high' : '--dim');
    ctx.fillRect(bbox.left, top, bbox.width, bottom - top);
    ctx.globalAlpha = 1;
    ctx.fillStyle = css('--dim');
    if (bottom - top > 14 * devicePixelRatio) ctx.fillText(name, bbox.left + bbox.width + 6 * devicePixelRatio, (top + bottom) / 2 + 4 * devicePixelRatio);
  };

  /** Those of the marks that lie in the time shown, and where. */
  const within = (u, some) => some.filter((m) => since == null || m.at > since)
    .map((m) => ({...m, x: u.valToPos(place(m.at), 'x', true)}))
    .filter((m) => m.x >= u.bbox.left && m.x <= u.bbox.left + u.bbox.width);

  const upright = ({ctx, bbox}, x) => {
    ctx.lineWidth = devicePixelRatio;
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
  };

  /** The expected course of an intact well: eight in ten lie in the fan, half above its middle line. */
  const fan = (u) => {
    if (shutIn == null || !expected.length) return;
    const {ctx, bbox} = u;
    const x = (hours) => u.valToPos(place(shutIn + 3600 * hours), 'x', true);
    const y = (v) => u.valToPos(v, 'y', true);
    ctx.save();
    ctx.beginPath();
    ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
    ctx.clip();
    ctx.fillStyle = ctx.strokeStyle = css('--low');
    ctx.beginPath();
    for (const [h, low] of expected) ctx.lineTo(x(h), y(low));
    for (const [h, , , high] of expected.toReversed()) ctx.lineTo(x(h), y(high));
    ctx.globalAlpha = 0.14;
    ctx.fill();
    ctx.globalAlpha = 1;
    ctx.beginPath();
    for (const [h, , middle] of expected) ctx.lineTo(x(h), y(middle));
    ctx.setLineDash([2 * devicePixelRatio, 3 * devicePixelRatio]);
    ctx.stroke();
    ctx.restore();
  };

  const behind = (u) => {
    const {ctx} = u;
    ctx.save();
    ctx.strokeStyle = ctx.fillStyle = css('--dim');
    ctx.setLineDash([2 * devicePixelRatio, 3 * devicePixelRatio]);
    ctx.font = `${(document.body.dataset.view === 'wall' ? innerHeight * 0.02 : 12) * devicePixelRatio}px system-ui, "DejaVu Sans", sans-serif`;
    ctx.lineWidth = devicePixelRatio;
    ctx.textAlign = 'left';
    ctx.textBaseline = 'alphabetic';
    ctx.setLineDash([]);
    band(u, null, bands.leak_high, 'leak', true);
    band(u, bands.leak_high, bands.intact_low, 'ambiguous', false);
    band(u, bands.ceiling, null, 'above ceiling', true);
    ctx.fillStyle = css('--dim');
    if (u.scales.y.max > bands.intact_low + (u.scales.y.max - u.scales.y.min) / 20) ctx.fillText('intact', u.bbox.left + u.bbox.width + 6 * devicePixelRatio, Math.max(u.bbox.top + 12 * devicePixelRatio, (u.valToPos(bands.intact_low, 'y', true) + u.valToPos(Math.min(bands.ceiling, u.scales.y.max), 'y', true)) / 2 + 4 * devicePixelRatio));
    ctx.restore();
    fan(u);
  };

  const over = (u) => {
    const {ctx} = u;
    ctx.save();
    ctx.setLineDash([]);
    for (const mark of within(u, marks)) {
      ctx.strokeStyle = css(mark.priority === 'information' ? '--dim' : `--${mark.priority}`);
      upright(u, mark.x);
    }
    outside(u);
    ctx.restore();
  };

  /** Marks at the edge where a curve runs outside of the range shown. */
  const outside = (u) => {
    const {ctx, bbox} = u;
    const px = devicePixelRatio;
    ctx.fillStyle = css('--medium');
    for (let i = 1; i < u.data.length; i++) {
      let lastX = -Infinity;
      u.data[i].forEach((v, at) => {
        if (v == null || (v >= u.scales.y.min && v <= u.scales.y.max)) return;
        const x = u.valToPos(u.data[0][at], 'x', true);
        if (x < bbox.left || x > bbox.left + bbox.width || x - lastX < 12 * px) return;
        lastX = x;
        const low = v < u.scales.y.min;
        const y = low ? bbox.top + bbox.height : bbox.top;
        ctx.beginPath();
        ctx.moveTo(x, y);
        ctx.lineTo(x - 5 * px, y + (low ? -8 : 8) * px);
        ctx.lineTo(x + 5 * px, y + (low ? -8 : 8) * px);
        ctx.fill();
      });
    }
  };

  /** A range that the gauge which speaks fills, but for its most extreme readings; a dead gauge does not flatten it. */
  const range = (u, low, high) => {
    const i = Math.max(0, ids.indexOf(speaking)) + 1;
    const {min, max} = zoom ?? u.scales.x; // the scale itself is set after this
    const values = u.data[i].filter((v, at) => v != null && (min == null || (u.data[0][at] >= min && u.data[0][at] <= max))).sort((a, b) => a - b);
    if (!values.length) return low == null ? [bands.leak_high, bands.ceiling] : uPlot.rangeNum(low, high, 0.08, true);
    const cut = Math.floor(values.length / 500);
    return uPlot.rangeNum(values[cut], values[values.length - 1 - cut], 0.12, true);
  };

  const seen = (u) => {
    if (u.cursor.idx == null || !u.data[0].length) return shows.read(null);
    shows.read({at: u.data[0][u.cursor.idx], since, values: ids.map((id, i) => [id, u.data[i + 1][u.cursor.idx]])});
  };

  const zoomTo = (min, max) => {
    zoom = {min, max};
    plot.setScale('x', zoom);
    shows.live(false);
  };

  /** Drag to zoom, the wheel about the pointer, double-click back. */
  const hands = (u) => {
    u.over.addEventListener('dblclick', () => { zoom = null; plot.setData(plot.data, true); shows.live(true); });
    u.over.addEventListener('wheel', (event) => {
      event.preventDefault();
      const {min, max} = u.scales.x;
      const at = u.posToVal(event.offsetX, 'x');
      const by = event.deltaY < 0 ? 0.8 : 1.25;
      if (event.shiftKey) zoomTo(min + (max - min) * (event.deltaY < 0 ? -0.1 : 0.1), max + (max - min) * (event.deltaY < 0 ? -0.1 : 0.1));
      else zoomTo(at - (at - min) * by, at + (max - at) * by);
    }, {passive: false});
  };

  const place = (s) => since == null ? s : (s - since) / 3600;

  /** As high as there is room for. */
  const high = () => document.body.dataset.view === 'wall' ? Math.max(200, innerHeight - into.getBoundingClientRect().top - 12) : Math.max(220, Math.round(innerHeight * 0.36));

  const make = () => {
    bands = Object.fromEntries(['leak_high', 'intact_low', 'ceiling'].map((b) => [b, inUnit(fixed.bands[b])]));
    expected = fixed.expected.map(([h, ...p]) => [h, ...p.map(inUnit)]);
    const wall = document.body.dataset.view === 'wall';
    const axis = {...(wall ? {font: `${Math.round(innerHeight * 0.02)}px system-ui, sans-serif`, size: 40} : {}), stroke: css('--dim'), grid: {stroke: css('--rule'), width: 1}, ticks: {stroke: css('--rule')}};
    return new uPlot({
      width: into.clientWidth,
      height: high(),
      padding: [8, wall ? innerHeight * 0.13 : 92, 0, 0],
      tzDate: zoned,
      legend: {show: false},
      cursor: {points: {show: false}, ...(since == null ? {sync: SYNC} : {})},
      scales: {x: since == null ? {} : {time: false, distr: 3}, y: {range}},
      axes: [since == null ? {...axis, ...(wall ? {space: innerHeight * 0.12} : {space: room}), ...named(axis), values: axisTimes} : {...axis, label: 'hours since the shut-in'}, {...axis, label: unit(), size: wall ? 90 : 70}],
      series: [{}, ...ids.map((id, i) => ({
        label: id, stroke: css(i % 2 ? '--line-2' : '--line-1'), width: 1.5, dash: i % 2 ? [6, 3] : [], points: {show: false},
      }))],
      hooks: {drawClear: [behind], draw: [over, (u) => shows.placed((at) => u.valToPos(place(at), 'x') + u.bbox.left / devicePixelRatio, [u.bbox.left / devicePixelRatio, (u.bbox.left + u.bbox.width) / devicePixelRatio])], setCursor: [seen], ready: [hands],
        setSelect: [(u) => { if (u.select.width > 0) zoomTo(u.posToVal(u.select.left, 'x'), u.posToVal(u.select.left + u.select.width, 'x')); }]},
    }, [[], ...ids.map(() => [])], into);
  };

  const rebuild = () => {
    const data = plot?.data;
    plot?.destroy();
    plot = make();
    if (data) plot.setData(data);
  };
  rebuild();
  new ResizeObserver(() => plot.setSize({width: into.clientWidth, height: high()})).observe(into);
  onTheme(rebuild);

  return {
    /** Draws time by its logarithm since this moment (seconds since 1970), or evenly where it is null. */
    logSince(seconds) {
      if (since === seconds) return;
      since = seconds;
      zoom = null;
      shows.live(true);
      plot.destroy();
      plot = make();
    },
    /** Takes up another unit or time zone; empty until it is drawn again. */
    chosen() {
      plot.destroy();
      plot = make();
    },
    /** Shows from one moment to another, seconds since 1970. */
    stretch(from, to) {
      zoomTo(place(from), place(to));
    },
    /** Follows the data again. */
    live() {
      zoom = null;
      plot.setData(plot.data, true);
      shows.live(true);
    },
    /** From when to when somebody has zoomed, seconds since 1970; null while it follows the data or time is drawn by its logarithm. */
    shown: () => zoom && since == null ? [zoom.min, zoom.max] : null,
    /** The first and the last moment that are drawn, seconds since 1970. */
    ends: () => [plot.scales.x.min, plot.scales.x.max].map((x) => since == null ? x : since + 3600 * x),
    /** The drawing itself. */
    canvas: () => plot.ctx.canvas,
    /** Draws the answer of /api/series, marks alarms ({at, priority}, seconds since 1970), fits the range to the gauge that speaks, and lays the expected course from the shut-in. */
    draw(series, alarms, by, shut) {
      const columns = Math.max(0, ...ids.map((id) => series.gauges[id]?.low.length ?? 0));
      const x = [];
      const y = ids.map(() => []);
      for (let c = 0; c < columns; c++) {
        const start = series.from + c * series.column_ms;
        if (since != null && start / 1000 <= since) continue;
        x.push(place(start / 1000), place((start + series.column_ms / 2) / 1000));
        ids.forEach((id, i) => y[i].push(inUnit(series.gauges[id]?.low[c] ?? null), inUnit(series.gauges[id]?.high[c] ?? null)));
      }
      marks = alarms;
      shutIn = shut;
      speaking = by ?? ids[0];
      plot.setData([x, ...y], zoom == null);
      if (zoom) plot.setScale('x', zoom);
    },
  };
}

const plots = new WeakMap(); // what is drawn where, to be taken down before it is drawn anew

/**
 * A small chart of one unit over time: lines of [seconds, values].
 * @param {HTMLElement} into replaced
 */
export function smallChart(into, {unit: label, times, lines, over, height = 130, reach = []}) {
  const axis = {stroke: css('--dim'), grid: {stroke: css('--rule'), width: 1}, ticks: {stroke: css('--rule')}};
  plots.get(into)?.destroy();
  into.replaceChildren();
  const plot = new uPlot({
    width: into.clientWidth, height, tzDate: zoned, legend: {show: false}, cursor: {points: {show: false}, sync: SYNC},
    axes: [{...axis, space: room, ...named(axis), values: axisTimes}, {...axis, label, size: 76, values: steps}],
    scales: {y: {range: (u, low, high) => uPlot.rangeNum(Math.min(low ?? Infinity, ...reach), Math.max(high ?? -Infinity, ...reach), 0.1, true)}},
    series: [{}, ...lines.map((l, i) => ({label: l.name, stroke: css(i % 2 ? '--line-2' : '--line-1'), width: 1.4, dash: i % 2 ? [6, 3] : [], points: {show: false}, spanGaps: true}))],
    hooks: {draw: over ? [over] : []},
  }, [times, ...lines.map((l) => l.values)], into);
  plots.set(into, plot);
}

/** The trails an alarm is based on, one chart a unit, with the moment it began. */
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
