package stillwatch.rules.signal;

import java.util.Arrays;

/**
 * Least squares with prior knowledge of some coefficients: the mean of their posterior, with its
 * covariance, for normal errors (ridge regression: A. E. Hoerl and R. W. Kennard, Technometrics 12,
 * 1970, 55-67, from memory). The observations, and then what is known before, are turned one by one
 * into a triangle by Givens' rotations (G. H. Golub and C. F. Van Loan, Matrix Computations, 5.2,
 * from memory). The normal equations would square the condition number: a trend, a logarithm and
 * the waves of a tide over a day are so much alike that their digits do not suffice for that. Not
 * thread-safe.
 */
final class Ridge {
  private final int terms;
  private final Triangle observed;
  private final Triangle known;
  private final double[] solution;
  private final double[] scratch;

  /** A regression on so many terms. */
  Ridge(int terms) {
    this.terms = terms;
    observed = new Triangle(terms);
    known = new Triangle(terms);
    solution = new double[terms];
    scratch = new double[terms];
  }

  /** Forgets what was added. */
  void clear() {
    observed.clear();
  }

  /** Adds one observation. */
  void add(double[] row, double value) {
    System.arraycopy(row, 0, scratch, 0, terms);
    observed.turnIn(scratch, 0, value);
  }

  /**
   * Solves for the coefficients.
   *
   * @param variance of one observation
   * @param prior what the coefficients were thought to be
   * @param precision one over the variance of that; more than 0, as small as may be
   */
  void solve(double variance, double[] prior, double[] precision) {
    known.copy(observed, 1 / Math.sqrt(variance));
    for (int i = 0; i < terms; i++) {
      double weight = Math.sqrt(precision[i]);
      Arrays.fill(scratch, i, terms, 0);
      scratch[i] = weight;
      known.turnIn(scratch, i, weight * prior[i]);
    }
    for (int i = terms - 1; i >= 0; i--) {
      double sum = known.right[i];
      for (int k = i + 1; k < terms; k++) {
        sum -= known.rows[i][k] * solution[k];
      }
      solution[i] = sum / known.rows[i][i];
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
    double squares = 0;
    for (int i = 0; i < terms; i++) {
      double sum = row[i];
      for (int k = 0; k < i; k++) {
        sum -= known.rows[k][i] * scratch[k];
      }
      scratch[i] = sum / known.rows[i][i];
      squares += scratch[i] * scratch[i];
    }
    return squares;
  }

  /** Upper triangle and right side to which the rows taken so far were turned. */
  private static final class Triangle {
    final double[][] rows;
    final double[] right;

    Triangle(int terms) {
      rows = new double[terms][terms];
      right = new double[terms];
    }

    void clear() {
      for (double[] row : rows) {
        Arrays.fill(row, 0);
      }
      Arrays.fill(right, 0);
    }

    void copy(Triangle other, double factor) {
      for (int i = 0; i < rows.length; i++) {
        for (int j = i; j < rows.length; j++) {
          rows[i][j] = factor * other.rows[i][j];
        }
        right[i] = factor * other.right[i];
      }
    }

    /** Turns a row in, whose terms before one are 0; the row is used up. */
    void turnIn(double[] row, int from, double value) {
      double rest = value;
      for (int i = from; i < rows.length; i++) {
        double[] turned = rows[i];
        double length = Math.sqrt(turned[i] * turned[i] + row[i] * row[i]);
        if (length > 0) {
          double cosine = turned[i] / length;
          double sine = row[i] / length;
          for (int j = i; j < rows.length; j++) {
            double before = turned[j];
            turned[j] = cosine * before + sine * row[j];
            row[j] = cosine * row[j] - sine * before;
          }
          double before = right[i];
          right[i] = cosine * before + sine * rest;
          rest = cosine * rest - sine * before;
        }
      }
    }
  }
}
