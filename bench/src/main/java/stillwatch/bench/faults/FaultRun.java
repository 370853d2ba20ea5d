package stillwatch.bench.faults;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** Makes one thing happen to a watch, and hears whether the watch says so meanwhile. */
final class FaultRun {
  private static final long SAID_WITHIN_MS = 20_000;

  private final LiveWatch watch;
  private final RoutePeers peers;
  private final @Nullable LoopDisk disk;
  private final Random random;
  private final List<String> seen;

  /** For a watch, its routes' peers and its disk; what was not said goes to {@code seen}. */
  FaultRun(
      LiveWatch watch,
      RoutePeers peers,
      @Nullable LoopDisk disk,
      Random random,
      List<String> seen) {
    this.watch = watch;
    this.peers = peers;
    this.disk = disk;
    this.random = random;
    this.seen = seen;
  }

  private interface Act {
    void run() throws IOException, InterruptedException;
  }

  /** Lets it happen; gives the moment from which the watch is to come back, ms since 1970 UTC. */
  long happen(Kind kind) throws IOException, InterruptedException {
    long nowMs = System.currentTimeMillis();
    switch (kind) {
      case WATCH_KILLED -> {
        watch.part().kill();
        watch.part().start();
        return nowMs;
      }
      case WATCH_STOPPED -> {
        if (!watch.part().stop()) {
          seen.add("the watch did not stop within half a minute");
          watch.part().kill();
        }
        watch.part().start();
        return nowMs;
      }
      case BROKER_KILLED -> {
        watch.broker().ifPresent(ProcessHandle::destroyForcibly);
        told(kind, "The broker does not work", SAID_WITHIN_MS);
        return nowMs;
      }
      case WATCH_STILL ->
          during(2, 6, () -> watch.part().signal("-STOP"), () -> watch.part().signal("-CONT"));
      case BROKER_STILL -> brokerStill(2 + random.nextInt(7), kind, "");
      case BROKER_LONG_STILL -> brokerStill(25, kind, "no sign of life");
      case PEER_AWAY -> {
        Wire wire = peers.wire(RoutePeers.NAMES.get(random.nextInt(RoutePeers.NAMES.size())));
        during(3, 8, wire::leave, wire::comeBack);
      }
      case PEER_REFUSES -> during(3, 8, () -> peers.answer(500), () -> peers.answer(204));
      case WEBHOOK_AWAY -> longAway(kind, RoutePeers.WEBHOOK);
      case MAIL_AWAY -> longAway(kind, RoutePeers.MAIL);
      case MQTT_AWAY -> longAway(kind, RoutePeers.MQTT);
      case WEBHOOK_HANGS -> hangs(kind, RoutePeers.WEBHOOK);
      case MAIL_HANGS -> hangs(kind, RoutePeers.MAIL);
      case MQTT_HANGS -> hangs(kind, RoutePeers.MQTT);
      default -> onDisk(kind);
    }
    return System.currentTimeMillis();
  }

  private void during(int fromS, int toS, Act begin, Act end)
      throws IOException, InterruptedException {
    begin.run();
    try {
      TimeUnit.SECONDS.sleep(fromS + random.nextInt(toS - fromS + 1));
    } finally {
      end.run();
    }
  }

  private void longAway(Kind kind, String route) throws IOException, InterruptedException {
    Wire wire = peers.wire(route);
    failing(kind, route, wire::leave, wire::comeBack);
  }

  private void hangs(Kind kind, String route) throws IOException, InterruptedException {
    Wire wire = peers.wire(route);
    failing(kind, route, () -> wire.hang(true), () -> wire.hang(false));
  }

  /** Lets a route fail for one to three minutes; that no alarm says so is a failure. */
  private void failing(Kind kind, String route, Act begin, Act end)
      throws IOException, InterruptedException {
    long untilMs = System.currentTimeMillis() + 60_000 + random.nextInt(120_000);
    begin.run();
    try {
      String said = "route " + route + ", ";
      if (!watch.part().says("/api/state", said, untilMs + SAID_WITHIN_MS - now())) {
        seen.add("no alarm said \"" + said + "\": " + kind.words());
      }
      TimeUnit.MILLISECONDS.sleep(Math.max(0, untilMs - now()));
    } finally {
      end.run();
    }
  }

  private static long now() {
    return System.currentTimeMillis();
  }

  private void brokerStill(int seconds, Kind kind, String said)
      throws IOException, InterruptedException {
    Optional<ProcessHandle> broker = watch.broker();
    if (broker.isEmpty()) {
      return;
    }
    Part.signal(broker.get(), "-STOP");
    try {
      if (said.isEmpty()) {
        TimeUnit.SECONDS.sleep(seconds);
      } else {
        told(kind, said, seconds * 1000L);
      }
    } finally {
      Part.signal(broker.get(), "-CONT");
    }
  }

  private void onDisk(Kind kind) throws IOException, InterruptedException {
    LoopDisk on = disk;
    if (on == null) {
      throw new IllegalStateException(kind + " wants a disk");
    }
    switch (kind) {
      case DISK_FULL -> {
        on.fill();
        told(kind, "is full", SAID_WITHIN_MS);
        TimeUnit.SECONDS.sleep(1 + random.nextInt(5));
        on.free();
      }
      case DISK_SLOW -> during(2, 6, () -> on.hold(true), () -> on.hold(false));
      default -> during(3, 6, () -> on.protect(true), () -> on.protect(false));
    }
  }

  /** Waits until the watch says so; that it never did is a failure. */
  private void told(Kind kind, String words, long withinMs) throws InterruptedException {
    if (!watch.part().says("/health", words, withinMs)) {
      seen.add("never said \"" + words + "\": " + kind.words());
    }
  }
}
