package stillwatch.rules.capacity;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.hipparchus.distribution.discrete.BinomialDistribution;
import org.junit.jupiter.api.Test;
import stillwatch.rules.well.Uncertain;

/** Shares of time in the long run. */
class LongRunTest {
  private static final Duration HALF_A_DAY = Duration.ofHours(12);

  private static LongRun longRun(Reopening reopening) {
    return LongRun.of(reopening, Drawn.many(reopening, 50, 7));
  }

  /**
   * Four alike of which three are needed, each there 0.9 of the time: 0.9477. The example of k-out-
   * of-n with four displays of MIL-HDBK-338B, Electronic Reliability Design Handbook (1998), as
   * reprinted at reliabilityanalytics.com, 2 September 2011.
   */
  @Test
  void threeOfFourAlikeAgreeWithThePublishedFigure() {
    LongRun run = longRun(Fleet.alike(4, 0.9, HALF_A_DAY).against(300));
    assertThat(run.holds().value()).isCloseTo(0.9477, within(1e-12));
    assertThat(run.holds().error()).as("nothing was drawn").isCloseTo(0, within(1e-12));
  }

  /** k of n alike and independent: the upper tail of the binomial distribution (IEC 61078). */
  @Property(tries = 200)
  void unitsThatAreAlikeFollowTheBinomialFormula(
      @ForAll @IntRange(min = 1, max = 9) int n,
      @ForAll @IntRange(min = 1, max = 9) int k,
      @ForAll @DoubleRange(min = 0.05, max = 1) double availability) {
    double exact = 1 - new BinomialDistribution(n, availability).cumulativeProbability(k - 1);
    assertThat(longRun(Fleet.alike(n, availability, HALF_A_DAY).against(100 * k)).holds().value())
        .isCloseTo(exact, within(1e-10));
  }

  /**
   * A takes 500 and is there 0.9 of the time, B 300 and 0.8, C 200 and 0.7; 600 flow. With A one of
   * the others is enough: 0.9 (1 - 0.2 x 0.3) = 0.846. Spilled: none there 0.006 x 600, C alone
   * 0.014 x 400, B alone 0.024 x 300, B and C 0.056 x 100, A alone 0.054 x 100, together 27.4.
   */
  @Test
  void threeUnitsOfUnequalSizeAgreeWithTheHandCalculation() {
    LongRun run = longRun(unequal().against(600));
    assertThat(run.holds().value()).isCloseTo(0.846, within(1e-12));
    assertThat(run.spillM3PerD().value()).isCloseTo(27.4, within(1e-9));
  }

  private static Fleet unequal() {
    return new Fleet()
        .outlet("top")
        .unit("top", 500, 0.9, HALF_A_DAY)
        .unit("top", 300, 0.8, HALF_A_DAY)
        .unit("top", 200, 0.7, HALF_A_DAY);
  }

  /** The same three, A and B behind an outlet that passes 550: A and C are needed, 0.9 x 0.7. */
  @Test
  void anOutletsLimitCountsWhateverItsUnitsCouldTake() {
    Reopening reopening =
        new Fleet()
            .outlet("top", 550)
            .outlet("side")
            .unit("top", 500, 0.9, HALF_A_DAY)
            .unit("top", 300, 0.8, HALF_A_DAY)
            .unit("side", 200, 0.7, HALF_A_DAY)
            .against(600);
    assertThat(longRun(reopening).holds().value()).isCloseTo(0.63, within(1e-12));
  }

  /**
   * One unit without outages: away in storms, 2 of 12 days, and for a day after each that lasts.
   */
  @Test
  void aUnitIsAwayForTheStormAndUntilItIsBack() {
    Reopening reopening =
        new Fleet()
            .outlet("top")
            .leaving("top", 500, 1, HALF_A_DAY, Duration.ofDays(1))
            .weather(Duration.ofDays(10), Duration.ofDays(2))
            .against(500);
    assertThat(longRun(reopening).holds().value())
        .isCloseTo(10.0 / 12 * Math.exp(-0.1), within(1e-12));
  }

