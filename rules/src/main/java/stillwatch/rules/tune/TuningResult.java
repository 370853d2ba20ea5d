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
 * @param sets all that were tried
 * @param heldOut the score of what would have been chosen without each recording, on that recording
 */
public record TuningResult(
    RuleEntry rule,
    Trial present,
    Trial best,
    List<Trial> frontier,
    List<Trial> sets,
    Score heldOut) {
  /** One event fits any number of looser limits: it moves none. */
  static final int FEWEST_TO_MOVE = 2;

  private static final int FEWEST_HAPPENINGS = 5;
  private static final double FEWEST_SOUND_HOURS = 168;

  /** One of its own, with its lists kept from changing. */
  public TuningResult {
    frontier = List.copyOf(frontier);
    sets = List.copyOf(sets);
  }

  /** How many sets were tried. */
  public int tried() {
    return sets.size();
  }

  /** Whether there is too little data to believe in the choice; empty when there is enough. */
  public String doubt() {
    Score all = best.all();
    if (all.happenings() < FEWEST_HAPPENINGS) {
      int n = all.happenings();
      return "too little to believe: only "
          + n
          + (n == 1 ? " labelled event" : " labelled events")
          + (n < FEWEST_TO_MOVE ? ", which loosens no limit" : "");
    }
    return all.soundHours() < FEWEST_SOUND_HOURS
        ? "too little to believe: only " + Math.round(all.soundHours()) + " hours without an event"
        : "";
  }
}
