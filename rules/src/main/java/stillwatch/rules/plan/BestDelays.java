package stillwatch.rules.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Parameter;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.signal.Pace;

/**
 * How soon each rule can see what it looks for, at best, on each gauge it is based on: the readings
 * it needs, at the gauge's period, and the rule's own hold, or what its estimator needs (Pace). The
 * first of the readings comes up to a period after the event, so the delay is a span. Plain
 * arithmetic: noise and size of the event make it later. Immutable; safe from any thread.
 */
public final class BestDelays {
  /**
   * One rule on the gauges of one period.
   *
   * @param rule the rule's id
   * @param periodS the period, seconds
   * @param gauges ids of the gauges
   * @param soonestS when the event falls just before a reading, seconds after it
   * @param latestS when it falls just after one
   * @param promisedS how soon the rule promises to see the quickest of what it is meant to raise
   *     on, seconds; infinite when it promises nothing
   */
  public record Delay(
      String rule,
      double periodS,
      List<String> gauges,
      double soonestS,
      double latestS,
      double promisedS,
      boolean ofWell) {
    /** Whether the period alone breaks the rule's promise. */
    public boolean broken() {
      return latestS > promisedS;
    }

    /** Like "4 to 5 s (PT-1, PT-2 every 1 s)". */
    String words() {
      String soonest = said(soonestS, latestS);
      String latest = said(latestS, latestS);
      String unit = latest.substring(latest.indexOf(' '));
      String span =
          soonest.equals(latest)
              ? latest
              : soonest.indexOf(' ') == soonest.length() - unit.length() && soonest.endsWith(unit)
                  ? soonest.replace(unit, "") + " to " + latest
                  : soonest + " to " + latest;
      return span + " (" + String.join(", ", gauges) + " every " + said(periodS, periodS) + ")";
    }
  }

  private record Alike(double periodS, boolean ofWell) {}

  private final List<Delay> delays;

  private BestDelays(List<Delay> delays) {
    this.delays = List.copyOf(delays);
  }

  /** Of all rules that are based on readings and are not switched off. */
  public static BestDelays of(Plan plan, Catalogue catalogue) {
    List<Delay> all = new ArrayList<>();
    for (RuleEntry rule : catalogue.rules()) {
      RuleSetting setting = plan.setting(rule.id());
      if (rule.readings().isEmpty() || setting.off() != null) {
        continue;
      }
      alike(rule, plan).forEach((of, gauges) -> all.add(delay(rule, setting, of, gauges)));
    }
    return new BestDelays(all);
  }

  private static Map<Alike, List<String>> alike(RuleEntry rule, Plan plan) {
    Map<Alike, List<String>> alike = new LinkedHashMap<>();
    for (GaugePlan g : plan.gauges()) {
      if (standsOn(rule, g)) {
        boolean ofWell = rule.about() == RuleEntry.About.WELL || g.ofShutIn();
        Alike of = new Alike(g.period().toMillis() / 1000.0, ofWell);
        alike.computeIfAbsent(of, p -> new ArrayList<>()).add(g.id());
      }
    }
    return alike;
  }

  private static boolean standsOn(RuleEntry rule, GaugePlan gauge) {
    if (rule.about() != RuleEntry.About.WELL) {
      return rule.about() != RuleEntry.About.PAIR || gauge.twin() != null;
    }
    return switch (rule.sense() == null ? "pressure" : rule.sense()) {
      case "pressure" -> gauge.ofShutIn();
      case "sound" -> gauge.kind() == Kind.SOUND;
      case "heat" -> gauge.kind() == Kind.TEMPERATURE && gauge.role() == GaugePlan.Role.BARRIER;
      default -> false;
    };
  }

  private static Delay delay(RuleEntry rule, RuleSetting setting, Alike of, List<String> gauges) {
    Map<String, Double> limits = setting.limits(rule);
    double promised = rule.sees().values().stream().min(Double::compare).orElse(Double.MAX_VALUE);
    Pace.Delay seen = seen(rule, limits, Math.round(of.periodS() * 1000));
    return new Delay(
        rule.id(),
        of.periodS(),
        List.copyOf(gauges),
        seen.soonestMs() / 1000.0,
        seen.latestMs() / 1000.0,
        promised == Double.MAX_VALUE ? Double.POSITIVE_INFINITY : promised,
        of.ofWell());
  }

  private static Pace.Delay seen(RuleEntry rule, Map<String, Double> limits, long periodMs) {
    Pace pace = new Pace(periodMs);
    if (rule.readings().equals(RuleEntry.SUDDEN)) {
      return pace.sudden();
    }
    if (rule.readings().equals(RuleEntry.SUSTAINED)) {
      return pace.sustained(limits.getOrDefault("deviations", 0.0));
    }
    Double named = limits.get(rule.readings());
    double readings = named == null ? Double.parseDouble(rule.readings()) : Math.ceil(named);
    long holdMs = Math.round(1000 * duration(rule, limits, "hold"));
    long leastMs = Math.round(1000 * duration(rule, limits, "least"));
    return new Pace.Delay(
        Math.max(leastMs, Math.round((readings - 1) * periodMs) + holdMs),
        Math.max(leastMs, Math.round(readings * periodMs) + holdMs));
  }

  private static double duration(RuleEntry rule, Map<String, Double> limits, String name) {
    for (Parameter p : rule.parameters()) {
      if (p.name().equals(name) && p.dimension() == Dimension.DURATION) {
        return limits.getOrDefault(name, p.standard());
      }
    }
    return 0;
  }

  /** All of them, in the catalogue's order. */
  public List<Delay> all() {
    return delays;
  }

  /** One line a rule, for people. */
  public List<String> lines() {
    Map<String, List<String>> byRule = new LinkedHashMap<>();
    for (Delay d : delays) {
      byRule.computeIfAbsent(d.rule(), r -> new ArrayList<>()).add(d.words());
    }
    List<String> lines = new ArrayList<>();
    byRule.forEach((rule, words) -> lines.add(rule + ": after " + String.join("; ", words)));
    return lines;
  }

  /**
   * A sentence for each rule whose promise a period of the plan breaks where the well's own watch
   * is based on it; empty when none is. Of the other gauges {@link #all} tells.
   */
  public List<String> warnings() {
    Map<String, List<Delay>> broken = new LinkedHashMap<>();
    delays.stream()
        .filter(d -> d.broken() && d.ofWell())
        .forEach(d -> broken.computeIfAbsent(d.rule(), r -> new ArrayList<>()).add(d));
    List<String> warnings = new ArrayList<>();
    broken.forEach(
        (rule, late) ->
            warnings.add(
                rule
                    + " promises "
                    + said(late.get(0).promisedS(), late.get(0).promisedS())
                    + " and cannot keep it: at best after "
                    + String.join("; ", late.stream().map(Delay::words).toList())));
    return warnings;
  }

  /** Like "63 s", "3 min 20 s", "2 min", "3 h": as exactly as a span up to the other needs. */
  private static String said(double s, double upTo) {
    if (upTo < 90 || s < 55) {
      return number(s) + " s";
    }
    if (upTo >= 5400) {
      return number(s / 3600) + " h";
    }
    long minutes = Math.round(s / 60);
    if (upTo >= 600 || Math.abs(s - 60 * minutes) <= 5) {
      return minutes + " min";
    }
    return (long) s / 60 + " min " + Math.round(s % 60) + " s";
  }

  private static String number(double value) {
    return String.format(Locale.ROOT, "%.1f", value).replaceAll("\\.0$", "");
  }
}
