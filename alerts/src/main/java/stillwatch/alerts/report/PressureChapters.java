package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.stream.DoubleStream;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.Columns;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Pressures;

/** What was done to the well, and how its pressure went. */
final class PressureChapters {
  private final ReportParts parts;
  private final Pressures unit;
  private final Conversion pressure;
  private final List<GaugePlan> shutIn;
  private final ShutInGauges course;
  private final Columns columns;

  PressureChapters(ReportParts parts, ShutInGauges course) {
    this.parts = parts;
    this.course = course;
    unit = Pressures.of(parts.plan());
    pressure = unit.conversion();
    shutIn = course.gauges();
    columns = course.columns();
  }

  private String shown(double kPa) {
    return Double.isNaN(kPa) ? "not known" : unit.fine(kPa) + " " + unit.sign();
  }

  void steps(Html html) {
    html.heading("Operations");
    List<List<String>> rows = new ArrayList<>();
    for (Operation o : parts.picture().operations()) {
      if (!parts.stretch().has(o.atMs())) {
        continue;
      }
      boolean moves = o.what().movesWell(); // a boat alongside changes no pressure
      rows.add(
          List.of(
              parts.time(o.atMs()),
              o.what().wire() + (o.gauge().isEmpty() ? "" : " " + o.gauge()),
              o.text(),
              o.by(),
              moves ? pressureAt(o.atMs() - columns.columnMs()) : "",
              moves ? pressureAt(o.atMs() + 600_000) : ""));
    }
    html.table(
        List.of("When", "What", "In words", "By", "Pressure before", "10 min after"),
        rows,
        "No operation was logged.");
  }

  private String pressureAt(long ms) {
    return shown(shutIn.isEmpty() ? Double.NaN : course.at(shutIn.get(0), ms));
  }

  void pressure(Html html) {
    html.heading("Shut-in pressure");
    if (shutIn.isEmpty() || columns.lows().values().stream().allMatch(v -> v.length == 0)) {
      html.paragraph("No readings.");
      return;
    }
    int n = columns.lows().values().stream().mapToInt(v -> v.length).max().orElse(0);
    double end = columns.fromMs() + (double) n * columns.columnMs();
    Plot plot = plot(end);
    bands(plot);
    for (int i = 0; i < shutIn.size(); i++) {
      GaugePlan g = shutIn.get(i);
      plot.line(
          times(n),
          values(g, n),
          Shades.of(i),
          i % 2 == 0 ? "" : "6 3",
          g.id() + (i % 2 == 0 ? " solid" : " dashed"));
    }
    parts.picture().operations().forEach(o -> plot.mark((double) o.atMs(), "#9aa0a4", "2 3"));
    parts.alarms().stream()
        .filter(a -> a.finding().priority() != Priority.INFORMATION)
        .forEach(a -> mark(plot, a));
    html.raw(
        plot.html(
            "Pressure; upright lines: onset of alarms (solid), operations (dotted)",
            ms -> Words.minute((long) ms),
            Plot.EVEN,
            Plot.EVEN,
            unit.decimals() > 2 ? 2 : 1));
    if (shutIn.size() > 1) {
      twins(html, n, end);
    }
  }

  private static void mark(Plot plot, DeskAlarm a) {
    plot.mark((double) a.finding().onsetMs(), Shades.of(a.finding().priority()), "");
  }

  /** A plot of the range that the gauges read. */
  private Plot plot(double end) {
    DoubleSummaryStatistics seen =
        shutIn.stream().flatMapToDouble(this::possible).summaryStatistics();
    double pad = Math.max(1, 0.06 * (seen.getMax() - seen.getMin()));
    double low = pressure.fromBase(seen.getMin() - pad);
    double high = pressure.fromBase(seen.getMax() + pad);
    return new Plot(260, unit.sign(), columns.fromMs(), end, low, high, Plot.EVEN, Plot.EVEN);
  }

  private DoubleStream possible(GaugePlan g) {
    return Arrays.stream(columns.lows().getOrDefault(g.id(), new double[0]))
        .filter(v -> v >= g.low() && v <= g.high());
  }

  private void bands(Plot plot) {
    Bands b = parts.plan().bands();
    plot.level(pressure.fromBase(b.intactLowKPa()), "intact from " + unit.plain(b.intactLowKPa()));
    plot.level(pressure.fromBase(b.leakHighKPa()), "leak up to " + unit.plain(b.leakHighKPa()));
    plot.level(pressure.fromBase(b.ceilingKPa()), "ceiling " + unit.plain(b.ceilingKPa()));
  }

  private double[] times(int n) {
    double[] x = new double[n];
    for (int c = 0; c < n; c++) {
      x[c] = columns.fromMs() + (c + 0.5) * columns.columnMs();
    }
    return x;
  }

  private double[] values(GaugePlan g, int n) {
    double[] y = new double[n];
    for (int c = 0; c < n; c++) {
      y[c] = pressure.fromBase(course.at(g, columns.fromMs() + c * columns.columnMs()));
    }
    return y;
  }

  private void twins(Html html, int n, double end) {
    GaugePlan a = shutIn.get(0);
    GaugePlan b = shutIn.get(1);
    double[] apart = apart(a, b, n);
    double[] sorted = Arrays.stream(apart).map(v -> Double.isNaN(v) ? 0 : v).sorted().toArray();
    double low = sorted[n / 100];
    double high = sorted[n - 1 - n / 100];
    double pad = Math.max(1e-3 / pressure.factor(), 0.3 * (high - low));
    Plot plot =
        new Plot(
            110, unit.sign(), columns.fromMs(), end, low - pad, high + pad, Plot.EVEN, Plot.EVEN);
    plot.line(times(n), apart, Shades.of(0), "", "");
    html.raw(
        plot.html(
            a.id() + " minus " + b.id() + " (twin difference)",
            ms -> Words.minute((long) ms),
            Plot.EVEN,
            Plot.EVEN,
            4));
  }

  private double[] apart(GaugePlan a, GaugePlan b, int n) {
    double[] apart = new double[n];
    for (int c = 0; c < n; c++) {
      long ms = columns.fromMs() + c * columns.columnMs();
      apart[c] = (course.at(a, ms) - course.at(b, ms)) / pressure.factor();
    }
    return apart;
  }
}
