package stillwatch.ingest.telemetry;

import java.util.Locale;

/**
 * Weather that units or people must leave for, as a person enters it. The newest forecast counts.
 *
 * @param certainty how sure it is
 * @param fromMs from when nobody can work at the well, ms since 1970 UTC
 * @param toMs until when; later than {@code fromMs}
 * @param by who says so; never blank
 * @param text a remark, for example where it comes from; empty for none
 */
public record WeatherForecast(
    String well,
    long atMs,
    long receivedMs,
    Certainty certainty,
    long fromMs,
    long toMs,
    String by,
    String text)
    implements Telemetry {
  /** The certainties of the Common Alerting Protocol 1.2 (OASIS 2010, 3.2.2). */
  public enum Certainty {
    /** It is there already. */
    OBSERVED,
    /** More likely than not. */
    LIKELY,
    /** No more likely than not. */
    POSSIBLE,
    /** Not expected to come. */
    UNLIKELY,
    UNKNOWN;

    /** The name on the wire and in recordings. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }

    /**
     * The certainty with this wire name.
     *
     * @throws IllegalArgumentException when there is none, naming the known ones
     */
    public static Certainty of(String wire) {
      return WireNames.find("certainty", wire, values(), Certainty::wire);
    }
  }

  /**
   * A forecast.
   *
   * @throws IllegalArgumentException when nobody gives it or it ends before it begins
   */
  public WeatherForecast {
    if (by.isBlank()) {
      throw new IllegalArgumentException("a forecast needs the name of who gives it");
    }
    if (toMs <= fromMs) {
      throw new IllegalArgumentException("the weather must end later than it begins");
    }
  }
}
