// Where the names of upright lines stand above a chart, so that no name lies on another and no line runs through one.

const RANKS = ['high', 'medium', 'low', 'information'];
const GAP = 4; // between a line and its name, and between names

/** Whether a seat and another leave each other alone: names apart, and neither's line through the other's name. */
const apart = (a, b) => a.row === b.row ? a.to + GAP <= b.from || b.to + GAP <= a.from
  : a.row < b.row ? b.x <= a.from || b.x >= a.to : a.x <= b.from || a.x >= b.to;

/** Seats all of these, from the right, each with its mark; null where one has no room. */
function together(marks, left, right, rows) {
  const taken = [];
  for (const mark of [...marks].sort((a, b) => b.x - a.x)) {
    const {x, wide} = mark;
    const ways = [];
    for (let row = 0; row < rows; row++) ways.push({row, x, from: x + GAP, to: x + GAP + wide});
    for (let row = rows - 1; row >= 0; row--) ways.push({row, x, from: x - GAP - wide, to: x - GAP});
    const seat = ways.find((w) => w.from >= left && w.to <= right && taken.every((t) => apart(w, t)));
    if (!seat) return null;
    taken.push({...seat, mark});
  }
  return taken;
}

/**
 * Seats names in rows above a chart; row 0 is the one next to it. The most urgent choose first, of these the newest. A name
 * stands right or left of its line, which goes up to it.
 * @param {{x: number, wide: number, priority: string}[]} marks wide: the length of its name
 * @param {number} left where names may begin
 * @param {number} right where they must end
 * @returns {Map<object, {row: number, from: number}>} by mark, for those that have room
 */
export function seats(marks, left, right, rows) {
  const rank = (m) => (RANKS.indexOf(m.priority) + RANKS.length) % RANKS.length;
  let seated = [];
  for (const mark of [...marks].sort((a, b) => rank(a) - rank(b) || b.x - a.x)) {
    seated = together([...seated.map((t) => t.mark), mark], left, right, rows) ?? seated;
  }
  return new Map(seated.map((t) => [t.mark, t]));
}
