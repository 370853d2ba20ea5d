package stillwatch.rules.drill;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import stillwatch.rules.replay.LarkspurLabels;

/**
 * The labels of the demo recordings against the simulated truth behind them, before any gauge or
 * rule.
 */
class ScenarioLabelsTest {
  private static final double FLAT_KPA_PER_HOUR = 2;

  @Test
  void thePressureWentFlatWhereItsTrueSlopeFallsBelowTwoKPaAnHourForGoodAndTheRockTookFluidFirst()
      throws IOException {
    Scenario scenario = Scenario.read(Path.of("../demo-data/larkspur/scenarios/low-plateau.yaml"));
    SimulatedWell well = new SimulatedWell(scenario);
    long flat = 0;
    long opened = -1;
    double before = well.pressure(0);
    for (long second = 1; second < scenario.hours() * 3600; second++) {
      double now = well.pressure(second / 3600.0);
      flat = Math.abs(now - before) * 3600 >= FLAT_KPA_PER_HOUR ? second : flat;
      before = now;
      opened = opened < 0 && well.leakRate() > 0 ? second : opened;
    }

    assertThat(LarkspurLabels.from("low-plateau.csv.gz", "went-flat"))
        .isEqualTo(Instant.parse(scenario.start()).plusSeconds(flat));
    assertThat(LarkspurLabels.from("low-plateau.csv.gz", "leak-rock"))
        .isEqualTo(Instant.parse(scenario.start()).plusSeconds(opened));
  }
}
