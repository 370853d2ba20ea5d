package stillwatch.rules.closing;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.well.Extrapolation;
import stillwatch.rules.well.FlowHistory;
import stillwatch.rules.well.LogTimeMeans;
import stillwatch.rules.well.MultiRate;
import stillwatch.rules.well.Thickness;
import stillwatch.rules.well.WellFacts;

/**
 * What the pressure of one gauge through the closing steps says of the rock, before anybody asks
 * whether the well leaks.
 *
 * @param gauge its id
 * @param thickness the permeability-thickness; empty when it cannot be told
 * @param text one sentence for people, with the facts' own value beside it or why nothing can be
 *     told
 */
public record StepsReading(String gauge, Optional<Thickness> thickness, String text) {
  private static final double MS_PER_HOUR = 3_600_000;

  /** A change of the flow before this closing, to a share of the first rate. */
  record Change(long atMs, double share) {}

  /**
   * Reads the steps of a closing. The last step counts as long as the longest before it: what comes
   * later belongs to the build-up.
   *
   * @param before how the flow changed in the cycles before, oldest first; empty when that is not
   *     known
   * @param logged all steps of the cycle, in order of time; what follows the shut-in is left out
   * @param medians what the gauge read through the closing, in order of time
   */
  static StepsReading of(
      String gauge,
      Optional<List<Change>> before,
      List<StepTaken> logged,
      List<StepCourse.Median> medians,
      @Nullable WellFacts facts) {
    List<StepTaken> steps = upToShutIn(logged);
    WellFacts.Flow flow = facts == null ? null : facts.flow();
    WellFacts.Rock rock = facts == null ? null : facts.rock();
    if (flow == null || rock == null) {
      return none(gauge, "The facts of the plan state no flow or no rock.");
    }
    if (steps.size() < 2) {
      return none(gauge, "A multi-rate test needs two closure steps; there are too few.");
    }
    if (before.isEmpty()) {
      return none(gauge, "What flowed since the closing before is not known.");
    }
    if (!sharesKnown(steps)) {
      return none(gauge, "What flow one of the steps left is not known.");
    }
    List<Change> changes = new ArrayList<>(before.get());
    changes.addAll(changes(steps));
    long firstMs = changes.get(0).atMs();
    FlowHistory history;
    try {
      history = history(flow.hours(), changes);
    } catch (IllegalArgumentException e) {
      return none(gauge, "Two steps were logged for the same time.");
    }
    MultiRate read =
        MultiRate.of(
            samples(flow.hours(), firstMs, steps, medians), history, Extrapolation.SHARE_DEVIATION);
    if (read.slope() == null) {
      return none(gauge, read.refusal());
    }
    Thickness thickness = Thickness.of(read.slope(), flow, rock);
    return new StepsReading(gauge, Optional.of(thickness), words(gauge, read, thickness, rock));
  }

  private static StepsReading none(String gauge, String why) {
    return new StepsReading(
        gauge,
        Optional.empty(),
        gauge + ": the closing steps do not tell the permeability-thickness. " + why);
  }

  /** How a closing changed the flow; empty where one of its steps does not say. */
  static Optional<List<Change>> flow(List<StepTaken> logged) {
    List<StepTaken> steps = upToShutIn(logged);
    return sharesKnown(steps) ? Optional.of(changes(steps)) : Optional.empty();
  }

  private static List<Change> changes(List<StepTaken> steps) {
    return steps.stream()
        .map(s -> new Change(s.atMs(), s.planned().map(ClosingStep::leaves).orElseThrow()))
        .toList();
  }

  private static List<StepTaken> upToShutIn(List<StepTaken> logged) {
    List<StepTaken> steps = new ArrayList<>();
    for (StepTaken s : logged) {
      steps.add(s);
      if (s.planned().filter(p -> p.leaves() == 0).isPresent()) {
        break;
      }
    }
    return steps;
  }

  /** Whether each step is one of the list's, closed something, and was not taken back. */
  private static boolean sharesKnown(List<StepTaken> steps) {
    double before = 1;
    for (StepTaken s : steps) {
      double leaves = s.planned().map(ClosingStep::leaves).orElse(Double.NaN);
      if (s.undone() || !(leaves < before)) {
        return false;
      }
      before = leaves;
    }
    return true;
  }

  private static FlowHistory history(double flowed, List<Change> changes) {
    List<FlowHistory.Step> rates = new ArrayList<>();
    rates.add(new FlowHistory.Step(0, 1));
    for (Change c : changes) {
      double at = flowed + (c.atMs() - changes.get(0).atMs()) / MS_PER_HOUR;
      rates.add(new FlowHistory.Step(at, c.share()));
    }
    return new FlowHistory(rates);
  }

  private static List<MultiRate.Sample> samples(
      double flowed, long firstMs, List<StepTaken> steps, List<StepCourse.Median> medians) {
    List<MultiRate.Sample> samples = new ArrayList<>();
    long longestMs = 0;
    for (int i = 0; i < steps.size(); i++) {
      long fromMs = steps.get(i).atMs();
      boolean last = i + 1 == steps.size();
      long toMs = last ? fromMs + longestMs : steps.get(i + 1).atMs();
      longestMs = Math.max(longestMs, toMs - fromMs);
      LogTimeMeans means = new LogTimeMeans();
      for (StepCourse.Median m : medians) {
        if (m.atMs() > fromMs && m.atMs() < toMs) {
          means.accept((m.atMs() - fromMs) / MS_PER_HOUR, m.kPa(), Double.NaN);
        }
      }
      double began = flowed + (fromMs - firstMs) / MS_PER_HOUR;
      for (LogTimeMeans.Mean m : means.means()) {
        samples.add(
            new MultiRate.Sample(i + 1, began + m.hours(), m.hours(), m.pressure(), m.count()));
      }
    }
    return samples;
  }

  private static String words(String gauge, MultiRate read, Thickness t, WellFacts.Rock rock) {
    double low = rock.thickness().quantile(0.05);
    double high = rock.thickness().quantile(0.95);
    String beside =
        t.high() < low
            ? "it lies below that"
            : t.low() > high ? "it lies above that" : "the two ranges overlap";
    return String.format(
        Locale.ROOT,
        "%s: the closing steps give a permeability-thickness of %.1f µm²·m (90 %%: %.1f to %.1f),"
            + " from %d steps and the readings later than %.0f min after each; the facts say %.1f to"
            + " %.1f (90 %%): %s.",
        gauge,
        t.likely(),
        t.low(),
        t.high(),
        read.steps(),
        read.from() * 60,
        low,
        high,
        beside);
  }
}
