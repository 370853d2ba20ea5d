package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;

class EvidenceTest {
  @Test
  void aDropAndASoundWithinMinutesAreLeakEvidenceInTheirOrder() {
    try (WellDriver well = new WellDriver()) {
      well.beside("HY-1", s -> s < 3600 ? 90 : 102).beside("HY-2", s -> s < 3600 ? 91 : 103);
      well.run(3700, s -> 45_000).run(200, s -> 45_000 - s * 2);
      assertThat(well.said("leak-evidence")).containsExactly("raised ");
      assertThat(well.last("leak-evidence").summary())
          .containsSubsequence("sound (Sound over its background)", "pressure (", "later");
      assertThat(well.last("leak-evidence").priority()).isEqualTo(Priority.HIGH);
    }
  }

  @Test
  void twoRulesAboutOnePressureAreOneSenseAndNoEvidence() {
    try (WellDriver well = new WellDriver()) {
      well.run(7200, s -> 45_000).run(1800, s -> 45_000 - s * 2);
      assertThat(well.said("sudden-drop")).isNotEmpty();
      assertThat(well.said("sustained-drop")).isNotEmpty();
      assertThat(well.said("leak-evidence")).isEmpty();
    }
  }

  @Test
  void anAdverseSightingIsRaisedAtOnceOnceAndReturnsWhenItIsClear() {
    try (WellDriver well = new WellDriver()) {
      well.run(60, s -> 45_000).observed("sonar", Observation.Result.INCONCLUSIVE);
      assertThat(well.said("sighting")).isEmpty();
      well.observed("sonar", Observation.Result.ADVERSE);
      assertThat(well.raisedAt("sighting")).isEqualTo(60);
      well.run(600, s -> 45_000).observed("sonar", Observation.Result.ADVERSE).run(60, s -> 45_000);
      well.observed("sonar", Observation.Result.CLEAR);
      assertThat(well.said("sighting")).containsExactly("raised ", "returned ");
      assertThat(well.last("sighting").summary()).isEqualTo("Sonar, crew: clear again. Seen so.");
    }
  }

  @Test
  void aPassThatDidNotHappenIsToldAndReturnsWhenItIsReported() {
    try (WellDriver well = new WellDriver()) {
      well.logged(Operation.What.PHASE, "watching");
      well.run(6 * 3600 + 1700, s -> 45_000);
      assertThat(well.said("pass-overdue")).isEmpty();
      well.run(200, s -> 45_000);
      assertThat(well.said("pass-overdue")).containsExactly("raised ");
      well.observed("camera", Observation.Result.CLEAR).run(60, s -> 45_000);
      assertThat(well.said("pass-overdue")).containsExactly("raised ", "returned ");
    }
  }

  @Test
  void aHoldPointIsDueThenOverdueUntilADecisionIsLogged() {
    try (WellDriver well = new WellDriver()) {
      well.run(60, s -> 45_000).logged(Operation.What.PHASE, "watching");
      well.run(6 * 3600 + 1200, s -> 45_000);
      assertThat(well.raisedAt("hold-point-due")).isBetween(19_860L, 19_880L);
      assertThat(well.raisedAt("hold-point-overdue")).isBetween(22_560L, 22_580L);
      well.decided(Decision.Choice.CONTINUE).run(600, s -> 45_000);
      assertThat(well.said("hold-point-due")).containsExactly("raised ", "returned ");
      assertThat(well.said("hold-point-overdue")).containsExactly("raised ", "returned ");
    }
  }
}
