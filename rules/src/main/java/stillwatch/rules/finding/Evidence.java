package stillwatch.rules.finding;

import java.util.List;
import java.util.Map;

/**
 * What a finding is based on.
 *
 * @param indicator the values the rule saw when it decided, in base units
 * @param trails how each gauge's level went up to that moment
 * @param hypotheses what spoke for and against each explanation at that moment, where the finding
 *     speaks of a change of the pressure: well, gauge, operation, surroundings; else empty
 */
public record Evidence(
    Map<String, Double> indicator, List<Trail> trails, List<Hypothesis> hypotheses) {
  /** Evidence of a finding that speaks of no change of the pressure. */
  public Evidence(Map<String, Double> indicator, List<Trail> trails) {
    this(indicator, trails, List.of());
  }

  /** The same with what speaks for and against each explanation. */
  public Evidence with(List<Hypothesis> weighed) {
    return new Evidence(indicator, trails, weighed);
  }

  /**
   * A gauge's level over time, oldest first, at most a few dozen points.
   *
   * @param gauge the gauge's id
   * @param unit the unit of the values
   * @param atMs times, ms since 1970 UTC
   * @param level levels
   */
  public record Trail(String gauge, String unit, List<Long> atMs, List<Double> level) {}
}
