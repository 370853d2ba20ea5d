package stillwatch.ingest.telemetry;

import java.util.Locale;
import java.util.regex.Pattern;

/**
 * A person explains an open change of the well, by name and in one sentence.
 *
 * @param change the id of the change: twelve hexadecimal digits, lower case
 * @param cause what is held to have caused it
 * @param why the explanation in the person's own words; never blank
 * @param by who explains it; never blank
 */
public record Explanation(
    String well, long atMs, long receivedMs, String change, Cause cause, String why, String by)
    implements Telemetry {
  private static final Pattern ID = Pattern.compile("[0-9a-f]{12}");

  /** What can cause a change. */
  public enum Cause {
    /** Something that was done to the well, logged or not. */
    OPERATION,
    /** The gauge itself. */
    GAUGE,
    /** Tide, cooling, weather, traffic. */
    SURROUNDINGS,
    /** The well itself, in a way the people in charge accept, for example depletion. */
    WELL;

    /** The name on the wire and in recordings. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }

    /**
     * The cause with this wire name.
     *
     * @throws IllegalArgumentException when there is none, naming the known ones
     */
    public static Cause of(String wire) {
      return WireNames.find("cause", wire, values(), Cause::wire);
    }
  }

  /**
   * An explanation.
   *
   * @throws IllegalArgumentException when the change is no id, or nobody or no reason is given
   */
  public Explanation {
    if (!ID.matcher(change).matches()) {
      throw new IllegalArgumentException(
          "'"
              + change
              + "' is no id of a change; copy the twelve digits (0-9, a-f) from the alarm");
    }
    if (why.isBlank() || by.isBlank()) {
      throw new IllegalArgumentException(
          "an explanation needs the name of who explains and one sentence why");
    }
  }
}
