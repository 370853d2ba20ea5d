package stillwatch.rules.tune;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.random.HaltonSequenceGenerator;
import stillwatch.rules.book.Parameter;
import stillwatch.rules.book.RuleEntry;

/** The limits of one rule that tuning moves, on logarithmic scales. */
final class Space {
  private final RuleEntry rule;
  private final Map<String, Double> present;
  private final List<Parameter> moved;

  /** The space around the limits now in force. */
  Space(RuleEntry rule, Map<String, Double> present) {
    this.rule = rule;
    this.present = present;
    moved = rule.parameters().stream().filter(p -> p.tuning() != null).toList();
  }

  boolean empty() {
    return moved.isEmpty();
  }

  /**
   * Points that fill the space evenly: a Halton sequence (J. H. Halton, Numerische Mathematik 2,
   * 1960, 84-90), the same every time.
   */
  List<Map<String, Double>> fill(int count) {
    HaltonSequenceGenerator halton = new HaltonSequenceGenerator(moved.size());
    halton.skipTo(20); // the first points of neighbouring dimensions resemble each other
    List<Map<String, Double>> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      points.add(at(halton.nextVector()));
    }
    return points;
  }

  /** Points close around one, a quarter of each scale wide. */
  List<Map<String, Double>> around(Map<String, Double> centre, int count) {
    HaltonSequenceGenerator halton = new HaltonSequenceGenerator(moved.size());
    halton.skipTo(20);
    double[] middle = position(centre);
    List<Map<String, Double>> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double[] u = halton.nextVector();
      for (int d = 0; d < u.length; d++) {
        u[d] = Math.min(1, Math.max(0, middle[d] + 0.25 * (u[d] - 0.5)));
      }
      points.add(at(u));
    }
    return points;
  }

  private Map<String, Double> at(double[] u) {
    Map<String, Double> point = new LinkedHashMap<>(present);
    for (int d = 0; d < u.length; d++) {
      Parameter p = moved.get(d);
      Parameter.Range range = range(p);
      point.put(p.name(), rounded(range.from() * Math.pow(range.to() / range.from(), u[d])));
    }
    return followed(point);
  }

  /** Three significant digits, which is what a plan would say. */
  private static double rounded(double value) {
    return new java.math.BigDecimal(value)
        .round(new java.math.MathContext(3, java.math.RoundingMode.HALF_EVEN))
        .doubleValue();
  }

  private Map<String, Double> followed(Map<String, Double> point) {
    for (Parameter p : rule.parameters()) {
      String leader = p.follows();
      if (leader != null) {
        double before = present.getOrDefault(leader, 1.0);
        double now = point.getOrDefault(leader, before);
        point.put(p.name(), rounded(present.getOrDefault(p.name(), p.standard()) * now / before));
      }
    }
    return point;
  }

  /** Where a point lies on each scale, 0 to 1. */
  double[] position(Map<String, Double> point) {
    double[] u = new double[moved.size()];
    for (int d = 0; d < u.length; d++) {
      Parameter p = moved.get(d);
      Parameter.Range range = range(p);
      double value = Math.max(range.from(), point.getOrDefault(p.name(), p.standard()));
      u[d] = Math.log(value / range.from()) / Math.log(range.to() / range.from());
    }
    return u;
  }

  private static Parameter.Range range(Parameter p) {
    Parameter.Range range = p.tuning();
    if (range == null) {
      throw new IllegalStateException(p.name() + " is not tuned");
    }
    return range;
  }
}
