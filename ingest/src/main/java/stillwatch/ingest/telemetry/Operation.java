package stillwatch.ingest.telemetry;

import java.util.Locale;

/**
 * Somebody did something to the well.
 *
 * @param what the sort of operation
 * @param text one sentence in the room's own words
 * @param by who did or reported it; empty when not known
 */
public record Operation(String well, long atMs, long receivedMs, What what, String text, String by)
    implements Telemetry {
  /** The sorts of operation. */
  public enum What {
    /** An outlet or a part-turn of the choke was closed. */
    CLOSURE_STEP,
    /** An outlet or a part-turn was opened. */
    OPENING_STEP,
    /** Another valve was moved. */
    VALVE,
    /** A vessel arrived, left or moved near the well. */
    VESSEL,
    /** A remotely operated vehicle is working near the wellhead. */
    ROV,
    /** The test entered a phase; the text is the phase's name. */
    PHASE;

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
      for (What w : values()) {
        if (w.wire().equals(wire)) {
          return w;
        }
      }
      throw new IllegalArgumentException(
          "unknown operation '"
              + wire
              + "'; known are closure-step, opening-step, valve, vessel, rov, phase");
    }
  }
}
