package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The models of one explanation that were tried, each with its weight. Not thread-safe. */
final class Family {
  private final List<Tried> all = new ArrayList<>();

  /**
   * A model as it fits.
   *
   * @param logWeight the logarithm of its evidence
   */
  record Tried(Model model, LinearFit fit, double logWeight) {}

  void add(Tried tried) {
    all.add(tried);
  }

  /** Those tried, in the order they were. */
  List<Tried> all() {
    return all;
  }

  /** The share of each in the weights of all. */
  double[] weights() {
    return Estimate.weights(fairly());
  }

  /**
   * The logarithm of the mean evidence of a family's models, a leak that was always there as likely
   * beforehand as one that began at some time after the shut-in.
   */
  double logEvidence() {
    if (all.isEmpty()) {
      return Double.NEGATIVE_INFINITY;
    }
    double[] logs = fairly();
    double most = Arrays.stream(logs).max().orElse(0);
    double sum = Arrays.stream(logs).map(l -> StrictMath.exp(l - most)).sum();
    boolean both = all.stream().anyMatch(t -> t.model().late());
    return most + StrictMath.log(sum / (both ? 2 : 1));
  }

  /** The logarithms of the models' weights, those of late leaks together as heavy as the others. */
  private double[] fairly() {
    double late = 0;
    double always = 0;
    for (Tried t : all) {
      double before = StrictMath.exp(t.model().before());
      late += t.model().late() ? before : 0;
      always += t.model().late() ? 0 : before;
    }
    double[] logs = new double[all.size()];
    for (int i = 0; i < logs.length; i++) {
      Model m = all.get(i).model();
      logs[i] = all.get(i).logWeight() + m.before() - StrictMath.log(m.late() ? late : always);
    }
    return logs;
  }
}
