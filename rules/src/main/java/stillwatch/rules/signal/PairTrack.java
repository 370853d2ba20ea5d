package stillwatch.rules.signal;

/**
 * What is known of two gauges that should agree. Their usual difference is the mean over the first
 * half hour and is then held: what matters afterwards is the change of the difference, beyond what
 * two good gauges may do. Not thread-safe.
 */
public final class PairTrack {
  private static final long LEARN_MS = 30 * 60_000;

  private final double accuracy;
  private final Noise noise = new Noise();
  private long firstMs = Long.MIN_VALUE;
  private long learned;
  private double offset;
  private boolean ready;
  private double difference = Double.NaN;

  /** A pair whose gauges have these accuracies, in the base unit of their kind. */
  public PairTrack(double accuracyA, double accuracyB) {
    accuracy = Math.hypot(accuracyA, accuracyB);
  }

  /** Takes both levels at one time, later than the time before. */
  public void update(long atMs, double levelA, double levelB) {
    difference = levelA - levelB;
    noise.accept(difference);
    if (!ready) {
      firstMs = firstMs == Long.MIN_VALUE ? atMs : firstMs;
      learned++;
      offset += (difference - offset) / learned;
      ready = atMs - firstMs >= LEARN_MS;
    }
  }

  /** Whether the usual difference has been learned. */
  public boolean ready() {
    return ready;
  }

  /** First minus second, now. */
  public double difference() {
    return difference;
  }

  /** The usual difference; zero until it is learned. */
  public double offset() {
    return ready ? offset : 0;
  }

  /** How far the difference is from the usual one. */
  public double excess() {
    return Math.abs(difference - offset());
  }

  /**
   * How far two good gauges may be: √(a² + b²) of their accuracies, or six times the noise of the
   * difference where that is more; twice that before the usual difference is learned.
   */
  public double bound() {
    double sigma = noise.sigma();
    double held = Double.isNaN(sigma) ? accuracy : Math.max(accuracy, 6 * sigma);
    return ready ? held : 2 * held;
  }
}
