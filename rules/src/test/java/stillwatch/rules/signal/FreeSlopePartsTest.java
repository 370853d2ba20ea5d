package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the slope without the tide is made of. */
class FreeSlopePartsTest {

  @Property(tries = 100)
  void aRegressionWithPriorKnowledgeIsThatOfTheWholeMatrices(
      @ForAll long seed,
      @ForAll @IntRange(min = 1, max = 8) int terms,
      @ForAll @IntRange(min = 1, max = 40) int rows,
      @ForAll @DoubleRange(min = 0.01, max = 10) double variance) {
    Random random = new Random(seed);
    Ridge ridge = new Ridge(terms);
    RealMatrix design = new Array2DRowRealMatrix(rows, terms);
    RealVector values = new ArrayRealVector(rows);
    for (int i = 0; i < rows; i++) {
      design.setRow(i, random.doubles(terms, -2, 2).toArray());
      values.setEntry(i, 5 * random.nextGaussian());
      ridge.add(design.getRow(i), values.getEntry(i));
    }
    double[] prior = random.doubles(terms, -3, 3).toArray();
    double[] precision = random.doubles(terms, 0.1, 5).toArray();
    ridge.solve(variance, prior, precision);
    RealMatrix certain = MatrixUtils.createRealDiagonalMatrix(precision);
    RealMatrix normal =
        design.transpose().multiply(design).scalarMultiply(1 / variance).add(certain);
    RealMatrix covariance = new LUDecomposition(normal).getSolver().getInverse();
    RealVector right =
        design
            .transpose()
            .operate(values)
            .mapMultiply(1 / variance)
            .add(certain.operate(new ArrayRealVector(prior)));
    RealVector solution = covariance.operate(right);
    double[] row = random.doubles(terms, -2, 2).toArray();
    RealVector asked = new ArrayRealVector(row);
    for (int i = 0; i < terms; i++) {
      assertThat(ridge.coefficient(i)).isCloseTo(solution.getEntry(i), within(1e-8));
    }
    assertThat(ridge.at(row)).isCloseTo(solution.dotProduct(asked), within(1e-8));
    assertThat(ridge.variance(row))
        .isCloseTo(asked.dotProduct(covariance.operate(asked)), within(1e-8));
  }

  /** AR(1) of 0.5: (1 + 0.5)/(1 - 0.5) = 3 (Bartlett 1946); long rows need no correction. */
  @Test
  void residualsThatRememberWidenTheErrorByBartlettsFactor() {
    Random random = new Random(1);
    double[] residuals = new double[100_000];
    for (int i = 1; i < residuals.length; i++) {
      residuals[i] = 0.5 * residuals[i - 1] + random.nextGaussian();
    }
    assertThat(Correlation.variance(residuals, residuals.length)).isCloseTo(3, within(0.1));
  }

  /** Of 18 white residuals about a line the factor is 1 in half the cases and seldom large. */
  @Test
  void fewWhiteResidualsHardlyWidenIt() {
    Random random = new Random(2);
    double[] factors = new double[2000];
    for (int run = 0; run < factors.length; run++) {
      double[] y = random.doubles(18, -1, 1).toArray();
      double mean = Arrays.stream(y).average().orElseThrow();
      double slope = 0;
      for (int i = 0; i < 18; i++) {
        slope += (i - 8.5) * (y[i] - mean) / 484.5;
      }
      for (int i = 0; i < 18; i++) {
        y[i] -= mean + slope * (i - 8.5);
      }
      factors[run] = Correlation.variance(y, 18);
    }
    Arrays.sort(factors);
    assertThat(factors[factors.length / 3]).isEqualTo(1);
    assertThat(factors[factors.length / 2]).isLessThan(1.1);
    assertThat(factors[factors.length * 9 / 10]).isLessThan(3);
    assertThat(Correlation.variance(new double[4], 4)).isEqualTo(1);
  }

