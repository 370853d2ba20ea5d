package stillwatch.rules.capacity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.rules.well.Uncertain;

/** Capacity against flow with units and outlets lost, and what limits it, worked out by hand. */
class CapacityStudyTest {
  private static final Duration DAY = Duration.ofDays(1);

  private static CapacityStudy study(Reopening reopening) {
    return CapacityStudy.of(reopening, 5, 200, 1);
  }

  /** Three of unequal size, 400 to 500, 300 and 200; the first two through an outlet of 650. */
  private static Reopening unequal() {
    return new Fleet()
        .outlet("top", 650)
        .outlet("side")
        .unit("top", Uncertain.between(400, 500), 0.9, DAY, Optional.empty())
        .unit("top", 300, 0.8, DAY)
        .unit("side", 200, 0.7, DAY)
        .against(Uncertain.between(600, 700));
  }

  @Test
  void eachLossLeavesWhatTheHandCalculationSays() {
    CapacityStudy study = study(unequal());
    assertThat(study.losses())
        .extracting(Loss::lost)
        .containsExactly(
            List.of(),
            List.of("unit A"),
            List.of("unit B"),
            List.of("unit C"),
            List.of("unit A", "unit B"),
            List.of("unit A", "unit C"),
            List.of("unit B", "unit C"));
    assertThat(study.losses())
        .extracting(Loss::low)
        .containsExactly(850., 500., 600., 650., 200., 300., 400.);
    assertThat(study.losses())
        .extracting(Loss::likely)
        .containsExactly(850., 500., 650., 650., 200., 300., 450.);
    assertThat(study.losses())
        .extracting(Loss::high)
        .containsExactly(850., 500., 700., 650., 200., 300., 500.);
    assertThat(study.losses())
        .extracting(Loss::likelySpill)
        .containsExactly(0., 150., 0., 0., 450., 350., 200.);
    assertThat(study.losses())
        .extracting(Loss::worstSpill)
        .containsExactly(0., 200., 100., 50., 500., 400., 300.);
  }

  /** Without C 650 are left and any flow from 600 to 700 comes; without B 600 to 700 against it. */
  @Test
  void theShareOfTheDrawsThatHoldsIsWhatTheRangesGive() {
    List<Loss> losses = study(unequal()).losses();
    assertThat(losses.get(0).holds().value()).isEqualTo(1);
    assertThat(losses.get(1).holds().value()).isZero();
    assertThat(losses.get(2).holds().value()).isCloseTo(0.5, within(0.04));
    assertThat(losses.get(3).holds().value()).isCloseTo(0.5, within(0.04));
  }

  @Test
  void anOutletIsLimitedByItselfOrByItsUnitsAndTakesThemWithIt() {
    CapacityStudy study = study(unequal());
    assertThat(study.through())
        .containsExactly(
            new Through("top", List.of("unit A", "unit B"), 650, 650, 650, true),
            new Through("side", List.of("unit C"), 200, 200, 200, false));
    assertThat(study.shut()).extracting(Loss::outlet).containsExactly("top", "side");
    assertThat(study.shut()).extracting(Loss::likely).containsExactly(200., 650.);
  }

  /** A takes 500 and is there 0.9 of the time, B 300 and 0.8, C 200 and 0.7; 600 flow. */
  @Test
  void theBottleneckIsTheUnitWithoutWhoseOutagesLeastIsSpilled() {
    CapacityStudy study =
        study(
            new Fleet()
                .outlet("top")
                .unit("top", 500, 0.9, DAY)
                .unit("top", 300, 0.8, DAY)
                .unit("top", 200, 0.7, DAY)
                .against(600));
    assertThat(study.bottleneck().map(Remedy::of)).contains("unit A");
    // by hand: A always there leaves A alone, 0.2 x 0.3 x 100
    assertThat(study.remedies().get(0).longRun().spillM3PerD().value()).isCloseTo(6, within(1e-9));
    // B always there: B alone 0.1 x 0.3 x 300, B and C 0.1 x 0.7 x 100
    assertThat(study.remedies())
        .extracting(Remedy::of)
        .containsExactly("unit A", "unit B", "unit C");
    assertThat(study.remedies().get(1).longRun().spillM3PerD().value()).isCloseTo(16, within(1e-9));
    // C always there: C alone 0.1 x 0.2 x 400, B and C 0.1 x 0.8 x 100
    assertThat(study.remedies().get(2).longRun().spillM3PerD().value()).isCloseTo(16, within(1e-9));
  }

  @Test
  void theBottleneckMayBeAnOutletOrNone() {
    Fleet behindANarrowOutlet =
        new Fleet().outlet("top", 300).unit("top", 500, 0.9, DAY).unit("top", 500, 0.9, DAY);
    Optional<Remedy> bottleneck = study(behindANarrowOutlet.against(500)).bottleneck();
    assertThat(bottleneck.map(Remedy::of)).contains("top");
    assertThat(bottleneck.map(Remedy::kind)).contains(Remedy.Kind.OUTLET_WITHOUT_LIMIT);
    assertThat(study(Fleet.alike(2, 1, DAY).against(200)).bottleneck()).isEmpty();
    assertThat(study(Fleet.alike(2, 1, DAY).against(250)).bottleneck())
        .as("no single one can help")
        .isEmpty();
  }

  /**
   * Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17,
   * 1998, p. 857, table I, score method (from memory).
   */
  @ParameterizedTest
  @CsvSource({
    "81,263,0.2553,0.3662",
    "15,148,0.0624,0.1605",
    "0,20,0,0.1611",
    "1,29,0.0061,0.1718"
  })
  void aSharesIntervalIsWilsons(int counted, int trials, double low, double high) {
    Interval share = Interval.ofShare(counted, trials);
    assertThat(share.low()).isCloseTo(low, within(5e-5));
    assertThat(share.high()).isCloseTo(high, within(5e-5));
  }

  @Test
  void aQuantilesIntervalCoversTheTrueOneAsOftenAsItSays() {
    java.util.Random random = new java.util.Random(4);
    int covered = 0;
    for (int set = 0; set < 400; set++) {
      double[] values = random.doubles(500).sorted().toArray();
      Interval tenth = Interval.ofQuantile(values, 0.9);
      covered += tenth.low() <= 0.9 && 0.9 <= tenth.high() ? 1 : 0;
    }
    assertThat(covered / 400.0).isBetween(0.92, 0.98);
  }
}
