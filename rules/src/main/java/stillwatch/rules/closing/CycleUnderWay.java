package stillwatch.rules.closing;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.rules.plan.Plan;

/** A cycle while the log tells of it. Not thread-safe. */
final class CycleUnderWay {
  private final int number;
  private final String changes;
  private final Optional<Decision> go;
  private final long begunMs;
  private final List<LevelHistory> histories;
  private final ListedSteps closing;
  private final Plan plan;
  private final List<StepCourse> courses = new ArrayList<>();
  private @Nullable Hours hours;
  private Optional<Long> shutInMs = Optional.empty();
  private Optional<Long> overMs = Optional.empty();
  private final List<StepsReading.Change> opened = new ArrayList<>();

  CycleUnderWay(
      Plan plan,
      int number,
      String changes,
      Optional<Decision> go,
      long begunMs,
      List<LevelHistory> histories) {
    this.number = number;
    this.changes = changes;
    this.go = go;
    this.begunMs = begunMs;
    this.histories = histories;
    this.plan = plan;
    closing = new ListedSteps(plan, Direction.CLOSING, "cycle " + number, histories);
    histories.forEach(h -> courses.add(new StepCourse(h.gauge().period().toMillis())));
  }

  long begunMs() {
    return begunMs;
  }

  ListedSteps closing() {
    return closing;
  }

  /** Takes a good reading of a gauge, by its place among the histories. */
  void read(int gauge, long atMs, double kPa) {
    if (!over()) {
      courses.get(gauge).add(atMs, kPa);
    }
  }

  /**
   * An opening step after the shut-in was logged; one of no later time than the last is left out.
   */
  void opened(long atMs, double share) {
    StepsReading.Change last = opened.isEmpty() ? null : opened.get(opened.size() - 1);
    if (last == null || (atMs > last.atMs() && share != last.share())) {
      opened.add(new StepsReading.Change(atMs, share));
    }
  }

  /** How the closing and the opening after it changed the flow; empty where that is not known. */
  Optional<List<StepsReading.Change>> flow() {
    return opened.isEmpty()
        ? Optional.empty()
        : StepsReading.flow(closing.steps())
            .map(
                closed -> {
                  List<StepsReading.Change> all = new ArrayList<>(closed);
                  all.addAll(opened);
                  return all;
                });
  }

  /**
   * What each gauge saw through the closing.
   *
   * @param before how the flow changed in the cycles before; empty when that is not known
   */
  List<StepsSeen> steps(Optional<List<StepsReading.Change>> before) {
    List<StepTaken> steps = closing.steps();
    List<StepsSeen> all = new ArrayList<>();
    for (int i = 0; i < courses.size(); i++) {
      String gauge = histories.get(i).gauge().id();
      List<StepCourse.Median> medians = List.copyOf(courses.get(i).medians());
      all.add(new StepsSeen(gauge, before, steps, medians, plan.facts()));
    }
    return all;
  }

  boolean shutIn() {
    return shutInMs.isPresent();
  }

  void shutIn(long atMs) {
    if (shutInMs.isEmpty()) {
      shutInMs = Optional.of(atMs);
      hours = new Hours(atMs);
    }
  }

  boolean over() {
    return overMs.isPresent();
  }

  void over(long atMs) {
    overMs = Optional.of(atMs);
    closing.over(atMs);
  }

  void look(long nowMs) {
    closing.look(nowMs);
    if (hours != null && !over()) {
      hours.look(histories);
    }
  }

  Cycle told() {
    return new Cycle(
        number,
        changes,
        go,
        begunMs,
        shutInMs,
        overMs,
        closing.steps(),
        closing.next(),
        closing.heldMs(),
        List.copyOf(closing.departures()),
        hours == null ? Map.of() : hours.read());
  }
}
