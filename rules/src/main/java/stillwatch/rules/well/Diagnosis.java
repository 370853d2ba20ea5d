package stillwatch.rules.well;

import java.util.List;

/**
 * The explanations of a build-up, side by side.
 *
 * @param hours since the shut-in, of the newest mean: what is forecast is counted from there
 * @param spread what the best of them leaves unexplained, kPa
 * @param candidates all of them, the likeliest first
 * @param apartHours in how many hours the likeliest sound and the likeliest leaking explanation
 *     will differ by more than the readings and both can be wrong; infinite when not within a week;
 *     of no meaning once told apart
 * @param loud whether a hydrophone hears more than the facts expect without a leak
 */
public record Diagnosis(
    double hours, double spread, List<Candidate> candidates, double apartHours, boolean loud) {
  /** From this share of the weights on, the well is said to leak. */
  public static final double SURE = 0.95;

  /** Down to this share of theirs nothing is seen of a leak: to miss one is worse. */
  private static final double NOTHING_SEEN = 0.01;

  /**
   * One explanation.
   *
   * @param weight its share of all weights
   * @param leakShare what leaks now, as a share of the rate before the closing; nothing when it is
   *     sound
   * @param ahead the pressure that it forecasts 1, 3, 6 and 12 hours ahead, kPa
   */
  public record Candidate(
      Explanation explanation, double weight, Estimate leakShare, List<Estimate> ahead) {}

  /** Hours ahead of the forecast pressures. */
  public static final List<Double> AHEAD = List.of(1.0, 3.0, 6.0, 12.0);

  /** The weight of one of them. */
  public double weight(Explanation explanation) {
    return candidates.stream()
        .filter(c -> c.explanation() == explanation)
        .mapToDouble(Candidate::weight)
        .sum();
  }

  /** The sum of the weights of those by which fluid leaves the well. */
  public double leaking() {
    return candidates.stream()
        .filter(c -> c.explanation().leak())
        .mapToDouble(Candidate::weight)
        .sum();
  }

  /** What can be said, and what not. */
  public Verdict verdict() {
    double leaking = leaking();
    return leaking >= SURE
        ? Verdict.LEAKING
        : leaking <= NOTHING_SEEN && !loud ? Verdict.NO_SIGN_OF_A_LEAK : Verdict.CANNOT_TELL;
  }

  /** What can be said by the pressure, and the sound where the facts know the hydrophones. */
  public enum Verdict {
    /** No intact-well explanation fits. */
    LEAKING,
    /**
     * Every leaking explanation is very far behind, and nothing loud is heard. That excludes no
     * small leak, and no new one.
     */
    NO_SIGN_OF_A_LEAK,
    /** Neither is. */
    CANNOT_TELL
  }
}
