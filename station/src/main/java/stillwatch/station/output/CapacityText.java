package stillwatch.station.output;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import stillwatch.rules.capacity.CapacityStudy;
import stillwatch.rules.capacity.Interval;
import stillwatch.rules.capacity.Loss;
import stillwatch.rules.capacity.Outlook;
import stillwatch.rules.capacity.Remedy;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.capacity.Through;
import stillwatch.rules.plan.Flows;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.well.Uncertain;

/** A capacity study in words, every figure with what it assumes. */
public final class CapacityText {
  private static final String ROW = "%-72s %8s %8s %8s %8s %13s %14s";

  private final Plan plan;
  private final Reopening reopening;
  private final CapacityStudy study;
  private final Flows unit;
  private final List<String> lines = new ArrayList<>();

  /** Of a plan's reopening. */
  public CapacityText(Plan plan, Reopening reopening, CapacityStudy study) {
    this.plan = plan;
    this.reopening = reopening;
    this.study = study;
    unit = Flows.of(plan);
  }

  /** The lines. */
  public List<String> lines() {
    say(
        "%s, plan %s: capacity to collect the flow when the well is reopened, %s",
        plan.name(), plan.revision(), unit.sign());
    Uncertain flow = reopening.expectedFlow();
    say(
        "%nexpected flow: likely %s, from %s to %s",
        unit.plain(flow.likely()), unit.plain(flow.low()), unit.plain(flow.high()));
    assumes(CapacityWords.FLOW);
    losses();
    outlets();
    outlook(study.outlook());
    longRun();
    say("%n%s", Cautions.TEXT);
    return List.copyOf(lines);
  }

  private void losses() {
    say("%ncapacity against flow, units lost");
    say(ROW, "", "low", "likely", "high", "holds", "likely spill", "spill at worst");
    study.losses().forEach(this::row);
    double half =
        study.losses().stream().mapToDouble(l -> l.holds().high() - l.holds().low()).max().orElse(0)
            / 2;
    assumes(
        String.format(
            Locale.ROOT,
            "%s; %d draws, seed %d, so a share is known to %.1f %% at worst (95 %%)",
            CapacityWords.LOSSES,
            study.draws(),
            study.seed(),
            100 * half));
  }

  private void row(Loss loss) {
    say(
        ROW,
        CapacityWords.lost(loss),
        unit.plain(loss.low()),
        unit.plain(loss.likely()),
        unit.plain(loss.high()),
        CapacityWords.percent(loss.holds().value()),
        unit.plain(loss.likelySpill()),
        unit.plain(loss.worstSpill()));
  }

  private void outlets() {
    say("%ncapacity by outlet, all its units connected");
    for (Through t : study.through()) {
      say(
          "  through %s: likely %s, from %s to %s, limited by %s (%s)",
          t.outlet(),
          unit.plain(t.likely()),
          unit.plain(t.low()),
          unit.plain(t.high()),
          t.limitedByItself() ? "the outlet itself" : "its units",
          String.join(", ", t.units()));
    }
    say("%ncapacity against flow, an outlet shut");
    study.shut().forEach(this::row);
    assumes(CapacityWords.OUTLETS);
  }

  private void outlook(Outlook outlook) {
    String days = days(outlook.days());
    say(
        "%nprobability that the capacity holds for %s days without a break: %s",
        days, CapacityWords.percent(outlook.holdsFor(outlook.days())));
    for (int part = 1; part < 4; part++) {
      double day = outlook.days() * part / 4;
      say("  for the first %s days: %s", days(day), CapacityWords.percent(outlook.holdsFor(day)));
    }
    say(
        "  share of the %s days in which it holds: %s",
        days, CapacityWords.percent(outlook.heldShare()));
    assumes(
        CapacityWords.OUTLOOK + "; " + outlook.futures() + " random futures, seed " + study.seed());
    Interval tenth = outlook.tenthSpillsOverM3();
    say(
        "%nspill within %s days: %s on average (standard error %s); one future in ten spills more than %s (95 %%: %s to %s)",
        days,
        unit.volume(outlook.spilledM3().value()),
        unit.volume(outlook.spilledM3().error()),
        unit.volume(tenth.value()),
        unit.volume(tenth.low()),
        unit.volume(tenth.high()));
    say(
        "  while the capacity does not hold: %s %s on average (standard error %s)",
        unit.plain(outlook.rateWhileShortM3PerD().value()),
        unit.sign(),
        unit.plain(outlook.rateWhileShortM3PerD().error()));
    assumes(CapacityWords.SPILL);
  }

  private void longRun() {
    say(
        "%nin the long run the capacity holds %s of the time, and %s %s are spilled on average (standard error %s)",
        CapacityWords.percent(study.longRun().holds()),
        unit.plain(study.longRun().spillM3PerD().value()),
        unit.sign(),
        unit.plain(study.longRun().spillM3PerD().error()));
    assumes(CapacityWords.LONG_RUN);
    say("%nbottleneck: %s", study.bottleneck().map(Remedy::of).orElse(none()));
    for (Remedy r : study.remedies()) {
      say(
          "  %s: holds %s of the time, spills %s %s on average",
          CapacityWords.remedy(r),
          CapacityWords.percent(r.longRun().holds().value()),
          unit.plain(r.longRun().spillM3PerD().value()),
          unit.sign());
    }
    assumes(CapacityWords.BOTTLENECK);
  }

  private String none() {
    return study.longRun().spillM3PerD().value() == 0
        ? "none, nothing is spilled"
        : "no single unit or outlet; together they collect too little";
  }

  private void assumes(String what) {
    lines.add("  assumes: " + what + ".");
  }

  private void say(String form, Object... values) {
    lines.add(String.format(Locale.ROOT, form, values));
  }

  static String days(double days) {
    return String.format(Locale.ROOT, "%.2f", days).replaceAll("\\.?0+$", "");
  }
}
