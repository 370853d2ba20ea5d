// The plots of a build-up: on superposition time, its derivative, and the weights of its explanations over time.

const DASHES = [[], [6, 3], [2, 3], [], [6, 3]];

/**
 * Draws a review into three elements, in place of what they held.
 * @param uPlot the chart library
 * @param into {horner, derivative, weights}: elements as wide as their plots should be
 * @param review what the watch says of the build-up, with its points and the history of its weights
 * @param ink {line, axis, grid, shades}: colours, the shades one for each explanation
 */
export function buildUpPlots(uPlot, into, review, ink) {
  const axis = {stroke: ink.axis, grid: {stroke: ink.grid, width: 1}, ticks: {stroke: ink.grid}};
  const small = (element, extra, columns) => {
    element.replaceChildren();
    return new uPlot({width: element.clientWidth, height: 260, legend: {show: false}, ...extra}, columns, element);
  };
  const dashed = {stroke: ink.line, dash: [6, 4], width: 1.4, points: {show: false}, spanGaps: true};
  const dots = {stroke: ink.shades[1], width: 0, paths: () => null, points: {show: true, size: 4, fill: ink.shades[1]}};
  const {line, unit} = review;
  const late = review.points.filter((p) => p[2] > 0.02);
  const byX = late.slice().sort((p, q) => p[0] - q[0]);
  const onLine = line ? [0, ...byX.map((p) => p[0])] : byX.map((p) => p[0]);
  small(into.horner, {
    scales: {x: {time: false, dir: -1}}, axes: [{...axis, label: 'superposition time, cycles'}, {...axis, label: unit, size: 70}], series: [{}, dots, dashed],
  }, [onLine, [...(line ? [null] : []), ...byX.map((p) => p[1])], onLine.map((x) => line ? line.at_zero + line.slope * x : null)]);
  const rising = late.filter((p) => p[3] > 0);
  if (rising.length > 1) {
    small(into.derivative, {
      scales: {x: {time: false, distr: 3}, y: {distr: 3}}, axes: [{...axis, label: 'hours since the shut-in'}, {...axis, label: unit, size: 70}], series: [{}, dots, dashed],
    }, [rising.map((p) => p[2]), rising.map((p) => p[3]), rising.map((p) => line && p[2] >= line.from_hours ? line.level : null)]);
  }
  if (review.weights && review.history?.length) {
    const clock = (s) => new Date(s * 1000).toISOString().slice(0, 16).replace('T', ' ');
    small(into.weights, {
      legend: {show: true, live: false}, tzDate: (s) => uPlot.tzDate(new Date(s * 1000), 'Etc/UTC'),
      scales: {y: {range: [0, 1]}}, axes: [{...axis, values: '{HH}:{mm}'}, {...axis, label: 'weight', size: 70}],
      series: [{value: (_, s) => s == null ? '' : clock(s)}, ...review.weights.map((w, i) => ({label: w.name, stroke: ink.shades[i % ink.shades.length], width: 1.6, dash: DASHES[i]}))],
    }, [review.history.map((h) => h.at / 1000), ...review.weights.map((_, i) => review.history.map((h) => h.weight[i]))]);
  }
}
