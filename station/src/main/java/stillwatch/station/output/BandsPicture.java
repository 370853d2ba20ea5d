package stillwatch.station.output;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.well.ExpectedPressures;
import stillwatch.rules.well.FluidColumn;
import stillwatch.rules.well.WellFacts;

/**
 * Draws what the facts lead one to expect: on the left pressure against depth, with what is
 * outside, what the barriers bear and what the rock takes; on the right the expected build-up.
 */
public final class BandsPicture {
  private static final int WIDE = 980;
  private static final int HIGH = 560;
  private static final int TOP = 58;
  private static final int BOTTOM = 500;
  private static final int LEFT = 70;
  private static final int MIDDLE = 560;
  private static final int SECOND = 650;
  private static final int RIGHT = 950;

  private final Plan plan;
  private final WellFacts facts;
  private final ExpectedPressures expected;
  private final Pressures unit;
  private final Svg svg = new Svg();

  /** Of a plan whose facts lead one to expect these pressures. */
  public BandsPicture(Plan plan, WellFacts facts, ExpectedPressures expected) {
    this.plan = plan;
    this.facts = facts;
    this.expected = expected;
    unit = Pressures.of(plan);
  }

  /** The picture, as SVG. */
  public String svg() {
    svg.start(
        WIDE,
        HIGH,
        plan.name() + ": expected pressures",
        plan.name() + ", plan " + plan.revision() + ": what the facts lead one to expect");
    depths();
    if (!expected.build().isEmpty()) {
      build();
    }
    svg.add(
        "<text x='%d' y='%d' fill='#444'>Decision support: what the facts do not say is in none of these lines. Pressures absolute, %s.</text>",
        LEFT, HIGH - 12, unit.sign());
    return svg.end();
  }

  private void depths() {
    double deepest = facts.datumDepth();
    double most = 0;
    for (WellFacts.Barrier b : facts.barriers()) {
      most = Math.max(most, bears(b));
    }
    FluidColumn column = facts.column(u -> u.quantile(0.5));
    double atDatum = column.pressure(deepest, facts.wellheadDepth(), expected.intact().p90());
    Svg.Axis p = new Svg.Axis(0, Math.max(most, atDatum) * 1.05, LEFT, MIDDLE);
    Svg.Axis z = new Svg.Axis(0, deepest * 1.03, TOP, BOTTOM);
    frame(p, LEFT, MIDDLE, "pressure, " + unit.sign());
    depthTicks(z, deepest);
    columns(p, z, column, deepest);
    marks(p, z);
  }

  private void depthTicks(Svg.Axis z, double deepest) {
    for (double d = 0; d <= deepest; d += 500) {
      svg.add(
          "<text x='%d' y='%.1f' text-anchor='end' fill='#444'>%.0f</text>",
          LEFT - 6, z.at(d) + 4, d);
    }
    svg.add(
        "<text x='14' y='%d' transform='rotate(-90 14 %d)' text-anchor='middle'>depth below the sea's surface, m</text>",
        (TOP + BOTTOM) / 2, (TOP + BOTTOM) / 2);
  }

  /** The intact well and the sea, by depth. */
  private void columns(Svg.Axis p, Svg.Axis z, FluidColumn column, double deepest) {
    List<String> edge = new ArrayList<>();
    for (double d : List.of(facts.wellheadDepth(), deepest)) {
      edge.add(
          Svg.point(
              p.at(column.pressure(d, facts.wellheadDepth(), expected.intact().p10())), z.at(d)));
    }
    for (double d : List.of(deepest, facts.wellheadDepth())) {
      edge.add(
          Svg.point(
              p.at(column.pressure(d, facts.wellheadDepth(), expected.intact().p90())), z.at(d)));
    }
    svg.add("<polygon points='%s' fill='#b9d4e6'/>", String.join(" ", edge));
    svg.add(
        "<text x='%.1f' y='%.1f' fill='#14506f'>intact well, P10 to P90</text>",
        p.at(column.pressure(deepest * 0.82, facts.wellheadDepth(), expected.intact().p10())) - 150,
        z.at(deepest * 0.82));
    svg.add(
        "<path d='M%.1f %.1fL%.1f %.1f' stroke='#4a6b3a' stroke-width='2' stroke-dasharray='7 4'/>",
        p.at(facts.sea().pressure(0)), z.at(0), p.at(facts.sea().pressure(deepest)), z.at(deepest));
    svg.add(
        "<text x='%.1f' y='%.1f' fill='#33502a'>sea water</text>",
        p.at(facts.sea().pressure(deepest * 0.6)) - 66, z.at(deepest * 0.6));
  }

