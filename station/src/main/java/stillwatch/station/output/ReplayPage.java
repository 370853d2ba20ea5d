package stillwatch.station.output;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.room.Library;
import stillwatch.alerts.series.Columns;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.BuildUpReview;

/** One replay as a page that needs nothing but itself. */
final class ReplayPage {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int COLUMNS = 1600;

  private final Plan plan;
  private final Map<String, Finding> findings = new LinkedHashMap<>();
  private final Map<String, Finding> endings = new LinkedHashMap<>();
  private final ObjectNode buildUp = JSON.createObjectNode();
  private final ArrayNode log = JSON.createArrayNode();
  private @Nullable List<String> difference;

  ReplayPage(Plan plan) {
    this.plan = plan;
  }

  /** Takes a finding when it is raised and again when it is over. */
  void finding(Finding finding) {
    (finding.returned() ? endings : findings).put(finding.id(), finding);
  }

  /** Takes what somebody did, saw or decided. */
  void happening(long atMs, String text) {
    log.addObject().put("at", atMs).put("text", text);
  }

  /** Takes the newest reading of the build-up and what may explain it. */
  void buildUp(BuildUpReview newest, List<Reviews.At> compared) {
    new ReviewsJson(plan).fill(buildUp, newest, compared);
  }

  /** Takes what other limits would change. */
  void difference(List<String> lines) {
    difference = lines;
  }

  void write(Path file, String title, String about, WellPicture picture) throws IOException {
    ObjectNode data = JSON.createObjectNode();
    data.put("about", about);
    Columns columns =
        picture.columns(plan.gauges().stream().map(GaugePlan::id).toList(), 0, COLUMNS);
    int count = columns.lows().values().stream().mapToInt(v -> v.length).max().orElse(0);
    data.put("from", columns.fromMs()).put("column_ms", columns.columnMs()).put("columns", count);
    data.put("to", columns.fromMs() + count * columns.columnMs());
    charts(data.putArray("charts"), columns);
    ArrayNode strips = data.putArray("strips");
    for (GaugePlan g : plan.gauges()) {
      ObjectNode strip = strips.addObject().put("gauge", g.id());
      ArrayNode faults = strip.putArray("faults");
      findings.values().stream()
          .filter(f -> f.ofGauges() && f.gauges().contains(g.id()))
          .forEach(f -> faults.add(one(f)));
    }
    ArrayNode all = data.putArray("findings");
    findings.values().forEach(f -> all.add(one(f)));
    data.set("log", log);
    if (!buildUp.isEmpty()) {
      data.set("build_up", buildUp);
    }
    if (difference != null) {
      ArrayNode lines = data.putArray("difference");
      difference.forEach(lines::add);
    }
    Files.writeString(
        file,
        template()
            .replace("%LIBRARY_STYLE%", Library.text("uPlot.min.css"))
            .replace("%TITLE%", html(title))
            .replace("%CAUTIONS%", html(Cautions.TEXT))
            .replace("%LIBRARY%", Library.text("uPlot.iife.min.js"))
            .replace("%PLOTS%", Library.buildUpPlots())
            .replace("%DATA%", JSON.writeValueAsString(data).replace("<", "\\u003c")));
  }

  private ObjectNode one(Finding f) {
    ObjectNode n = JSON.createObjectNode();
    n.put("rule", f.rule()).put("priority", f.priority().wire()).put("summary", f.summary());
    n.put("onset", f.onsetMs());
    Finding ending = endings.get(f.id());
    if (ending != null) {
      n.put("over", ending.returnedMs()).put("ending", ending.summary());
    }
    n.put("kind", f.gauges().isEmpty() ? "well" : chartOf(f.gauges().get(0)));
    return n;
  }

  private String chartOf(String gauge) {
    return plan.gauges().stream()
        .filter(g -> g.id().equals(gauge))
        .map(ReplayPage::chart)
        .findFirst()
        .orElse("well");
  }

  /** Gauges of one kind share a chart; the shut-in pressure has its own. */
  private static String chart(GaugePlan g) {
    return g.role() == GaugePlan.Role.SHUT_IN
        ? "shut-in"
        : g.role() == GaugePlan.Role.AMBIENT ? "ambient" : g.kind().wire();
  }

  private static String title(String chart) {
    return switch (chart) {
      case "shut-in" -> "Shut-in pressure";
      case "ambient" -> "Pressure of the sea";
      case "pressure" -> "Other pressures";
      default -> chart.substring(0, 1).toUpperCase(java.util.Locale.ROOT) + chart.substring(1);
    };
  }

  private void charts(ArrayNode charts, Columns columns) {
    Map<String, ObjectNode> byName = new LinkedHashMap<>();
    for (GaugePlan g : plan.gauges()) {
      String name = chart(g);
      Conversion conversion = Units.of(g.kind(), unit(g.kind()));
      ObjectNode chart = byName.computeIfAbsent(name, k -> chart(k, g.kind(), conversion));
      ObjectNode one = chart.withArray("gauges").addObject();
      one.put("id", g.id()).put("sparse", g.period().toMillis() >= columns.columnMs());
      edge(one, "least", g.low(), conversion);
      edge(one, "most", g.high(), conversion);
      fill(one.putArray("low"), columns.lows().get(g.id()), conversion);
      fill(one.putArray("high"), columns.highs().get(g.id()), conversion);
    }
    byName.values().forEach(charts::add);
  }

  private ObjectNode chart(String name, Kind kind, Conversion conversion) {
    ObjectNode c = JSON.createObjectNode();
    c.put("kind", name).put("title", title(name)).put("unit", unit(kind));
    levels(c.putArray("levels"), name, conversion);
    c.putArray("gauges");
    return c;
  }

  private static void edge(ObjectNode into, String key, double base, Conversion conversion) {
    if (Double.isFinite(base)) {
      into.put(key, conversion.fromBase(base));
    }
  }

  private void levels(ArrayNode levels, String chart, Conversion conversion) {
    if (chart.equals("shut-in")) {
      Bands b = plan.bands();
      level(levels, conversion, b.intactLowKPa(), "intact from here up");
      level(levels, conversion, b.leakHighKPa(), "from here down: consistent with a leak");
      level(levels, conversion, b.ceilingKPa(), "ceiling");
    }
  }

  private static void level(ArrayNode levels, Conversion conversion, double kPa, String text) {
    if (Double.isFinite(kPa)) {
      levels.addObject().put("at", conversion.fromBase(kPa)).put("text", text);
    }
  }

  private String unit(Kind kind) {
    return plan.display().getOrDefault(kind, kind.baseUnit());
  }

  private static void fill(ArrayNode into, double @Nullable [] values, Conversion conversion) {
    if (values != null) {
      for (double v : values) {
        if (Double.isNaN(v)) {
          into.addNull();
        } else {
          into.add((float) conversion.fromBase(v));
        }
      }
    }
  }

  private static String html(String text) {
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
  }

  private static String template() throws IOException {
    try (InputStream in = ReplayPage.class.getResourceAsStream("/stillwatch/station/replay.html")) {
      if (in == null) {
        throw new IllegalStateException("replay.html is missing from the program; build it again");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
