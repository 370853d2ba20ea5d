package stillwatch.ingest.telemetry;

import java.util.Locale;
import java.util.Optional;

/**
 * Somebody did something to the well or to a gauge, or came near it.
 *
 * @param what the sort of operation
 * @param gauge the id of the gauge that was worked on; empty for everything but gauge work
 * @param text one sentence in the room's own words
 * @param by who did or reported it; empty when not known
 */
public record Operation(
    String well, long atMs, long receivedMs, What what, String gauge, String text, String by)
    implements Telemetry {
  /** What an operation is about. */
  private enum About {
    WELL,
    PRESENCE_BEGINS,
    PRESENCE_ENDS,
    GAUGE,
    TEST
  }

  /** The sorts of operation. */
  public enum What {
    /** An outlet or a part-turn of the choke was closed. */
    CLOSURE_STEP(About.WELL),
    /** An outlet or a part-turn was opened. */
    OPENING_STEP(About.WELL),
    /** Another valve was moved. */
    VALVE(About.WELL),
    /** A line-up was changed or a valve's function was tested. */
    LINE_UP(About.WELL),
    /** A vessel is near the well: it arrived, or moved and is still there. */
    VESSEL(About.PRESENCE_BEGINS),
    /** The vessel has left. */
    VESSEL_LEFT(About.PRESENCE_ENDS),
    /** A remotely operated vehicle is in the water near the wellhead. */
    ROV(About.PRESENCE_BEGINS),
    /** The vehicle is out of the water. */
    ROV_OUT(About.PRESENCE_ENDS),
    /** Pumps near the well are running. */
    PUMPING(About.PRESENCE_BEGINS),
    /** The pumps have stopped. */
    PUMPING_ENDED(About.PRESENCE_ENDS),
    /** Another gauge was put in a gauge's place. */
    GAUGE_SWAPPED(About.GAUGE),
    /** The gauge's zero was set again. */
    GAUGE_ZEROED(About.GAUGE),
    /** The gauge was moved to another place or height. */
    GAUGE_MOVED(About.GAUGE),
    /** The gauge was taken out of use. */
    GAUGE_OUT(About.GAUGE),
    /** The gauge was put back into use. */
    GAUGE_IN(About.GAUGE),
    /** What the gauge's pressure is counted from changed: atmosphere or vacuum. */
    GAUGE_REFERENCE(About.GAUGE),
    /** The clock of the gauge's source was set: what it stamped before counts no more. */
    GAUGE_CLOCK(About.GAUGE),
    /** The test entered a phase; the text is the phase's name. */
    PHASE(About.TEST);

    private final About about;

    What(About about) {
      this.about = about;
    }

    /** Whether it moves valves or lines of the well, and so may move its pressure. */
    public boolean movesWell() {
      return about == About.WELL;
    }

    /** Whether something comes near the well and stays until the sort that ends it is logged. */
    public boolean presence() {
      return about == About.PRESENCE_BEGINS;
    }

    /** The presence that it ends; empty for everything else. */
    public Optional<What> ends() {
      return switch (this) {
        case VESSEL_LEFT -> Optional.of(VESSEL);
        case ROV_OUT -> Optional.of(ROV);
        case PUMPING_ENDED -> Optional.of(PUMPING);
        default -> Optional.empty();
      };
    }

    /** Whether somebody worked on a gauge, which the operation then names. */
    public boolean gaugeWork() {
      return about == About.GAUGE;
    }

    /** The name on the wire and in recordings, for example {@code closure-step}. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /**
     * The sort with this wire name.
     *
     * @throws IllegalArgumentException when there is none, naming the known ones
     */
    public static What of(String wire) {
      return WireNames.find("operation", wire, values(), What::wire);
    }
  }

  /**
   * An operation.
   *
   * @throws IllegalArgumentException when gauge work names no gauge, or anything else names one
   */
  public Operation {
    if (what.gaugeWork() && gauge.isBlank()) {
      throw new IllegalArgumentException(
          "the operation " + what.wire() + " must name the gauge that was worked on");
    }
    if (!what.gaugeWork() && !gauge.isEmpty()) {
      throw new IllegalArgumentException(
          "the operation "
              + what.wire()
              + " is not about a gauge; leave out the gauge '"
              + gauge
              + "'");
    }
  }

  /** An operation that is not about a gauge. */
  public Operation(String well, long atMs, long receivedMs, What what, String text, String by) {
    this(well, atMs, receivedMs, what, "", text, by);
  }
}
