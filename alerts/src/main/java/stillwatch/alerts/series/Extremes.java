package stillwatch.alerts.series;

import java.util.Arrays;

/**
 * The lowest and the highest value of a gauge in each slot of time. Slots {@code [k·w, (k+1)·w)}
 * start one second wide and double whenever there would be more of them than fit, so that memory is
 * bounded and no extreme is ever lost; what is not yet used takes none. Values may come in any
 * order of time. Not thread-safe.
 */
final class Extremes {
  private static final int FIRST_SLOTS = 64;

  private final int atMost;
  private double[] low = new double[0];
  private double[] high = new double[0];
  private long widthMs = 1000;
  private long first;
  private int used;

  /**
   * Of nothing yet.
   *
   * @param atMost how many slots at most
   */
  Extremes(int atMost) {
    this.atMost = atMost;
  }

  /** Width of a slot now, ms. */
  long widthMs() {
    return widthMs;
  }

  boolean isEmpty() {
    return used == 0;
  }

  /** Start of the first slot, ms since 1970 UTC. */
  long fromMs() {
    return first * widthMs;
  }

  /** End of the last slot. */
  long toMs() {
    return (first + used) * widthMs;
  }

  /** Takes a value; NaN says nothing. */
  void add(long atMs, double value) {
    if (Double.isNaN(value)) {
      return;
    }
    if (used == 0) {
      first = Math.floorDiv(atMs, widthMs);
      used = 1;
    }
    while (!fits(Math.floorDiv(atMs, widthMs))) {
      widen();
    }
    long slot = Math.floorDiv(atMs, widthMs);
    makeRoom((int) (Math.max(first + used, slot + 1) - Math.min(first, slot)));
    if (slot < first) {
      shift((int) (first - slot));
    }
    int i = (int) (slot - first);
    used = Math.max(used, i + 1);
    low[i] = Double.isNaN(low[i]) ? value : Math.min(low[i], value);
    high[i] = Double.isNaN(high[i]) ? value : Math.max(high[i], value);
  }

  private boolean fits(long slot) {
    return Math.max(first + used, slot + 1) - Math.min(first, slot) <= atMost;
  }

  private void makeRoom(int slots) {
    if (slots > low.length) {
      int room = Math.min(atMost, Math.max(FIRST_SLOTS, Math.max(slots, 2 * low.length)));
      low = grown(low, room);
      high = grown(high, room);
    }
  }

  private static double[] grown(double[] values, int room) {
    double[] grown = Arrays.copyOf(values, room);
    Arrays.fill(grown, values.length, room, Double.NaN);
    return grown;
  }

  private void shift(int by) {
    System.arraycopy(low, 0, low, by, used);
    System.arraycopy(high, 0, high, by, used);
    Arrays.fill(low, 0, by, Double.NaN);
    Arrays.fill(high, 0, by, Double.NaN);
    first -= by;
    used += by;
  }

  private void widen() {
    long wideFirst = Math.floorDiv(first, 2);
    int wideUsed = (int) (Math.floorDiv(first + used - 1, 2) - wideFirst + 1);
    double[] lows = new double[wideUsed];
    double[] highs = new double[wideUsed];
    Arrays.fill(lows, Double.NaN);
    Arrays.fill(highs, Double.NaN);
    for (int i = 0; i < used; i++) {
      merge(lows, highs, (int) (Math.floorDiv(first + i, 2) - wideFirst), i);
    }
    Arrays.fill(low, Double.NaN);
    Arrays.fill(high, Double.NaN);
    System.arraycopy(lows, 0, low, 0, wideUsed);
    System.arraycopy(highs, 0, high, 0, wideUsed);
    first = wideFirst;
    used = wideUsed;
    widthMs *= 2;
  }

  private void merge(double[] lows, double[] highs, int into, int i) {
    if (!Double.isNaN(low[i])) {
      lows[into] = Double.isNaN(lows[into]) ? low[i] : Math.min(lows[into], low[i]);
      highs[into] = Double.isNaN(highs[into]) ? high[i] : Math.max(highs[into], high[i]);
    }
  }

  /**
   * The extremes of each column {@code [fromMs + c·columnMs, fromMs + (c+1)·columnMs)}; a slot
   * counts where it starts.
   *
   * @param lows filled, one a column; NaN where there is nothing
   * @param highs filled likewise
   */
  void columns(long fromMs, long columnMs, double[] lows, double[] highs) {
    Arrays.fill(lows, Double.NaN);
    Arrays.fill(highs, Double.NaN);
    for (int i = 0; i < used; i++) {
      long column = Math.floorDiv((first + i) * widthMs - fromMs, columnMs);
      if (column >= 0 && column < lows.length) {
        merge(lows, highs, (int) column, i);
      }
    }
  }
}
