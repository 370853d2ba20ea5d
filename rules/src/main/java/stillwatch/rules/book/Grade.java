package stillwatch.rules.book;

/**
 * How bad it is when nobody acts on an alarm. With the time there is to respond it makes the
 * priority, as ANSI/ISA-18.2, 9 (rationalization) wants it; the grades and the table are our own.
 */
public enum Grade {
  /** Fluid leaves the well, a barrier fails, or nobody would see it. */
  GRAVE,
  /** A leak may be hidden or grow, or a decision or a person is missing. */
  SERIOUS,
  /** The watch sees less, and still sees. */
  SLIGHT,
  /** Nothing; it is to be known. */
  NONE;

  private static final double SOON_S = 300;
  private static final double HALF_AN_HOUR_S = 1800;

  /**
   * The priority of an alarm of this grade.
   *
   * @param respondS the time there is to respond, seconds
   */
  public Priority within(double respondS) {
    return switch (this) {
      case GRAVE -> respondS <= HALF_AN_HOUR_S ? Priority.HIGH : Priority.MEDIUM;
      case SERIOUS -> respondS <= SOON_S ? Priority.HIGH : Priority.MEDIUM;
      case SLIGHT -> respondS <= SOON_S ? Priority.MEDIUM : Priority.LOW;
      case NONE -> Priority.INFORMATION;
    };
  }
}
