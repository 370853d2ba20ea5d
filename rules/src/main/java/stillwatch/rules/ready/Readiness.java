package stillwatch.rules.ready;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Condition;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;

/**
 * How the conditions of a plan stand, from its log and what the rules found in it. A tick is an
 * observation by the means {@value Observation#READINESS} whose text is the condition's name, with
 * a colon and a remark or without; clear ticks it, anything else takes the tick back. What comes
 * after the first closure step counts no more, until another cycle is decided: then everything that
 * people answer for is asked anew. Not thread-safe.
 */
public final class Readiness {
  private final Plan plan;
  private final Map<String, Observation> ticks = new LinkedHashMap<>();
  private final Map<String, Observation> passes = new LinkedHashMap<>();
  private final Set<String> heard = new HashSet<>();
  private final Map<String, Finding> active = new LinkedHashMap<>();
  private boolean log;
  private Optional<Instant> begun = Optional.empty();
  private Optional<Decision> decided = Optional.empty();

  /** Of this plan, nothing being ticked and nothing heard. */
  public Readiness(Plan plan) {
    this.plan = plan;
  }

  /** Takes the next entry of the log. */
  public void accept(Telemetry entry) {
    log = true;
    if (entry instanceof Decision d && d.choice() == Decision.Choice.CYCLE) {
      askAnew();
    }
    if (begun.isPresent()) {
      return;
    }
    if (entry instanceof Decision d
        && (d.choice() == Decision.Choice.GO || d.choice() == Decision.Choice.NO_GO)) {
      decided = Optional.of(d);
    } else if (entry instanceof Operation o && o.what() == Operation.What.CLOSURE_STEP) {
      begun = Optional.of(Instant.ofEpochMilli(o.atMs()));
    } else if (entry instanceof Frame frame) {
      for (int i = 0; i < frame.values().length; i++) {
        if (!Double.isNaN(frame.values()[i]) && frame.qualities()[i] == Quality.GOOD.code()) {
          heard.add(frame.gauges().ids().get(i));
        }
      }
    } else if (entry instanceof Observation o) {
      if (o.means().equals(Observation.READINESS)) {
        ticks.merge(named(o), o, Readiness::later);
      } else {
        passes.merge(o.means(), o, Readiness::later);
      }
    }
  }

  /** Another cycle is decided: what people answered for counts for the one before. */
  private void askAnew() {
    begun = Optional.empty();
    decided = Optional.empty();
    ticks.clear();
    passes.clear();
  }

  /** What was written down late does not undo what was so after it. */
  private static Observation later(Observation one, Observation next) {
    return atMs(next) >= atMs(one) ? next : one;
  }

  /** A stamp ahead of its reception is ignored. */
  private static long atMs(Observation o) {
    return Math.min(o.atMs(), o.receivedMs());
  }

  /** Takes a finding, raised or returned. */
  public void accept(Finding finding) {
    if (begun.isPresent()) {
      return;
    }
    if (finding.returned()) {
      active.remove(finding.id());
    } else {
      active.put(finding.id(), finding);
    }
  }

  /** When the first closure step was; empty while there is none. */
  public Optional<Instant> begun() {
    return begun;
  }

  /** The last decision on go or no-go before the first closure step; empty while there is none. */
  public Optional<Decision> decided() {
    return decided;
  }

  /** How each condition stands, in the plan's order, by the findings taken. */
  public List<Standing> standings() {
    return standings(active.values());
  }

  /**
   * How each condition stands, in the plan's order.
   *
   * @param lasting the findings that last, or lasted at the first closure step
   */
  public List<Standing> standings(Collection<Finding> lasting) {
    return plan.readiness().stream().map(c -> standing(c, lasting)).toList();
  }

  /** Ticks whose text names no condition of the plan, each as a sentence. */
  public List<String> strayTicks() {
    List<String> names = plan.readiness().stream().map(Condition::name).toList();
    return ticks.values().stream()
        .filter(o -> !names.contains(named(o)))
        .map(
            o ->
                "the tick of "
                    + at(o)
                    + " names no condition of the plan: '"
                    + named(o)
                    + "'; the plan has "
                    + String.join(", ", names))
        .toList();
  }

  private static String named(Observation tick) {
    return tick.text().split(":", 2)[0].strip();
  }

  private Standing standing(Condition condition, Collection<Finding> lasting) {
    PlanJudge judge = new PlanJudge(plan);
    return switch (condition.knownBy()) {
      case TICK -> ticked(condition, Optional.ofNullable(ticks.get(condition.name())));
      case PASS -> looked(condition, Optional.ofNullable(passes.get(condition.means())));
      case GAUGES -> gauges(condition, lasting);
      case TWINS -> judge.twins(condition);
      case ROUTES -> judge.routes(condition);
      case OUTSIDE_CHECK -> judge.outsideCheck(condition);
      case FACTS -> judge.facts(condition);
      case CAPACITY -> judge.capacity(condition);
    };
  }

  private static Standing ticked(Condition condition, Optional<Observation> tick) {
    if (tick.isEmpty()) {
      return new Standing(condition, false, "not ticked by anybody");
    }
    Observation o = tick.get();
    if (o.by().isBlank()) {
      return new Standing(
          condition, false, "ticked at " + at(o) + " without a name; enter it again with one");
    }
    boolean clear = o.result() == Observation.Result.CLEAR;
    String remark = o.text().contains(":") ? " (" + o.text().split(":", 2)[1].strip() + ")" : "";
    return new Standing(
        condition,
        clear,
        (clear ? "ticked by " : "taken back by ") + o.by() + " at " + at(o) + remark);
  }

  private static Standing looked(Condition condition, Optional<Observation> pass) {
    return pass.map(
            o ->
                new Standing(
                    condition,
                    o.result() == Observation.Result.CLEAR,
                    "the last "
                        + condition.means()
                        + " pass, at "
                        + at(o)
                        + (o.by().isBlank() ? "" : " by " + o.by())
                        + ", was "
                        + o.result().wire()))
        .orElseGet(
            () -> new Standing(condition, false, "no " + condition.means() + " pass is logged"));
  }

  private Standing gauges(Condition condition, Collection<Finding> lasting) {
    if (!log) {
      return new Standing(condition, false, "no log was given to see the gauges in");
    }
    List<String> wrong = new ArrayList<>();
    List<String> silent =
        plan.gauges().stream().map(GaugePlan::id).filter(id -> !heard.contains(id)).toList();
    if (!silent.isEmpty()) {
      wrong.add("no good reading yet from " + String.join(", ", silent));
    }
    lasting.stream()
        .filter(Finding::ofGauges)
        .map(f -> "alarm active: " + f.title() + " (" + String.join(", ", f.gauges()) + ")")
        .forEach(wrong::add);
    return new Standing(
        condition,
        wrong.isEmpty(),
        wrong.isEmpty()
            ? "all " + plan.gauges().size() + " gauges deliver readings, no gauge alarm is active"
            : String.join("; ", wrong));
  }

  private static String at(Observation o) {
    return Instant.ofEpochMilli(atMs(o)).toString();
  }
}
