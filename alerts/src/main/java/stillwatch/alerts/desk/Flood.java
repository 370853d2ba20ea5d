package stillwatch.alerts.desk;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Alarm floods: one begins when more than ten alarms come within ten minutes and is over when fewer
 * than five do (ANSI/ISA-18.2-2016, 16.4; figures at second hand).
 *
 * @param fromMs when the alarm came that made it one
 * @param toMs when it was over; null while it lasts
 * @param alarms how many came from the first of those that made it one
 */
public record Flood(long fromMs, @Nullable Long toMs, int alarms) {
  /** The length of the window. */
  public static final long WINDOW_MS = 600_000;

  private static final int BEGINS_ABOVE = 10;
  private static final int OVER_BELOW = 5;

  /**
   * All floods.
   *
   * @param raisedMs when alarms came, in order; those that ask nobody left out
   * @param nowMs until when
   */
  static List<Flood> of(long[] raisedMs, long nowMs) {
    List<Flood> floods = new java.util.ArrayList<>();
    int first = 0;
    long sinceMs = Long.MIN_VALUE;
    int began = 0;
    for (int i = 0; i <= raisedMs.length; i++) {
      long next = i < raisedMs.length ? raisedMs[i] : nowMs;
      while (first < i && raisedMs[first] <= next - WINDOW_MS) {
        long leavesMs = raisedMs[first] + WINDOW_MS;
        first++;
        if (sinceMs != Long.MIN_VALUE && i - first < OVER_BELOW) {
          floods.add(new Flood(sinceMs, leavesMs, i - began));
          sinceMs = Long.MIN_VALUE;
        }
      }
      if (i < raisedMs.length && sinceMs == Long.MIN_VALUE && i + 1 - first > BEGINS_ABOVE) {
        sinceMs = raisedMs[i];
        began = first;
      }
    }
    if (sinceMs != Long.MIN_VALUE) {
      floods.add(new Flood(sinceMs, null, raisedMs.length - began));
    }
    return List.copyOf(floods);
  }
}
