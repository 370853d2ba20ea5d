package stillwatch.rules.plan;

import java.time.Duration;
import java.util.Locale;
import java.util.Optional;

/**
 * One step of the closing list, or of the opening list: an outlet is closed or opened, or so
 * further.
 *
 * @param name by which the step is logged
 * @param outlet what is closed or opened
 * @param leaves the share of the first flow that flows after it, 0 to 1
 * @param hold how long to wait after it at least before the next one; zero where the plan asks none
 * @param response what the shut-in pressure is expected to do after it; empty where the plan does
 *     not say
 */
public record ClosingStep(
    String name, String outlet, double leaves, Duration hold, Optional<Response> response) {
  /** Whether this is what was logged, but for capitals and blanks. */
  public boolean isNamed(String logged) {
    return key(name).equals(key(logged));
  }

  static String key(String name) {
    return name.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
  }

  /**
   * What the shut-in pressure is expected to do after a step.
   *
   * @param lowKPa least change, kPa; negative for a fall
   * @param highKPa largest change, kPa
   * @param within how long after the step the change is read
   */
  public record Response(double lowKPa, double highKPa, Duration within) {}

  /** A duration to the minute, or to the second where it has any, like {@code 15 min}. */
  public static String span(Duration d) {
    return d.toSeconds() % 60 == 0 ? d.toMinutes() + " min" : d.toSeconds() + " s";
  }
}
