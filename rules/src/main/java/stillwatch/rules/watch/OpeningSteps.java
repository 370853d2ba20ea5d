package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.rules.plan.ClosingStep;

/**
 * The steps of an opening as they are logged, and how large a fall of the shut-in pressure they
 * explain by the plan's opening list. A step is the one of the list that it names; once the well
 * was shut in, what names none counts as the one that was next.
 *
 * <p>A step explains at most the largest fall of its response, up to the time at which that is
 * read. From then on the fall may only go on as radial flow does: in proportion to {@code
 * ln(t/t0)}, the long-time form of the line-source solution (R. C. Earlougher, Advances in Well
 * Test Analysis, SPE Monograph 5, 1977, ch. 2). Its {@code t0} is below a second in rock that lets
 * a well flow, and what an outlet takes off besides does not grow, so that by {@code t} the fall is
 * at most {@code 1 + ln(t/within)/ln(within/1 s)} times what it was. Falls of several steps add up
 * (superposition, same source). Not thread-safe.
 */
final class OpeningSteps {
  /** A fall that began so shortly before the logged time is still put down to the step. */
  private static final double EARLY_S = 5;

  /** For this share of its window a step may not have been begun yet, or still be turned. */
  private static final double TURNED = 0.2;

  /** No response is read so soon that its logarithm would say nothing, s. */
  private static final double LEAST_WITHIN_S = 10;

  private final List<ClosingStep> listed;
  private final List<Taken> taken = new ArrayList<>();

  /**
   * A step of the list that was logged.
   *
   * @param believed whether its stamp can be believed; else it explains nothing
   */
  private record Taken(ClosingStep step, long atMs, boolean believed) {}

  OpeningSteps(List<ClosingStep> listed) {
    this.listed = listed;
  }

  /** Whether the plan lists the steps of an opening. */
  boolean listed() {
    return !listed.isEmpty();
  }

  /** Whether an opening by the list has begun. */
  boolean underWay() {
    return !taken.isEmpty();
  }

  /**
   * Takes an opening step.
   *
   * @param shutIn whether the well was shut in before it
   * @return the share of the first flow that flows after it: all of it where it names none
   */
  double open(String text, long atMs, boolean shutIn, boolean believed) {
    Optional<ClosingStep> named = listed.stream().filter(s -> s.isNamed(text)).findFirst();
    Optional<ClosingStep> step = named;
    if (step.isEmpty() && (shutIn || underWay())) {
      step = listed.stream().filter(s -> !done(s)).findFirst();
    }
    step.ifPresent(s -> taken.add(new Taken(s, atMs, believed)));
    return named.map(ClosingStep::leaves).orElse(1.0);
  }

  private boolean done(ClosingStep step) {
    return taken.stream().anyMatch(t -> t.step().equals(step));
  }

  /** A closure step was logged: the opening is over. */
  void close() {
    taken.clear();
  }

  /** When the last step was that can be believed; {@link Long#MIN_VALUE} when there is none. */
  long lastMs() {
    return taken.stream()
        .filter(Taken::believed)
        .mapToLong(Taken::atMs)
        .max()
        .orElse(Long.MIN_VALUE);
  }

  /** How large a fall since the last step they explain at a time, kPa; 0 where none is believed. */
  double explained(long atMs) {
    long lastMs = lastMs();
    double sum = 0;
    for (Taken t : taken) {
      if (t.believed()) {
        double before = t.atMs() == lastMs ? 0 : growth(t, seconds(t, lastMs));
        sum += times(mostKPa(t), growth(t, seconds(t, atMs)) - before);
      }
    }
    return sum;
  }

  /**
   * How large a fall within so many seconds up to a time they explain, kPa. The fall of a step is
   * the quicker the earlier: of what is lost by {@code t}, at most {@code span/t} came last.
   */
  double suddenly(long atMs, double spanS) {
    double sum = 0;
    for (Taken t : taken) {
      if (t.believed()) {
        sum += times(mostKPa(t), latest(t, seconds(t, atMs), spanS));
      }
    }
    return sum;
  }

  private static double latest(Taken t, double sinceS, double spanS) {
    double before = sinceS - spanS;
    if (before >= withinS(t)) {
      return growth(t, sinceS) - growth(t, before);
    }
    double turnedS = sinceS - TURNED * withinS(t);
    return growth(t, sinceS) * (turnedS <= spanS ? 1 : spanS / turnedS);
  }

  /** How many times its largest response a step explains so long after it. */
  private static double growth(Taken t, double sinceS) {
    if (sinceS < -EARLY_S) {
      return 0;
    }
    double within = withinS(t);
    return sinceS <= within ? 1 : 1 + Math.log(sinceS / within) / Math.log(within);
  }

  private static double withinS(Taken t) {
    return Math.max(
        LEAST_WITHIN_S,
        t.step().response().map(r -> r.within().toMillis() / 1000.0).orElse(LEAST_WITHIN_S));
  }

  /** The largest fall it may make; infinite where the list expects nothing of it. */
  private static double mostKPa(Taken t) {
    return t.step().response().map(r -> Math.max(0, -r.lowKPa())).orElse(Double.POSITIVE_INFINITY);
  }

  private static double times(double kPa, double share) {
    return share == 0 ? 0 : kPa * share;
  }

  private static double seconds(Taken t, long atMs) {
    return (atMs - t.atMs()) / 1000.0;
  }
}