  /** What the barriers bear and the rock takes, at their depths, and the key. */
  private void marks(Svg.Axis p, Svg.Axis z) {
    List<String> key = new ArrayList<>();
    for (WellFacts.Barrier b : facts.barriers()) {
      double x = p.at(bears(b));
      svg.add("<path d='M%.1f %.1fv-9m0 9v9' stroke='#111' stroke-width='3'/>", x, z.at(b.depth()));
      mark(key, x + 7, z.at(b.depth()) + 4, b.name() + " bears " + unit.plain(bears(b)));
    }
    for (WellFacts.LeakPath l : facts.leaks()) {
      double x1 = p.at(l.takes().quantile(0.1));
      double x2 = p.at(l.takes().quantile(0.9));
      svg.add(
          "<rect x='%.1f' y='%.1f' width='%.1f' height='8' fill='#8d5a1c'/>",
          x1, z.at(l.depth()) - 4, Math.max(2, x2 - x1));
      mark(key, x1 - 15, z.at(l.depth()) + 4, "rock takes fluid: " + l.name());
    }
    for (int i = 0; i < key.size(); i++) {
      svg.add(
          "<text x='%d' y='%d'>%s</text>", LEFT + 150, TOP + 12 + 16 * i, Svg.escaped(key.get(i)));
    }
  }

  /** A number beside a mark; what it means goes into the key above. */
  private void mark(List<String> key, double x, double y, String meaning) {
    int number = key.size() + 1;
    key.add(number + "  " + meaning);
    svg.add("<text x='%.1f' y='%.1f' font-weight='bold'>%d</text>", x, y, number);
  }

  private double bears(WellFacts.Barrier b) {
    var outside = b.outside();
    return b.rating().quantile(0.1)
        + (outside == null ? facts.sea().pressure(b.depth()) : outside.quantile(0.1));
  }

  private void build() {
    List<ExpectedPressures.AtTime> build = expected.build();
    double from = Math.log10(build.get(0).hours());
    double to = Math.log10(build.get(build.size() - 1).hours());
    double low = build.get(0).pressure().p10();
    double high = build.get(build.size() - 1).pressure().p90();
    for (double band :
        List.of(
            plan.bands().leakHighKPa(), plan.bands().intactLowKPa(), plan.bands().ceilingKPa())) {
      low = Math.min(low, band);
      high = Math.max(high, band);
    }
    Svg.Axis t = new Svg.Axis(from, to, SECOND, RIGHT);
    Svg.Axis p = new Svg.Axis(high + 0.05 * (high - low), low - 0.05 * (high - low), TOP, BOTTOM);
    svg.add("<path d='M%d %dV%dH%d' fill='none' stroke='#555'/>", SECOND, TOP, BOTTOM, RIGHT);
    for (double h : List.of(0.1, 1.0, 10.0, 48.0)) {
      svg.add(
          "<text x='%.1f' y='%d' text-anchor='middle' fill='#444'>%s</text>",
          t.at(Math.log10(h)),
          BOTTOM + 16,
          h == Math.rint(h) ? Long.toString((long) h) : Double.toString(h));
    }
    svg.add(
        "<text x='%d' y='%d' text-anchor='middle'>hours since shut-in, log</text>",
        (SECOND + RIGHT) / 2, BOTTOM + 32);
    pressures(p, low, high);
    expected(t, p, build);
    band(p, plan.bands().ceilingKPa(), "ceiling", "#111", "");
    band(p, plan.bands().intactLowKPa(), "intact-low", "#14506f", "6 3");
    band(p, plan.bands().leakHighKPa(), "leak-high", "#6d4312", "2 3");
    moving(t, p, Bands.ByTime::intactLowKPa, "#14506f", "6 3");
    moving(t, p, Bands.ByTime::leakHighKPa, "#6d4312", "2 3");
    svg.add(
        "<text x='%d' y='%d'>expected build-up, P10 to P90, and bands</text>", SECOND, TOP - 12);
  }

