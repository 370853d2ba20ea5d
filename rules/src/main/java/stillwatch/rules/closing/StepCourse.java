package stillwatch.rules.closing;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * What a gauge read through a closing: the median of each ten seconds, or of each of its periods
 * where those are longer, a day of them at most. Not thread-safe.
 */
final class StepCourse {
  private static final long SLOT_MS = 10_000;
  private static final int MOST = 8_640;
  private static final int READINGS = 100;

  private final long slotMs;
  private final double[] open = new double[READINGS];
  private final List<Median> medians = new ArrayList<>();
  private long slot = Long.MIN_VALUE;
  private int count;

  /** The median of a slot, in the middle of it. */
  record Median(long atMs, double kPa) {}

  StepCourse(long periodMs) {
    slotMs = Math.max(SLOT_MS, periodMs);
  }

  /** Takes a good reading; one of a slot that is past is left out. */
  void add(long atMs, double kPa) {
    long now = Math.floorDiv(atMs, slotMs);
    if (now < slot) {
      return;
    }
    if (now > slot) {
      close();
      slot = now;
    }
    if (count < READINGS) {
      open[count++] = kPa;
    }
  }

  private void close() {
    if (count > 0 && medians.size() < MOST) {
      double[] sorted = Arrays.copyOf(open, count);
      Arrays.sort(sorted);
      double median = (sorted[(count - 1) / 2] + sorted[count / 2]) / 2;
      medians.add(new Median(slot * slotMs + slotMs / 2, median));
    }
    count = 0;
  }

  /** Oldest first, without the slot that is still open. */
  List<Median> medians() {
    return medians;
  }
}
