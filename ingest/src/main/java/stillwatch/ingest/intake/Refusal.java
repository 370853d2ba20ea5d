package stillwatch.ingest.intake;

import java.util.Locale;
import stillwatch.ingest.entrance.Texts;

/**
 * Why something was not taken.
 *
 * @param reason the sort, for counting
 * @param gauge the gauge it is about; empty when the whole line was refused
 * @param why one sentence: what, and how to mend it
 */
public record Refusal(Reason reason, String gauge, String why) {
  private static final int LONGEST = 1000;

  /** With a sentence that can be kept and written, whatever it quotes. */
  public Refusal {
    gauge = Texts.mended(gauge);
    why = Texts.mended(why.length() > LONGEST ? why.substring(0, LONGEST) + "..." : why);
  }

  /** The sorts of refusal. */
  public enum Reason {
    NOT_JSON,
    NOT_TEXT,
    TOO_LONG,
    TOO_DEEP,
    NOT_ALLOWED,
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

  /** Of everything that came. */
  public static Refusal ofLine(Reason reason, String why) {
    return new Refusal(reason, "", why);
  }
}
