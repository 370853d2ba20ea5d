package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;

/** The rules about the course of the test itself, in a test of three hours. */
class TestEndTest {
  @TempDir Path folder;

  private WellDriver shutIn() throws IOException {
    Path plan = folder.resolve("plan.yaml");
    Files.writeString(
        plan,
        Files.readString(Path.of("../demo-data/larkspur/plan.yaml"))
            .replace("length: 48 h", "length: 3 h"));
    WellDriver well = new WellDriver(plan).run(60, s -> 45_000);
    for (int step = 1; step <= 6; step++) {
      well.logged(Operation.What.CLOSURE_STEP, "part-turn " + step);
    }
    return well;
  }

  @Test
  void theEndIsAnnouncedThenToBeAssessedThenOverdueUntilADecisionIsLogged() throws IOException {
    try (WellDriver well = shutIn()) {
      well.run(7190, s -> 45_000);
      assertThat(well.said("test-end-due")).isEmpty();
      well.run(60, s -> 45_000);
      assertThat(well.raisedAt("test-end-due")).isBetween(7260L, 7280L);
      assertThat(well.first("test-end-due").summary()).contains("The test ends at 14:01:00 UTC");
      well.run(3600, s -> 45_000);
      assertThat(well.said("test-end-due")).containsExactly("raised ", "returned ");
      assertThat(well.raisedAt("test-end-reached")).isBetween(10_860L, 10_880L);
      assertThat(well.first("test-end-reached").summary()).contains("3 h", "Assess the test");
      assertThat(well.said("test-end-overdue")).isEmpty();
      well.run(900, s -> 45_000);
      assertThat(well.raisedAt("test-end-overdue")).isBetween(11_760L, 11_780L);
      well.decided(Decision.Choice.CONTINUE).run(1200, s -> 45_000);
      assertThat(well.said("test-end-reached")).containsExactly("raised ", "returned ");
      assertThat(well.said("test-end-overdue")).containsExactly("raised ", "returned ");
      assertThat(well.said("test-end-due")).as("the next end is 6 h off").hasSize(2);
    }
  }

  @Test
  void whatIsDecidedInTimeRaisesNothingAndNothingIsDueBeforeTheShutIn() throws IOException {
    try (WellDriver well = shutIn()) {
      well.run(10_200, s -> 45_000).decided(Decision.Choice.END).run(3600, s -> 45_000);
      assertThat(well.said("test-end-due")).containsExactly("raised ", "returned ");
      assertThat(well.said("test-end-reached")).isEmpty();
      assertThat(well.said("test-end-overdue")).isEmpty();
    }
    try (WellDriver well = new WellDriver(folder.resolve("plan.yaml"))) {
      well.run(12_000, s -> 45_000);
      assertThat(well.findings()).noneMatch(f -> f.rule().startsWith("test-end"));
    }
  }

  @Test
  void aPhaseThatIsNotTakenIsToldAndReturnsWhenOneIs() {
    try (WellDriver well = new WellDriver()) {
      well.run(60, s -> 45_000).logged(Operation.What.PHASE, "wachting").run(60, s -> 45_000);
      assertThat(well.said("phase-refused")).isEmpty();
      well.logged(Operation.What.PHASE, "holding").run(60, s -> 45_000);
      assertThat(well.first("phase-refused").summary())
          .isEqualTo(
              "The phase 'holding' is none of the plan's (flowing, closing, watching); it stays watching.");
      well.logged(Operation.What.PHASE, "Watching").run(60, s -> 45_000);
      assertThat(well.said("phase-refused")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void whatNobodyEndsIsAskedAboutAfterTheLongestStay() throws IOException {
    Path plan = folder.resolve("plan.yaml");
    Files.writeString(
        plan,
        Files.readString(Path.of("../demo-data/larkspur/plan.yaml"))
            .replace("recordings:", "presence: {longest-stay: 10 min}\n\nrecordings:"));
    try (WellDriver well = new WellDriver(plan)) {
      well.run(60, s -> 45_000).logged(Operation.What.ROV, "vehicle at the wellhead");
      well.run(590, s -> 45_000);
      assertThat(well.said("presence-unended")).isEmpty();
      well.run(30, s -> 45_000);
      assertThat(well.first("presence-unended").summary())
          .contains("Vehicle at the wellhead: logged", "10 min");
      well.logged(Operation.What.ROV_OUT).run(60, s -> 45_000);
      assertThat(well.said("presence-unended")).containsExactly("raised ", "returned ");
    }
  }
}
