package stillwatch.ingest.telemetry;

import java.util.Locale;
import java.util.Optional;

/**
 * What a pass over the seabed saw of one thing, or that it took place and saw none. The name
 * belongs to one thing, whoever sees it by whatever means.
 *
 * @param means how they looked, for example {@code camera}, {@code sonar}; never blank
 * @param pass the pass by this means, for example {@code dive 12}; never blank
 * @param what whether the thing was seen
 * @param name of the thing; empty when the pass saw nothing
 * @param at where it is and how large; empty unless it was seen
 * @param text a remark; empty for none
 * @param by who says so; empty when not known
 */
public record SurveyItem(
    String well,
    long atMs,
    long receivedMs,
    String means,
    String pass,
    What what,
    String name,
    Optional<Shape> at,
    String text,
    String by)
    implements Telemetry {
  /** So long a name, a means or a kind may be. */
  private static final int LONGEST = 100;

  /** Whether a thing was seen. */
  public enum What {
    /** It is there. */
    SEEN,
    /** The pass looked where it was, and it is there no more. */
    GONE,
    /** The pass looked and saw no thing at all; it says of no thing that it is gone. */
    NOTHING;

    /** The name on the wire and in recordings. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }

    /**
     * The constant with this wire name.
     *
     * @throws IllegalArgumentException when there is none, naming the known ones
     */
    public static What of(String wire) {
      return WireNames.find("survey", wire, values(), What::wire);
    }
  }

  /**
   * What the thing is, where it is and how large.
   *
   * @param kind what it is, for example {@code bubbles}, {@code crack}; never blank
   * @param eastM metres east of the wellhead, negative for west
   * @param northM metres north of the wellhead, negative for south
   * @param sizeM its largest extent, metres; NaN when not measured
   * @param uncertaintyM of the size, half of its 95 % interval, metres; NaN when not known
   */
  public record Shape(String kind, double eastM, double northM, double sizeM, double uncertaintyM) {
    private static final double FURTHEST_M = 10_000;

    /**
     * A shape.
     *
     * @throws IllegalArgumentException when it cannot be, saying why
     */
    public Shape {
      named("kind", kind);
      if (!(Math.abs(eastM) <= FURTHEST_M && Math.abs(northM) <= FURTHEST_M)) {
        throw new IllegalArgumentException(
            "'east' and 'north' are metres from the wellhead, 10000 at most either way");
      }
      if (!Double.isNaN(sizeM) && !(sizeM > 0 && sizeM <= FURTHEST_M)) {
        throw new IllegalArgumentException("'size' is above 0 m, 10000 m at most");
      }
      if (!Double.isNaN(uncertaintyM)
          && (Double.isNaN(sizeM) || !(uncertaintyM >= 0 && uncertaintyM <= FURTHEST_M))) {
        throw new IllegalArgumentException(
            "'uncertainty' is that of 'size', 0 m or more, and needs a size");
      }
    }
  }

  /**
   * An item.
   *
   * @throws IllegalArgumentException when it says too little or too much
   */
  public SurveyItem {
    named("means", means);
    named("pass", pass);
    if (what == What.NOTHING ? !name.isEmpty() : name.isBlank() || name.length() > LONGEST) {
      throw new IllegalArgumentException(
          "'name' names the thing that was seen or is gone, in 100 letters at most; a pass that saw nothing has none");
    }
    if (at.isPresent() != (what == What.SEEN)) {
      throw new IllegalArgumentException(
          "a thing that was seen needs 'kind', 'east' and 'north'; nothing else has them");
    }
  }

  private static void named(String field, String value) {
    if (value.isBlank() || value.length() > LONGEST) {
      throw new IllegalArgumentException("'" + field + "' needs a name of 100 letters at most");
    }
  }
}
