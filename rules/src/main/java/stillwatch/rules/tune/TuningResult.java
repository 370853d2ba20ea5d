package stillwatch.rules.tune;

import java.util.List;
import stillwatch.rules.book.RuleEntry;

/**
 * What tuning found for one rule.
 *
 * @param rule the rule
 * @param present the limits now in force
 * @param best the limits recommended
 * @param frontier sets that no other beats in misses, false alerts and delay at once
 * @param tried how many sets were tried
 * @param heldOut the score of what would have been chosen without each recording, on that recording
 */
public record TuningResult(
    RuleEntry rule, Trial present, Trial best, List<Trial> frontier, int tried, Score heldOut) {
  private static final int FEWEST_HAPPENINGS = 5;
  private static final double FEWEST_SOUND_HOURS = 168;

  /** Whether there is too little data to believe in the choice; empty when there is enough. */
  public String doubt() {
    Score all = best.all();
    if (all.happenings() < FEWEST_HAPPENINGS) {
      return "too little to believe: only " + all.happenings() + " labelled happenings for it";
    }
    return all.soundHours() < FEWEST_SOUND_HOURS
        ? "too little to believe: only " + Math.round(all.soundHours()) + " sound hours"
        : "";
  }
}
