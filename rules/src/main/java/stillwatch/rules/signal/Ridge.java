package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * Least squares with prior knowledge of some coefficients: the mean of their posterior, with its
 * covariance, for normal errors (ridge regression: A. E. Hoerl and R. W. Kennard, Technometrics 12,
 * 1970, 55-67, from memory). Solved by Cholesky's factors of the normal equations. Not thread-safe.
 */
final class Ridge {
  private final int terms;
  private final double[][] normal;
  private final double[] right;
  private final double[][] factor;
  private final double[] solution;
  private final double[] scratch;

  /** A regression on so many terms. */
  Ridge(int terms) {
    this.terms = terms;
    normal = new double[terms][terms];
    right = new double[terms];
    factor = new double[terms][terms];
    solution = new double[terms];
    scratch = new double[terms];
  }

  /** Forgets what was added. */
  void clear() {
    for (double[] row : normal) {
      Arrays.fill(row, 0);
    }
    Arrays.fill(right, 0);
  }

  /** Adds one observation. */
  void add(double[] row, double value) {
    for (int i = 0; i < terms; i++) {
      for (int j = 0; j <= i; j++) {
        normal[i][j] += row[i] * row[j];
      }
      right[i] += row[i] * value;
    }
  }

  /**
   * Solves for the coefficients.
   *
   * @param variance of one observation
   * @param prior what the coefficients were thought to be
   * @param precision one over the variance of that; more than 0, as small as may be
   */
  void solve(double variance, double[] prior, double[] precision) {
    for (int i = 0; i < terms; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = normal[i][j] / variance + (i == j ? precision[i] : 0);
        for (int k = 0; k < j; k++) {
          sum -= factor[i][k] * factor[j][k];
        }
        double tiny = 1e-12 * normal[i][i] / variance; // rounding must not make it negative
        factor[i][j] = i == j ? Math.sqrt(Math.max(sum, tiny + precision[i])) : sum / factor[j][j];
      }
      scratch[i] = right[i] / variance + precision[i] * prior[i];
    }
    forward(scratch);
    for (int i = terms - 1; i >= 0; i--) {
      double sum = scratch[i];
      for (int k = i + 1; k < terms; k++) {
        sum -= factor[k][i] * solution[k];
      }
      solution[i] = sum / factor[i][i];
    }
  }

  private void forward(double[] v) {
    for (int i = 0; i < terms; i++) {
      double sum = v[i];
      for (int k = 0; k < i; k++) {
        sum -= factor[i][k] * v[k];
      }
      v[i] = sum / factor[i][i];
    }
  }

  /** A coefficient as last solved. */
  double coefficient(int i) {
    return solution[i];
  }

  /** What the coefficients last solved make of a row. */
  double at(double[] row) {
    double sum = 0;
    for (int i = 0; i < terms; i++) {
      sum += row[i] * solution[i];
    }
    return sum;
  }

  /** Variance of that. */
  double variance(double[] row) {
    System.arraycopy(row, 0, scratch, 0, terms);
    forward(scratch);
    double sum = 0;
    for (int i = 0; i < terms; i++) {
      sum += scratch[i] * scratch[i];
    }
    return sum;
  }
}
