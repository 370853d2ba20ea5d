package stillwatch.ingest.telemetry;

import java.util.Locale;

/**
 * Somebody looked, and saw something or nothing.
 *
 * @param means how they looked, for example {@code camera}, {@code sonar}, {@code seismic}
 * @param result what it showed
 * @param text one sentence in the observer's own words
 * @param by who observed; empty when not known
 */
public record Observation(
    String well, long atMs, long receivedMs, String means, Result result, String text, String by)
    implements Telemetry {
  /**
   * The means of a tick: somebody answers by name for a condition of the plan, which the text
   * names. It is no look at the well.
   */
  public static final String READINESS = "readiness";

  /**
   * The means by which somebody says whether a unit collects the flow of a reopened well: clear
   * when it does. The text names the unit. It is no look at the well.
   */
  public static final String COLLECTION = "collection";

  /** What an observation showed. */
  public enum Result {
    CLEAR,
    ADVERSE,
    INCONCLUSIVE;

    /** The name on the wire. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }
  }
}
