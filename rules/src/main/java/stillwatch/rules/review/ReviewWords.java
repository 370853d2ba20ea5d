package stillwatch.rules.review;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.finding.UtcText;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.Diagnosis;
import stillwatch.rules.well.Estimate;
import stillwatch.rules.well.Explanation;
import stillwatch.rules.well.HydrophoneLevels;
import stillwatch.rules.well.RadialFlow;
import stillwatch.rules.well.SemilogLine;
import stillwatch.rules.well.Uncertain;
import stillwatch.rules.well.WellFacts;

/** What a reading of the build-up and the comparison of its explanations say, in words and JSON. */
public final class ReviewWords {
  private static final double NINETY = 1.6449;

  /** More than this no sound well is expected to wander, kPa; invented. */
  private static final double WANDER = 2;

  private final Pressures unit;
  private final @Nullable WellFacts facts;

  /** In a plan's units. */
  public ReviewWords(Plan plan) {
    unit = Pressures.of(plan);
    facts = plan.facts();
  }

  /** Writes where the build-up leads, and the plots that show it. */
  public void leads(ObjectNode into, BuildUpReview reviewed) {
    into.put("at", Instant.ofEpochMilli(reviewed.atMs()).toString());
    into.put("gauge", reviewed.gauge());
    into.put("leads", text(reviewed));
    new ReviewPlots(unit).fill(into, reviewed);
  }

  /** Writes what may explain it. */
  public void explained(ObjectNode into, Diagnosis diagnosis, BuildUpReview reviewed) {
    long shutInMs = reviewed.shutInMs();
    into.put("verdict", verdict(diagnosis, reviewed));
    into.put("fits", diagnosis.spread() <= WANDER);
    into.put("says", diagnosis.verdict().name().toLowerCase(Locale.ROOT).replace('_', '-'));
    candidates(into.putArray("candidates"), diagnosis);
    ArrayNode weights = into.putArray("weights");
    for (Explanation x : Explanation.values()) {
      weights.addObject().put("name", x.words()).put("weight", diagnosis.weight(x));
    }
    long from = shutInMs + Math.round(diagnosis.hours() * 3_600_000);
    ArrayNode ahead = into.putArray("ahead");
    Diagnosis.AHEAD.forEach(h -> ahead.add(from + Math.round(h * 3_600_000)));
  }

  private String text(BuildUpReview reviewed) {
    BuildUp.Review r = reviewed.review();
    Estimate to = r.extrapolated();
    Estimate slope = r.slope();
    SemilogLine line = r.line();
    String hours =
        String.format(
            Locale.ROOT, "%.1f h after the shut-in, by %s: ", r.hours(), reviewed.gauge());
    if (to == null || slope == null || line == null) {
      return hours + "no line is drawn. " + r.refusal();
    }
    return hours
        + String.format(
            Locale.ROOT,
            "straight since %.2f h; extrapolates to %s %s (90 %%: %s to %s) with the column as warm as at the shut-in; slope %s a cycle at the full rate (± %s).",
            line.fromHours(),
            unit.plain(to.value()),
            unit.sign(),
            unit.plain(to.low()),
            unit.plain(to.high()),
            unit.difference(slope.value()),
            unit.difference(NINETY * slope.deviation()))
        + rock(slope, to.value() - reviewed.buildUp().flowing());
  }

  /**
   * What the slope says of the rock, by the middles of the facts; empty where they say too little.
   *
   * @param rise from the flowing pressure to where the line leads, kPa
   */
  private String rock(Estimate sloping, double rise) {
    double slope = sloping.value();
    WellFacts.Flow flow = facts == null ? null : facts.flow();
    WellFacts.Rock rock = facts == null ? null : facts.rock();
    if (flow == null || rock == null || slope <= 3 * sloping.deviation()) {
      return "";
    }
    double rate = flow.rate().quantile(0.5) * flow.volumeFactor().quantile(0.5) / 86_400;
    double viscosity = rock.viscosity().quantile(0.5) * 1e-3;
    double thickness = RadialFlow.permeabilityThickness(rate, viscosity, slope * 1000) * 1e12;
    return String.format(
            Locale.ROOT,
            " By the stated rate that is a permeability-thickness of %.1f µm²·m; the facts say %.1f.",
            thickness,
            rock.thickness().quantile(0.5))
        + skin(slope, rise, thickness * 1e-12, viscosity, flow, rock);
  }

