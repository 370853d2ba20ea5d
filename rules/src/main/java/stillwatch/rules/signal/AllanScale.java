package stillwatch.rules.signal;

/** PLACEHOLDER. */
public final class AllanScale {
  private final long tauMs;
  private final int memory;
  private long block = Long.MIN_VALUE;
  private double sum;
  private int n;
  private double m1 = Double.NaN;
  private double m2 = Double.NaN;
  private double square;
  private int count;

  private AllanScale(long tauMs, int memory) {
    this.tauMs = tauMs;
    this.memory = memory;
  }

  public static AllanScale robust(long tauMs, int memory) {
    return new AllanScale(tauMs, memory);
  }

  public void accept(long atMs, double value) {
    long now = Math.floorDiv(atMs, tauMs);
    if (now != block) {
      if (n > 0) {
        double m3 = sum / n;
        double d = m3 - 2 * m2 + m1;
        if (!Double.isNaN(d)) {
          double s = d * d / 6;
          if (count >= 8) {
            s = Math.min(s, 9 * Math.max(square, 1e-12));
          }
          count++;
          square += (s - square) / Math.min(count, memory);
        }
        m1 = m2;
        m2 = m3;
      }
      if (block != Long.MIN_VALUE && now != block + 1) {
        m1 = Double.NaN;
        m2 = Double.NaN;
      }
      block = now;
      sum = 0;
      n = 0;
    }
    sum += value;
    n++;
  }

  public double deviation() {
    return count < 8 ? Double.NaN : Math.sqrt(square);
  }
}
