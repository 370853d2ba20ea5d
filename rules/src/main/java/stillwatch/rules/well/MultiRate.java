package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * The slope of a well closed in steps, read as a multi-rate test: within every step the pressure
 * follows superposition time (B. F. Towler, Fundamental Principles of Reservoir Engineering, SPE,
 * 2002, ch. 7), with one slope for all of them and a level for each, because what a rate loses over
 * the outlets, the skin and the friction is its own. The fit is
 *
 * <pre>p = a(step) − m·Σ Δsj·log10(t − tj) + m·τ·dΣ/dt − m·Σ δj·log10((t − tj)/(t − tj+1))</pre>
 *
 * with m the slope per cycle at the first rate, τ what the filling of the well lags by, and each δ
 * what the share left by step j may be wrong by. The first minutes of every step are left out until
 * leaving out more changes nothing.
 *
 * @param slope per log10 cycle at the first rate, unit of the pressure, without sign; null when it
 *     cannot be told
 * @param from how long after each step its points begin, hours; 0 when it cannot be told
 * @param steps how many steps give points
 * @param refusal why not, one sentence; empty when there is a slope
 */
public record MultiRate(@Nullable Estimate slope, double from, int steps, String refusal) {
  private static final int LEAST_POINTS = 5;
  private static final double FIRST_HOURS = 1 / 60.0;
  private static final double GROWS = 1.25;

  /** Leaving out half as much again may change the slope by so much of itself, and by noise. */
  private static final double SAME = 0.01;

  /** Points begin at least so many times the lag of the filling after their step. */
  private static final double LAGS = 5;

  /** A slope less certain than this share of itself says nothing. */
  private static final double SURE = 0.3;

  /** Nothing is measured better than this, kPa. */
  private static final double LEAST_SPREAD = 0.05;

  /** An entry that is as good as free. */
  private static final double FREE = 1e6;

  /**
   * A mean of readings within a step.
   *
   * @param step which step of the flow it follows, 1 for the first change of rate
   * @param clock when, hours on the clock of the flow
   * @param since hours since that step
   * @param pressure the mean
   * @param count of how many readings of like weight
   */
  public record Sample(int step, double clock, double since, double pressure, int count) {}

  /**
   * Reads the steps.
   *
   * @param samples in order of time
   * @param flow the first rate, then each step of the closing
   * @param shareDeviation by how much the share of the first rate that a step leaves may be wrong
   */
  public static MultiRate of(List<Sample> samples, FlowHistory flow, double shareDeviation) {
    if (flow.steps().size() < 3) {
      return none("A multi-rate test needs two closure steps; there are too few.");
    }
    boolean any = false;
    for (double from = FIRST_HOURS; ; from *= GROWS) {
      List<Sample> used = from(samples, from);
      List<Sample> later = from(samples, 1.5 * from);
      if (used.isEmpty() || later.isEmpty()) {
        return none(
            any
                ? "The pressure within the steps still follows the filling of the well (wellbore"
                    + " storage)."
                : "The steps give too few readings.");
      }
      any = true;
      Fit fit = new Fit(used, flow, shareDeviation);
      Fit check = new Fit(later, flow, shareDeviation);
      if (fit.slope().value() > 0 && fit.filled(used) && fit.agrees(check)) {
        Estimate slope = fit.slope();
        return slope.deviation() > SURE * slope.value()
            ? none("The readings leave the slope too uncertain.")
            : new MultiRate(slope, first(used), steps(used), "");
      }
    }
  }

  /** The plain regression: no lag, no error of the shares; per cycle at the first rate. */
  static double plain(List<Sample> samples, FlowHistory flow) {
    return new Fit(samples, flow, 0, false).slope().value();
  }

  private static MultiRate none(String why) {
    return new MultiRate(null, 0, 0, why);
  }

  private static double first(List<Sample> samples) {
    return samples.stream().mapToDouble(Sample::since).min().orElseThrow();
  }

  private static int steps(List<Sample> samples) {
    return (int) samples.stream().mapToInt(Sample::step).distinct().count();
  }

  /** Those so long after their step, of steps that have enough of them. */
  private static List<Sample> from(List<Sample> samples, double hours) {
    return samples.stream()
        .filter(s -> s.since() >= hours)
        .collect(Collectors.groupingBy(Sample::step, LinkedHashMap::new, Collectors.toList()))
        .values()
        .stream()
        .filter(points -> points.size() >= LEAST_POINTS)
        .flatMap(List::stream)
        .toList();
  }

