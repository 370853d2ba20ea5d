package stillwatch.alerts.report;

/**
 * The part of the log that a report is about: a shift, or the time up to one hold point.
 *
 * @param fromMs from when, log time
 * @param toMs until when
 */
public record Stretch(long fromMs, long toMs) {
  /** All of it. */
  public static final Stretch ALL = new Stretch(Long.MIN_VALUE, Long.MAX_VALUE);

  /** Whether a moment lies in it. */
  public boolean has(long ms) {
    return ms >= fromMs && ms <= toMs;
  }

  boolean whole() {
    return this.equals(ALL);
  }
}