  /** The scale of the build-up's pressures. */
  private void pressures(Svg.Axis p, double low, double high) {
    double step = Svg.nice(unit.shown(high) - unit.shown(low));
    for (double v = Math.ceil(unit.shown(low) / step) * step; v <= unit.shown(high); v += step) {
      svg.add(
          "<text x='%d' y='%.1f' text-anchor='end' fill='#444'>%s</text>",
          SECOND - 6, p.at(unit.conversion().toBase(v)) + 4, Svg.trimmed(v));
    }
  }

  /** The intact well's build-up, P10 to P90 and the middle. */
  private void expected(Svg.Axis t, Svg.Axis p, List<ExpectedPressures.AtTime> build) {
    List<String> edge = new ArrayList<>();
    for (ExpectedPressures.AtTime a : build) {
      edge.add(Svg.point(t.at(Math.log10(a.hours())), p.at(a.pressure().p10())));
    }
    for (int i = build.size() - 1; i >= 0; i--) {
      edge.add(
          Svg.point(t.at(Math.log10(build.get(i).hours())), p.at(build.get(i).pressure().p90())));
    }
    svg.add("<polygon points='%s' fill='#b9d4e6'/>", String.join(" ", edge));
    List<String> mid = new ArrayList<>();
    for (ExpectedPressures.AtTime a : build) {
      mid.add(Svg.point(t.at(Math.log10(a.hours())), p.at(a.pressure().p50())));
    }
    svg.add(
        "<polyline points='%s' fill='none' stroke='#14506f' stroke-width='2'/>",
        String.join(" ", mid));
  }

  /** An edge that moves with the hours, where the plan's does. */
  private void moving(
      Svg.Axis t, Svg.Axis p, ToDoubleFunction<Bands.ByTime> edge, String colour, String dashes) {
    List<String> points = new ArrayList<>();
    for (Bands.ByTime b : plan.bands().byTime()) {
      points.add(Svg.point(t.at(Math.log10(b.hours())), p.at(edge.applyAsDouble(b))));
    }
    svg.add(
        "<polyline points='%s' fill='none' stroke='%s' stroke-dasharray='%s'/>",
        String.join(" ", points), colour, dashes);
  }

  private void band(Svg.Axis p, double kPa, String name, String colour, String dashes) {
    svg.add(
        "<path d='M%d %.1fH%d' stroke='%s' stroke-dasharray='%s'/><text x='%d' y='%.1f' text-anchor='end' fill='%s'>%s %s</text>",
        SECOND,
        p.at(kPa),
        RIGHT,
        colour,
        dashes,
        RIGHT,
        p.at(kPa) - 4,
        colour,
        name,
        unit.plain(kPa));
  }

  private void frame(Svg.Axis p, int left, int right, String label) {
    svg.add("<path d='M%d %dV%dH%d' fill='none' stroke='#555'/>", left, TOP, BOTTOM, right);
    double most = unit.shown(p.to());
    double step = Svg.nice(most);
    for (double v = 0; v <= most; v += step) {
      svg.add(
          "<text x='%.1f' y='%d' text-anchor='middle' fill='#444'>%s</text>",
          p.at(unit.conversion().toBase(v)), BOTTOM + 16, Svg.trimmed(v));
    }
    svg.add(
        "<text x='%d' y='%d' text-anchor='middle'>%s</text>",
        (left + right) / 2, BOTTOM + 32, label);
  }
}
