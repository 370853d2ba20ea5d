package stillwatch.rules.signal;

/**
 * How far a gauge usually changes by itself over a time {@code τ}: the deviation of successive
 * means over blocks of {@code τ} counted from 1970 UTC, {@code [kτ; (k+1)τ)}. Known when the next
 * block begins; a block without a value breaks the row. The first block may be a part of one.
 *
 * <p>{@link #plain}: root of half the mean squared difference of successive means (D. W. Allan,
 * Proc. IEEE 54, 1966, 221-230; W. J. Riley, NIST SP 1065, 2008, 5.2.1), over all that was seen. A
 * steady ramp of {@code D} an hour gives {@code Dτ/√2}.
 *
 * <p>{@link #robust}: root of a sixth of the mean squared second difference of three successive
 * means (the Hadamard deviation, Riley 5.2.8), so that a steady ramp gives nothing, exponentially
 * weighted over the last differences, each square clipped at {@value #CLIP} times the mean. For
 * independent noise both give the deviation of one mean. For a random walk of variance {@code q} a
 * unit of time, successive differences of means have variance {@code 2qτ/3} and covariance {@code
 * qτ/6} with the next, so that the first gives {@code √(qτ/3)} and the second {@code √(qτ/6)}.
 * Clipping takes a quarter of a percent off Gaussian noise. Times must increase. Not thread-safe.
 */
public final class AllanScale {
  private static final int CLIP = 9;
  private static final int WARM = 8;

  private final long tauMs;
  private final boolean second;
  private final long memory;
  private long block = Long.MIN_VALUE;
  private double sum;
  private long inBlock;
  private double last;
  private double lastDifference;
  private int inRow;
  private double meanSquare;
  private long count;

  private AllanScale(long tauMs, boolean second, long memory) {
    this.tauMs = tauMs;
    this.second = second;
    this.memory = memory;
  }

  /** The Allan deviation at that averaging time, ms, over all that is seen. */
  public static AllanScale plain(long tauMs) {
    return new AllanScale(tauMs, false, Long.MAX_VALUE);
  }

  /**
   * The Hadamard deviation at that averaging time, as it was lately.
   *
   * @param tauMs ms
   * @param memory over about how many differences it is weighted
   */
  public static AllanScale robust(long tauMs, int memory) {
    return new AllanScale(tauMs, true, memory);
  }

  /** Takes a finite value stamped later than the one before. */
  public void accept(long atMs, double value) {
    long now = Math.floorDiv(atMs, tauMs);
    if (now != block) {
      if (inBlock > 0) {
        ended(sum / inBlock);
        inRow = now == block + 1 ? inRow : 0;
      }
      block = now;
      sum = 0;
      inBlock = 0;
    }
    sum += value;
    inBlock++;
  }

  private void ended(double mean) {
    double difference = mean - last;
    if (second && inRow >= 2) {
      double bend = difference - lastDifference;
      take(bend * bend / 6);
    } else if (!second && inRow >= 1) {
      take(difference * difference / 2);
    }
    last = mean;
    lastDifference = difference;
    inRow = Math.min(2, inRow + 1);
  }

  private void take(double square) {
    count++;
    double taken =
        second && count > WARM && meanSquare > 0 ? Math.min(square, CLIP * meanSquare) : square;
    meanSquare += (taken - meanSquare) / Math.min(count, memory);
  }

  /**
   * The deviation, in the value's unit; NaN until one difference is known, the robust one until
   * {@value #WARM} are.
   */
  public double deviation() {
    return count < (second ? WARM : 1) ? Double.NaN : Math.sqrt(meanSquare);
  }
}
