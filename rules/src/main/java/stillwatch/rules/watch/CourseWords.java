package stillwatch.rules.watch;

import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.account.Change;

/**
 * What the pressure does where a rule gives its {@code level} and {@code slope}, and whether what
 * was lost has come back where the account has the level before. All in kPa and kPa an hour, in
 * words.
 */
final class CourseWords {
  /** Slower than this is flat: less than gauges carry in an hour (common practice, no source). */
  private static final double FLAT = 0.1;

  private final Words words;
  private final double level;
  private final double slope;
  private final double error;

  CourseWords(Words words, Map<String, Double> numbers) {
    this.words = words;
    level = numbers.getOrDefault("level", Double.NaN);
    slope = numbers.getOrDefault("slope", Double.NaN);
    error = numbers.getOrDefault("slopeError", Double.NaN);
  }

  private boolean flat() {
    return Math.abs(slope) <= (error > FLAT ? error : FLAT);
  }

  /** Like {@code falling 1.88 MPa/h (± 0.18 MPa/h)}; empty when no slope is known. */
  String trend() {
    if (Double.isNaN(slope)) {
      return "";
    }
    String within = Double.isNaN(error) ? "" : " (± " + words.rateError(error) + ")";
    return (flat() ? "flat" : (slope < 0 ? "falling " : "rising ") + words.rate(Math.abs(slope)))
        + within;
  }

  /** Like {@code Still falls, 1.88 MPa/h, evenly.} */
  String course() {
    if (Double.isNaN(slope)) {
      return "The pressure no longer falls short of its build-up.";
    }
    if (flat()) {
      return "No longer falls: flat.";
    }
    return slope < 0
        ? "Still falls, " + words.rate(-slope) + ", evenly."
        : "Rises again, " + words.rate(slope) + ".";
  }

  /**
   * Like {@code NOT recovered: 43.173 MPa, 1.93 MPa below 45.104 MPa before 11:30:00 UTC.}; empty
   * when a level is not known.
   *
   * @param change what was lost, as the account has it; null where the alarm is of no change
   * @param onset when it began, for people
   */
  String recovery(@Nullable Change change, String onset) {
    double missing = change == null ? Double.NaN : change.before() - level;
    if (change == null || Double.isNaN(missing)) {
      return "";
    }
    String was = words.level(change.before()) + " before " + onset + ".";
    return missing > Change.BACK_SHARE * change.peak()
        ? "NOT recovered: "
            + words.level(level)
            + ", "
            + words.difference(missing)
            + " below "
            + was
        : "Recovered: " + words.level(level) + ", " + was;
  }
}
