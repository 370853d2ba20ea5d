package stillwatch.ingest.telemetry;

import java.util.Locale;

/**
 * A hold-point decision by the people in charge.
 *
 * @param choice what was decided
 * @param by who decided
 * @param why the reason given
 * @param nextReviewMs when the next review is due, ms since 1970 UTC; 0 when none was set
 */
public record Decision(
    String well,
    long atMs,
    long receivedMs,
    Choice choice,
    String by,
    String why,
    long nextReviewMs)
    implements Telemetry {
  /** What can be decided at a hold point. */
  public enum Choice {
    /** Keep the well shut in and go on watching. */
    CONTINUE,
    /** Open the well again. */
    REOPEN,
    /** The test is over. */
    END;

    /** The name on the wire. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }
  }
}