  /** The skin, with the friction of the flow up the well in it; empty where too little is known. */
  private String skin(
      double slope,
      double rise,
      double thickness,
      double viscosity,
      WellFacts.Flow flow,
      WellFacts.Rock rock) {
    WellFacts.Contact c = rock.contact();
    WellFacts.Reservoir r = facts == null ? null : facts.reservoir();
    if (c == null || r == null) {
      return "";
    }
    double stores = c.porosity().quantile(0.5) * r.compressibility().quantile(0.5) / 1000;
    double diffusivity = thickness / c.height().quantile(0.5) / (viscosity * stores);
    double skin = RadialFlow.skin(rise, slope, flow.hours() * 3600, diffusivity, c.radius());
    return String.format(
        Locale.ROOT,
        " Skin %.1f, the friction of the flow up the well and through the assembly counted in.",
        skin);
  }

  /** What can be said and what not; never one reassuring number. */
  private String verdict(Diagnosis d, BuildUpReview reviewed) {
    boolean heard = !reviewed.heard().isEmpty();
    String by = heard ? "By pressure and hydrophones together" : "By the pressure alone";
    Explanation sound = first(d, false);
    Explanation leaking = first(d, true);
    String which =
        switch (d.verdict()) {
          case LEAKING ->
              by
                  + " no intact-well explanation fits: fluid leaves the well, or something happens that no explanation here knows.";
          case NO_SIGN_OF_A_LEAK ->
              (heard ? "Pressure and sound show" : "The pressure shows")
                  + " no sign of a leak so far; one that is small, or has just begun, is not excluded.";
          case CANNOT_TELL ->
              by
                  + " it cannot yet be told whether fluid leaves the well: "
                  + sound.words()
                  + ", and "
                  + leaking.words()
                  + ", both fit. "
                  + apart(d, reviewed.shutInMs());
        };
    String rest = " The best explanation is " + unit.difference(d.spread()) + " off";
    rest += d.spread() > WANDER ? ": none fits well, so this is worth little." : ".";
    return which
        + rest
        + heard(reviewed)
        + (d.loud() ? " The sound is louder than without a leak." : "")
        + (heard ? " Look at seafloor" : " Look at sound, seafloor")
        + " and the facts beside it.";
  }

  /** What each hydrophone heard at its quietest, beside what the facts expect. */
  private static String heard(BuildUpReview reviewed) {
    StringBuilder text = new StringBuilder();
    for (HydrophoneLevels h : reviewed.heard()) {
      Uncertain quiet = h.ear().background();
      text.append(
          String.format(
              Locale.ROOT,
              " %s heard %.1f dB re 1 µPa at its quietest of the last hours; without a leak the facts expect %.0f to %.0f.",
              h.ear().gauge(),
              h.quietest(Double.NEGATIVE_INFINITY),
              quiet.low(),
              quiet.high()));
    }
    return text.toString();
  }

  private static String apart(Diagnosis d, long shutInMs) {
    if (Double.isInfinite(d.apartHours())) {
      return "They would look alike for a week and longer.";
    }
    long atMs = shutInMs + Math.round((d.hours() + d.apartHours()) * 3_600_000);
    return "They would be told apart by about "
        + UtcText.of(atMs)
        + " if the likelier leak is as large as it now seems.";
  }

  private static Explanation first(Diagnosis d, boolean leak) {
    return d.candidates().stream()
        .map(Diagnosis.Candidate::explanation)
        .filter(x -> x.leak() == leak)
        .findFirst()
        .orElseThrow();
  }

  private void candidates(ArrayNode into, Diagnosis d) {
    for (Diagnosis.Candidate c : d.candidates()) {
      ObjectNode n =
          into.addObject().put("name", c.explanation().words()).put("weight", c.weight());
      n.put("leak", c.explanation().leak() ? size(c.leakShare()) : "nothing");
      if (sized(c)) {
        n.put("leak_low", Math.max(0, c.leakShare().low()));
        n.put("leak_high", Math.min(1, c.leakShare().high()));
      }
      ArrayNode ahead = n.putArray("ahead");
      for (Estimate e : c.ahead()) {
        ahead.add(
            Double.isFinite(e.value())
                ? unit.fine(e.value()) + " ± " + unit.difference(NINETY * e.deviation())
                : "unknown");
      }
    }
  }

  /** Whether it is a leak that was tried and whose size can be told. */
  private static boolean sized(Diagnosis.Candidate c) {
    return c.explanation().leak()
        && c.leakShare().value() <= 1
        && c.ahead().stream().allMatch(e -> Double.isFinite(e.value()));
  }

  private static String size(Estimate share) {
    return share.value() > 1
        ? "more than all of it: no size can be told"
        : String.format(
            Locale.ROOT,
            "%.1f %% (90 %%: %.1f to %.1f %%)",
            100 * Math.max(0, share.value()),
            100 * Math.max(0, share.low()),
            100 * Math.max(0, share.high()));
  }
}
