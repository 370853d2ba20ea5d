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
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;

/** What a response is made of, against the plain calculation with whole matrices. */
class ResponsePartsTest {
  private static final long START_MS = 1_772_967_600_000L;

  @Property(tries = 100)
  void theBackwardSumsAreThoseOfTheWholeCovariance(
      @ForAll long seed,
      @ForAll @IntRange(min = 7, max = 30) int size,
      @ForAll @DoubleRange(min = 0, max = 3) double walk,
      @ForAll @IntRange(min = 0, max = 3) int trend) {
    Random random = new Random(seed);
    double[] noise = random.doubles(size + 1, 0.2, 2).toArray();
    double[] own = random.doubles(size, -3, 3).toArray();
    double[] other = random.doubles(size, -3, 3).toArray();
    WeightedSums sums = new WeightedSums(trend);
    sums.start(walk);
    for (int i = size - 1; i >= 0; i--) {
      sums.add((double) i / size, noise[i], noise[i + 1], other[i], own[i]);
    }
    RealMatrix covariance = new Array2DRowRealMatrix(size, size);
    RealMatrix design = new Array2DRowRealMatrix(size, 1 + trend);
    for (int i = 0; i < size; i++) {
      covariance.setEntry(i, i, noise[i] + noise[i + 1] + walk);
      if (i > 0) {
        covariance.setEntry(i, i - 1, -noise[i]);
        covariance.setEntry(i - 1, i, -noise[i]);
      }
      double x = (double) i / size;
      design.setRow(i, Arrays.copyOf(new double[] {other[i], 1, x, x * x}, 1 + trend));
    }
    RealMatrix weight = new LUDecomposition(covariance).getSolver().getInverse();
    RealMatrix normal = design.transpose().multiply(weight).multiply(design);
    RealMatrix error = new LUDecomposition(normal).getSolver().getInverse();
    RealVector y = new ArrayRealVector(own);
    RealVector fitted = error.operate(design.transpose().operate(weight.operate(y)));
    RealVector rest = y.subtract(design.operate(fitted));
    assertThat(sums.gain()).isCloseTo(fitted.getEntry(0), within(1e-6));
    assertThat(1 / sums.weight()).isCloseTo(error.getEntry(0, 0), within(1e-6));
    assertThat(sums.left()).isCloseTo(rest.dotProduct(weight.operate(rest)), within(1e-6));
    assertThat(sums.freedom()).isEqualTo(size - 1 - trend);
  }

  /** The bound is four standard errors of a mean over a memory of 200 overlapping triples. */
  @Test
  void theScatterOfARampWithNoiseAtUnevenTimesIsTheNoise() {
    Random random = new Random(7);
    Scatter scatter = new Scatter(60_000);
    long at = START_MS;
    for (int i = 0; i < 5000; i++) {
      at += 1000 + random.nextInt(15_000);
      scatter.accept(at, 46_000 - 3 * (at - START_MS) / 1000.0 + 0.05 * random.nextGaussian());
    }
    double before = scatter.sigma();
    assertThat(before).isCloseTo(0.05, within(0.05 * 0.35));
    for (int i = 0; i < 20; i++) {
      at += 10_000;
      scatter.accept(at, 99_000 - 3 * (at - START_MS) / 1000.0 + 0.05 * random.nextGaussian());
    }
    assertThat(scatter.sigma()).isCloseTo(before, within(before * 0.1));
  }

  @Test
  void aScatterComparesNothingAcrossAGap() {
    Scatter scatter = new Scatter(40_000);
    for (int i = 0; i < 100; i++) {
      scatter.accept(START_MS + i * 30_000L, i % 2);
    }
    assertThat(scatter.sigma()).isNaN();
  }
}
