package stillwatch.fieldbus.modbus;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Registers that one request reads: of one unit and one table, from the first point's to the last
 * one's.
 *
 * @param points by register, at least one
 */
record Block(List<Point> points) {
  /** MODBUS Application Protocol Specification V1.1b3, 6.3: the most that a request reads. */
  static final int MOST_REGISTERS = 125;

  /** So many registers that nobody asked for are read rather than another request made. */
  static final int WIDEST_GAP = 8;

  /** As few blocks as the points fit in. */
  static List<Block> of(List<Point> points) {
    List<Point> sorted =
        points.stream()
            .sorted(
                Comparator.comparingInt(Point::unitId)
                    .thenComparing(Point::input)
                    .thenComparingInt(Point::register))
            .toList();
    List<Block> blocks = new ArrayList<>();
    List<Point> open = new ArrayList<>();
    for (Point p : sorted) {
      if (!open.isEmpty() && !fits(open, p)) {
        blocks.add(new Block(List.copyOf(open)));
        open.clear();
      }
      open.add(p);
    }
    blocks.add(new Block(List.copyOf(open)));
    return blocks;
  }

  private static boolean fits(List<Point> open, Point p) {
    Point first = open.get(0);
    int end = open.stream().mapToInt(Point::end).max().orElseThrow();
    return p.unitId() == first.unitId()
        && p.input() == first.input()
        && p.register() - end <= WIDEST_GAP
        && Math.max(end, p.end()) - first.register() <= MOST_REGISTERS;
  }

  /** Each point by itself. */
  List<Block> apart() {
    return points.stream().map(p -> new Block(List.of(p))).toList();
  }

  int unitId() {
    return points.get(0).unitId();
  }

  boolean input() {
    return points.get(0).input();
  }

  int first() {
    return points.get(0).register();
  }

  /** How many registers it takes. */
  int size() {
    return points.stream().mapToInt(Point::end).max().orElseThrow() - first();
  }
}
