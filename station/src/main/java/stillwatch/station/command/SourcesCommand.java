package stillwatch.station.command;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.Format;
import stillwatch.station.option.InputException;
import stillwatch.station.option.PlanOption;
import stillwatch.station.option.TrustOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.DemoFolder;
import stillwatch.station.run.SourceLook;

/** What the sources of a plan say, before anybody relies on them. */
@Command(
    name = "sources",
    mixinStandardHelpOptions = true,
    description = {
      "Connects to every source of a plan as watch does and shows what each gauge says, in its unit, with quality and age, or why it says nothing. Nothing is logged, and a broker keeps what it has for the watch. Exit 1 when any gauge says nothing good.",
      "Ends when every gauge has a good reading, or after --for. Of files it shows the newest that it reads until then."
    },
    footer = {"", Cautions.TEXT})
public final class SourcesCommand implements Callable<Integer> {
  private static final long LOOKS_MS = 50;

  @Mixin private PlanOption plan = new PlanOption();
  @Mixin private TrustOption trust = new TrustOption();

  @Option(
      names = "--for",
      paramLabel = "SECONDS",
      description = "How long gauges are waited for. Default: 10.")
  private long forS = 10;

  @Option(
      names = "--nodes",
      description = "Also lists the variables that OPC UA servers have, as a plan names them.")
  private boolean nodes;

  @Option(
      names = "--format",
      paramLabel = "FORM",
      description = "text (default) or ndjson: one JSON object a gauge.")
  private Format format = Format.TEXT;

  @Override
  public Integer call() throws IOException, InterruptedException {
    Plan read = plan.load().plan();
    if (read.sources().isEmpty()) {
      throw new InputException(
          "the plan has no 'sources:', so there is nothing to look at; name them under it (docs/adapters.md)");
    }
    List<SourceLook> looks = new ArrayList<>();
    try (DemoFolder folder = DemoFolder.make()) {
      try {
        read.sources().forEach(source -> looks.add(look(read, source, folder)));
        return tell(looks, read) ? 0 : 1;
      } finally {
        looks.forEach(SourceLook::close);
      }
    }
  }

  private SourceLook look(Plan read, SourcePlan source, DemoFolder folder) {
    return new SourceLook(read.intake(), source, trust.outgoing(), folder.path());
  }

  /** Waits for the gauges and says what they said; whether all of them said something good. */
  private boolean tell(List<SourceLook> looks, Plan read) throws InterruptedException {
    long endNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(forS);
    while (System.nanoTime() < endNs && !looks.stream().allMatch(SourceLook::good)) {
      TimeUnit.MILLISECONDS.sleep(LOOKS_MS);
    }
    boolean good = true;
    for (SourceLook look : looks) {
      good &= format == Format.NDJSON ? ndjson(look, read) : text(look, read);
    }
    if (format == Format.TEXT) {
      System.out.println(Cautions.TEXT);
    }
    return good;
  }

  private static double shown(GaugePlan gauge, double base) {
    return Units.of(gauge.kind(), gauge.unit()).fromBase(base);
  }

  private static GaugePlan gauge(Plan plan, String id) {
    return plan.gauges().stream().filter(g -> g.id().equals(id)).findFirst().orElseThrow();
  }

  private boolean text(SourceLook look, Plan plan) {
    var state = look.state();
    System.out.println(look.name() + ": " + (state.connected() ? "connected" : "not connected"));
    if (!state.fault().isEmpty()) {
      System.out.println("  fault: " + state.fault());
    }
    state.refused().forEach((why, n) -> System.out.println("  refused: " + n + " " + why));
    boolean good = true;
    for (String id : look.gauges()) {
      Optional<SourceLook.Newest> newest = look.newest(id);
      good &= newest.isPresent() && newest.get().quality() == Quality.GOOD;
      System.out.println("  " + newest.map(n -> said(gauge(plan, id), n)).orElse(nothing(id)));
    }
    if (nodes) {
      offers(look).forEach(line -> System.out.println("  offers: " + line));
    }
    return good;
  }

  private static String nothing(String gauge) {
    return "%-6s says nothing".formatted(gauge);
  }

  private static String said(GaugePlan gauge, SourceLook.Newest newest) {
    String value =
        Double.isNaN(newest.base())
            ? "no value"
            : String.format(Locale.ROOT, "%.6g %s", shown(gauge, newest.base()), gauge.unit());
    return String.format(
        Locale.ROOT,
        "%-6s %-18s %-9s %.1f s old",
        gauge.id(),
        value,
        newest.quality().name().toLowerCase(Locale.ROOT),
        ageMs(newest) / 1000.0);
  }

  private static long ageMs(SourceLook.Newest newest) {
    return Instant.now().toEpochMilli() - newest.atMs();
  }

  private static List<String> offers(SourceLook look) {
    try {
      return look.offers();
    } catch (IOException e) {
      return List.of("nothing: " + e.getMessage());
    }
  }

  private static boolean ndjson(SourceLook look, Plan plan) {
    boolean good = true;
    for (String id : look.gauges()) {
      ObjectNode n =
          new ObjectMapper()
              .createObjectNode()
              .put("source", look.name())
              .put("connected", look.state().connected())
              .put("gauge", id);
      Optional<SourceLook.Newest> newest = look.newest(id);
      newest.ifPresent(
          said -> {
            GaugePlan gauge = gauge(plan, id);
            n.put("at", Instant.ofEpochMilli(said.atMs()).toString());
            n.put("value", Double.isNaN(said.base()) ? null : (Double) shown(gauge, said.base()));
            n.put("unit", gauge.unit());
            n.put("quality", said.quality().name().toLowerCase(Locale.ROOT));
            n.put("age_ms", ageMs(said));
          });
      if (!look.state().fault().isEmpty()) {
        n.put("fault", look.state().fault());
      }
      System.out.println(n);
      good &= newest.isPresent() && newest.get().quality() == Quality.GOOD;
    }
    return good;
  }
}
