package stillwatch.bench.faults;

import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.service.RulesService;
import stillwatch.rules.service.RulesService.WatchedWell;

/**
 * A quarter of an hour of an invented well through the rules service, on a broker in memory and on
 * simulated time, with one thread: the same seed gives the same run. The service is killed, robbed
 * of its well and overtaken at drawn moments, and the log itself has what sources do to it.
 */
final class LogRun {
  private static final long BEGIN_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();
  private static final Duration HOUR = Duration.ofHours(1);
  private static final long HOUR_MS = HOUR.toMillis();
  private static final int SECONDS = 900;
  private static final GaugeSet GAUGES = GaugeSet.of(Course.GAUGES);

  private final Plan plan;
  private final RuleBook book;
  private final Tally tally;
  private final Random random;
  private final MemoryBus bus;
  private final List<Message> toCome = new ArrayList<>();
  private final SteppedClock wall = new SteppedClock(); // of the rules' machine
  private int left;
  private boolean through;

  private LogRun(WatchedWell watched, long seed, int faults, Tally tally) {
    plan = watched.plan();
    book = watched.book();
    this.tally = tally;
    random = new Random(seed);
    bus = new MemoryBus(random);
    left = faults;
  }

  /**
   * Runs it to the end of the log.
   *
   * @param faults how often the service is disturbed
   * @return what is left of it, without readings and messages, which are not sent here
   */
  static Evidence of(WatchedWell watched, Course course, long seed, int faults, Tally tally) {
    LogRun run = new LogRun(watched, seed, faults, tally);
    run.draw(course);
    return run.run();
  }

  /** Draws the log. */
  private void draw(Course course) {
    TelemetryCodec codec = new TelemetryCodec();
    List<Telemetry> entries = new ArrayList<>();
    for (int s = 0; s < SECONDS; s++) {
      long nowMs = BEGIN_MS + s * 1000L;
      entries.add(new Pulse(plan.well(), nowMs, nowMs));
      entries.add(Frame.good(plan.well(), nowMs, nowMs, GAUGES, course.at(s)));
    }
    for (int i = Course.QUIET; i < entries.size() - 60; i++) {
      if (random.nextInt(60) == 0) {
        disturb(entries, i);
      }
    }
    long receivedMs = BEGIN_MS;
    for (Telemetry t : entries) {
      receivedMs = Math.max(receivedMs, t.receivedMs()); // the intake's stamp never decreases
      toCome.add(codec.encode(received(t, receivedMs)));
      if (random.nextInt(200) == 0) {
        tally.broke(Kind.ENTRY_UNREADABLE);
        byte[] wrong = new byte[1 + random.nextInt(60)];
        random.nextBytes(wrong);
        Map<String, String> headers = toCome.get(0).headers();
        toCome.add(Message.of(plan.well(), wrong, headers));
      }
    }
  }

  private void disturb(List<Telemetry> entries, int at) {
    switch (random.nextInt(4)) {
      case 0 -> {
        tally.broke(Kind.ENTRY_TWICE);
        entries.add(at + 1 + random.nextInt(20), entries.get(at));
      }
      case 1 -> {
        tally.broke(Kind.ENTRY_LATE);
        entries.add(at + random.nextInt(50), entries.remove(at));
      }
      case 2 -> {
        tally.broke(Kind.ENTRIES_REORDERED);
        Collections.shuffle(entries.subList(at, at + 20), random);
      }
      default -> {
        tally.broke(Kind.ENTRY_CLOCK);
        long offMs = random.nextBoolean() ? HOUR_MS : -HOUR_MS;
        if (entries.get(at) instanceof Frame f) {
          entries.set(
              at, Frame.good(f.well(), f.atMs() + offMs, f.receivedMs(), f.gauges(), f.values()));
        }
      }
    }
  }

  private static Telemetry received(Telemetry t, long ms) {
    return t instanceof Frame f
        ? Frame.good(f.well(), f.atMs(), ms, f.gauges(), f.values())
        : new Pulse(t.well(), ms, ms);
  }

  private Evidence run() {
    while (!through) {
      serve(true);
    }
    List<String> all =
        UndisturbedRun.replay(plan, book, bus.topic(Topics.TELEMETRY), Long.MAX_VALUE);
    List<String> topic = UndisturbedRun.names(bus.topic(Topics.ALERTS));
    SimulatedDesk.Told told = SimulatedDesk.take(plan.well(), bus, random, tally);
    List<String> seen =
        all.isEmpty()
            ? List.of("the log raises nothing, so that the run proves nothing")
            : List.of();
    return new Evidence(
        all,
        all,
        topic,
        told.names(),
        told.wanted(),
        told.delivered(),
        List.of(),
        told.fault(),
        seen);
  }

  /**
   * Runs a service until it is killed or has read everything.
   *
   * @param first whether it may be disturbed and the log goes on; not the one that takes over
   */
  private void serve(boolean first) {
    RulesService service =
        new RulesService(
            bus, List.of(new WatchedWell(plan, book)), wall, new SimpleMeterRegistry());
    MemoryBus.Weather before =
        bus.weather(
            (moment, reader) -> {
              if (moment == MemoryBus.Moment.DRY) {
                dry(service, first);
              } else if (first && left > 0) {
                disturb(moment, reader);
              }
            });
    try {
      service.run();
    } catch (MemoryBus.Killed e) {
      through = false;
    } finally {
      bus.weather(before);
    }
  }

  private void disturb(MemoryBus.Moment moment, MemoryBus.Reader reader) {
    if (moment == MemoryBus.Moment.POLL && random.nextInt(12) == 0) {
      left--;
      polled(reader);
    } else if (moment == MemoryBus.Moment.WRITING && random.nextInt(3) == 0) {
      left--;
      if (random.nextBoolean()) {
        tally.broke(Kind.RULES_KILLED_WRITING);
        throw new MemoryBus.Killed("before it wrote");
      }
      tally.broke(Kind.STOOD_STILL);
      serve(false);
    } else if (moment == MemoryBus.Moment.WRITTEN && random.nextInt(3) == 0) {
      left--;
      tally.broke(Kind.RULES_KILLED_WRITTEN);
      throw new MemoryBus.Killed("after it wrote");
    }
  }

  private void polled(MemoryBus.Reader reader) {
    switch (random.nextInt(3)) {
      case 0 -> {
        tally.broke(Kind.RULES_KILLED_READING);
        throw new MemoryBus.Killed("between two entries");
      }
      case 1 -> {
        tally.broke(Kind.REBALANCE);
        reader.rebalance();
      }
      default -> {
        tally.broke(Kind.WALL_STEP);
        wall.step(random.nextBoolean() ? HOUR : HOUR.negated());
      }
    }
  }

  /** More of the log comes; where there is no more, the service ends. */
  private void dry(RulesService service, boolean first) {
    int more = first ? Math.min(toCome.size(), 50 + random.nextInt(250)) : 0;
    if (more == 0) {
      through = first;
      service.close();
      return;
    }
    List<Message> next = toCome.subList(0, more);
    next.forEach(m -> bus.append(Topics.TELEMETRY, m));
    next.clear();
  }
}
