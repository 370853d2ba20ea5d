package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.DoubleUnaryOperator;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.series.Columns;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.plan.RuleSetting;

/** The story of a test as one XHTML page that prints. Not thread-safe. */
public final class Report {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int COLUMNS = 2000;
  private static final String[] SHADES = {"#24282b", "#1d5c86", "#5b6b2f", "#9a5200", "#7a3b6b"};
  private static final DoubleUnaryOperator SAME = v -> v;
  private static final DoubleUnaryOperator LOG = Math::log10;
  private static final DoubleUnaryOperator POWER = v -> Math.pow(10, v);

  private final ReportParts parts;
  private final Plan plan;
  private final Pressures unit;
  private final Conversion pressure;
  private final Html html = new Html();
  private final List<GaugePlan> shutIn;
  private final Columns columns;

  private Report(ReportParts parts) {
    this.parts = parts;
    plan = parts.plan();
    unit = Pressures.of(plan);
    pressure = unit.conversion();
    shutIn = plan.gauges().stream().filter(g -> g.role() == GaugePlan.Role.SHUT_IN).toList();
    columns = parts.picture().columns(shutIn.stream().map(GaugePlan::id).toList(), 0, COLUMNS);
  }

  /** The report as XHTML. */
  public static String of(ReportParts parts) {
    Report r = new Report(parts);
    r.write();
    return r.page();
  }

  private String page() {
    return """
        <!DOCTYPE html>
        <html xmlns="http://www.w3.org/1999/xhtml" lang="en"><head><meta charset="UTF-8"/>
        <title>%s</title><style>%s</style></head><body>
        %s</body></html>
        """
        .formatted(Html.escaped(title()), style(), html.text());
  }

  private static String style() {
    try (InputStream in = Report.class.getResourceAsStream("/stillwatch/report/report.css")) {
      if (in == null) {
        throw new IllegalStateException("report.css is missing from the program; build it again");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read report.css", e);
    }
  }

  private String title() {
    return plan.name() + ": report of the shut-in test";
  }

  static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString().substring(0, 19).replace('T', ' ');
  }

  private static String span(double seconds) {
    long s = Math.round(seconds);
    return s < 120
        ? s + " s"
        : s < 7200
            ? s / 60 + " min"
            : s / 3600 + " h " + String.format(Locale.ROOT, "%02d", s / 60 % 60) + " min";
  }

  private void write() {
    head();
    steps();
    pressurePlots();
    buildUp();
    openChanges();
    alarms();
    decisions();
    explanations();
    people();
    gauges();
    figures();
    unseen();
    record();
    html.raw("<p class=\"cautions\">" + Html.escaped(parts.cautions()) + "</p>");
  }

  private void head() {
    html.raw("<h1>" + Html.escaped(title()) + "</h1>");
    if (parts.exercise()) {
      html.raw("<p class=\"exercise\">EXERCISE: a recording fed the watch, not the well.</p>");
    }
    html.paragraph(
        "Plan "
            + plan.revision()
            + ", fingerprint "
            + plan.fingerprint()
            + ". Log until "
            + time(parts.picture().logMs())
            + " UTC; report made "
            + time(parts.madeMs())
            + " UTC. All times are UTC, all pressures absolute.");
    long high = count(Priority.HIGH);
    long asked =
        parts.alarms().stream().filter(a -> a.finding().priority() != Priority.INFORMATION).count();
    long unseen = parts.alarms().stream().filter(a -> a.state().asks()).count();
    html.paragraph(
        asked
            + " alarms, "
            + high
            + " of high priority; "
            + (unseen == 0 ? "all were acknowledged" : unseen + " nobody has acknowledged")
            + ". "
            + parts.picture().decisions().size()
            + " decisions. The phase is '"
            + parts.picture().phase()
            + "'."
            + (parts.check().fault() == null
                ? " The journal is whole."
                : " THE JOURNAL IS NOT WHOLE: " + parts.check().fault() + "."));
    html.raw(
        "<table class=\"sign\"><tr><td>Surveillance lead</td><td>Authority in charge</td></tr><tr><td>name, date, signature</td><td>name, date, signature</td></tr></table>");
  }

