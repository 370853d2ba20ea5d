package stillwatch.rules.plan;

import java.time.Duration;
import java.util.List;

/**
 * How the test is meant to go.
 *
 * @param phases names of the phases in order; the first holds until an operation names another
 * @param closureSteps what is closed, in order, for people
 * @param holdPointEvery how often the deciders meet (common practice, no source: 6 h)
 * @param length how long the test lasts (common practice, no source: 48 h)
 * @param passes the ways of looking at the well and how often each is due
 */
public record TestPlan(
    List<String> phases,
    List<ClosureStep> closureSteps,
    Duration holdPointEvery,
    Duration length,
    List<Pass> passes) {
  /** Something is closed, and this share of the first flow is left. */
  public record ClosureStep(String text, double leaves) {}

  /** Somebody is to look, by these means, this often from the start of the last phase. */
  public record Pass(String means, Duration every) {}
}
