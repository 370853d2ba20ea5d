package stillwatch.rules.well;

import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * A linear model with a Gaussian prior on each coefficient and Gaussian noise, fitted exactly (C.
 * M. Bishop, Pattern Recognition and Machine Learning, 2006, sections 3.3 and 3.5.1).
 */
final class LinearFit {
  private static final NormalDistribution NORMAL = new NormalDistribution();

  private final RealVector mean;
  private final RealMatrix covariance;
  private final double restSquares;
  private final double logEvidence;

  /**
   * What is believed of a coefficient before.
   *
   * @param mean most likely value
   * @param deviation standard deviation
   */
  record Prior(double mean, double deviation) {}

  /**
   * Fits.
   *
   * @param rows one for each value, one entry for each coefficient
   * @param values what was seen
   * @param priors one for each coefficient
   * @param weight one over the variance of the noise, less where values count for fewer
   */
  LinearFit(List<double[]> rows, double[] values, List<Prior> priors, double weight) {
    int k = priors.size();
    double[][] precision = new double[k][k];
    double[] right = new double[k];
    double priorLogs = 0;
    for (int i = 0; i < k; i++) {
      Prior p = priors.get(i);
      double w = 1 / (p.deviation() * p.deviation());
      precision[i][i] = w;
      right[i] = w * p.mean();
      priorLogs += 2 * StrictMath.log(p.deviation());
    }
    for (int n = 0; n < values.length; n++) {
      add(rows.get(n), values[n], weight, precision, right);
    }
    mirror(precision);
    CholeskyDecomposition solved =
        new CholeskyDecomposition(MatrixUtils.createRealMatrix(precision), 1e-6, 0);
    mean = solved.getSolver().solve(MatrixUtils.createRealVector(right));
    covariance = solved.getSolver().getInverse();
    double rest = 0;
    for (int n = 0; n < values.length; n++) {
      double r = values[n] - dot(rows.get(n));
      rest += r * r;
    }
    restSquares = rest;
    double away = 0;
    double logDeterminant = 0;
    RealMatrix lower = solved.getL();
    for (int i = 0; i < k; i++) {
      double d = (mean.getEntry(i) - priors.get(i).mean()) / priors.get(i).deviation();
      away += d * d;
      logDeterminant += 2 * StrictMath.log(lower.getEntry(i, i));
    }
    logEvidence =
        -(weight * rest
                + away
                + logDeterminant
                + priorLogs
                - values.length * StrictMath.log(weight))
            / 2;
  }

  /** Adds a value's own to the lower half of the normal equations. */
  private static void add(
      double[] row, double value, double weight, double[][] precision, double[] right) {
    for (int i = 0; i < right.length; i++) {
      double a = weight * row[i];
      if (a != 0) {
        right[i] += a * value;
        for (int j = 0; j <= i; j++) {
          precision[i][j] += a * row[j];
        }
      }
    }
  }

  private static void mirror(double[][] lower) {
    for (int i = 0; i < lower.length; i++) {
      for (int j = i + 1; j < lower.length; j++) {
        lower[i][j] = lower[j][i];
      }
    }
  }

  private double dot(double[] row) {
    double sum = 0;
    for (int i = 0; i < row.length; i++) {
      sum += row[i] * mean.getEntry(i);
    }
    return sum;
  }

  /** The sum of squared residuals. */
  double restSquares() {
    return restSquares;
  }

  /**
   * The logarithm of how likely the values were beforehand, short of a constant that is the same
   * for all models of the same values.
   */
  double logEvidence() {
    return logEvidence;
  }

  /** The logarithm of the chance that a coefficient is above zero. */
  double logAbove(int i) {
    double z = mean.getEntry(i) / Math.sqrt(covariance.getEntry(i, i));
    return z < -30 ? -z * z / 2 : StrictMath.log(NORMAL.cumulativeProbability(z));
  }

  /** A coefficient. */
  Estimate coefficient(int i) {
    return new Estimate(mean.getEntry(i), Math.sqrt(covariance.getEntry(i, i)));
  }

  /** What the model says of a row, without noise. */
  Estimate of(double[] row) {
    double variance = 0;
    for (int i = 0; i < row.length; i++) {
      for (int j = 0; j < row.length; j++) {
        variance += row[i] * covariance.getEntry(i, j) * row[j];
      }
    }
    return new Estimate(dot(row), Math.sqrt(Math.max(0, variance)));
  }
}
