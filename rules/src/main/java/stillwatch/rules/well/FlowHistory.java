package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;

/**
 * What the well flowed, as steps of constant rate.
 *
 * @param steps in order of time; each rate holds until the next step, the last for ever. Only
 *     ratios of rates matter to {@link #superposition}.
 */
public record FlowHistory(List<Step> steps) {
  /**
   * A change of rate.
   *
   * @param atHours when
   * @param rate the rate from then on
   */
  public record Step(double atHours, double rate) {}

  /** A history of these steps. */
  public FlowHistory {
    steps = List.copyOf(steps);
    if (steps.isEmpty()) {
      throw new IllegalArgumentException("a flow history needs at least one step");
    }
    for (int i = 1; i < steps.size(); i++) {
      if (!(steps.get(i).atHours() > steps.get(i - 1).atHours())) {
        throw new IllegalArgumentException(
            "step " + (i + 1) + " of the flow history is not later than the one before");
      }
    }
  }

  /** One rate from time zero, shut in after so many hours. */
  public static FlowHistory constant(double rate, double hours) {
    return new FlowHistory(List.of(new Step(0, rate), new Step(hours, 0)));
  }

  /** The same history, changed to another rate at a later time. */
  public FlowHistory then(double atHours, double rate) {
    List<Step> more = new ArrayList<>(steps);
    more.add(new Step(atHours, rate));
    return new FlowHistory(more);
  }

  /** When the last change was. */
  public double lastChangeHours() {
    return steps.get(steps.size() - 1).atHours();
  }

  /** The last rate that was not nothing, by which the superposition time is scaled; 0 for none. */
  public double lastRate() {
    for (int i = steps.size() - 1; i >= 0; i--) {
      if (steps.get(i).rate() > 0) {
        return steps.get(i).rate();
      }
    }
    return 0;
  }

  /** Whether nothing flows at the end. */
  public boolean shutIn() {
    return steps.get(steps.size() - 1).rate() == 0;
  }

  /**
   * How fast {@code Σ Δqj·log10(t − tj)} grows, an hour: what a well that fills late lags behind
   * by, per hour of filling.
   */
  double growth(double hours) {
    return superposed(hours, t -> 1 / t) / StrictMath.log(10);
  }

  /** Volume flowed until a time, rate unit × hours. */
  public double volume(double untilHours) {
    double sum = 0;
    for (int i = 0; i < steps.size(); i++) {
      double end = i + 1 < steps.size() ? steps.get(i + 1).atHours() : untilHours;
      double hours = Math.min(end, untilHours) - steps.get(i).atHours();
      sum += Math.max(0, hours) * steps.get(i).rate();
    }
    return sum;
  }

  /**
   * Superposition time {@code Σ (qj/qn)·log10((t − tj−1)/(t − tj))}, with qn the last rate before
   * the shut-in: the abscissa on which a build-up after several rates is straight; for one rate it
   * is Horner's {@code log10((tp + Δt)/Δt)} (B. F. Towler, Fundamental Principles of Reservoir
   * Engineering, SPE, 2002, ch. 7).
   *
   * @param hours a time after the last change
   */
  public double superposition(double hours) {
    return superposed(hours, StrictMath::log10) / lastRate();
  }

  /** {@code Σ Δqj·f(t − tj)} over the changes of rate before a time. */
  double superposed(double hours, DoubleUnaryOperator f) {
    double sum = 0;
    double before = 0;
    for (Step s : steps) {
      double since = hours - s.atHours();
      if (since > 0) {
        sum += (s.rate() - before) * f.applyAsDouble(since);
      }
      before = s.rate();
    }
    return sum;
  }
}
