package stillwatch.station.output;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.well.Diagnosis;
import stillwatch.rules.well.Expectation;
import stillwatch.rules.well.ExplanationFit;
import stillwatch.rules.well.WellFacts;

/**
 * Keeps the newest reading of the build-up of a replay, and has its explanations compared every
 * half hour, every hour later on, beside the replay.
 */
final class Reviews {
  /** A comparison costs a good part of a second, and a long shut-in changes slowly. */
  private static final double HALF_HOURLY_UNTIL = 12;

  private static final long HALF_HOUR_MS = 1_800_000;

  private final @Nullable Expectation expected;
  private final List<CompletableFuture<At>> compared = new ArrayList<>();
  private @Nullable BuildUpReview newest;
  private long dueMs = Long.MIN_VALUE;

  /** A comparison, and the reading it was made of. */
  record At(BuildUpReview reviewed, Diagnosis diagnosis) {}

  Reviews(Plan plan) {
    WellFacts facts = plan.facts();
    expected = facts == null || facts.flow() == null ? null : Expectation.of(facts);
  }

  void take(BuildUpReview reviewed) {
    newest = reviewed;
    if (reviewed.atMs() >= dueMs && reviewed.review().hours() > 1) {
      boolean late = reviewed.review().hours() > HALF_HOURLY_UNTIL;
      dueMs = reviewed.atMs() + HALF_HOUR_MS * (late ? 2 : 1);
      compare(reviewed);
    }
  }

  private void compare(BuildUpReview reviewed) {
    Expectation facts = expected;
    if (facts != null) {
      compared.add(
          CompletableFuture.supplyAsync(
              () ->
                  new At(
                      reviewed, ExplanationFit.of(reviewed.buildUp(), facts, reviewed.heard()))));
    }
  }

  /** The newest reading; null when the well was not shut in. */
  @Nullable BuildUpReview newest() {
    return newest;
  }

  /** All comparisons, oldest first; waits for those not yet done. */
  List<At> compared() {
    return compared.stream().map(CompletableFuture::join).toList();
  }
}
