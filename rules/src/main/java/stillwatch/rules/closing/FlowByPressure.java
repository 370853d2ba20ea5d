package stillwatch.rules.closing;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import stillwatch.rules.plan.ClosingStep;

/**
 * How much of the first flow comes out of the well at a pressure, at least, by what one gauge read
 * at the end of each hold of a closing.
 *
 * <p>What a flow takes off the pressure grows with its rate, and faster than in proportion to it:
 * {@code a·q + b·q²} in the rock (P. Forchheimer, Zeitschrift des Vereines deutscher Ingenieure 45,
 * 1901, p. 1782) and {@code q²} over an outlet (ISO 5167-1:2022, eq. 1). So a straight line between
 * two points of that course lies below it, and what is read off the line is less than what flows.
 * After a shut-in the pressure at one rate is no lower than before it, for the rock has recovered
 * (superposition in time: R. C. Earlougher, Advances in Well Test Analysis, SPE Monograph 5, 1977,
 * ch. 2), which again makes what is read off less than what flows. Depletion during one test is
 * left out.
 */
public final class FlowByPressure {
  private final List<Point> points;

  /** A share of the first flow, and what the gauge read at it. */
  private record Point(double share, double kPa) {}

  private FlowByPressure(List<Point> points) {
    this.points = points;
  }

  /**
   * What the gauges tell, by id; without those whose readings do not fall as the share grows.
   *
   * @return nothing where the flow that a step left is not known, or the well was not shut in
   */
  public static Map<String, FlowByPressure> of(Cycle cycle) {
    List<StepTaken> steps = cycle.steps();
    Optional<List<StepsReading.Change>> flow = StepsReading.flow(steps);
    Map<String, FlowByPressure> all = new LinkedHashMap<>();
    if (cycle.shutInMs().isEmpty() || steps.size() < 2 || flow.isEmpty()) {
      return all;
    }
    int last = flow.get().size() - 1;
    for (String gauge : steps.get(0).before().keySet()) {
      List<Point> points = new ArrayList<>();
      double share = 1;
      for (StepTaken s : steps.subList(0, last + 1)) {
        points.add(new Point(share, s.before().getOrDefault(gauge, Double.NaN)));
        share = s.planned().map(ClosingStep::leaves).orElse(Double.NaN);
      }
      points.add(new Point(share, steps.get(last).after().getOrDefault(gauge, Double.NaN)));
      if (rising(points)) {
        all.put(gauge, new FlowByPressure(points));
      }
    }
    return all;
  }

  private static boolean rising(List<Point> points) {
    for (int i = 1; i < points.size(); i++) {
      if (!(points.get(i).kPa() > points.get(i - 1).kPa())) {
        return false;
      }
    }
    return true;
  }

  /** The share of the first flow that comes out at this pressure at least, 0 to 1. */
  public double least(double kPa) {
    for (int i = 1; i < points.size(); i++) {
      Point more = points.get(i - 1);
      Point less = points.get(i);
      if (kPa <= less.kPa()) {
        double part = Math.min(1, (less.kPa() - kPa) / (less.kPa() - more.kPa()));
        return less.share() + part * (more.share() - less.share());
      }
    }
    return 0;
  }
}
