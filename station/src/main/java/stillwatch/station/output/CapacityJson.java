package stillwatch.station.output;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import stillwatch.rules.capacity.CapacityStudy;
import stillwatch.rules.capacity.Interval;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.capacity.Mean;
import stillwatch.rules.capacity.Outlook;
import stillwatch.rules.capacity.Remedy;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.capacity.Through;

/** A capacity study for programs, one JSON object a figure: m³/d, m³, days, shares from 0 to 1. */
public final class CapacityJson {
  private static final ObjectMapper JSON = new ObjectMapper();

  private final List<ObjectNode> lines = new ArrayList<>();

  private CapacityJson() {}

  /** The objects. */
  public static List<ObjectNode> of(Reopening reopening, CapacityStudy study) {
    CapacityJson json = new CapacityJson();
    json.line("expected-flow", CapacityWords.FLOW)
        .put("low-m3-per-d", reopening.expectedFlow().low())
        .put("likely-m3-per-d", reopening.expectedFlow().likely())
        .put("high-m3-per-d", reopening.expectedFlow().high());
    study.losses().forEach(l -> json.loss("units-lost", CapacityWords.LOSSES, l));
    study.through().forEach(json::through);
    study.shut().forEach(l -> json.loss("outlet-shut", CapacityWords.OUTLETS, l));
    json.outlook(study.outlook(), study.seed());
    mean(json.line("long-run", CapacityWords.LONG_RUN), "holds", study.longRun().holds());
    mean(json.last(), "spill-m3-per-d", study.longRun().spillM3PerD());
    study.remedies().forEach(json::remedy);
    ObjectNode bottleneck = json.line("bottleneck", CapacityWords.BOTTLENECK);
    study
        .bottleneck()
        .ifPresentOrElse(r -> bottleneck.put("name", r.of()), () -> bottleneck.putNull("name"));
    json.line("caution", Cautions.TEXT);
    return List.copyOf(json.lines);
  }

  private ObjectNode line(String what, String assumes) {
    ObjectNode node = JSON.createObjectNode().put("what", what);
    lines.add(node.put(what.equals("caution") ? "text" : "assumes", assumes));
    return node;
  }

  private ObjectNode last() {
    return lines.get(lines.size() - 1);
  }

  private void loss(String what, String assumes, Loss loss) {
    ObjectNode node = line(what, assumes);
    loss.lost().forEach(node.putArray("lost")::add);
    if (!loss.outlet().isEmpty()) {
      node.put("outlet", loss.outlet());
    }
    node.put("low-m3-per-d", loss.low())
        .put("likely-m3-per-d", loss.likely())
        .put("high-m3-per-d", loss.high())
        .put("likely-spill-m3-per-d", loss.likelySpill())
        .put("worst-spill-m3-per-d", loss.worstSpill());
    interval(node, "holds", loss.holds());
  }

  private void through(Through t) {
    ObjectNode node =
        line("through-outlet", CapacityWords.OUTLETS)
            .put("outlet", t.outlet())
            .put("low-m3-per-d", t.low())
            .put("likely-m3-per-d", t.likely())
            .put("high-m3-per-d", t.high())
            .put("limited-by", t.limitedByItself() ? "outlet" : "units");
    t.units().forEach(node.putArray("units")::add);
  }

  private void outlook(Outlook outlook, long seed) {
    ObjectNode holds =
        line("holds-without-break", CapacityWords.OUTLOOK)
            .put("days", outlook.days())
            .put("futures", outlook.futures())
            .put("seed", seed);
    interval(holds, "probability", outlook.holdsFor(outlook.days()));
    mean(holds, "held-share", outlook.heldShare());
    ObjectNode spill = line("spill", CapacityWords.SPILL).put("days", outlook.days());
    mean(spill, "spill-m3", outlook.spilledM3());
    interval(spill, "one-in-ten-over-m3", outlook.tenthSpillsOverM3());
    mean(spill, "while-short-m3-per-d", outlook.rateWhileShortM3PerD());
  }

  private void remedy(Remedy r) {
    ObjectNode node =
        line("remedy", CapacityWords.BOTTLENECK)
            .put("name", r.of())
            .put("kind", r.kind().name().toLowerCase(Locale.ROOT).replace('_', '-'));
    mean(node, "holds", r.longRun().holds());
    mean(node, "spill-m3-per-d", r.longRun().spillM3PerD());
  }

  private static void interval(ObjectNode node, String key, Interval interval) {
    node.put(key, interval.value())
        .put(key + "-low", interval.low())
        .put(key + "-high", interval.high());
  }

  private static void mean(ObjectNode node, String key, Mean mean) {
    node.put(key, mean.value()).put(key + "-error", mean.error());
  }
}
