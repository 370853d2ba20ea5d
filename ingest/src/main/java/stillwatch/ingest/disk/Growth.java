package stillwatch.ingest.disk;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;

/** How fast a disk fills: what was written in the last half hour, net of what was deleted. */
final class Growth {
  private static final long EVERY_MS = 10_000;
  private static final long AT_LEAST_MS = Duration.ofMinutes(10).toMillis();
  private static final long WINDOW_MS = Duration.ofMinutes(30).toMillis();

  private record Sample(long atMs, long freeBytes) {}

  private final Deque<Sample> samples = new ArrayDeque<>();

  /** Takes what is free at a moment; the moments of a machine's steady clock, ms. */
  void take(long nowMs, long freeBytes) {
    Sample last = samples.peekLast();
    if (last == null || nowMs - last.atMs >= EVERY_MS) {
      samples.addLast(new Sample(nowMs, freeBytes));
    }
    while (nowMs - samples.getFirst().atMs > WINDOW_MS) {
      samples.removeFirst();
    }
  }

  /**
   * How long the disk lasts when it goes on like this; empty while it does not fill, and until it
   * has been looked at for ten minutes.
   */
  Optional<Duration> left() {
    Sample first = samples.peekFirst();
    Sample last = samples.peekLast();
    if (first == null || last == null || last.atMs - first.atMs < AT_LEAST_MS) {
      return Optional.empty();
    }
    double perMs = (double) (first.freeBytes - last.freeBytes) / (last.atMs - first.atMs);
    return perMs <= 0
        ? Optional.empty()
        : Optional.of(Duration.ofMillis((long) (last.freeBytes / perMs)));
  }
}
