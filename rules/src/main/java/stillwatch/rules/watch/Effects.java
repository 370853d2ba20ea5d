package stillwatch.rules.watch;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.indicator.Near;
import stillwatch.rules.plan.OperationLimits;

/**
 * What was done to the well lately, and how large a fall of the shut-in pressure that explains:
 * only what such an operation can do, of the right sign, size and time. A closure step raises the
 * pressure, so a fall after it is the most suspicious there is, but for the small overshoot that
 * settles; an opening lowers it; a valve or a line-up may move it by what the plan allows, and it
 * comes back. Presence near the well explains no fall at all. What is stamped far ahead of its
 * reception, or far behind, counts from its reception and explains nothing. Not thread-safe.
 */
final class Effects {
  private static final int KEPT = 20;

  /** A fall that began so shortly before the logged time is still put down to the operation. */
  private static final long EARLY_MS = 5_000;

  private static final long NEAR_MS = 30 * 60_000L;

  private final OperationLimits limits;
  private final Deque<Move> effects = new ArrayDeque<>();
  private final Map<Operation.What, Long> presence = new EnumMap<>(Operation.What.class);
  private final Map<Operation.What, String> presenceText = new EnumMap<>(Operation.What.class);
  private @Nullable Move step;
  private boolean reopening;

  /**
   * One operation that moved the well.
   *
   * @param atMs when, source's time
   * @param believed its stamp fits its reception, so that it may explain something
   * @param levels the level of each shut-in gauge then, kPa
   */
  record Move(
      long atMs,
      Operation.What what,
      String text,
      boolean believed,
      Map<WatchedGauge, Double> levels) {
    String words() {
      return what.wire() + (text.isEmpty() ? "" : ": " + text);
    }
  }

  Effects(OperationLimits limits) {
    this.limits = limits;
  }

  /** Takes an operation; says whether it is a step that changes the flow. */
  boolean accept(Operation operation, Gauges gauges) {
    Operation.What what = operation.what();
    if (what.presence()) {
      presence.put(what, operation.receivedMs());
      presenceText.put(what, operation.text().isEmpty() ? what.wire() : operation.text());
    }
    what.ends().ifPresent(presence::remove);
    if (!what.movesWell()) {
      return false;
    }
    Map<WatchedGauge, Double> levels = new LinkedHashMap<>();
    gauges.shutIn().forEach(g -> levels.put(g, g.track.level()));
    boolean believed = limits.believes(operation.atMs(), operation.receivedMs());
    Move move =
        new Move(
            believed ? operation.atMs() : operation.receivedMs(),
            what,
            operation.text(),
            believed,
            levels);
    effects.addLast(move);
    if (effects.size() > KEPT) {
      effects.removeFirst();
    }
    if (what == Operation.What.CLOSURE_STEP) {
      step = move;
      reopening = false;
    } else if (what == Operation.What.OPENING_STEP) {
      reopening = true;
    }
    return what == Operation.What.CLOSURE_STEP || what == Operation.What.OPENING_STEP;
  }

  /** The deciders decided to open the well again. */
  void reopen() {
    reopening = true;
  }

  boolean reopening() {
    return reopening;
  }

  /** The last closure step; null when there was none. */
  @Nullable Move step() {
    return step;
  }

  /** When the last closure step has settled, source's time; {@link Long#MIN_VALUE} without one. */
  long settledMs() {
    Move last = step;
    return last == null ? Long.MIN_VALUE : last.atMs() + limits.settles().toMillis();
  }

  /** What is near this moment. */
  Near near(long atMs, long nowMs, Gauges gauges) {
    double allowed = reopening ? Double.POSITIVE_INFINITY : 0;
    for (Move m : effects) {
      if (m.believed()) {
        allowed = Math.max(allowed, allowed(m, atMs, gauges));
      }
    }
    Move last = effects.peekLast();
    return new Near(
        allowed,
        last == null ? "" : last.words(),
        last == null ? Double.POSITIVE_INFINITY : Math.max(0, atMs - last.atMs()) / 1000.0,
        presence(nowMs),
        reopening);
  }

  private double allowed(Move m, long atMs, Gauges gauges) {
    long since = atMs - m.atMs();
    long longestPeriod = 0;
    for (WatchedGauge g : gauges.shutIn()) {
      longestPeriod = Math.max(longestPeriod, g.periodMs());
    }
    if (since < -EARLY_MS) {
      return 0;
    }
    OperationLimits.Effect effect = limits.of(m.what());
    if (since > effect.within().toMillis() + 3 * longestPeriod) {
      return 0;
    }
    if (m.what() != Operation.What.CLOSURE_STEP) {
      return effect.fallKPa();
    }
    double rise = 0;
    for (Map.Entry<WatchedGauge, Double> e : m.levels().entrySet()) {
      double held = e.getKey().track.fall().held();
      rise = Double.isNaN(held) ? rise : Math.max(rise, held - e.getValue());
    }
    return effect.overshoot() * rise;
  }

  /** What was logged on the well within half an hour before a time; empty when nothing was. */
  String nearWords(long onsetMs) {
    Move near = null;
    for (Move m : effects) {
      boolean about = onsetMs - m.atMs() <= NEAR_MS && m.atMs() - onsetMs <= EARLY_MS;
      near = about ? m : near;
    }
    return near == null ? "" : near.words() + " at " + Words.clock(near.atMs());
  }

  /** Until when the last operation's effect must have come back, log time. */
  long backByMs(long nowMs) {
    Move last = effects.peekLast();
    if (last == null || reopening || last.what() == Operation.What.OPENING_STEP) {
      return Long.MAX_VALUE;
    }
    return last.what() == Operation.What.CLOSURE_STEP
        ? Long.MAX_VALUE
        : nowMs + limits.of(last.what()).returns().toMillis();
  }

  /** Who is near the well, for people; empty when nobody is. */
  String presence(long nowMs) {
    StringBuilder text = new StringBuilder();
    presence.forEach(
        (what, since) -> {
          if (nowMs - since <= limits.longestStay().toMillis()) {
            text.append(text.isEmpty() ? "" : ", ").append(presenceText.get(what));
          }
        });
    return text.toString();
  }
}
