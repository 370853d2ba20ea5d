package stillwatch.rules.signal;

/**
 * One-sided cumulative sum for an upward shift of a standardised series (E. S. Page, Biometrika 41,
 * 1954, 100-115): {@code C ← max(0, C + z − k)}. With reference value {@code k} it is the quickest
 * of all rules of the same false-alarm rate to find a shift of {@code 2k} deviations (G. V.
 * Moustakides, Ann. Stat. 14, 1986, 1379-1387). It tells when the present excursion began, which
 * estimates when the shift did. Not thread-safe.
 */
final class Cusum {
  private final double k;
  private double sum;
  private long sinceMs;

  /** A sum with this reference value, in deviations. */
  Cusum(double k) {
    this.k = k;
  }

  /** Takes a finite value observed over a span that began at {@code fromMs}; returns the sum. */
  double accept(long fromMs, double z) {
    if (sum == 0) {
      sinceMs = fromMs;
    }
    sum = Math.max(0, sum + z - k);
    return sum;
  }

  /** The sum, in deviations. */
  double value() {
    return sum;
  }

  /** When the sum last left zero; of no meaning while it is zero. */
  long sinceMs() {
    return sinceMs;
  }

  void reset() {
    sum = 0;
  }
}
