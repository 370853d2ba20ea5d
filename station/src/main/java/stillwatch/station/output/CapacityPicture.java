package stillwatch.station.output;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import stillwatch.rules.capacity.CapacityStudy;
import stillwatch.rules.capacity.Interval;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.capacity.Outlook;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.plan.Flows;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.Uncertain;

/**
 * Draws a capacity study: on the left capacity against flow, whatever is lost; on the right the
 * probability that the capacity holds, by days.
 */
public final class CapacityPicture {
  private static final int WIDE = 1080;
  private static final int TOP = 70;
  private static final int ROW = 34;
  private static final int LEFT = 70;
  private static final int MIDDLE = 600;
  private static final int SECOND = 690;
  private static final int RIGHT = 1040;
  private static final int CURVE_BOTTOM = 400;

  /** Of the pairs of units that may be lost, only so many with the least capacity are drawn. */
  private static final int MOST_PAIRS = 12;

  private static final int STEPS = 56;

  private final Plan plan;
  private final Reopening reopening;
  private final CapacityStudy study;
  private final Flows unit;
  private final List<Loss> rows;
  private final int bottom;
  private final Svg svg = new Svg();

  /** Of a plan's reopening. */
  public CapacityPicture(Plan plan, Reopening reopening, CapacityStudy study) {
    this.plan = plan;
    this.reopening = reopening;
    this.study = study;
    unit = Flows.of(plan);
    rows =
        Stream.of(
                study.losses().stream().filter(l -> l.lost().size() < 2),
                study.losses().stream()
                    .filter(l -> l.lost().size() == 2)
                    .sorted(Comparator.comparingDouble(Loss::likely))
                    .limit(MOST_PAIRS),
                study.shut().stream())
            .flatMap(s -> s)
            .toList();
    bottom = TOP + ROW * rows.size();
  }

  /** The picture, as SVG. */
  public String svg() {
    int high = Math.max(bottom, CURVE_BOTTOM) + 70;
    svg.start(
        WIDE,
        high,
        plan.name() + ": capacity when reopened",
        plan.name() + ", plan " + plan.revision() + ": capacity to collect the flow when reopened");
    capacities();
    outlook(study.outlook());
    svg.add(
        "<text x='%d' y='%d' fill='#444'>Decision support: what the plan does not say is in none of these. %d random futures, seed %d; what they assume is printed by the command.</text>",
        LEFT, high - 12, study.outlook().futures(), study.seed());
    return svg.end();
  }

  private void capacities() {
    Uncertain flow = reopening.expectedFlow();
    double most = Math.max(flow.high(), study.losses().get(0).high()) * 1.05;
    Svg.Axis x = new Svg.Axis(0, most, LEFT, MIDDLE);
    svg.add(
        "<text x='%d' y='46'>bars: capacity, dark from low to high, a mark at its likely value; grey: the expected flow</text>",
        LEFT);
    svg.add(
        "<rect x='%.1f' y='%d' width='%.1f' height='%d' fill='#e4e4e4'/>",
        x.at(flow.low()),
        TOP - 12,
        Math.max(1, x.at(flow.high()) - x.at(flow.low())),
        bottom - TOP + 12);
    svg.add(
        "<path d='M%.1f %dV%d' stroke='#111' stroke-dasharray='5 4'/>",
        x.at(flow.likely()), TOP - 12, bottom);
    for (int i = 0; i < rows.size(); i++) {
      row(x, TOP + ROW * i, rows.get(i));
    }
    svg.add("<path d='M%d %dH%d' stroke='#555'/>", LEFT, bottom, MIDDLE);
    double step = Svg.nice(most / unit.m3PerD());
    for (double v = 0; v <= most / unit.m3PerD(); v += step) {
      svg.add(
          "<text x='%.1f' y='%d' text-anchor='middle' fill='#444'>%s</text>",
          x.at(v * unit.m3PerD()), bottom + 16, Svg.trimmed(v));
    }
    svg.add(
        "<text x='%d' y='%d' text-anchor='middle'>capacity and flow, %s</text>",
        (LEFT + MIDDLE) / 2, bottom + 34, unit.sign());
  }

  private void row(Svg.Axis x, int y, Loss loss) {
    svg.add(
        "<rect x='%d' y='%d' width='%.1f' height='11' fill='#b9d4e6'/>",
        LEFT, y + 13, x.at(loss.low()) - LEFT);
    svg.add(
        "<rect x='%.1f' y='%d' width='%.1f' height='11' fill='#14506f'/>",
        x.at(loss.low()), y + 13, Math.max(2, x.at(loss.high()) - x.at(loss.low())));
    svg.add("<path d='M%.1f %dv15' stroke='#111' stroke-width='2'/>", x.at(loss.likely()), y + 11);
    svg.add(
        "<text x='%d' y='%d'>%s: holds in %s of the draws</text>",
        LEFT,
        y + 8,
        Svg.escaped(CapacityWords.lost(loss)),
        CapacityWords.percent(loss.holds().value()));
  }

  private void outlook(Outlook outlook) {
    Svg.Axis x = new Svg.Axis(0, outlook.days(), SECOND, RIGHT);
    Svg.Axis y = new Svg.Axis(1, 0, TOP, CURVE_BOTTOM);
    svg.add(
        "<text x='%d' y='46'>probability that the capacity holds without a break (shaded: 95 %%)</text>",
        SECOND - 40);
    List<String> edge = new ArrayList<>();
    List<String> middle = new ArrayList<>();
    List<String> back = new ArrayList<>();
    for (int i = 0; i <= STEPS; i++) {
      double day = outlook.days() * i / STEPS;
      Interval held = outlook.holdsFor(day);
      middle.add(Svg.point(x.at(day), y.at(held.value())));
      edge.add(Svg.point(x.at(day), y.at(held.high())));
      back.add(0, Svg.point(x.at(day), y.at(held.low())));
    }
    edge.addAll(back);
    svg.add("<polygon points='%s' fill='#b9d4e6'/>", String.join(" ", edge));
    svg.add(
        "<polyline points='%s' fill='none' stroke='#14506f' stroke-width='2'/>",
        String.join(" ", middle));
    svg.add("<path d='M%d %dV%dH%d' fill='none' stroke='#555'/>", SECOND, TOP, CURVE_BOTTOM, RIGHT);
    for (int tenth = 0; tenth <= 10; tenth += 2) {
      svg.add(
          "<text x='%d' y='%.1f' text-anchor='end' fill='#444'>%d %%</text>",
          SECOND - 6, y.at(tenth / 10.0) + 4, tenth * 10);
    }
    double step = Svg.nice(outlook.days());
    for (double v = 0; v <= outlook.days() * (1 + 1e-9); v += step) {
      svg.add(
          "<text x='%.1f' y='%d' text-anchor='middle' fill='#444'>%s</text>",
          x.at(v), CURVE_BOTTOM + 16, Svg.trimmed(v));
    }
    svg.add(
        "<text x='%d' y='%d' text-anchor='middle'>days since all units were connected</text>",
        (SECOND + RIGHT) / 2, CURVE_BOTTOM + 34);
  }
}
