package stillwatch.rules.signal;

/** PLACEHOLDER. */
public final class FreeSlope {
  private final SlowTrend trend = new SlowTrend();

  public FreeSlope(long horizonMs, double resolution, double tideKPa) {}

  public void accept(long atMs, double level, double ambient) {
    trend.accept(atMs, level, ambient);
  }

  public double slopePerHour() {
    return trend.slopePerHour();
  }

  public double slopeError() {
    return trend.slopeError();
  }
}
