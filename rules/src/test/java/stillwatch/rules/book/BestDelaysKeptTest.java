package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.plan.BestDelays;
import stillwatch.rules.plan.PlanLoader;

/**
 * A fall is seen as soon as is said to be possible, and no sooner, wherever in a block it comes.
 */
class BestDelaysKeptTest {
  private static BestDelays.Delay delay(String rule) {
    Catalogue catalogue = Catalogue.shipped();
    Path plan = Path.of("../demo-data/larkspur/plan.yaml");
    return BestDelays.of(PlanLoader.load(plan, catalogue), catalogue).all().stream()
        .filter(d -> d.rule().equals(rule))
        .findFirst()
        .orElseThrow();
  }

  private static double seenAfterS(String rule, int phaseS, double fallKPa) {
    int settled = 7200 + phaseS;
    try (WellDriver well = new WellDriver()) {
      well.run(settled, s -> 46_900).run(90, s -> 46_900 - fallKPa);
      return well.raisedAt(rule) - settled;
    }
  }

  @ParameterizedTest
  @CsvSource({"0,100", "1,400", "4,100", "7,2000"})
  void aLargeFallIsSuddenAsSoonAsIsSaid(int phaseS, double fallKPa) {
    BestDelays.Delay best = delay("sudden-drop");
    assertThat(seenAfterS("sudden-drop", phaseS, fallKPa))
        .isBetween(best.soonestS() - 1, best.latestS() + 1);
  }

  @ParameterizedTest
  @CsvSource({"0,100", "3,400", "8,100"})
  void noFallIsSustainedSoonerThanIsSaid(int phaseS, double fallKPa) {
    BestDelays.Delay best = delay("sustained-drop");
    assertThat(seenAfterS("sustained-drop", phaseS, fallKPa)).isGreaterThan(best.soonestS() - 1);
  }
}
