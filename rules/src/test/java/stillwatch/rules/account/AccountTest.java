package stillwatch.rules.account;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Explanation;

/** A change stays open until it is back, explained, or shown to be the gauge's own. */
class AccountTest {
  private static final long MIN = 60_000;
  private static final long ONSET = 1_772_967_600_000L;
  private static final double BEFORE = 46_000;
  private static final double ACCURACY = 20;

  private final Account account = new Account("larkspur-2");
  private String id = "";

  private static Witness gauge(String name, double before, double level) {
    return new Witness(name, true, before, level, ACCURACY, ONSET - MIN, true);
  }

  private void lost(Rise rise, long backByMs, Witness... felt) {
    id =
        account.enter(
            new Account.Report(
                Account.PRESSURE,
                "sudden-drop",
                "f1",
                ONSET,
                ONSET,
                List.of(felt),
                rise,
                "",
                backByMs));
  }

  /** Looks once a minute, with the gauges as they stand. */
  private void look(int fromMin, int toMin, double first, double second) {
    List<Witness> all = new ArrayList<>();
    all.add(gauge("PT-1", Double.NaN, first));
    all.add(gauge("PT-2", Double.NaN, second));
    for (int m = fromMin; m <= toMin; m++) {
      account.look(
          ONSET + m * MIN,
          name -> all.stream().filter(w -> w.gauge().equals(name)).findFirst(),
          all);
    }
  }

  private Change change() {
    return account.changes().get(0);
  }

  @Test
  void whatSettlesLowerStaysOpenHoweverLong() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000), gauge("PT-2", BEFORE - 6, 44_994));
    look(1, 48 * 60, 45_000, 44_994);
    assertThat(account.open()).hasSize(1);
    assertThat(change().size()).isCloseTo(1000, within(1e-9));
  }

  @Test
  void whatComesBackAndStaysIsBackAndABriefVisitIsNot() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000));
    look(1, 9, BEFORE, BEFORE);
    look(10, 30, 45_000, BEFORE);
    assertThat(account.open()).hasSize(1);
    look(31, 41, BEFORE - ACCURACY, BEFORE);
    assertThat(change().state()).isEqualTo(Change.State.BACK);
  }

  /**
   * The build-up after a step carries the pressure past where it was; what it lost is still lost.
   */
  @Test
  void aRisingPressureThatReachesItsOldLevelIsNotBackOnItsCourse() {
    Rise rise = new Rise(200, ONSET - MIN, ONSET); // 200 kPa an e-fold, one minute after the step
    assertThat(rise.by(ONSET + 19 * MIN)).isCloseTo(200 * Math.log(20), within(1e-9));
    lost(rise, 0, gauge("PT-1", BEFORE, BEFORE - 150));
    look(19, 60, BEFORE + 200 * Math.log(20) - 150, BEFORE);
    assertThat(account.open()).hasSize(1);
    look(61, 80, BEFORE + 200 * Math.log(81), BEFORE);
    assertThat(change().state()).isEqualTo(Change.State.BACK);
  }

  /** Half a megapascal in two hours is 4 kPa a minute: no single look shows much of it. */
  @Test
  void aFallThatGoesOnSlowlyIsOneChange() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_900));
    for (int m = 1; m <= 120; m++) {
      look(m, m, 45_900 - 4 * m, BEFORE);
    }
    long later = ONSET + 121 * MIN;
    String again =
        account.enter(
            new Account.Report(
                Account.PRESSURE,
                "slow-fall",
                "f2",
                later,
                later,
                List.of(gauge("PT-1", 45_430, 45_416)),
                Rise.NONE,
                "",
                0));
    assertThat(again).isEqualTo(id);
    assertThat(account.changes()).hasSize(1);
  }

  @Test
  void whoShowsNothingOfItDidNotFeelItThoughItsRuleNamesIt() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000), gauge("PT-2", BEFORE, BEFORE));
    assertThat(felt()).containsExactly("PT-1");
    look(1, 2, 45_000, BEFORE);
    assertThat(felt()).containsExactly("PT-1");
    look(3, 4, 45_000, 45_500);
    assertThat(felt()).containsExactly("PT-1", "PT-2");
  }

  private List<String> felt() {
    return change().witnesses().stream().filter(Witness::felt).map(Witness::gauge).toList();
  }

  @Test
  void whatAnOperationExplainsIsOpenWhenItIsNotBackInTime() {
    lost(Rise.NONE, ONSET + 30 * MIN, gauge("PT-1", BEFORE, 45_900));
    look(1, 30, 45_900, BEFORE);
    assertThat(account.open()).isEmpty();
    look(31, 31, 45_900, BEFORE);
    assertThat(account.open()).hasSize(1);
  }

  @Test
  void aPersonExplainsItByNameOnce() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000));
    Explanation said =
        new Explanation(
            "larkspur-2",
            ONSET + MIN,
            ONSET + MIN,
            id,
            Explanation.Cause.OPERATION,
            "bleed-off line opened",
            "A. Wright");
    assertThat(account.explain(said)).isTrue();
    assertThat(change().closedBy()).isEqualTo("Explained by A. Wright: bleed-off line opened");
    assertThat(account.explain(said)).isFalse();
  }

  @Test
  void afterAFurtherStepOnlyAnExplanationClosesIt() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000));
    account.stepped();
    look(1, 60, BEFORE + 2000, BEFORE + 2000);
    assertThat(account.open()).hasSize(1);
  }

  @Test
  void workOnAGaugeExplainsWhatItAloneFelt() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000));
    account.workedOn("PT-2", "zeroed", ONSET - MIN, ONSET + MIN, ONSET + MIN);
    assertThat(account.open()).hasSize(1);
    account.workedOn("PT-1", "zeroed", ONSET - MIN, ONSET + MIN, ONSET + MIN);
    assertThat(change().state()).isEqualTo(Change.State.EXPLAINED);
  }

  @Test
  void workAtAnotherTimeExplainsNothingHoweverLateItIsWrittenDown() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000));
    account.workedOn("PT-1", "zeroed", ONSET - 60 * MIN, ONSET - 1, ONSET + 90 * MIN);
    account.workedOn("PT-1", "zeroed", ONSET + 1, ONSET + 60 * MIN, ONSET + 90 * MIN);
    assertThat(account.open()).hasSize(1);
  }

  /** Two hundred are kept; what is still to come back must not be the one that is dropped. */
  @Test
  void whatIsStillToComeBackIsNotForgottenBehindManyOpenOnes() {
    for (int i = 0; i < 200; i++) {
      enter("f" + i, ONSET + i * 60L * MIN, 0);
    }
    long last = ONSET + 200 * 60L * MIN;
    enter("f200", last, last + 10 * MIN);
    account.look(last + 11 * MIN, name -> Optional.of(gauge(name, Double.NaN, 45_000)), List.of());
    assertThat(account.open()).hasSize(201);
  }

  private void enter(String finding, long atMs, long backByMs) {
    account.enter(
        new Account.Report(
            Account.PRESSURE,
            "sudden-drop",
            finding,
            atMs,
            atMs,
            List.of(gauge("PT-1", BEFORE, 45_000)),
            Rise.NONE,
            "",
            backByMs));
  }

  @Test
  void nobodyKnowsWhereAGaugeStandsThatSaysNothing() {
    lost(Rise.NONE, 0, gauge("PT-1", BEFORE, 45_000));
    for (int m = 1; m < 60; m++) {
      account.look(ONSET + m * MIN, name -> Optional.empty(), List.of());
    }
    assertThat(account.open()).hasSize(1);
  }
}
