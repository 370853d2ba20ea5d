package stillwatch.rules.well;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.DoubleBinaryOperator;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ExplainingTest {
  private static final double SLOPE = 650;
  private static final double SKIN = 5;
  private static final Expectation FACTS =
      new Expectation(
          new Estimate(46_900, 600),
          new Estimate(50_900, 600),
          new Estimate(650, 150),
          Uncertain.between(5, 40),
          14_200,
          List.of(new Estimate(40_400, 700)));

  private static FlowHistory flow(int steps) {
    double[] leaves = {0.7, 0.4, 0.15, 0};
    FlowHistory flow = new FlowHistory(List.of(new FlowHistory.Step(0, 1)));
    for (int i = 0; i < steps; i++) {
      flow = flow.then(1440 + 0.3 * i, leaves[i]);
    }
    return flow;
  }

  /** What a well closed in four steps shows for a day, less what is taken off by hours since. */
  private static BuildUp day(double leadsTo, DoubleUnaryOperator takenOff) {
    double shutIn = flow(4).lastChangeHours();
    return day(leadsTo, (clock, without) -> takenOff.applyAsDouble(clock - shutIn));
  }

  /**
   * The drawdown of a leak in proportion to the pressure above what rock takes, which draws that
   * pressure down itself: m (log10 t + S) for each change of its rate (Earlougher 1977, ch. 3).
   */
  private static final class RockLeak implements DoubleBinaryOperator {
    private static final double STEP = 1 / 60.0;

    private final double size;
    private final double takes;
    private final List<double[]> changes = new ArrayList<>();
    private double rate;

    RockLeak(double size, double takes) {
      this.size = size;
      this.takes = takes;
    }

    private static double perUnit(double hours) {
      return SLOPE * (Math.log10(hours) + SKIN);
    }

    @Override
    public double applyAsDouble(double clock, double without) {
      double drawn = 0;
      for (double[] c : changes) {
        drawn += c[1] * perUnit(clock - c[0]);
      }
      double above = without - drawn + rate * perUnit(STEP) - takes;
      double next = Math.max(0, size * above / (1 + size * perUnit(STEP)));
      changes.add(new double[] {clock - STEP, next - rate});
      drawn += (next - rate) * perUnit(STEP);
      rate = next;
      return drawn;
    }
  }

  /** The same, less what is taken off at that time of the pressure that there would be. */
  private static BuildUp day(double leadsTo, DoubleBinaryOperator takenOff) {
    Random random = new Random(5);
    BuildUp buildUp = new BuildUp(flow(1), leadsTo - 26_000, FACTS.cooling());
    int steps = 1;
    double shutIn = flow(4).lastChangeHours();
    for (double t = 1440 + 1 / 60.0; t < shutIn + 24; t += 1 / 60.0) {
      if (steps < 4 && t >= 1440 + 0.3 * steps) {
        steps++;
        buildUp.step(flow(steps));
      }
      FlowHistory flow = flow(steps);
      double rate = flow.steps().get(steps).rate();
      double drawn = SLOPE * (flow.superposition(t) * flow.lastRate() + SKIN * rate);
      double p = leadsTo - drawn - 20_000 * rate * rate;
      p -= takenOff.applyAsDouble(t, p);
      buildUp.accept(t, p + 0.05 * random.nextGaussian(), Double.NaN);
    }
    return buildUp;
  }

  private static final DoubleUnaryOperator COOLING = ExplainingTest::cooling;

  private static double cooling(double since) {
    return since <= 0 ? 0 : 20 * (1 - Math.exp(-since / 15));
  }

  @Test
  void aSoundWellAsTheFactsSayIsNotCalledLeaking() {
    Diagnosis d = ExplanationFit.of(day(46_700, COOLING).snapshot(), FACTS, List.of());
    assertThat(d.verdict()).isNotEqualTo(Diagnosis.Verdict.LEAKING);
    assertThat(d.candidates().get(0).explanation().leak()).isFalse();
    assertThat(d.candidates().stream().mapToDouble(Diagnosis.Candidate::weight).sum())
        .isCloseTo(1, within(1e-9));
    assertThat(d.spread()).isLessThan(0.3);
  }

  @Test
  void aDepletedOneIsNotEither() {
    Diagnosis d = ExplanationFit.of(day(44_500, COOLING).snapshot(), FACTS, List.of());
    assertThat(d.verdict()).isNotEqualTo(Diagnosis.Verdict.LEAKING);
  }

  /**
   * A steady leak that begins six hours after takes off m·f·(log10 t + S): Earlougher 1977, ch. 5.
   */
  @Test
  void aLeakThatBeginsAfterTheShutInIsSaidWithItsSize() {
    Diagnosis d =
        ExplanationFit.of(
            day(
                    46_700,
                    (DoubleUnaryOperator)
                        h -> cooling(h) + (h > 6 ? SLOPE * 0.02 * (Math.log10(h - 6) + SKIN) : 0))
                .snapshot(),
            FACTS,
            List.of());
    assertThat(d.verdict()).isEqualTo(Diagnosis.Verdict.LEAKING);
    Estimate share = d.candidates().get(0).leakShare();
    assertThat(share.value()).isCloseTo(0.02, within(0.008));
    assertThat(Math.abs(share.value() - 0.02)).isLessThan(3 * share.deviation());
    assertThat(d.leaking()).isGreaterThan(Diagnosis.SURE);
  }

  /**
   * Rock that takes all that comes pins the pressure just above what it takes, off what the facts
   * say by less than a deviation: no flat and low course may be put down to depletion then.
   */
  @ParameterizedTest
  @ValueSource(doubles = {40_000, 40_400, 40_700, 40_850})
  void rockThatPinsThePressureIsSaid(double takes) {
    Diagnosis d =
        ExplanationFit.of(day(46_700, new RockLeak(0.004, takes)).snapshot(), FACTS, List.of());
    assertThat(d.verdict()).isEqualTo(Diagnosis.Verdict.LEAKING);
    assertThat(d.candidates().get(0).explanation()).isEqualTo(Explanation.LEAK_TO_ROCK);
  }

  private static List<HydrophoneLevels> heard(double level) {
    Hydrophone ear =
        new Hydrophone("HY-1", Uncertain.between(100, 106), Uncertain.between(100, 120));
    return List.of(new HydrophoneLevels(ear, List.of(new HydrophoneLevels.Level(1450, level))));
  }

  /**
   * The pressure of a well that has always leaked is that of one depleted: only sound parts them.
   */
  @Test
  void soundTellsALeakIntoTheSeaFromADepletedReservoirAndQuietTellsNothing() {
    BuildUp.Snapshot low = day(45_500, COOLING).snapshot();
    Diagnosis deaf = ExplanationFit.of(low, FACTS, List.of());
    assertThat(deaf.verdict()).isEqualTo(Diagnosis.Verdict.CANNOT_TELL);
    Diagnosis quiet = ExplanationFit.of(low, FACTS, heard(103));
    for (Explanation x : Explanation.values()) {
      assertThat(quiet.weight(x)).isCloseTo(deaf.weight(x), within(0.1));
    }
    Diagnosis loud = ExplanationFit.of(low, FACTS, heard(122));
    assertThat(loud.candidates().get(0).explanation()).isEqualTo(Explanation.LEAK_TO_SEA);
    assertThat(loud.leaking()).isGreaterThan(Diagnosis.SURE);
  }

  /** What it foretells must be what then comes, within what it says of itself. */
  @Test
  void whatItForetellsIsWhatComes() {
    double leadsTo = 46_700;
    Diagnosis d = ExplanationFit.of(day(leadsTo, COOLING).snapshot(), FACTS, List.of());
    double clock = flow(4).lastChangeHours() + d.hours() + 6;
    double comes = leadsTo - SLOPE * flow(4).superposition(clock) * 0.15 - cooling(d.hours() + 6);
    Estimate foretold = d.candidates().get(0).ahead().get(Diagnosis.AHEAD.indexOf(6.0));
    assertThat(Math.abs(foretold.value() - comes)).isLessThan(4 * foretold.deviation() + 0.5);
    assertThat(foretold.deviation()).isLessThan(5);
  }

  /**
   * Late in time a closed reservoir is in semi-steady state: pD = 2 tDe + ln(re/rw) - 3/4 (L. P.
   * Dake, Fundamentals of Reservoir Engineering, 1978, eq. 7.12; from memory), early it is endless:
   * pD = (ln tD + 0.80907)/2.
   */
  @ParameterizedTest
  @CsvSource({"0.5, 1e-6", "1, 1e-9", "5, 1e-9"})
  void aClosedReservoirLateInTime(double time, double within) {
    double closed = 2 * time - 0.75;
    double endless = (Math.log(time) + 0.80907) / 2;
    assertThat(BoundedReservoir.below(time)).isCloseTo(closed - endless, within(within + 1e-3));
  }

  @Test
  void aClosedReservoirEarlyInTimeIsEndless() {
    assertThat(BoundedReservoir.below(0.01)).isZero();
    assertThat(BoundedReservoir.below(0.051)).isCloseTo(0, within(2e-3));
    assertThat(BoundedReservoir.below(0.3)).isGreaterThan(BoundedReservoir.below(0.1));
  }

  /**
   * A linear model without prior knowledge is least squares: slope and error of a textbook line.
   */
  @Test
  void theLinearFitIsLeastSquaresWhereNothingIsKnownBefore() {
    double[] x = {1, 2, 3, 4, 5};
    double[] y = {2.1, 3.9, 6.2, 7.8, 10.1};
    List<double[]> rows = java.util.Arrays.stream(x).mapToObj(v -> new double[] {1, v}).toList();
    LinearFit fit =
        new LinearFit(
            rows, y, List.of(new LinearFit.Prior(0, 1e6), new LinearFit.Prior(0, 1e6)), 1 / 0.04);
    assertThat(fit.coefficient(1).value()).as("Sxy/Sxx = 19.9/10").isCloseTo(1.99, within(1e-6));
    assertThat(fit.coefficient(0).value()).isCloseTo(6.02 - 1.99 * 3, within(1e-6));
    assertThat(fit.coefficient(1).deviation())
        .as("sigma over the root of Sxx")
        .isCloseTo(0.2 / Math.sqrt(10), withinPercentage(1e-4));
  }
}
