package stillwatch.rules.closing;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** How a closing and the opening after it changed the flow, for the cycle that follows. */
class CycleFlowTest {
  private static final long HOUR = 3_600_000;
  private static final Plan PLAN =
      PlanLoader.load(Path.of("../demo-data/larkspur/plan.yaml"), Catalogue.shipped());

  private final CycleUnderWay cycle =
      new CycleUnderWay(PLAN, 1, "", Optional.empty(), 0, List.of());

  CycleFlowTest() {
    long atMs = 0;
    for (ClosingStep step : PLAN.closing()) {
      cycle.closing().take(step.name(), atMs, atMs);
      atMs += HOUR;
    }
    cycle.shutIn(atMs);
  }

  @Test
  void eachStepOfTheOpeningChangesItAndOneOfNoLaterTimeDoesNot() {
    cycle.opened(9 * HOUR, 0.1);
    cycle.opened(10 * HOUR, 1);
    cycle.opened(10 * HOUR, 0.5);
    assertThat(cycle.flow().orElseThrow())
        .hasSize(8)
        .endsWith(new StepsReading.Change(9 * HOUR, 0.1), new StepsReading.Change(10 * HOUR, 1));
  }

  @Test
  void beforeTheOpeningItIsNotKnown() {
    assertThat(cycle.flow()).isEmpty();
  }
}