  private long count(Priority p) {
    return parts.alarms().stream().filter(a -> a.finding().priority() == p).count();
  }

  /** The middle of the column at a time; NaN where there is none. */
  private double at(GaugePlan g, long ms) {
    double[] low = columns.lows().getOrDefault(g.id(), new double[0]);
    double[] high = columns.highs().getOrDefault(g.id(), new double[0]);
    long c = Math.floorDiv(ms - columns.fromMs(), columns.columnMs());
    return c < 0 || c >= low.length ? Double.NaN : (low[(int) c] + high[(int) c]) / 2;
  }

  private String shown(double kPa) {
    return Double.isNaN(kPa) ? "none" : unit.fine(kPa) + " " + unit.sign();
  }

  private void steps() {
    html.heading("What was done to the well");
    List<List<String>> rows = new ArrayList<>();
    for (Operation o : parts.picture().operations()) {
      double before =
          shutIn.isEmpty() ? Double.NaN : at(shutIn.get(0), o.atMs() - columns.columnMs());
      double after = shutIn.isEmpty() ? Double.NaN : at(shutIn.get(0), o.atMs() + 600_000);
      rows.add(
          List.of(
              time(o.atMs()),
              o.what().wire() + (o.gauge().isEmpty() ? "" : " " + o.gauge()),
              o.text(),
              o.by(),
              shown(before),
              shown(after)));
    }
    html.table(
        List.of("When", "What", "In words", "By", "Pressure before", "ten minutes after"),
        rows,
        "Nothing was logged.");
  }

