package stillwatch.rules.closing;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.plan.ClosingStep;
import stillwatch.rules.plan.GaugePlan;

/** A logged step while its response is awaited, and after. Not thread-safe. */
final class Step {
  private final int number;
  private final String text;
  private final @Nullable ClosingStep planned;
  private final long atMs;
  private final ReadingsAt before;
  private final @Nullable ReadingsAt after;
  private final List<Departure> departures = new ArrayList<>();
  private boolean undone;
  private Answer answer;

  /**
   * A step.
   *
   * @param number how many were logged in this cycle up to it
   * @param planned the step of the list that it is; null when it is none
   */
  Step(int number, String text, @Nullable ClosingStep planned, long atMs) {
    this.number = number;
    this.text = text;
    this.planned = planned;
    this.atMs = atMs;
    before = new ReadingsAt(atMs);
    long readMs = planned == null ? 0 : readAfterMs(planned);
    after = readMs == 0 ? null : new ReadingsAt(atMs + readMs);
    answer = expected().isEmpty() ? Answer.NOT_ASKED : Answer.AWAITED;
  }

  /** When the pressure after it is read: with its response, else at the end of its hold. */
  private static long readAfterMs(ClosingStep planned) {
    return planned.response().map(ClosingStep.Response::within).orElse(planned.hold()).toMillis();
  }

  private Optional<ClosingStep.Response> expected() {
    return planned == null ? Optional.empty() : planned.response();
  }

  @Nullable ClosingStep planned() {
    return planned;
  }

  int number() {
    return number;
  }

  String text() {
    return text;
  }

  long atMs() {
    return atMs;
  }

  boolean undone() {
    return undone;
  }

  void undo() {
    undone = true;
  }

  void departs(Departure departure) {
    departures.add(departure);
  }

  /** Another step was taken then: what is not read by that time is read no more. */
  void follows(long nextMs) {
    if (after != null && after.atMs() > nextMs && answer == Answer.AWAITED) {
      answer = Answer.CUT_SHORT;
    }
  }

  /** Reads what it is time to read; says whether that has just given the answer. */
  boolean look(List<LevelHistory> histories) {
    boolean begun = before.look(histories);
    if (after == null || answer == Answer.CUT_SHORT || !after.look(histories) || !begun) {
      return false;
    }
    if (answer != Answer.AWAITED) {
      return false;
    }
    answer = judged(histories);
    return true;
  }

  private Answer judged(List<LevelHistory> histories) {
    ClosingStep.Response expected = expected().orElseThrow();
    int below = 0;
    int above = 0;
    int still = 0;
    int read = 0;
    for (LevelHistory h : histories) {
      double change = change(h.gauge());
      if (!Double.isNaN(change)) {
        read++;
        below += change < expected.lowKPa() ? 1 : 0;
        above += change > expected.highKPa() ? 1 : 0;
        still += Math.abs(change) <= h.gauge().accuracy() ? 1 : 0;
      }
    }
    if (read == 0) {
      return Answer.NOT_READ;
    }
    if (still == read && (below == read || above == read)) {
      return Answer.NONE;
    }
    return below == read
        ? Answer.BELOW
        : above == read
            ? Answer.ABOVE
            : below + above == 0 ? Answer.AS_EXPECTED : Answer.GAUGES_DIFFER;
  }

  /** By how much a gauge changed, kPa; NaN while or where that is not known. */
  double change(GaugePlan gauge) {
    return after == null
        ? Double.NaN
        : after.levels().getOrDefault(gauge.id(), Double.NaN)
            - before.levels().getOrDefault(gauge.id(), Double.NaN);
  }

  Answer answer() {
    return answer;
  }

  /** When its hold is over, source's time. */
  long heldMs() {
    return planned == null ? atMs : atMs + planned.hold().toMillis();
  }

  StepTaken taken() {
    return new StepTaken(
        text,
        Optional.ofNullable(planned),
        atMs,
        undone,
        before.levels(),
        after == null || answer == Answer.CUT_SHORT ? Map.of() : after.levels(),
        answer,
        List.copyOf(departures));
  }
}
