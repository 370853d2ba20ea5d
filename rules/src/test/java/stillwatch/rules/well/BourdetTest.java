package stillwatch.rules.well;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;
import static stillwatch.rules.well.Published.where;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The classic data set of the derivative, {@link Published#BOURDET_1}. */
class BourdetTest {
  private static final List<BuildUpPoint> ALL =
      Published.points(Published.BOURDET_1, FlowHistory.constant(174, 15.33));

  /** Regressions of the table; the paper's own slope is 65.6 psi a cycle, its p* about 3878 psi. */
  @ParameterizedTest
  @CsvSource({"20, 63.99, 3877.20", "14, 69.09, 3878.27"})
  void theLateLines(double from, double slope, double extrapolated) {
    SemilogLine line = SemilogLine.through(where(ALL, h -> h >= from));
    assertThat(-line.slope()).isCloseTo(slope, within(0.006)).isCloseTo(65.6, withinPercentage(10));
    assertThat(line.extrapolated()).isCloseTo(extrapolated, within(0.01));
  }

  /** The paper: kh about 1100 md ft. */
  @ParameterizedTest
  @ValueSource(doubles = {14, 20})
  void theLateLinesGiveThePapersThickness(double from) {
    SemilogLine line = SemilogLine.through(where(ALL, h -> h >= from));
    double kh =
        RadialFlow.permeabilityThickness(
                174 * 1.06 * Published.BARREL_PER_DAY, 2.5e-3, -line.slope() * Published.PSI)
            / Published.DARCY
            * 1000
            / Published.FOOT;
    assertThat(kh).isCloseTo(1100, withinPercentage(10));
  }

  /** The unit slope from 0.0125 to 0.0333 h: C = q B dt/(24 dp), 0.0094 to 0.0095 bbl/psi. */
  @Test
  void theWellFillsFirst() {
    for (BuildUpPoint p : where(ALL, h -> h >= 0.0125 && h <= 0.0334)) {
      double rise = p.pressure() - 3086.33;
      assertThat(174 * 1.06 * p.hours() / (24 * rise)).isBetween(0.0090, 0.0099);
    }
    for (double until : new double[] {0.5, 1, 2, 3}) {
      assertThat(LineChoice.of(where(ALL, h -> h <= until)).line()).as("to %s h", until).isNull();
    }
  }

  /** The hump of storage; then it comes down to the level of radial flow, 65.6 psi a cycle. */
  @Test
  void theDerivativeHasItsHumpAndComesDownToItsLevel() {
    double[] x = ALL.stream().mapToDouble(p -> -p.abscissa()).toArray();
    double[] p = ALL.stream().mapToDouble(BuildUpPoint::pressure).toArray();
    double[] d = Arrays.stream(LogDerivative.of(x, p, 0.1)).filter(v -> !Double.isNaN(v)).toArray();
    assertThat(Arrays.stream(d).max().orElseThrow() / 65.6).isBetween(5.0, 15.0);
    assertThat(d[d.length - 1]).isCloseTo(65.6, withinPercentage(12));
  }
}
