package stillwatch.ingest.telemetry;

import java.util.Locale;

/**
 * A decision by the people in charge: before the first step, at a hold point, at the end.
 *
 * @param choice what was decided
 * @param by who decided
 * @param why the reason given
 * @param nextReviewMs when the next review is due, ms since 1970 UTC; 0 when none was set
 * @param changes what another cycle does otherwise than the one before; empty for every other
 *     choice
 */
public record Decision(
    String well,
    long atMs,
    long receivedMs,
    Choice choice,
    String by,
    String why,
    long nextReviewMs,
    String changes)
    implements Telemetry {
  /** What can be decided. */
  public enum Choice {
    /** The closing may begin. */
    GO,
    /** The closing may not begin. */
    NO_GO,
    /** Keep the well shut in and go on watching. */
    CONTINUE,
    /** Open the well again. */
    REOPEN,
    /** The test is over; the well stays shut in. */
    END,
    /** Open the well and test it once more, otherwise than before. */
    CYCLE,
    /** The test goes on for one hold point beyond its planned length. */
    EXTEND,
    /** People leave for weather, and the well stays shut in unattended. */
    LEAVE,
    /** People stay with the well. */
    STAY;

    /** Whether it says how the test goes on, and not only who may begin it or be with it. */
    public boolean ofTheTest() {
      return switch (this) {
        case GO, NO_GO, LEAVE, STAY -> false;
        case CONTINUE, REOPEN, END, CYCLE, EXTEND -> true;
      };
    }

    /** The name on the wire, for example {@code no-go}. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /**
     * The choice with this wire name.
     *
     * @throws IllegalArgumentException when there is none, naming the known ones
     */
    public static Choice of(String wire) {
      return WireNames.find("decision", wire, values(), Choice::wire);
    }
  }

  /** A decision of which nothing follows for another cycle. */
  public Decision(
      String well,
      long atMs,
      long receivedMs,
      Choice choice,
      String by,
      String why,
      long nextReviewMs) {
    this(well, atMs, receivedMs, choice, by, why, nextReviewMs, "");
  }
}
