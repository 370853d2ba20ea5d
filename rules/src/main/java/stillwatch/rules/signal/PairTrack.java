package stillwatch.rules.signal;

/**
 * What is known of two gauges that should agree. Their usual difference is the mean over the first
 * half hour and is then held: what matters afterwards is the change of the difference, beyond what
 * two good gauges may do. But two gauges of one place do not differ by megapascals as a habit: a
 * difference beyond their combined accuracy, after the static head between them, is never learned.
 * Not thread-safe.
 */
public final class PairTrack {
  /** An offset is learned up to twice the combined accuracy. */
  public static final double BOUNDED = 2;

  /** Any offset is learned. */
  public static final double ANY_OFFSET = Double.POSITIVE_INFINITY;

  private static final long LEARN_MS = 30 * 60_000;

  private final double accuracy;
  private final double head;
  private final double mostOffset;
  private final long learnMs;
  private final Noise noise = new Noise();
  private long firstMs = Long.MIN_VALUE;
  private long learned;
  private double mean;
  private boolean ready;
  private double difference = Double.NaN;

  /**
   * A pair whose gauges have these accuracies.
   *
   * @param accuracyA accuracy of the first, in the base unit of their kind
   * @param accuracyB accuracy of the second
   * @param head what the first should read more than the second because it is deeper
   * @param mostOffset how many combined accuracies an offset may have to be learned
   * @param leastLearnMs learning takes at least so long, ms: slow gauges need longer
   */
  public PairTrack(
      double accuracyA, double accuracyB, double head, double mostOffset, long leastLearnMs) {
    accuracy = Math.hypot(accuracyA, accuracyB);
    this.head = head;
    this.mostOffset = mostOffset;
    learnMs = Math.max(LEARN_MS, leastLearnMs);
  }

  /** Takes both levels at one time, later than the time before. */
  public void update(long atMs, double levelA, double levelB) {
    difference = levelA - levelB;
    noise.accept(difference);
    if (!ready) {
      firstMs = firstMs == Long.MIN_VALUE ? atMs : firstMs;
      learned++;
      mean += (difference - mean) / learned;
      ready = atMs - firstMs >= learnMs;
    }
  }

  /** Whether the usual difference has been judged. */
  public boolean ready() {
    return ready;
  }

  /** First minus second, now. */
  public double difference() {
    return difference;
  }

  /** The usual difference: what was learned where it may be, else the static head. */
  public double offset() {
    return agreed() ? mean : head;
  }

  /** Whether the two have agreed: their usual difference was judged and is one that may be. */
  public boolean agreed() {
    return ready && Math.abs(mean - head) <= mostOffset * accuracy;
  }

  /** How far the difference is from the usual one. */
  public double excess() {
    return Math.abs(difference - offset());
  }

  /**
   * How far two good gauges may be: √(a² + b²) of their accuracies, or six times the noise of the
   * difference where that is more; twice that before the usual difference is judged.
   */
  public double bound() {
    double sigma = noise.sigma();
    double held = Double.isNaN(sigma) ? accuracy : Math.max(accuracy, 6 * sigma);
    return ready ? held : 2 * held;
  }
}
