package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class GaugeHealthTest {
  @TempDir Path folder;

  @Test
  void ofTwoTheOneThatLeftItsOwnCourseIsNamedAsAGuessAndLeftOut() {
    try (WellDriver well = new WellDriver()) {
      well.run(5400, s -> 45_000 + s * 0.01) // both rise, which shows that both feel the well
          .run(3600, s -> 45_054 + s * 0.01, s -> 45_048 - s * 0.02);
      assertThat(well.said("gauge-drifting")).containsExactly("raised PT-2");
      assertThat(well.last("gauge-drifting").summary()).contains("guess");
      assertThat(well.said("gauge-divergence")).isEmpty();
      well.run(60, s -> 45_090 - s, s -> 44_976 - s).run(840, s -> 45_030, s -> 44_916);
      assertThat(well.said("sudden-drop")).contains("raised PT-1");
      assertThat(well.first("sudden-drop").summary())
          .contains("PT-1 only", "PT-2 (gauge-drifting)");
    }
  }

  @Test
  void aFallThatAFrozenTwinDoesNotShowNamesNotTheOneThatFell() {
    try (WellDriver well = new WellDriver()) {
      well.run(5400, s -> 45_000).runStill(5, 45_000, 44_994.0);
      for (int s = 0; s < 600; s++) {
        well.runStill(1, 45_000 - s * 0.2, 44_994.0);
      }
      assertThat(well.said("gauge-drifting")).isEmpty();
      assertThat(well.said("gauge-frozen")).containsExactly("raised PT-2");
      assertThat(well.said("sustained-drop"))
          .startsWith("raised PT-1")
          .doesNotContain("raised PT-2");
    }
  }

  /** The frozen rule would take the dead twin out in time; without it, only being alive tells. */
  @Test
  void aTwinThatIsNotAliveIsNoWitness() throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"),
            plan.replace("rules:\n", "rules:\n  gauge-frozen: {off: to try the witness alone}\n"));
    try (WellDriver well = new WellDriver(file)) {
      well.run(5400, s -> 45_000);
      for (int s = 0; s < 900; s++) {
        well.runStill(1, 45_000 - s * 0.2, 44_994.0);
      }
      assertThat(well.said("gauge-drifting")).isEmpty();
      assertThat(well.said("gauge-divergence")).containsExactly("raised PT-1,PT-2");
    }
  }

  @Test
  void ofThreeTheOddOneIsNamedByTheOtherTwo() throws IOException {
    String plan = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    String third =
        plan.substring(plan.indexOf("  - id: PT-2"), plan.indexOf("  - id: PA-1"))
            .replace("PT-2", "PT-3");
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"), plan.replace("  - id: PA-1", third + "  - id: PA-1"));
    try (WellDriver well = new WellDriver(file)) {
      well.beside("PT-3", s -> 45_010).run(2400, s -> 45_000);
      well.run(1800, s -> 45_000, s -> 44_994 + s * 0.05);
      assertThat(well.said("gauge-drifting")).containsExactly("raised PT-2");
      assertThat(well.last("gauge-drifting").summary()).contains("PT-1 and PT-3 agree");
    }
  }

  @Test
  void aGaugeThatShakesBesideACalmTwinIsNoisyAndReturnsButAWellThatShakesIsNot() {
    try (WellDriver well = new WellDriver()) {
      well.run(1800, s -> 45_000, s -> 44_994 + (s % 2) * 0.1);
      well.run(600, s -> 45_000, s -> 44_994 + (s % 2) * 20).run(1800, s -> 45_000);
      assertThat(well.said("gauge-noisy")).containsExactly("raised PT-2", "returned PT-2");
    }
    try (WellDriver well = new WellDriver()) {
      well.run(1800, s -> 45_000).run(600, s -> 45_000 + (s % 2) * 20);
      assertThat(well.said("gauge-noisy")).isEmpty();
    }
  }

  @Test
  void aCrowdOfSpikesIsToldOnceAndAStairOfStepsIsNone() {
    try (WellDriver well = new WellDriver()) {
      well.run(600, s -> 42_000).run(240, s -> 42_000 + s / 30 * 500).run(600, s -> 46_000);
      assertThat(well.said("gauge-spiking")).isEmpty();
      well.run(600, s -> 46_000, s -> s % 50 == 7 ? 46_900 : 45_994).run(3600, s -> 46_000);
      assertThat(well.said("gauge-spiking")).containsExactly("raised PT-2", "returned PT-2");
    }
  }

  @Test
  void aClockSetBackIsToldOnceAndReturnsWhenItHasCaughtUp() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000).runStamped(100, 45_000, -600).run(600, s -> 45_000);
      assertThat(well.said("clock-skew")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void aClockThatRunsAheadIsTold() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000).runStamped(60, 45_000, 90);
      assertThat(well.said("clock-skew")).containsExactly("raised ");
    }
  }

  @Test
  void whenNoPressureGaugeIsLeftTheRoomIsTold() {
    try (WellDriver well = new WellDriver()) {
      well.run(900, s -> 45_000).run(120, s -> 0, s -> 0);
      assertThat(well.said("pressure-unwatched")).containsExactly("raised PT-1,PT-2");
      assertThat(well.last("pressure-unwatched").priority()).isEqualTo(Priority.HIGH);
      well.run(700, s -> 45_000);
      assertThat(well.said("pressure-unwatched"))
          .containsExactly("raised PT-1,PT-2", "returned PT-1,PT-2");
    }
  }
}
