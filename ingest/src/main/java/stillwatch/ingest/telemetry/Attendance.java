package stillwatch.ingest.telemetry;

import java.util.Locale;

/**
 * Somebody says by name from where the well is watched from here on: from shore, when people leave
 * for weather, or on site, when they are back. Whoever watches from shore says it again to confirm
 * that the digest arrives.
 *
 * @param from from where
 * @param by who watches; never blank
 * @param links the links that reach them, for example {@code satellite mail, radio}; never blank
 *     from shore, empty on site
 */
public record Attendance(
    String well, long atMs, long receivedMs, From from, String by, String links)
    implements Telemetry {
  /** From where a well is watched. */
  public enum From {
    /** People are with the watch. */
    SITE,
    /** Nobody is with the watch; it is read from shore. */
    SHORE;

    /** The name on the wire and in recordings. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }

    /**
     * The place with this wire name.
     *
     * @throws IllegalArgumentException when there is none, naming the known ones
     */
    public static From of(String wire) {
      return WireNames.find("attendance", wire, values(), From::wire);
    }
  }

  /**
   * An attendance.
   *
   * @throws IllegalArgumentException when it names nobody, or no link from shore, or one on site
   */
  public Attendance {
    if (by.isBlank()) {
      throw new IllegalArgumentException("an attendance needs the name of who watches");
    }
    if ((from == From.SHORE) == links.isBlank()) {
      throw new IllegalArgumentException(
          "the links name how the watch reaches the shore: an attendance from shore needs them, one on site has none");
    }
  }
}
