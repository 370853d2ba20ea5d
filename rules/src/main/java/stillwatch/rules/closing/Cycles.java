package stillwatch.rules.closing;

import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;

/**
 * The cycles of a test, as the log tells them to the rules, the page and the report alike. A cycle
 * begins with the first closure step, and anew with the first one after the well was shut in and
 * opened again, or after another cycle was decided. An opening begins with an opening step after a
 * shut-in and ends with a closure step. Readings count by their source's clock. A pure function of
 * the log; not thread-safe.
 */
public final class Cycles {
  private final Plan plan;
  private final List<LevelHistory> histories;
  private final IdentityHashMap<GaugeSet, int[]> places = new IdentityHashMap<>();
  private final List<CycleUnderWay> cycles = new ArrayList<>();
  private final List<OpeningUnderWay> openings = new ArrayList<>();
  private Optional<Decision> go = Optional.empty();
  private String changes = "";

  /** Of this plan, before the first step. */
  public Cycles(Plan plan) {
    this.plan = plan;
    histories = plan.gauges().stream().filter(GaugePlan::ofShutIn).map(LevelHistory::new).toList();
  }

  /** Takes readings; what is stamped further ahead than the plan believes is left out. */
  public void accept(Frame frame) {
    if (frame.atMs() - frame.receivedMs() > plan.time().ahead().toMillis()) {
      return;
    }
    int[] ofColumns = places.computeIfAbsent(frame.gauges(), this::places); // one a set of gauges
    CycleUnderWay now = now();
    for (int i = 0; i < ofColumns.length; i++) {
      int place = ofColumns[i];
      if (place >= 0
          && frame.qualities()[i] == Quality.GOOD.code()
          && histories.get(place).add(frame.atMs(), frame.values()[i])
          && now != null) {
        now.read(place, frame.atMs(), frame.values()[i]);
      }
    }
    if (now != null) {
      now.look(frame.receivedMs());
    }
    OpeningUnderWay opening = opening();
    if (opening != null) {
      opening.steps().look(frame.receivedMs());
    }
  }

  /** The place of each column's gauge among the histories; -1 where it has none. */
  private int[] places(GaugeSet gauges) {
    List<String> known = histories.stream().map(h -> h.gauge().id()).toList();
    return gauges.ids().stream().mapToInt(known::indexOf).toArray();
  }

  /** Takes a decision. */
  public void accept(Decision decision) {
    switch (decision.choice()) {
      case GO, NO_GO -> go = Optional.of(decision);
      case CYCLE -> {
        changes = decision.changes();
        end(decision.atMs());
      }
      default -> {
        // neither begins nor ends a cycle
      }
    }
  }

  /** A closure step was logged, which was then, source's time. */
  public void closed(String text, long atMs, long nowMs) {
    OpeningUnderWay opening = opening();
    if (opening != null) {
      opening.over(atMs);
    }
    CycleUnderWay now = now();
    if (now == null || now.over()) {
      now = new CycleUnderWay(plan, cycles.size() + 1, changes, go, atMs, histories);
      cycles.add(now);
      begun(now, text, atMs, nowMs);
      changes = "";
      go = Optional.empty();
    }
    now.closing().take(text, atMs, nowMs);
  }

  private void begun(CycleUnderWay cycle, String text, long atMs, long nowMs) {
    boolean given = go.filter(d -> d.choice() == Decision.Choice.GO).isPresent();
    if (!given && !plan.readiness().isEmpty()) {
      cycle
          .closing()
          .withoutGo(
              text,
              atMs,
              nowMs,
              go.map(d -> "the last decision, by " + d.by() + ", was no-go")
                  .orElse("no go for this closing is in the log"));
    }
  }

  /**
   * An opening step was logged, which was then, source's time.
   *
   * @param share the share of the first flow that flows after it
   */
  public void opened(String text, long atMs, long nowMs, double share) {
    CycleUnderWay now = now();
    opens(now, text, atMs, nowMs);
    if (now != null && now.shutIn()) {
      now.opened(atMs, share);
    }
    if (now == null || now.over()) {
      return;
    }
    if (now.shutIn()) {
      end(atMs);
    } else {
      now.closing().takeBack(atMs);
    }
  }

  /** Where no closure step is logged, a step that the opening list names begins one. */
  private void opens(@Nullable CycleUnderWay cycle, String text, long atMs, long nowMs) {
    OpeningUnderWay opening = opening();
    if (opening == null) {
      boolean shutIn =
          cycle == null ? plan.opening().stream().anyMatch(s -> s.isNamed(text)) : cycle.shutIn();
      if (!shutIn) {
        return;
      }
      opening = new OpeningUnderWay(plan, openings.size() + 1, atMs, histories);
      openings.add(opening);
    }
    opening.steps().take(text, atMs, nowMs);
  }

  /** The opening under way; null while there is none. */
  private @Nullable OpeningUnderWay opening() {
    OpeningUnderWay last = openings.isEmpty() ? null : openings.get(openings.size() - 1);
    return last == null || last.over() ? null : last;
  }

  private void end(long atMs) {
    CycleUnderWay now = now();
    if (now != null && !now.over()) {
      now.over(atMs);
    }
  }

  /** The steps logged have shut the well in, then. */
  public void shutIn(long atMs) {
    CycleUnderWay now = now();
    if (now != null && !now.over()) {
      now.shutIn(atMs);
    }
  }

  private @Nullable CycleUnderWay now() {
    return cycles.isEmpty() ? null : cycles.get(cycles.size() - 1);
  }

  /** What the next cycle does otherwise; empty while no further cycle is decided. */
  public String nextChanges() {
    return changes;
  }

  /** The decision on go or no-go for the closing that has not begun; empty while there is none. */
  public Optional<Decision> go() {
    return go;
  }

  /** When the first closure step of the test was, source's time; empty while none is logged. */
  public Optional<Long> firstClosedMs() {
    return cycles.isEmpty() ? Optional.empty() : Optional.of(cycles.get(0).begunMs());
  }

  /** The cycles, oldest first. */
  public List<Cycle> all() {
    return cycles.stream().map(CycleUnderWay::told).toList();
  }

  /** The openings, oldest first. */
  public List<Opening> openings() {
    return openings.stream().map(OpeningUnderWay::told).toList();
  }

  /**
   * What each gauge saw through the steps of a cycle's closing, as of now.
   *
   * @param number of the cycle, from 1
   */
  public List<StepsSeen> steps(int number) {
    List<StepsReading.Change> before = new ArrayList<>();
    boolean known = true;
    for (CycleUnderWay c : cycles.subList(0, number - 1)) {
      Optional<List<StepsReading.Change>> changed = c.flow();
      known &= changed.isPresent();
      changed.ifPresent(before::addAll);
    }
    return cycles.get(number - 1).steps(known ? Optional.of(before) : Optional.empty());
  }

  /** Where the closings depart from the plan, oldest first; then where the openings do. */
  public List<Departure> departures() {
    List<Departure> all = List.of(); // asked at every moment, and mostly there is none
    for (CycleUnderWay c : cycles) {
      all = with(all, c.closing().departures());
    }
    for (OpeningUnderWay o : openings) {
      all = with(all, o.steps().departures());
    }
    return all;
  }

  private static List<Departure> with(List<Departure> all, List<Departure> more) {
    if (more.isEmpty()) {
      return all;
    }
    List<Departure> both = all.isEmpty() ? new ArrayList<>() : all;
    both.addAll(more);
    return both;
  }
}
