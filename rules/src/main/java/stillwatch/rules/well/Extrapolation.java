package stillwatch.rules.well;

import java.util.List;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * Where a build-up leads, with how sure that is once the cooling of the column and the tide,
 * neither known, are allowed for. Points on the line are explained by
 *
 * <pre>p = p* + slope·X − A·(1 − exp(−t/τ)) + share·(sea − its mean)</pre>
 *
 * with p* and the slope free, A between what the facts say of cooling, the share of the tide small,
 * and τ one of a few times, all as likely beforehand: a linear Gaussian model for each τ, weighed
 * by its evidence (C. M. Bishop, Pattern Recognition and Machine Learning, 2006, sections 3.3 and
 * 3.5.1). Residuals that follow one another count for fewer.
 */
public final class Extrapolation {
  private static final double[] COOLING_HOURS = {6, 12, 24, 48};
  private static final double SHARE = 0.1;
  private static final double SHARE_DEVIATION = 0.2;

  /** Nothing is measured better than this, kPa: wander that no reading shows. */
  private static final double LEAST_SPREAD = 0.05;

  /** Two-sided 90 % of a normal distribution lies within so many deviations. */
  private static final double NINETY = 1.6449;

  private final double[] weights = new double[COOLING_HOURS.length];
  private final RealVector[] means = new RealVector[COOLING_HOURS.length];
  private final RealMatrix[] covariances = new RealMatrix[COOLING_HOURS.length];
  private final double seaMean;
  private final double spread;

  /**
   * A point of a build-up with the sea's pressure beside it, NaN where nobody tells it.
   *
   * @param point the point
   * @param sea kPa
   */
  public record Seen(BuildUpPoint point, double sea) {}

  /**
   * A value and how sure it is.
   *
   * @param value the most likely
   * @param deviation its standard deviation
   */
  public record Estimate(double value, double deviation) {
    /** Below this with one chance in twenty. */
    public double low() {
      return value - NINETY * deviation;
    }

    /** Above this with one chance in twenty. */
    public double high() {
      return value + NINETY * deviation;
    }
  }

  /**
   * Fits the points of a line.
   *
   * @param seen five or more, in order of time
   * @param cooling how much the cooling may lower the pressure in the end, kPa
   */
  public Extrapolation(List<Seen> seen, Uncertain cooling) {
    int n = seen.size();
    seaMean =
        seen.stream().mapToDouble(Seen::sea).filter(s -> !Double.isNaN(s)).average().orElse(0);
    SemilogLine line = SemilogLine.through(seen.stream().map(Seen::point).toList());
    double independent = independent(seen, line);
    double[] logEvidence = new double[COOLING_HOURS.length];
    double noise = Math.max(LEAST_SPREAD, line.spread());
    for (int round = 0; round < 2; round++) { // the second with the spread that the first leaves
      double best = Double.POSITIVE_INFINITY;
      for (int k = 0; k < COOLING_HOURS.length; k++) {
        double rest = fit(k, seen, line, cooling, noise, independent, logEvidence);
        best = Math.min(best, rest);
      }
      noise = Math.max(LEAST_SPREAD, Math.sqrt(best / Math.max(1, n - 4)));
    }
    spread = noise;
    double most =
        Math.max(
            Math.max(logEvidence[0], logEvidence[1]), Math.max(logEvidence[2], logEvidence[3]));
    double sum = 0;
    for (int k = 0; k < weights.length; k++) {
      weights[k] = StrictMath.exp(logEvidence[k] - most);
      sum += weights[k];
    }
    for (int k = 0; k < weights.length; k++) {
      weights[k] /= sum;
    }
  }

  /** The share of the points that count when residuals follow one another. */
  private static double independent(List<Seen> seen, SemilogLine line) {
    double together = 0;
    double alone = 0;
    double before = Double.NaN;
    for (Seen s : seen) {
      double r = s.point().pressure() - line.at(s.point().abscissa());
      together += Double.isNaN(before) ? 0 : r * before;
      alone += r * r;
      before = r;
    }
    double follows = alone > 0 ? Math.max(0, Math.min(0.9, together / alone)) : 0;
    return (1 - follows) / (1 + follows);
  }

