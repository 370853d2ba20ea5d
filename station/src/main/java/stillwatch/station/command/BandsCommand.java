package stillwatch.station.command;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.well.ExpectedPressures;
import stillwatch.rules.well.Percentiles;
import stillwatch.rules.well.WellFacts;
import stillwatch.station.option.Format;
import stillwatch.station.option.InputException;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.BandsPicture;
import stillwatch.station.output.Cautions;

/** What the facts of a plan lead one to expect. */
@Command(
    name = "bands",
    mixinStandardHelpOptions = true,
    description =
        "Works out of a plan's facts which shut-in pressures an intact, a doubtful and a leaking well would show, and what its barriers bear.",
    footer = {"", Cautions.TEXT})
public final class BandsCommand implements Callable<Integer> {
  private static final ObjectMapper JSON = new ObjectMapper();

  @Mixin private PlanOption plan = new PlanOption();

  @Option(
      names = "--format",
      paramLabel = "FORM",
      description = "text (default) or ndjson: one JSON object a line, pressures in kPa.")
  private Format format = Format.TEXT;

  @Option(
      names = "--picture",
      paramLabel = "FILE.svg",
      description = "Also draws pressure against depth, and the expected build-up.")
  private @Nullable Path picture;

  @Override
  public Integer call() throws IOException {
    if (picture != null && !picture.toString().toLowerCase(Locale.ROOT).endsWith(".svg")) {
      throw new InputException(
          "--picture "
              + picture
              + ": the picture is drawn as SVG only; give a name that ends in .svg");
    }
    Plan read = plan.load().plan();
    WellFacts facts = facts(read);
    ExpectedPressures expected = ExpectedPressures.of(facts);
    if (format == Format.NDJSON) {
      ndjson(read.bands(), expected);
    } else {
      text(read, facts, expected);
    }
    Path file = picture;
    if (file != null) {
      Files.writeString(file, new BandsPicture(read, facts, expected).svg());
      System.err.println("drawn: " + file);
    }
    return 0;
  }

  private static WellFacts facts(Plan plan) {
    WellFacts facts = plan.facts();
    if (facts == null) {
      throw new InputException(
          "the plan's facts say too little to expect a pressure: add "
              + String.join(", ", plan.missingFacts())
              + " under 'facts:' (docs/plan.md)");
    }
    return facts;
  }

  private static void text(Plan plan, WellFacts facts, ExpectedPressures e) {
    Pressures unit = Pressures.of(plan);
    say(
        "%s, plan %s: shut-in pressure at the wellhead, %s, absolute",
        plan.name(), plan.revision(), unit.sign());
    say("%nnine in ten lie above P10, half above P50, one in ten above P90%n");
    say("%-60s %8s %8s %8s", "", "P10", "P50", "P90");
    row(unit, "intact, built up", e.intact());
    if (facts.flow() != null && facts.reservoir() != null) {
      row(unit, "  after losing to the flow that went before", e.depletion());
    } else {
      say("  no depletion is counted: the facts lack 'flow' or 'reservoir'");
    }
    leaks(unit, facts, e);
    ceilings(unit, facts, e);
    byTime(unit, plan.bands(), e);
    say("%nbands that follow for a well that has built up, and the plan's own");
    follow(unit, plan.bands(), e);
    say(
        "%n%d draws, seed %d; drawn again with another seed, a percentile moves by about %s (standard error).",
        e.draws(), e.seed(), unit.difference(worst(e)));
    say(
        "A range says what its author did not know. What nobody thought of is in none of these.%n%s",
        Cautions.TEXT);
  }

  private static void leaks(Pressures unit, WellFacts facts, ExpectedPressures e) {
    for (ExpectedPressures.Named l : e.leaks()) {
      row(
          unit,
          String.format(Locale.ROOT, "leak into rock at %.0f m: %s", l.depth(), l.name()),
          l.pressure());
    }
    say(
        "leak into the sea: any level from the sea's, %s, up to the intact one, by its size",
        unit.plain(facts.sea().pressure(facts.wellheadDepth())));
  }

  private static void ceilings(Pressures unit, WellFacts facts, ExpectedPressures e) {
    for (ExpectedPressures.Named c : e.ceilings()) {
      row(
          unit,
          String.format(Locale.ROOT, "bears at most, %s at %.0f m", c.name(), c.depth()),
          c.pressure());
    }
    ExpectedPressures.Ceiling ceiling = e.ceiling();
    if (ceiling != null) {
      row(
          unit,
          "lowest of these, less the margin of " + unit.difference(facts.margin()),
          ceiling.pressure());
      say("  mostly governed by: %s", ceiling.governing());
    }
  }

