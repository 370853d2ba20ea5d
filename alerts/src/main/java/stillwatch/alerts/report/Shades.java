package stillwatch.alerts.report;

import stillwatch.rules.book.Priority;

/** The colours of the report. */
final class Shades {
  private static final String[] SHADES = {"#24282b", "#1d5c86", "#5b6b2f", "#9a5200", "#7a3b6b"};

  /** How many lines can be told apart. */
  static final int COUNT = SHADES.length;

  private Shades() {}

  /** The colour of a line of several. */
  static String of(int line) {
    return SHADES[line % COUNT];
  }

  static String of(Priority p) {
    return switch (p) {
      case HIGH -> "#a3123c";
      case MEDIUM -> "#9a5200";
      case LOW -> "#1d5c86";
      default -> "#7b8388";
    };
  }
}
