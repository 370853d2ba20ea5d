package stillwatch.bench.diagnosis;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.review.Reviewer;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.watch.WellWatch;
import stillwatch.rules.well.Expectation;
import stillwatch.rules.well.ExplanationFit;

/** What a review of 48 hours costs, and whether alerts wait for it. */
final class ReviewCost {
  private static final Path FOLDER = Path.of("demo-data/larkspur");

  private final RuleBook book = RuleBook.shipped();
  private final Plan plan = PlanLoader.load(FOLDER.resolve("plan.yaml"), book.catalogue());
  private final List<Telemetry> log = new ArrayList<>();

  ReviewCost() throws IOException {
    try (RecordingFeed feed =
        RecordingFeed.open(FOLDER.resolve("intact.csv.gz"), plan.recordings(), new Problems())) {
      for (Telemetry e = feed.next(); e != null; e = feed.next()) {
        log.add(e);
      }
    }
  }

  void print() {
    BuildUpReview[] last = new BuildUpReview[1];
    delays(
        new WellWatch.Tap() {
          @Override
          public void reviewed(BuildUpReview reviewed) {
            last[0] = reviewed;
          }
        });
    Expectation facts = Expectation.of(Objects.requireNonNull(plan.facts()));
    double[] ms = new double[7];
    for (int i = 0; i < ms.length; i++) {
      long start = System.nanoTime();
      ExplanationFit.of(last[0].buildUp(), facts, last[0].heard());
      ms[i] = (System.nanoTime() - start) / 1e6;
    }
    Arrays.sort(ms);
    System.out.printf(
        Locale.ROOT, "%nOne comparison over 48 h: %.0f ms (median of 7).%n", ms[ms.length / 2]);
    double[] without = delays(WellWatch.NOBODY);
    try (Reviewer reviewer = new Reviewer(plan, said -> {})) {
      double[] with = delays(reviewer);
      System.out.printf(
          Locale.ROOT,
          "An entry of the log is judged in at most (99.99 %%, worst): %.2f, %.0f ms without reviews; %.2f, %.0f ms with them.%n",
          without[0],
          without[1],
          with[0],
          with[1]);
    }
  }

  /** How long the rules take over an entry, ms: 99.99 % of them at most, and the worst. */
  private double[] delays(WellWatch.Tap tap) {
    double[] ms = new double[log.size()];
    try (WellWatch watch = new WellWatch(plan, book, f -> {}, tap)) {
      for (int i = 0; i < ms.length; i++) {
        long start = System.nanoTime();
        watch.accept(log.get(i));
        ms[i] = (System.nanoTime() - start) / 1e6;
      }
    }
    Arrays.sort(ms);
    return new double[] {ms[(int) (ms.length * 0.9999)], ms[ms.length - 1]};
  }
}