  /** The bands that follow beside those stated. */
  private static void follow(Pressures unit, Bands stated, ExpectedPressures e) {
    band(
        unit,
        "intact-low",
        e.intactLow(),
        stated.intactLowKPa(),
        "P10 of the intact well: at or above, consistent with intact");
    band(
        unit,
        "leak-high",
        e.leakHigh(),
        stated.leakHighKPa(),
        "highest P90 of the leaks into rock: at or below, consistent with a leak");
    band(
        unit,
        "ceiling",
        e.limit(),
        stated.ceilingKPa(),
        "P10 of the lowest limit, less the margin");
    if (e.leakHigh() >= e.intactLow()) {
      say(
          "The leaks reach into the intact well's levels: by level alone nothing below %s can be told apart.",
          unit.plain(e.leakHigh()));
    } else if (!e.leaks().isEmpty()) {
      say(
          "Between them the level is ambiguous: only time, sound, seafloor and the model can tell.");
    }
  }

  /** What an intact well shows by then, the bands that follow, and those the rules go by. */
  private static void byTime(Pressures unit, Bands plan, ExpectedPressures e) {
    if (e.build().isEmpty()) {
      return;
    }
    say("%nby time since shut-in (closed at once, no storage, no cooling)%n");
    say("%-10s %26s   %21s   %21s", "", "intact well", "bands that follow", "the plan's bands");
    say(
        "%-10s %8s %8s %8s   %10s %10s   %10s %10s",
        "", "P10", "P50", "P90", "intact-low", "leak-high", "intact-low", "leak-high");
    e.build().forEach(t -> atTime(unit, plan.after(t.hours()), t));
    if (plan.byTime().isEmpty()) {
      say(
          "The plan states its bands, so they stay as they are: an intact well passes through the ambiguous levels until it has built up.");
    }
  }

  private static void atTime(Pressures unit, Bands plan, ExpectedPressures.AtTime t) {
    say(
        "%-10s %8s %8s %8s   %10s %10s   %10s %10s",
        number(t.hours()) + " h",
        unit.plain(t.pressure().p10()),
        unit.plain(t.pressure().p50()),
        unit.plain(t.pressure().p90()),
        unit.plain(t.intactLow()),
        known(unit, t.leakHigh()),
        unit.plain(plan.intactLowKPa()),
        unit.plain(plan.leakHighKPa()));
  }

  private static String known(Pressures unit, double kPa) {
    return Double.isNaN(kPa) ? "unknown" : unit.plain(kPa);
  }

  private static double worst(ExpectedPressures e) {
    double worst = e.intact().error();
    for (ExpectedPressures.Named n : e.leaks()) {
      worst = Math.max(worst, n.pressure().error());
    }
    ExpectedPressures.Ceiling ceiling = e.ceiling();
    return ceiling == null ? worst : Math.max(worst, ceiling.pressure().error());
  }

  private static void row(Pressures unit, String what, Percentiles p) {
    say("%-60s %8s %8s %8s", what, unit.plain(p.p10()), unit.plain(p.p50()), unit.plain(p.p90()));
  }

  private static void band(Pressures unit, String key, double follows, double stated, String why) {
    say("  %-11s %8s   plan: %8s   %s", key, known(unit, follows), unit.plain(stated), why);
  }

  private static void say(String form, Object... values) {
    System.out.println(String.format(Locale.ROOT, form, values));
  }

  private static String number(double value) {
    return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
  }

  private static void ndjson(Bands plan, ExpectedPressures e) {
    line("intact", null, e.intact());
    line("depletion", null, e.depletion());
    e.leaks().forEach(l -> line("leak", l, l.pressure()));
    e.ceilings().forEach(c -> line("bears", c, c.pressure()));
    ExpectedPressures.Ceiling ceiling = e.ceiling();
    if (ceiling != null) {
      line("ceiling", null, ceiling.pressure());
    }
    e.build().forEach(t -> line(plan.after(t.hours()), t));
  }

  private static void line(Bands plan, ExpectedPressures.AtTime t) {
    ObjectNode n = node("intact-by-time", t.pressure());
    n.put("hours", t.hours());
    n.put("plan-intact-low-kpa", plan.intactLowKPa());
    n.put("plan-leak-high-kpa", plan.leakHighKPa());
    if (!Double.isNaN(t.leakHigh())) {
      n.put("leak-high-kpa", t.leakHigh());
    }
    System.out.println(n);
  }

  private static void line(String what, ExpectedPressures.@Nullable Named named, Percentiles p) {
    ObjectNode n = node(what, p);
    if (named != null) {
      n.put("name", named.name()).put("depth-m", named.depth());
    }
    System.out.println(n);
  }

  private static ObjectNode node(String what, Percentiles p) {
    return JSON.createObjectNode()
        .put("what", what)
        .put("p10-kpa", p.p10())
        .put("p50-kpa", p.p50())
        .put("p90-kpa", p.p90())
        .put("error-kpa", p.error());
  }
}
