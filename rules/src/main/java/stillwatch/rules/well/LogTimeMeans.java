package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;

/**
 * A build-up in as few points as its logarithm of time needs: means over bins of equal width in log
 * time, however many readings fall into one. Times must not decrease. Not thread-safe.
 */
public final class LogTimeMeans {
  /** Bins a decade of time: 5.9 % of the time since shut-in each. */
  private static final int PER_DECADE = 40;

  private static final double FROM_HOURS = 1 / 3600.0;

  /**
   * A mean.
   *
   * @param hours mean time
   * @param pressure mean pressure
   * @param beside mean of what was given beside it, NaN where that was missing
   * @param count how many readings
   */
  public record Mean(double hours, double pressure, double beside, int count) {}

  private final List<Mean> closed = new ArrayList<>();
  private int bin = Integer.MIN_VALUE;
  private double sumHours;
  private double sumPressure;
  private double sumBeside;
  private int count;

  /** Takes a pressure so long after the shut-in, and another quantity of the same time. */
  public void accept(double hours, double pressure, double beside) {
    if (hours < FROM_HOURS) {
      return;
    }
    int now = (int) Math.floor(PER_DECADE * StrictMath.log10(hours / FROM_HOURS));
    if (now != bin) {
      if (count > 0) {
        closed.add(open());
      }
      bin = now;
      sumHours = 0;
      sumPressure = 0;
      sumBeside = 0;
      count = 0;
    }
    sumHours += hours;
    sumPressure += pressure;
    sumBeside += beside;
    count++;
  }

  private Mean open() {
    return new Mean(sumHours / count, sumPressure / count, sumBeside / count, count);
  }

  /** The means so far, oldest first; the last may still grow. */
  public List<Mean> means() {
    List<Mean> all = new ArrayList<>(closed);
    if (count > 0) {
      all.add(open());
    }
    return all;
  }
}
