package stillwatch.rules.well;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class ExpectedPressuresTest {
  private static final WellFacts.Flow FLOW =
      new WellFacts.Flow(Uncertain.known(8000), 60 * 24, Uncertain.known(1.4));

  private static WellFacts facts(
      Uncertain reservoir,
      WellFacts.@Nullable Reservoir stores,
      WellFacts.@Nullable Rock rock,
      List<WellFacts.LeakPath> leaks,
      List<WellFacts.Barrier> barriers) {
    return new WellFacts(
        1400,
        4400,
        reservoir,
        new WellFacts.Gradient(Uncertain.known(8)),
        new WellFacts.Sea(10.0, 0),
        FLOW,
        stores,
        rock,
        Uncertain.known(0),
        leaks,
        List.of(),
        barriers,
        1000);
  }

  /** Every figure by hand: weights of columns, material balance, a differential rating. */
  @Test
  void whatIsKnownForCertainComesOutAsByHand() {
    ExpectedPressures e =
        ExpectedPressures.of(
            facts(
                Uncertain.known(75_000),
                new WellFacts.Reservoir(Uncertain.known(84e6), Uncertain.known(2e-6)),
                null,
                List.of(new WellFacts.LeakPath("shoe", 2400, Uncertain.known(45_000))),
                List.of(
                    new WellFacts.Barrier("rams", 1400, Uncertain.known(69_000), null),
                    new WellFacts.Barrier(
                        "casing", 2400, Uncertain.known(30_000), Uncertain.known(28_000)))));
    double depletion = 8000 * 1.4 * 60 / (84e6 * 2e-6);
    assertThat(depletion).isEqualTo(4000);
    assertThat(e.depletion().p50()).isCloseTo(4000, within(1e-6));
    assertThat(e.intact().p10()).isCloseTo(75_000 - 4000 - 8 * 3000, within(1e-6));
    assertThat(e.leaks().get(0).pressure().p90()).isCloseTo(45_000 - 8 * 1000, within(1e-6));
    assertThat(e.ceilings().get(0).pressure().p50())
        .isCloseTo(69_000 + 101.325 + 14_000, within(1e-6));
    assertThat(e.ceilings().get(1).pressure().p50()).isCloseTo(58_000 - 8000, within(1e-6));
    assertThat(e.limit()).isCloseTo(49_000, within(1e-6));
    assertThat(e.ceiling()).isNotNull().extracting("governing").isEqualTo("casing");
    assertThat(e.intact().error()).isZero();
  }

  /** A leak cannot hold the wellhead above what the intact well would show. */
  @Test
  void rockThatTakesOnlyAtMoreThanTheWellHasIsNoLeak() {
    ExpectedPressures e =
        ExpectedPressures.of(
            facts(
                Uncertain.known(75_000),
                null,
                null,
                List.of(new WellFacts.LeakPath("strong", 2400, Uncertain.known(90_000))),
                List.of()));
    assertThat(e.leaks().get(0).pressure().p50()).isCloseTo(e.intact().p50(), within(1e-9));
    assertThat(e.ceiling()).isNull();
    assertThat(e.limit()).isNaN();
  }

  /**
   * Percentiles of known distributions, by formula; the error stated must be about the true one.
   */
  @Test
  void percentilesOfKnownDistributionsAndTheirStatedError() {
    double shift = -8 * 3000;
    ExpectedPressures even =
        ExpectedPressures.of(
            facts(Uncertain.between(70_000, 80_000), null, null, List.of(), List.of()));
    assertThat(even.intact().p10()).isCloseTo(71_000 + shift, within(4 * even.intact().error()));
    assertThat(even.intact().p90()).isCloseTo(79_000 + shift, within(4 * even.intact().error()));
    assertThat(even.intact().error())
        .as("of the median, the least certain: half over the root of n times the density")
        .isCloseTo(10_000 * 0.5 / Math.sqrt(even.draws()), withinPercentage(60));

    ExpectedPressures normal =
        ExpectedPressures.of(
            facts(Uncertain.normal(75_000, 500), null, null, List.of(), List.of()));
    assertThat(normal.intact().p10())
        .as("1.2816 deviations below the mean (tables of the normal distribution)")
        .isCloseTo(75_000 - 1.2816 * 500 + shift, within(4 * normal.intact().error()));

    ExpectedPressures triangle =
        ExpectedPressures.of(
            facts(Uncertain.triangle(70_000, 71_000, 74_000), null, null, List.of(), List.of()));
    assertThat(triangle.intact().p50())
        .isCloseTo(
            74_000 - Math.sqrt(0.5 * 4000 * 3000) + shift, within(4 * triangle.intact().error()));
  }

  /** The expected build-up is Horner's line with the slope of the rock (Earlougher 1977, ch. 5). */
  @Test
  void theExpectedBuildUpIsHornersLine() {
    ExpectedPressures e =
        ExpectedPressures.of(
            facts(
                Uncertain.known(75_000),
                null,
                new WellFacts.Rock(Uncertain.known(20), Uncertain.known(0.6), null),
                List.of(),
                List.of()));
    double slope = 0.183234 * (8000 * 1.4 / 86_400) * 0.6e-3 / 20e-12 / 1000;
    for (ExpectedPressures.AtTime t : e.build()) {
      double x = Math.log10((1440 + t.hours()) / t.hours());
      assertThat(t.pressure().p50()).isCloseTo(51_000 - slope * x, within(0.1));
    }
  }
}
