package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.rules.indicator.PresenceIndicator;

/**
 * What is near the well, one of each sort: what is logged again is still there, and an end ends all
 * of its sort, so that nothing that has left goes on explaining what is heard. Not thread-safe.
 */
final class Presences {
  private final long longestMs;
  private final Map<Operation.What, Presence> newest = new EnumMap<>(Operation.What.class);

  /** Nothing yet; what nobody ends counts as there for so long, ms. */
  Presences(long longestMs) {
    this.longestMs = longestMs;
  }

  /** Takes an operation that was at this time, ms since 1970 UTC. */
  void accept(Operation operation, long atMs) {
    Operation.What what = operation.what();
    if (what.presence()) {
      newest.put(what, stay(newest.get(what), operation, atMs));
    }
    Optional<Operation.What> ended = what.ends();
    ended.ifPresent(
        e ->
            newest.computeIfPresent(
                e,
                (w, p) ->
                    new Presence(w, p.text(), p.fromMs(), Math.min(p.untilMs(), atMs), true)));
  }

  /**
   * What was written down late changes nothing that is known of afterwards, least of all an end.
   */
  private Presence stay(@Nullable Presence before, Operation operation, long atMs) {
    long untilMs = atMs + longestMs;
    if (before == null || atMs >= before.untilMs()) {
      return new Presence(operation.what(), operation.text(), atMs, untilMs, false);
    }
    return new Presence(
        operation.what(),
        atMs < before.fromMs() ? before.text() : operation.text(),
        Math.min(before.fromMs(), atMs),
        before.ended() ? before.untilMs() : Math.max(before.untilMs(), untilMs),
        before.ended());
  }

  /** The newest of each sort that is there, or left no longer ago than this, ms. */
  List<Presence> lately(long nowMs, long withinMs) {
    List<Presence> found = List.of();
    for (Presence p : newest.values()) {
      if (p.fromMs() <= nowMs && nowMs - withinMs < p.untilMs()) {
        found = found.isEmpty() ? new ArrayList<>() : found;
        found.add(p);
      }
    }
    return found;
  }

  /** When something was last there, up to now; {@link Long#MIN_VALUE} when never. */
  long lastMs(long nowMs) {
    return newest.values().stream()
        .filter(p -> p.fromMs() <= nowMs)
        .mapToLong(p -> Math.min(nowMs, p.untilMs()))
        .max()
        .orElse(Long.MIN_VALUE);
  }

  /** The newest of each sort for the rules. */
  List<PresenceIndicator> indicators(long nowMs) {
    List<PresenceIndicator> all = new ArrayList<>(newest.size());
    for (Presence p : newest.values()) {
      all.add(
          new PresenceIndicator(
              p.what().wire(),
              p.text(),
              nowMs,
              p.fromMs(),
              p.at(nowMs),
              (nowMs - p.fromMs()) / 1000.0,
              p.ended() ? Double.NEGATIVE_INFINITY : (nowMs - p.untilMs()) / 1000.0));
    }
    return all;
  }
}