  private double fit(
      int k,
      List<Seen> seen,
      SemilogLine line,
      Uncertain cooling,
      double noise,
      double independent,
      double[] logEvidence) {
    double coolingDeviation = Math.max(0.01, (cooling.high() - cooling.low()) / 3.46); // even
    double[] prior = {line.extrapolated(), line.slope(), cooling.likely(), SHARE};
    double[] deviation = {1e4, 1e4, coolingDeviation, SHARE_DEVIATION};
    RealMatrix precision = MatrixUtils.createRealMatrix(4, 4);
    RealVector right = MatrixUtils.createRealVector(new double[4]);
    for (int i = 0; i < 4; i++) {
      double w = 1 / (deviation[i] * deviation[i]);
      precision.setEntry(i, i, w);
      right.setEntry(i, w * prior[i]);
    }
    double weight = independent / (noise * noise);
    for (Seen s : seen) {
      double[] row = row(k, s.point(), s.sea());
      for (int i = 0; i < 4; i++) {
        right.addToEntry(i, weight * row[i] * s.point().pressure());
        for (int j = 0; j < 4; j++) {
          precision.addToEntry(i, j, weight * row[i] * row[j]);
        }
      }
    }
    CholeskyDecomposition solved = new CholeskyDecomposition(precision, 1e-9, 0);
    RealVector mean = solved.getSolver().solve(right);
    means[k] = mean;
    covariances[k] = solved.getSolver().getInverse();
    double rest = 0;
    for (Seen s : seen) {
      double r = s.point().pressure() - dot(row(k, s.point(), s.sea()), mean);
      rest += r * r;
    }
    double away = 0;
    for (int i = 0; i < 4; i++) {
      double d = (mean.getEntry(i) - prior[i]) / deviation[i];
      away += d * d;
    }
    logEvidence[k] = -(weight * rest + away + StrictMath.log(solved.getDeterminant())) / 2;
    return rest;
  }

  private double[] row(int k, BuildUpPoint p, double sea) {
    return new double[] {
      1,
      p.abscissa(),
      -(1 - StrictMath.exp(-p.hours() / COOLING_HOURS[k])),
      Double.isNaN(sea) ? 0 : sea - seaMean
    };
  }

  private static double dot(double[] row, RealVector v) {
    double sum = 0;
    for (int i = 0; i < row.length; i++) {
      sum += row[i] * v.getEntry(i);
    }
    return sum;
  }

  /** Where the build-up would end with the column as warm as at the shut-in. */
  public Estimate extrapolated() {
    return mixed(k -> new double[] {1, 0, 0, 0});
  }

  /** The slope per cycle; negative while the pressure builds. */
  public Estimate slope() {
    return mixed(k -> new double[] {0, 1, 0, 0});
  }

  /** What a mean of readings at this point is expected to be. */
  public Estimate at(BuildUpPoint p, double sea) {
    Estimate e = mixed(k -> row(k, p, sea));
    return new Estimate(e.value(), StrictMath.hypot(e.deviation(), spread));
  }

  private interface Rows {
    double[] of(int k);
  }

  private Estimate mixed(Rows rows) {
    double mean = 0;
    double square = 0;
    for (int k = 0; k < weights.length; k++) {
      double[] row = rows.of(k);
      double m = dot(row, means[k]);
      double v = dot(row, covariances[k].operate(MatrixUtils.createRealVector(row)));
      mean += weights[k] * m;
      square += weights[k] * v;
    }
    for (int k = 0; k < weights.length; k++) {
      double m = dot(rows.of(k), means[k]);
      square += weights[k] * (m - mean) * (m - mean);
    }
    return new Estimate(mean, Math.sqrt(square));
  }
}
