package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.telemetry.Operation;

/** What is said of an outage when readings come again and no backlog does. */
class SeenLateTest {
  private static WellDriver outage() {
    return new WellDriver().run(1800, s -> 45_000).silence(1200);
  }

  @Test
  void aWellThatStandsLowerAfterAnOutageIsToldWithItsFirstReadings() {
    try (WellDriver well = outage().run(20, s -> 44_700)) {
      assertThat(well.first("seen-late").priority()).isEqualTo(Priority.HIGH);
      assertThat(well.first("seen-late").summary())
          .matches(
              "Seen late: during the outage, from .* UTC, PT-1 fell by 0.3 MPa and did not return.");
      assertThat(well.raisedAt("seen-late")).isBetween(3000L, 3015L);
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {45_000, 44_960, 45_300})
  void aWellThatStandsWhereItStoodOrHigherIsNot(double after) {
    try (WellDriver well = outage().run(900, s -> after)) {
      assertThat(well.said("seen-late")).isEmpty();
    }
  }

  /** A backlog of readings a minute apart, one each twenty seconds, which fell and came back. */
  @Test
  void aSlowGaugesBacklogIsReadToItsEnd(@TempDir Path folder) throws IOException {
    Path plan = folder.resolve("slow.yaml");
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Files.writeString(plan, demo.replace("period: 1 s", "period: 60 s"));
    IntToDoubleFunction steady = s -> s % 60 == 0 ? 45_000 : Double.NaN;
    try (WellDriver well = new WellDriver(plan)) {
      well.run(7200, steady).silence(1200).run(1, steady);
      for (int minute = 1; minute < 20; minute++) {
        boolean fallen = minute >= 8 && minute < 14;
        int stamp = 7140 + 60 * minute; // the last reading before the outage was of 7140 s
        well.runStamped(1, fallen ? 44_500 : 45_000, (int) (stamp - well.seconds())).silence(19);
      }
      well.run(600, s -> s % 60 == 40 ? 45_000 : Double.NaN);
      assertThat(well.first("seen-late").summary())
          .contains("during the outage", "fell by 0.5 MPa", "returned");
    }
  }

  @Test
  void whatWasDoneToTheWellMeanwhileExplainsIt() {
    try (WellDriver well =
        outage().logged(Operation.What.OPENING_STEP, "opened").run(60, s -> 40_000)) {
      assertThat(well.said("seen-late")).isEmpty();
    }
  }
}
