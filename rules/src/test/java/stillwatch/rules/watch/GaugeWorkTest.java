package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Operation.What;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** Work on a gauge explains what that gauge alone felt about then, and hides nothing else. */
class GaugeWorkTest {
  private static final long MIN = 60_000;
  private static final long START = 1_772_967_600_000L;
  private static final GaugeSet TWINS = GaugeSet.of("PT-1", "PT-2");

  private static final RuleBook BOOK = RuleBook.shipped();
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), BOOK.catalogue());

  private final WellWatch watch = new WellWatch(PLAN, BOOK, f -> {});
  private long nowMs = START;

  @AfterEach
  void close() {
    watch.close();
  }

  private void run(int minutes, IntToDoubleFunction first) {
    for (int s = 0; s < 60 * minutes; s++) {
      double noise = 0.05 * ((s * 7919) % 13 - 6);
      watch.accept(
          Frame.good(
              "larkspur-2", nowMs, nowMs, TWINS, first.applyAsDouble(s) + noise, 47_000 - noise));
      nowMs += 1000;
    }
  }

  private void zeroed(String gauge, long atMs) {
    watch.accept(
        new Operation("larkspur-2", atMs, nowMs, What.GAUGE_ZEROED, gauge, "zero set again", ""));
  }

  /** PT-1 alone falls by 300 kPa in a minute, a quarter of an hour after the start. */
  private void firstFallsAlone() {
    run(15, s -> 47_006);
    run(1, s -> 47_006 - 5.0 * s);
    run(3, s -> 46_706);
    assertThat(watch.openChanges()).hasSize(1);
  }

  @Test
  void workAboutThenExplainsWhatItsGaugeAloneFelt() {
    firstFallsAlone();
    zeroed("PT-1", START + 15 * MIN);
    assertThat(watch.openChanges()).isEmpty();
  }

  @Test
  void workOnAnotherGaugeExplainsNothing() {
    firstFallsAlone();
    zeroed("PT-2", START + 15 * MIN);
    assertThat(watch.openChanges()).hasSize(1);
  }

  /** In the evening somebody writes down what was done in the morning. */
  @Test
  void workOfLongBeforeExplainsNothingThatCameAfterIt() {
    firstFallsAlone();
    zeroed("PT-1", START - 3 * 60 * MIN);
    assertThat(watch.openChanges()).hasSize(1);
  }

  @Test
  void workStampedInTheFutureCountsFromItsReception() {
    firstFallsAlone();
    zeroed("PT-1", nowMs + 30 * 24 * 60 * MIN);
    assertThat(watch.openChanges()).as("it came in minutes after the fall").isEmpty();
    run(20, s -> 46_706);
    run(1, s -> 46_706 - 5.0 * s);
    run(10, s -> 46_406);
    assertThat(watch.openChanges()).as("a fall twenty minutes later is another thing").hasSize(1);
  }
}
