package stillwatch.ingest.intake;

import java.util.Locale;

/**
 * Why something was not taken.
 *
 * @param reason the sort, for counting
 * @param gauge the gauge it is about; empty when the whole line was refused
 * @param why one sentence: what, and how to mend it
 */
public record Refusal(Reason reason, String gauge, String why) {
  /** The sorts of refusal. */
  public enum Reason {
    NOT_JSON,
    TOO_LONG,
    UNKNOWN_WELL,
    UNKNOWN_GAUGE,
    UNKNOWN_UNIT,
    UNKNOWN_FIELD,
    BAD_TIME,
    STAMPED_AHEAD,
    BAD_VALUE,
    INCOMPLETE;

    /** The name in counters and answers, for example {@code unknown-unit}. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
  }

  static Refusal ofLine(Reason reason, String why) {
    return new Refusal(reason, "", why);
  }
}