  /** A storm takes both at once: chances of two that leave are not multiplied. */
  @Test
  void weatherIsCommonToTheUnitsThatLeave() {
    Reopening reopening =
        new Fleet()
            .outlet("top")
            .leaving("top", 300, 1, HALF_A_DAY, Duration.ofHours(1))
            .leaving("top", 300, 1, HALF_A_DAY, Duration.ofDays(1))
            .weather(Duration.ofDays(10), Duration.ofDays(2))
            .against(300);
    assertThat(longRun(reopening).holds().value())
        .as("the quicker one decides")
        .isCloseTo(10.0 / 12 * Math.exp(-1.0 / 240), within(1e-12));
  }

  @Provide
  Arbitrary<Reopening> any() {
    return AnyFleet.any();
  }

  @Property(tries = 200)
  void everyMomentIsInOneState(@ForAll("any") Reopening reopening) {
    double[] shares = LongRun.shares(reopening);
    assertThat(Arrays.stream(shares).sum()).isCloseTo(1, within(1e-9));
    assertThat(Arrays.stream(shares).min().orElseThrow()).isNotNegative();
  }

  /** Every state of every unit one after the other, without the product's code. */
  @Property(tries = 200)
  void withoutWeatherItAgreesWithAnEnumerationOfAllStates(@ForAll("any") Reopening any) {
    Reopening reopening =
        new Reopening(
            Uncertain.known(any.expectedFlow().likely()),
            any.outlets().stream()
                .map(
                    o ->
                        new Reopening.Outlet(
                            o.name(), o.capacity().map(c -> Uncertain.known(c.likely()))))
                .toList(),
            any.units().stream()
                .map(
                    u ->
                        new Reopening.CollectionUnit(
                            u.name(),
                            u.outlet(),
                            Uncertain.known(u.capacity().likely()),
                            u.availability(),
                            u.timeToConnect(),
                            java.util.Optional.empty()))
                .toList(),
            java.util.Optional.empty());
    double[] expected = enumerated(reopening, new ArrayList<>(), 1);
    assertThat(longRun(reopening).holds().value()).isCloseTo(expected[0], within(1e-9));
    assertThat(longRun(reopening).spillM3PerD().value()).isCloseTo(expected[1], within(1e-6));
  }

  /** The share of time in which the capacity holds, and the mean spill. */
  private static double[] enumerated(Reopening reopening, List<Boolean> up, double share) {
    if (up.size() == reopening.units().size()) {
      double capacity = 0;
      for (Reopening.Outlet outlet : reopening.outlets()) {
        double behind = 0;
        for (int i = 0; i < up.size(); i++) {
          Reopening.CollectionUnit unit = reopening.units().get(i);
          if (up.get(i) && unit.outlet().equals(outlet.name())) {
            behind += unit.capacity().likely();
          }
        }
        double most = outlet.capacity().map(Uncertain::likely).orElse(1e12);
        capacity += Math.min(behind, most);
      }
      double lacks = reopening.expectedFlow().likely() - capacity;
      return lacks <= 0 ? new double[] {share, 0} : new double[] {0, share * lacks};
    }
    double availability = reopening.units().get(up.size()).availability();
    double[] sum = {0, 0};
    for (boolean state : List.of(true, false)) {
      List<Boolean> next = new ArrayList<>(up);
      next.add(state);
      double[] part =
          enumerated(reopening, next, share * (state ? availability : 1 - availability));
      sum[0] += part[0];
      sum[1] += part[1];
    }
    return sum;
  }

  @Property(tries = 200)
  void moreCapacityNeverLowersTheShareNorRaisesTheSpill(
      @ForAll("any") Reopening reopening,
      @ForAll @IntRange(min = 0, max = 4) int unit,
      @ForAll @DoubleRange(min = 0, max = 500) double more) {
    LongRun before = longRun(reopening);
    LongRun after = longRun(AnyFleet.withMore(reopening, unit, more));
    assertThat(after.holds().value()).isGreaterThanOrEqualTo(before.holds().value() - 1e-12);
    assertThat(after.spillM3PerD().value())
        .isLessThanOrEqualTo(before.spillM3PerD().value() + 1e-9);
  }
}