  /** One fit of some points. */
  private static final class Fit {
    private final FlowHistory flow;
    private final List<Integer> steps;
    private final LinearFit fit;
    private final double perRate;

    Fit(List<Sample> samples, FlowHistory flow, double shareDeviation) {
      this(samples, flow, shareDeviation, true);
    }

    Fit(List<Sample> samples, FlowHistory flow, double shareDeviation, boolean lags) {
      this.flow = flow;
      steps = samples.stream().map(Sample::step).distinct().toList();
      perRate = 1 / flow.steps().get(0).rate();
      List<LinearFit.Prior> priors = new ArrayList<>();
      steps.forEach(s -> priors.add(new LinearFit.Prior(level(samples, s), FREE)));
      priors.add(new LinearFit.Prior(0, FREE));
      LinearFit plain = fit(samples, priors, LEAST_SPREAD);
      if (!lags) {
        fit = plain;
        return;
      }
      double slope = Math.max(LEAST_SPREAD, Math.abs(plain.coefficient(steps.size()).value()));
      priors.add(new LinearFit.Prior(0, Extrapolation.FILLING_HOURS * slope));
      for (int i = 1; shareDeviation > 0 && i < flow.steps().size(); i++) {
        double rate = flow.steps().get(i).rate();
        priors.add(new LinearFit.Prior(0, rate > 0 ? shareDeviation * slope : 1e-6));
      }
      LinearFit first = fit(samples, priors, LEAST_SPREAD);
      int free = Math.max(1, samples.size() - steps.size() - 2);
      double spread = Math.max(LEAST_SPREAD, Math.sqrt(first.restSquares() / free));
      fit = fit(samples, priors, spread / Math.sqrt(independent(samples, first, priors.size())));
    }

    private static double level(List<Sample> samples, int step) {
      return samples.stream()
          .filter(s -> s.step() == step)
          .mapToDouble(Sample::pressure)
          .average()
          .orElseThrow();
    }

    private LinearFit fit(List<Sample> samples, List<LinearFit.Prior> priors, double spread) {
      List<double[]> rows = new ArrayList<>();
      double[] values = new double[samples.size()];
      for (int i = 0; i < values.length; i++) {
        Sample s = samples.get(i);
        double root = Math.sqrt(s.count());
        double[] row = row(s, priors.size());
        for (int k = 0; k < row.length; k++) {
          row[k] *= root;
        }
        rows.add(row);
        values[i] = root * s.pressure();
      }
      return new LinearFit(rows, values, priors, 1 / (spread * spread));
    }

    private double[] row(Sample s, int columns) {
      double[] row = new double[columns];
      int slope = steps.size();
      row[steps.indexOf(s.step())] = 1;
      row[slope] = -perRate * flow.superposed(s.clock(), StrictMath::log10);
      if (columns > slope + 1) {
        row[slope + 1] = perRate * flow.growth(s.clock());
      }
      for (int i = 1; slope + 1 + i < columns; i++) {
        row[slope + 1 + i] = -since(s, i) + (i + 1 < flow.steps().size() ? since(s, i + 1) : 0);
      }
      return row;
    }

    private double since(Sample s, int step) {
      double hours = s.clock() - flow.steps().get(step).atHours();
      return hours > 0 ? StrictMath.log10(hours) : 0;
    }

    /** The share of the points that count when residuals within a step follow one another. */
    private double independent(List<Sample> samples, LinearFit by, int columns) {
      double together = 0;
      double alone = 0;
      double before = 0;
      int step = -1;
      for (Sample s : samples) {
        double r = (s.pressure() - by.of(row(s, columns)).value()) * Math.sqrt(s.count());
        together += s.step() == step ? r * before : 0;
        alone += r * r;
        before = r;
        step = s.step();
      }
      double follows = alone > 0 ? Math.max(0, Math.min(0.9, together / alone)) : 0;
      return (1 - follows) / (1 + follows);
    }

    Estimate slope() {
      return fit.coefficient(steps.size());
    }

    /** Whether the filling lags so little that these points no longer feel it. */
    boolean filled(List<Sample> used) {
      double lag = fit.coefficient(steps.size() + 1).value() / slope().value();
      return Math.abs(lag) * LAGS <= first(used);
    }

    /** Whether leaving out more says the same. */
    boolean agrees(Fit later) {
      double apart = Math.abs(slope().value() - later.slope().value());
      return apart <= SAME * slope().value() + later.slope().deviation();
    }
  }
}
