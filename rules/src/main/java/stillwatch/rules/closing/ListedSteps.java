package stillwatch.rules.closing;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.Pressures;

/**
 * The steps of one closing, or of one opening, against the plan's list. A step is the one of the
 * list that it names; what names none counts as the one that was next. A step logged with the time
 * of an earlier one is a late entry and is put in its place. In a closing an opening step takes the
 * last step back. Where the plan has no list nothing is judged. Not thread-safe.
 */
final class ListedSteps {
  private final List<ClosingStep> list;
  private final Pressures pressures;
  private final Direction direction;
  private final String whole;
  private final List<LevelHistory> histories;
  private final List<Step> steps = new ArrayList<>();
  private final List<Departure> departures = new ArrayList<>();

  /**
   * Before the first step.
   *
   * @param whole what they are the steps of, for people, for example {@code cycle 1}
   */
  ListedSteps(Plan plan, Direction direction, String whole, List<LevelHistory> histories) {
    list = direction.list(plan);
    pressures = Pressures.of(plan);
    this.direction = direction;
    this.whole = whole;
    this.histories = histories;
  }

  /** A step of this direction was logged. */
  void take(String text, long atMs, long nowMs) {
    ClosingStep named = list.stream().filter(s -> s.isNamed(text)).findFirst().orElse(null);
    ClosingStep next = next().orElse(null);
    Step last = last();
    Step step = new Step(steps.size() + 1, text, named == null ? next : named, atMs);
    boolean late = last != null && atMs < last.atMs();
    if (!late && !list.isEmpty()) {
      order(step, named, next, nowMs);
      hold(step, last, nowMs);
    }
    int at = steps.size();
    while (at > 0 && steps.get(at - 1).atMs() > atMs) {
      at--;
    }
    if (at > 0) {
      steps.get(at - 1).follows(atMs);
    }
    if (at < steps.size()) {
      step.follows(steps.get(at).atMs());
    }
    steps.add(at, step);
    look(nowMs);
  }

  private void order(
      Step step, @Nullable ClosingStep named, @Nullable ClosingStep next, long nowMs) {
    String which = "'" + step.text() + "'";
    if (named != null && done(named)) {
      departs(step, Departure.Kind.ORDER, nowMs, which + " was logged a second time");
    } else if (next == null) {
      departs(
          step,
          Departure.Kind.ORDER,
          nowMs,
          which + " was logged though every step of " + listName() + " is done");
    } else if (named == null) {
      departs(
          step,
          Departure.Kind.ORDER,
          nowMs,
          which + " names no step of " + listName() + "; next was '" + next.name() + "'");
    } else if (!named.equals(next)) {
      departs(
          step,
          Departure.Kind.ORDER,
          nowMs,
          which + " was logged before '" + next.name() + "', which " + listName() + " has first");
    }
  }

  private void hold(Step step, @Nullable Step last, long nowMs) {
    if (last == null || step.atMs() >= last.heldMs()) {
      return;
    }
    departs(
        step,
        Departure.Kind.HOLD,
        nowMs,
        "'%s' was taken %d min after '%s', which is to be held for %s"
            .formatted(
                step.text(),
                (step.atMs() - last.atMs()) / 60_000,
                last.text(),
                ClosingStep.span(Duration.ofMillis(last.heldMs() - last.atMs()))));
  }

  private String listName() {
    return "the " + direction.wire() + " list";
  }

  private void departs(Step step, Departure.Kind kind, long nowMs, String why) {
    Departure departure =
        new Departure(direction, kind, whole + ", step " + step.number(), step.atMs(), nowMs, why);
    step.departs(departure);
    departures.add(departure);
  }

  /** The closing was begun without a go, for this reason. */
  void withoutGo(String text, long atMs, long nowMs, String why) {
    departures.add(
        new Departure(
            direction,
            Departure.Kind.GO,
            whole,
            atMs,
            nowMs,
            "'" + text + "' was logged, but " + why));
  }

  /** A step the other way was logged: the last step is taken back. */
  void takeBack(long atMs) {
    Step last = last();
    if (last != null) {
      last.follows(atMs);
      last.undo();
    }
  }

  /** The well goes the other way: what is not read by then is read no more. */
  void over(long atMs) {
    steps.forEach(s -> s.follows(atMs));
  }

  private @Nullable Step last() {
    Step last = null;
    for (Step s : steps) {
      last = s.undone() ? last : s;
    }
    return last;
  }

  private boolean done(ClosingStep planned) {
    return steps.stream().anyMatch(s -> !s.undone() && planned.equals(s.planned()));
  }

  /** Reads what it is time to read. */
  void look(long nowMs) {
    for (Step step : steps) {
      if (step.look(histories) && step.answer().departs()) {
        departs(step, Departure.Kind.RESPONSE, nowMs, response(step));
      }
    }
  }

  private String response(Step step) {
    ClosingStep.Response expected =
        Optional.ofNullable(step.planned()).flatMap(ClosingStep::response).orElseThrow();
    String changes =
        histories.stream()
            .filter(h -> !Double.isNaN(step.change(h.gauge())))
            .map(h -> h.gauge().id() + " " + pressures.change(step.change(h.gauge())))
            .collect(Collectors.joining(", "));
    return "After '%s' the pressure changed by %s within %s; the plan expects %s"
        .formatted(
            step.text(),
            changes,
            ClosingStep.span(expected.within()),
            pressures.changes(expected.lowKPa(), expected.highKPa()));
  }

  /** The first step of the list that is not done; empty when all are, or the plan has no list. */
  Optional<ClosingStep> next() {
    return list.stream().filter(s -> !done(s)).findFirst();
  }

  /** When the hold of the last step is over, source's time; empty before the first step. */
  Optional<Long> heldMs() {
    return Optional.ofNullable(last()).map(Step::heldMs);
  }

  List<StepTaken> steps() {
    return steps.stream().map(Step::taken).toList();
  }

  /** Grows as more become known. */
  List<Departure> departures() {
    return Collections.unmodifiableList(departures);
  }
}
