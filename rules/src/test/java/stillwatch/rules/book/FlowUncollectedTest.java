package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;

/**
 * What is collected against what comes out by the pressure: a well that loses 5 MPa in proportion
 * to its rate and 20 MPa with its square, of which the plan expects 7000 m³/d at least. Half of it
 * are 3500 m³/d at 39.4 MPa.
 */
class FlowUncollectedTest {
  private static final double[] LEAVES = {0.8, 0.6, 0.42, 0.25, 0.1, 0};
  private static final String GAUGE =
      """
        - {id: %s, kind: flow, where: at the unit, unit: m3/d, period: 1 s, range: {low: -1 m3/d, high: 12000 m3/d}, accuracy: 50 m3/d}
      """;

  @TempDir Path folder;

  private double east;
  private double west;

  private Path plan() throws IOException {
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    String plan =
        demo.replaceFirst(
                "\nbands:", "\n" + GAUGE.formatted("FT-E") + GAUGE.formatted("FT-W") + "\nbands:")
            .replaceFirst("\nrules:\n", "\nrules:\n  flow-uncollected: {hold: 1 min}\n");
    return Files.writeString(folder.resolve("plan.yaml"), plan);
  }

  private static double kPa(double share) {
    return 46_900 - 5_000 * share - 20_000 * share * share;
  }

  private WellDriver shutIn() throws IOException {
    WellDriver well = new WellDriver(plan());
    well.beside("FT-E", s -> east).beside("FT-W", s -> west);
    well.run(90, s -> kPa(1));
    int i = 1;
    for (double leaves : LEAVES) {
      String text = "choke part-turn " + i++ + " of 6" + (leaves == 0 ? ", shut" : "");
      well.logged(Operation.What.CLOSURE_STEP, text).run(leaves == 0 ? 660 : 90, s -> kPa(leaves));
    }
    return well.decided(Decision.Choice.REOPEN);
  }

  private static void opened(WellDriver well, int seconds) {
    well.run(seconds, s -> kPa(0.5));
  }

  @Test
  void whatIsNotCollectedIsHighAndSaysHowMuchAtLeast() throws IOException {
    try (WellDriver well = shutIn()) {
      well.run(120, s -> kPa(0));
      assertThat(well.said("flow-uncollected")).as("shut in").isEmpty();

      east = 2000;
      west = 1500;
      well.logged(Operation.What.OPENING_STEP, "choke part-turn 3 of 6, opened");
      opened(well, 300);
      assertThat(well.said("flow-uncollected")).as("all is collected").isEmpty();

      west = 0;
      opened(well, 150);
      assertThat(well.said("flow-uncollected")).hasSize(1);
      assertThat(well.first("flow-uncollected").priority()).isEqualTo(Priority.HIGH);
      assertThat(well.first("flow-uncollected").summary())
          .containsPattern("At 39.4 MPa at least 3[34]\\d\\d m³/d come out")
          .contains("2100 at most are collected");

      west = 1500;
      opened(well, 400);
      assertThat(well.said("flow-uncollected")).hasSize(2);
    }
  }

  @Test
  void aFlowThatOneUnitDoesNotTellIsNotJudged() throws IOException {
    try (WellDriver well = shutIn()) {
      east = 2000;
      west = Double.NaN;
      well.logged(Operation.What.OPENING_STEP, "choke part-turn 3 of 6, opened");
      opened(well, 300);
      assertThat(well.said("flow-uncollected")).isEmpty();
      assertThat(well.said("gauge-silent")).contains("raised FT-W");
    }
  }
}
