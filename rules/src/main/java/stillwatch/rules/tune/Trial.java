package stillwatch.rules.tune;

import java.util.List;
import java.util.Map;

/**
 * One set of limits and how it did.
 *
 * @param limits by name, base units
 * @param byRun its score on each recording
 */
public record Trial(Map<String, Double> limits, List<Score> byRun) {
  /** Over all recordings. */
  public Score all() {
    return byRun.stream().reduce(Score.NOTHING, Score::and);
  }

  /** Over all but one. */
  Score without(int run) {
    Score sum = Score.NOTHING;
    for (int i = 0; i < byRun.size(); i++) {
      sum = i == run ? sum : sum.and(byRun.get(i));
    }
    return sum;
  }
}