  @Test
  void theAmbientPressureGoesStraightBetweenTwoAndStandsStillBeyond() {
    AmbientBridge bridge = new AmbientBridge(5);
    long[] index = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
    double[] hours = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
    double nan = Double.NaN;
    double[] inside = {1, 2, nan, nan, nan, 6, 7, 8, 9, 10};
    assertThat(bridge.fill(index, hours, inside, 10)).isZero();
    assertThat(Arrays.copyOf(bridge.course(), 10)).containsExactly(1, 2, 3, 4, 5, 6, 7, 8, 9, 10);
    double[] late = {1, 2, 3, 4, 5, 6, 7, nan, nan, nan};
    assertThat(bridge.fill(index, hours, late, 10)).isEqualTo(0.3);
    assertThat(Arrays.copyOf(bridge.course(), 10)).containsExactly(1, 2, 3, 4, 5, 6, 7, 7, 7, 7);
    double[] early = {nan, nan, 3, 4, 5, 6, 7, 8, 9, 10};
    assertThat(bridge.fill(index, hours, early, 10)).isEqualTo(0.2);
    double[] middle = {1, nan, nan, nan, nan, 6, 7, 8, 9, 10};
    assertThat(bridge.fill(index, hours, middle, 10)).isEqualTo(0.4);
    double[] none = {nan, nan, nan, nan, nan, nan, nan, nan, nan, nan};
    assertThat(bridge.fill(index, hours, none, 10)).isEqualTo(1);
  }

  /** 2 pi / 12.42 h times the amplitude: the one allowed for until a whole tide has been seen. */
  @ParameterizedTest
  @ValueSource(ints = {6, 30})
  void theSteepestTideIsThatOfTheAmplitudeSeen(int hours) {
    AmbientBridge bridge = new AmbientBridge(5);
    for (int minute = 0; minute <= 60 * hours; minute++) {
      bridge.saw(minute * 60_000L, 2 * Math.sin(TideMemory.HALF_DAILY * minute / 60.0));
    }
    double amplitude = hours < 12 ? 5 : 2;
    assertThat(bridge.steepest())
        .isCloseTo(amplitude * 2 * Math.PI / 12.420601, within(1e-3 * amplitude));
  }

  /**
   * Coefficients that are exactly one, on powers from 0 to 20 to the fifth (NIST, Statistical
   * Reference Datasets, linear regression, Wampler1, from memory).
   */
  @Test
  void aPolynomialOfHighDegreeKeepsItsCoefficients() {
    Ridge ridge = new Ridge(6);
    double[] row = new double[6];
    for (int x = 0; x <= 20; x++) {
      double y = 0;
      for (int power = 0; power < 6; power++) {
        row[power] = StrictMath.pow(x, power);
        y += row[power];
      }
      ridge.add(row, y);
    }
    double[] unknown = new double[6];
    Arrays.fill(unknown, 1e-20);
    ridge.solve(1, new double[6], unknown);
    for (int power = 0; power < 6; power++) {
      assertThat(ridge.coefficient(power)).isCloseTo(1, within(1e-9));
    }
  }

  /** The fifth day of a sound build-up read to 0.01 kPa: no tide is found where there is none. */
  @Property(tries = 100)
  void daysAfterTheShutInNoTideIsMadeOfRounding(@ForAll Random random) {
    TideMemory memory = new TideMemory(10_800_000, 0.01, 5);
    for (int minute = 0; minute < 4.5 * 1440; minute++) {
      double level = 45_000 + 700 * StrictMath.log10(1 + minute / 60.0);
      memory.accept(minute * 60_000L, level + 0.01 * random.nextGaussian(), Double.NaN);
      if (minute > 2 * 1440 && minute % 30 == 0) {
        for (int wave = 0; wave < TideMemory.waves(); wave++) {
          assertThat(memory.size(wave))
              .as("wave %s after %s min", wave, minute)
              .isBetween(-5.0, 5.0);
        }
      }
    }
  }
}
