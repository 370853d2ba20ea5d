package stillwatch.station.command;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.plan.BestDelays;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.Cautions;

/** Checks a plan before anybody relies on it. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    description =
        "Checks a plan and its rules: tells all mistakes at once, or how soon each rule can see at best and what cannot be seen with this plan.",
    footer = {"", Cautions.TEXT})
public final class CheckCommand implements Callable<Integer> {
  @Mixin private PlanOption plan = new PlanOption();

  @Override
  public Integer call() {
    WatchedWell watched = plan.load();
    Plan read = watched.plan();
    System.out.printf(
        "%s, plan %s %s: no mistake found%n", read.name(), read.revision(), read.fingerprint());
    BestDelays delays = BestDelays.of(read, watched.book().catalogue());
    System.out.println("How soon each rule sees at best (what is small takes longer):");
    delays.lines().forEach(line -> System.out.println("  " + line));
    List<String> unseen = unseen(read);
    unseen.addAll(delays.warnings());
    System.out.println(
        unseen.isEmpty() ? "Nothing is known that could not be seen." : "Cannot be seen:");
    unseen.forEach(line -> System.out.println("  " + line));
    return 0;
  }

  private static List<String> unseen(Plan plan) {
    List<String> unseen = new ArrayList<>();
    long shutIn = with(plan, GaugePlan.Role.SHUT_IN);
    if (shutIn == 0) {
      unseen.add("a leak by pressure: no gauge has the role shut-in");
    } else if (shutIn == 1) {
      unseen.add("a wrong gauge by its twin: only one gauge has the role shut-in");
    }
    if (with(plan, GaugePlan.Role.AMBIENT) == 0) {
      unseen.add("the tide apart from the well: no gauge has the role ambient");
    }
    List<Kind> kinds = plan.gauges().stream().map(GaugePlan::kind).distinct().toList();
    Arrays.stream(Kind.values())
        .filter(k -> k == Kind.SOUND || k == Kind.TEMPERATURE || k == Kind.TILT)
        .filter(k -> !kinds.contains(k))
        .forEach(k -> unseen.add("a leak by " + k.wire() + ": no gauge of this kind"));
    if (plan.test().passes().isEmpty()) {
      unseen.add("bubbles at the seafloor: no pass is planned");
    }
    if (plan.facts() == null) {
      unseen.add(
          "what may explain a build-up: the facts lack " + String.join(", ", plan.missingFacts()));
    }
    if (plan.routes().isEmpty()) {
      unseen.add("an alarm by anybody who does not look at the page: no notification route");
    }
    plan.rules()
        .forEach(
            (rule, setting) -> {
              if (setting.off() != null) {
                unseen.add("what " + rule + " looks for: switched off, " + setting.off());
              }
            });
    return unseen;
  }

  private static long with(Plan plan, GaugePlan.Role role) {
    return plan.gauges().stream()
        .filter(g -> g.kind() == Kind.PRESSURE && g.role() == role)
        .count();
  }
}
