package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.finding.Finding;

/** The rules that say where a closing departs from the plan. */
class ClosingRulesTest {
  private static final String FIRST = "choke part-turn 1 of 6";

  private static void step(WellDriver well, String name) {
    well.logged(Operation.What.CLOSURE_STEP, name);
  }

  @Test
  void aClosingAsPlannedRaisesNone() {
    try (WellDriver well = new WellDriver()) {
      well.decided(Decision.Choice.GO).run(120, s -> 21_000);
      step(well, FIRST);
      well.run(900, s -> 28_500);
      step(well, "choke part-turn 2 of 6");
      well.run(660, s -> 34_000);
      assertThat(well.findings()).extracting(Finding::rule).noneMatch(r -> r.startsWith("closing"));
    }
  }

  @Test
  void eachDepartureIsRaisedOnceAndReturnsByItself() {
    try (WellDriver well = new WellDriver()) {
      well.run(60, s -> 21_000);
      step(well, FIRST);
      well.run(60, s -> 28_500);
      step(well, "choke part-turn 3 of 6");
      well.run(1500, s -> 28_550);

      for (String rule :
          new String[] {
            "closing-without-go", "closing-order", "closing-hold", "closing-response"
          }) {
        assertThat(well.said(rule)).as(rule).containsExactly("raised ", "returned ");
        assertThat(well.first(rule).priority()).as(rule).isEqualTo(Priority.LOW);
      }
      assertThat(well.first("closing-order").summary())
          .isEqualTo(
              "'choke part-turn 3 of 6' was logged before 'choke part-turn 2 of 6', which the closing list has first.");
      assertThat(well.first("closing-hold").subject()).isEqualTo("cycle 1, step 2");
      assertThat(well.raisedAt("closing-response")).isBetween(60L + 60 + 600, 60L + 60 + 630);
    }
  }

  @Test
  void theSameLogGivesTheSameFindings() {
    assertThat(ids()).isNotEmpty().isEqualTo(ids());
  }

  private static List<String> ids() {
    try (WellDriver well = new WellDriver()) {
      step(well, FIRST);
      well.run(60, s -> 21_000);
      step(well, FIRST);
      well.run(60, s -> 21_000);
      return well.findings().stream().map(Finding::id).toList();
    }
  }
}
