package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.finding.Finding;

/**
 * An opening step explains no more than the plan's opening list says: the demo's first one 3.5 MPa
 * within ten minutes, the second 3 MPa; and no opening may be faster than 3 MPa within 80 s.
 */
class OpeningRulesTest {
  private static final String FIRST = "choke part-turn 6 of 6, opened";
  private static final double LEVEL = 46_900;

  @TempDir Path folder;

  private static void steady(WellDriver well, int seconds, double kPa) {
    well.run(seconds, s -> kPa);
  }

  private static void step(WellDriver well, String name) {
    well.logged(Operation.What.OPENING_STEP, name);
  }

  /** So much within so many seconds, and no more. */
  private static IntToDoubleFunction falls(double from, double kPa, int within) {
    return s -> from - kPa * Math.min(s, within) / within;
  }

  private static List<String> high(WellDriver well) {
    return well.findings().stream()
        .filter(f -> !f.returned() && f.priority() == Priority.HIGH)
        .map(Finding::rule)
        .distinct()
        .toList();
  }

  private static WellDriver decided() {
    WellDriver well = new WellDriver();
    steady(well, 900, LEVEL);
    return well.decided(Decision.Choice.REOPEN);
  }

  @Test
  void anOpeningAsTheListHasItRaisesNothingHigh() {
    try (WellDriver well = decided()) {
      step(well, FIRST);
      well.run(900, falls(LEVEL, 1500, 300));
      step(well, "choke part-turn 5 of 6, opened");
      well.run(900, falls(LEVEL - 1500, 2500, 300));
      assertThat(high(well)).isEmpty();
      assertThat(well.findings())
          .extracting(Finding::rule)
          .noneMatch(r -> r.startsWith("opening-"));
      assertThat(well.said("explained-fall")).contains("raised PT-1,PT-2");
    }
  }

  @Test
  void whatDepartsFromTheListIsToldOnceEachAtLowPriority() {
    try (WellDriver well = decided()) {
      step(well, "choke part-turn 5 of 6, opened");
      well.run(180, falls(LEVEL, 1500, 60));
      step(well, FIRST);
      well.run(1500, s -> LEVEL - 1500);
      for (String rule : List.of("opening-order", "opening-hold", "opening-response")) {
        assertThat(well.said(rule)).as(rule).containsExactly("raised ", "returned ");
        assertThat(well.first(rule).priority()).as(rule).isEqualTo(Priority.LOW);
      }
      assertThat(well.findings()).extracting(Finding::rule).noneMatch(r -> r.startsWith("closing"));
    }
  }

  @Test
  void aFallFasterThanThePlansLimitIsHigh() {
    try (WellDriver well = decided()) {
      step(well, FIRST);
      well.run(300, falls(LEVEL, 3400, 20));
      assertThat(high(well)).containsExactly("reopening-fast");
    }
  }

  @Test
  void aFallFurtherThanTheStepExplainsIsHighAndAnOpenChange() {
    try (WellDriver well = decided()) {
      step(well, FIRST);
      well.run(900, falls(LEVEL, 4200, 540));
      assertThat(high(well)).contains("reopening-beyond");
      Finding found = well.first("reopening-beyond");
      assertThat(found.summary())
          .contains("since opening-step: " + FIRST, "explains at most 3.5 MPa by now");
      assertThat(found.change()).isNotNull();
    }
  }

  @Test
  void whatOneGaugeAloneShowsIsNoFallOfTheWellBeyondTheStep() {
    try (WellDriver well = decided()) {
      step(well, FIRST);
      well.run(900, falls(LEVEL, 1500, 540), falls(LEVEL - 6, 4200, 540));
      assertThat(well.said("reopening-beyond")).isEmpty();
    }
  }

  @Test
  void betweenTheDecisionAndTheFirstStepTheWellIsWatchedAsBefore() {
    try (WellDriver well = decided()) {
      steady(well, 60, LEVEL);
      well.run(300, falls(LEVEL, 120, 20));
      assertThat(high(well)).contains("sudden-drop");
    }
  }

  @Test
  void aSuddenFallLongAfterTheStepIsNotPutDownToIt() {
    try (WellDriver well = decided()) {
      step(well, FIRST);
      well.run(1500, falls(LEVEL, 1500, 200));
      assertThat(high(well)).isEmpty();
      well.run(300, falls(LEVEL - 1500, 200, 20));
      assertThat(high(well)).containsExactly("sudden-drop");
      assertThat(well.first("sudden-drop").summary()).contains("does not explain the fall");
    }
  }

  @Test
  void whereThePlanHasNoOpeningListAnyFallIsPutDownToTheOpeningButAFastOne() throws IOException {
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Path plan = folder.resolve("plan.yaml");
    Files.writeString(plan, demo.replaceFirst("(?m)^opening:.*\\R(?:  - .*\\R)+", ""));
    try (WellDriver well = new WellDriver(plan)) {
      steady(well, 900, LEVEL);
      well.decided(Decision.Choice.REOPEN);
      well.run(600, falls(LEVEL, 4200, 540));
      step(well, FIRST);
      well.run(900, falls(LEVEL - 4200, 4200, 540));
      assertThat(high(well)).isEmpty();
      well.run(120, falls(LEVEL - 8400, 3400, 20));
      assertThat(high(well)).containsExactly("reopening-fast");
    }
  }
}
