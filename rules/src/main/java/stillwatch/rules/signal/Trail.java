package stillwatch.rules.signal;

import java.util.ArrayList;
import java.util.List;

/**
 * How a level went, in fixed memory: its value at most every 5 s, every minute and every ten
 * minutes, {@value #POINTS} points each. Times must increase. Not thread-safe.
 */
public final class Trail {
  private static final int POINTS = 60;
  private static final long[] EVERY_MS = {5_000, 60_000, 600_000};

  private final long[][] atMs = new long[EVERY_MS.length][POINTS];
  private final double[][] level = new double[EVERY_MS.length][POINTS];
  private final int[] count = new int[EVERY_MS.length];
  private final long[] lastSlot = {Long.MIN_VALUE, Long.MIN_VALUE, Long.MIN_VALUE};

  /** A level at a time. */
  public record Point(long atMs, double level) {}

  Trail() {}

  void accept(long at, double value) {
    for (int ring = 0; ring < EVERY_MS.length; ring++) {
      long slot = Math.floorDiv(at, EVERY_MS[ring]);
      if (slot == lastSlot[ring]) {
        return; // coarser slots cannot have changed either: each length divides the next
      }
      lastSlot[ring] = slot;
      int i = count[ring] % POINTS;
      count[ring]++;
      atMs[ring][i] = at;
      level[ring][i] = value;
    }
  }

  /** The points at or after a time, oldest first, from the finest ring that reaches back to it. */
  public List<Point> since(long fromMs) {
    for (int ring = 0; ring < EVERY_MS.length; ring++) {
      int held = Math.min(count[ring], POINTS);
      boolean whole = count[ring] <= POINTS;
      int oldest = whole ? 0 : count[ring] % POINTS;
      if (whole || atMs[ring][oldest] <= fromMs || ring == EVERY_MS.length - 1) {
        List<Point> points = new ArrayList<>(held);
        for (int k = 0; k < held; k++) {
          int i = (oldest + k) % POINTS;
          if (atMs[ring][i] >= fromMs) {
            points.add(new Point(atMs[ring][i], level[ring][i]));
          }
        }
        return points;
      }
    }
    return List.of();
  }
}