  private void pressurePlots() {
    html.heading("Shut-in pressure");
    if (shutIn.isEmpty() || columns.lows().values().stream().allMatch(v -> v.length == 0)) {
      html.paragraph("No readings.");
      return;
    }
    Bands b = plan.bands();
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (GaugePlan g : shutIn) {
      for (double v : columns.lows().getOrDefault(g.id(), new double[0])) {
        if (v >= g.low() && v <= g.high()) {
          low = Math.min(low, v);
          high = Math.max(high, v);
        }
      }
    }
    int n = columns.lows().values().stream().mapToInt(v -> v.length).max().orElse(0);
    double pad = Math.max(1, 0.06 * (high - low));
    double end = columns.fromMs() + (double) n * columns.columnMs();
    Plot plot =
        new Plot(
            260,
            unit.sign(),
            columns.fromMs(),
            end,
            pressure.fromBase(low - pad),
            pressure.fromBase(high + pad),
            SAME,
            SAME);
    plot.level(
        pressure.fromBase(b.intactLowKPa()),
        "consistent with intact from " + unit.plain(b.intactLowKPa()));
    plot.level(
        pressure.fromBase(b.leakHighKPa()), "with a leak up to " + unit.plain(b.leakHighKPa()));
    plot.level(pressure.fromBase(b.ceilingKPa()), "ceiling " + unit.plain(b.ceilingKPa()));
    for (int i = 0; i < shutIn.size(); i++) {
      GaugePlan g = shutIn.get(i);
      plot.line(
          times(n),
          values(g, n),
          SHADES[i % SHADES.length],
          i % 2 == 0 ? "" : "6 3",
          g.id() + (i % 2 == 0 ? " solid" : " dashed"));
    }
    parts.picture().operations().forEach(o -> plot.mark(o.atMs(), "#9aa0a4", "2 3"));
    parts.alarms().stream()
        .filter(a -> a.finding().priority() != Priority.INFORMATION)
        .forEach(a -> plot.mark(a.finding().onsetMs(), colour(a.finding().priority()), ""));
    html.raw(
        plot.html(
            "Pressure; upright: where alarms began (solid), what was done (dotted)",
            ms -> time((long) ms).substring(5, 16),
            SAME,
            SAME,
            unit.decimals() > 2 ? 2 : 1));
    if (shutIn.size() > 1) {
      twins(n, end);
    }
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
      y[c] = pressure.fromBase(at(g, columns.fromMs() + c * columns.columnMs()));
    }
    return y;
  }

  private void twins(int n, double end) {
    GaugePlan a = shutIn.get(0);
    GaugePlan b = shutIn.get(1);
    double[] apart = new double[n];
    double[] sorted = new double[n];
    for (int c = 0; c < n; c++) {
      long ms = columns.fromMs() + c * columns.columnMs();
      apart[c] = (at(a, ms) - at(b, ms)) / pressure.factor();
      sorted[c] = Double.isNaN(apart[c]) ? 0 : apart[c];
    }
    Arrays.sort(sorted);
    double low = sorted[n / 100];
    double high = sorted[n - 1 - n / 100];
    double pad = Math.max(1e-3 / pressure.factor(), 0.3 * (high - low));
    Plot plot =
        new Plot(110, unit.sign(), columns.fromMs(), end, low - pad, high + pad, SAME, SAME);
    plot.line(times(n), apart, SHADES[0], "", "");
    html.raw(
        plot.html(
            a.id() + " less " + b.id(), ms -> time((long) ms).substring(5, 16), SAME, SAME, 4));
  }

  private static String colour(Priority p) {
    return switch (p) {
      case HIGH -> "#a3123c";
      case MEDIUM -> "#9a5200";
      case LOW -> "#1d5c86";
      default -> "#7b8388";
    };
  }

  private void buildUp() {
    html.heading("Build-up and what may explain it");
    if (parts.review().isEmpty()) {
      html.paragraph(
          "The build-up was not read: the well was not shut in, not long enough, or the facts say too little.");
      return;
    }
    JsonNode r = parts.review().get();
    html.paragraph("As of " + r.path("at").asText() + ": " + r.path("leads").asText());
    horner(r);
    if (r.has("verdict")) {
      html.paragraph(r.path("verdict").asText());
      List<List<String>> rows = new ArrayList<>();
      for (JsonNode c : r.path("candidates")) {
        rows.add(
            List.of(
                c.path("name").asText(),
                String.format(Locale.ROOT, "%.1f %%", 100 * c.path("weight").asDouble()),
                c.path("leak").asText(),
                c.path("ahead").path(1).asText()));
      }
      html.table(
          List.of("Explanation", "Weight", "Leaks, of the flow before", "Foretold three hours on"),
          rows,
          "None was compared.");
      weights(r);
    }
  }

  private static double[] column(JsonNode points, int i) {
    double[] all = new double[points.size()];
    for (int k = 0; k < all.length; k++) {
      JsonNode v = points.path(k).path(i);
      all[k] = v.isNumber() ? v.asDouble() : Double.NaN;
    }
    return all;
  }

  private void horner(JsonNode r) {
    double[] x = column(r.path("points"), 0);
    double[] p = column(r.path("points"), 1);
    double[] hours = column(r.path("points"), 2);
    double[] slope = column(r.path("points"), 3);
    int from = 0;
    while (from < hours.length && hours[from] < 0.02) {
      from++;
    }
    if (hours.length - from < 3) {
      return;
    }
    x = Arrays.copyOfRange(x, from, x.length);
    p = Arrays.copyOfRange(p, from, p.length);
    hours = Arrays.copyOfRange(hours, from, hours.length);
    slope = Arrays.copyOfRange(slope, from, slope.length);
    JsonNode line = r.path("line");
    double most = Arrays.stream(x).max().orElse(1);
    double low = Arrays.stream(p).min().orElse(0);
    double high =
        Math.max(
            Arrays.stream(p).max().orElse(1),
            line.path("at_zero").asDouble(Double.NEGATIVE_INFINITY));
    double pad = Math.max(0.02 / pressure.factor(), 0.05 * (high - low));
    Plot plot = new Plot(200, unit.sign(), most, 0, low - pad, high + pad, SAME, SAME);
    plot.dots(x, p, SHADES[1]);
    if (!line.isMissingNode()) {
      double zero = line.path("at_zero").asDouble();
      plot.line(
          new double[] {most, 0},
          new double[] {zero + line.path("slope").asDouble() * most, zero},
          colour(Priority.MEDIUM),
          "6 4",
          "dashed: the line, carried on to where it leads");
    }
    html.raw(
        plot.html(
            "Pressure on superposition time, log cycles, running out at the right",
            v -> String.format(Locale.ROOT, "%.1f", v),
            SAME,
            SAME,
            2));
    double[] known = Arrays.stream(slope).filter(v -> v > 0).toArray();
    if (known.length > 2) {
      Arrays.sort(known);
      Plot d =
          new Plot(
              160,
              unit.sign(),
              hours[0],
              hours[hours.length - 1],
              known[0] * 0.7,
              known[known.length - 1] * 1.4,
              LOG,
              LOG);
      d.dots(hours, slope, SHADES[1]);
      if (!line.isMissingNode()) {
        d.line(
            new double[] {line.path("from_hours").asDouble(), hours[hours.length - 1]},
            new double[] {line.path("level").asDouble(), line.path("level").asDouble()},
            colour(Priority.MEDIUM),
            "6 4",
            "dashed: the line's");
      }
      html.raw(
          d.html(
              "Its derivative by the natural logarithm of superposition time, against hours since the shut-in",
              v -> String.format(Locale.ROOT, "%.2g h", v),
              POWER,
              POWER,
              4));
    }
  }

  private void weights(JsonNode r) {
    JsonNode history = r.path("history");
    if (history.size() < 2) {
      return;
    }
    double[] at = new double[history.size()];
    for (int i = 0; i < at.length; i++) {
      at[i] = history.path(i).path("at").asDouble();
    }
    Plot plot = new Plot(130, "share of the weights", at[0], at[at.length - 1], 0, 1, SAME, SAME);
    JsonNode names = r.path("weights");
    String[] dashes = {"", "6 3", "2 3", "", "6 3"};
    String[] words = {"black", "blue dashed", "green dotted", "brown", "purple dashed"};
    for (int k = 0; k < names.size() && k < SHADES.length; k++) {
      double[] w = new double[at.length];
      for (int i = 0; i < at.length; i++) {
        w[i] = history.path(i).path("weight").path(k).asDouble();
      }
      plot.line(at, w, SHADES[k], dashes[k], words[k] + ": " + names.path(k).path("name").asText());
    }
    html.raw(
        plot.html(
            "Weights of the explanations over time",
            ms -> time((long) ms).substring(5, 16),
            SAME,
            SAME,
            1));
  }

  private void openChanges() {
    html.heading("Changes that nobody has explained");
    List<List<String>> rows = new ArrayList<>();
    for (OpenChange c : DeskAlarm.openChanges(parts.alarms())) {
      rows.add(
          List.of(
              time(c.onsetMs()),
              span((parts.picture().logMs() - c.onsetMs()) / 1000.0),
              c.id(),
              c.voice().summary()));
    }
    html.table(List.of("Began", "Age", "Change", "What is known"), rows, "None is open.");
  }

  private void alarms() {
    html.heading("Every alarm, and what became of it");
    List<List<String>> rows = new ArrayList<>();
    for (DeskAlarm a : parts.alarms()) {
      rows.add(
          List.of(
              time(a.finding().onsetMs()).substring(5),
              time(a.finding().raisedMs()).substring(5),
              a.finding().priority().wire().toUpperCase(Locale.ROOT) + " " + a.finding().rule(),
              a.raisedSummary(),
              answered(a),
              over(a)));
    }
    html.table(
        List.of("Began", "Raised", "Alarm", "What it said", "Acknowledged", "Over"),
        rows,
        "None was raised.");
  }

  /** Who answered, and by the desk's clock how long after the desk had it. */
  private String answered(DeskAlarm a) {
    Long at = a.acknowledgedMs();
    if (at == null) {
      return a.standing().asking() ? "NOBODY" : "asks nobody";
    }
    long raised =
        parts.entries().stream()
            .filter(e -> e.seq() == a.seq())
            .mapToLong(Entry::writtenMs)
            .findFirst()
            .orElse(at);
    return a.acknowledgedBy()
        + " after "
        + span((at - raised) / 1000.0)
        + (a.note().isEmpty() ? "" : ": " + a.note());
  }

  private static String over(DeskAlarm a) {
    Long returned = a.finding().returnedMs();
    return returned == null ? "lasts" : time(returned);
  }

  private List<Entry> said(String... what) {
    List<String> wanted = List.of(what);
    return parts.entries().stream().filter(e -> wanted.contains(e.what())).toList();
  }

  private static JsonNode body(Entry e) {
    try {
      JsonNode n = JSON.readTree(e.body());
      return n == null ? JSON.createObjectNode() : n;
    } catch (IOException x) {
      return JSON.createObjectNode().put("text", e.body());
    }
  }

  private void decisions() {
    html.heading("Decisions, and the evidence as it stood");
    List<Entry> all = said("decision");
    List<List<String>> logged = new ArrayList<>();
    parts
        .picture()
        .decisions()
        .forEach(d -> logged.add(List.of(time(d.atMs()), d.choice().wire(), d.by(), d.why())));
    html.table(List.of("When", "Decided", "By", "Why"), logged, "None was logged.");
    for (Entry e : all) {
      JsonNode d = body(e);
      html.paragraph(
          d.path("at").asText()
              + ": "
              + d.path("choice").asText()
              + ", entered by "
              + e.by()
              + ", entry "
              + e.seq()
              + " of the record. On the table:");
      List<List<String>> rows = new ArrayList<>();
      for (JsonNode r : d.path("evidence").path("rows")) {
        rows.add(
            List.of(
                r.path("sense").asText(),
                r.path("supports").asText(),
                r.path("says").asText(),
                r.has("age_s") ? span(r.path("age_s").asDouble()) : ""));
      }
      html.table(List.of("Sense", "Supports", "What it said", "Age"), rows, "Nothing was kept.");
    }
  }

  private void explanations() {
    html.heading("Changes that people explained");
    List<List<String>> rows = new ArrayList<>();
    for (Explanation e : parts.picture().explanations()) {
      rows.add(List.of(time(e.atMs()), e.change(), e.cause().wire(), e.by(), e.why()));
    }
    html.table(List.of("When", "Change", "Cause", "By", "Why"), rows, "Nobody explained any.");
  }

  private void people() {
    html.heading("Observations, notes, shifts");
    List<List<String>> rows = new ArrayList<>();
    for (Entry e : said("observation", "note", "handover")) {
      JsonNode b = body(e);
      String text =
          e.what().equals("observation")
              ? b.path("means").asText()
                  + ", "
                  + b.path("result").asText()
                  + ": "
                  + b.path("text").asText()
              : e.what().equals("handover")
                  ? "to " + e.subject() + ": " + b.path("text").asText()
                  : e.body();
      rows.add(List.of(time(e.writtenMs()), e.what(), e.by(), text));
    }
    html.table(List.of("Entered", "What", "By", "In words"), rows, "Nobody entered any.");
    List<List<String>> passes = new ArrayList<>();
    for (PassIndicator p : parts.picture().passes(plan.well())) {
      passes.add(
          List.of(
              p.means(),
              p.result().isEmpty() ? "NEVER" : p.result() + ", " + time(p.atMs()),
              p.overdueS() > 0 ? "OVERDUE by " + span(p.overdueS()) : ""));
    }
    html.table(List.of("Looked by", "Last", "Next"), passes, "The plan asks for no passes.");
  }

  private void gauges() {
    html.heading("Gauges");
    double hours = Math.max(1e-9, (parts.picture().logMs() - columns.fromMs()) / 3_600_000.0);
    List<List<String>> rows = new ArrayList<>();
    for (GaugePlan g : plan.gauges()) {
      Map<String, Double> under = new TreeMap<>();
      for (DeskAlarm a : parts.alarms()) {
        if (a.finding().ofGauges() && a.finding().gauges().contains(g.id())) {
          Long over = a.finding().returnedMs();
          long end = over == null ? parts.picture().logMs() : over;
          under.merge(a.finding().rule(), (end - a.finding().onsetMs()) / 3_600_000.0, Double::sum);
        }
      }
      StringBuilder text = new StringBuilder();
      under.forEach(
          (rule, h) ->
              text.append(text.isEmpty() ? "" : ", ")
                  .append(rule)
                  .append(" ")
                  .append(span(h * 3600))
                  .append(String.format(Locale.ROOT, " (%.1f %%)", 100 * h / hours)));
      rows.add(
          List.of(
              g.id(),
              g.kind().wire(),
              g.where(),
              text.isEmpty() ? "no fault seen" : text.toString()));
    }
    html.table(
        List.of("Gauge", "Kind", "Where", "Time under a gauge alarm"), rows, "The plan has none.");
  }

  private void figures() {
    html.heading("How the alarm system did");
    AlarmFigures f = AlarmFigures.sinceFirst(parts.alarms(), plan.desk(), parts.picture().logMs());
    StringBuilder shares = new StringBuilder();
    f.shares()
        .forEach(
            (p, s) ->
                shares.append(p.wire()).append(String.format(Locale.ROOT, " %.0f %%  ", 100 * s)));
    List<List<String>> rows =
        List.of(
            List.of("Alarms", f.alarms() + " in " + span(f.hours() * 3600), ""),
            List.of(
                "Mean in ten minutes",
                String.format(Locale.ROOT, "%.2f", f.perTenMinutes()),
                "about 1"),
            List.of(
                "Most in any ten minutes", Integer.toString(f.mostInTenMinutes()), "10 or fewer"),
            List.of(
                "Time in flood",
                String.format(Locale.ROOT, "%.1f %%", 100 * f.floodShare()),
                "under about 1 %"),
            List.of("Lasting for more than a day", Integer.toString(f.stale()), "fewer than 5"),
            List.of(
                "Chattering",
                f.chattering().isEmpty() ? "none" : String.join("; ", f.chattering()),
                "none"),
            List.of("Priorities", shares.toString().strip(), "low 80 %, medium 15 %, high 5 %"));
    html.table(
        List.of("Measure (ANSI/ISA-18.2, 16.4)", "Here", "Very likely acceptable"), rows, "");
  }

  private void unseen() {
    html.heading("What was not seen");
    List<List<String>> rows = new ArrayList<>();
    for (DeskAlarm a : parts.alarms()) {
      if (a.finding().bearing().blinds()) {
        rows.add(
            List.of(time(a.finding().onsetMs()), over(a), a.finding().rule(), a.raisedSummary()));
      }
    }
    html.table(
        List.of("From", "Until", "Rule", "Why"),
        rows,
        "The watch was never blind as far as it knows; what it does not know of is not here.");
    List<List<String>> off = new ArrayList<>();
    for (Map.Entry<String, RuleSetting> e : plan.rules().entrySet()) {
      String why = e.getValue().off();
      if (why != null) {
        off.add(List.of(e.getKey(), why));
      }
    }
    html.table(List.of("Rule switched off", "Why"), off, "No rule was switched off.");
    List<List<String>> held = new ArrayList<>();
    for (Entry e : said("held-back", "released")) {
      JsonNode b = body(e);
      held.add(
          List.of(
              time(e.writtenMs()),
              e.what(),
              e.subject(),
              e.by(),
              b.path("how").asText() + " " + b.path("reason").asText()));
    }
    html.table(
        List.of("When", "What", "Point", "By", "How and why"),
        held,
        "No alarm was held back by anybody.");
  }

  private void record() {
    html.heading("The record");
    html.paragraph(
        parts.check().entries() + " entries, each with the SHA-256 of the one before; the last is");
    html.raw("<p class=\"hash\">" + parts.check().hash() + "</p>");
    html.dim(
        "Prove it later: stillwatch journal verify --expect "
            + parts.check().hash().substring(0, 16));
  }
}
