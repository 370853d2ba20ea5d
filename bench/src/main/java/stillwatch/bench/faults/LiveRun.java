package stillwatch.bench.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.service.RulesService.WatchedWell;

/**
 * Real processes, a source and a route's peer, to which things happen one after the other; each is
 * waited for until the watch is as before.
 */
final class LiveRun implements AutoCloseable {
  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm:ss");
  private static final long LONGEST_BACK_MS = 180_000;

  /** A route that failed for long pauses for up to five minutes before it tries again. */
  private static final long LONGEST_ROUTE_MS = 480_000;

  private static final long LONGEST_REST_MS = 180_000;

  private final WatchedWell watched;
  private final Tally tally;
  private final Random random;
  private final RoutePeers peers = new RoutePeers();
  private final Subject subject;
  private final Ledger ledger = new Ledger();
  private final Feeder feeder;
  private final Thread feeding;
  private final RulesProgress judged = new RulesProgress();
  private final List<String> seen = new ArrayList<>();

  /**
   * Starts everything in an empty folder.
   *
   * @param spread whether every part is a process of its own
   */
  LiveRun(WatchedWell watched, Course course, long seed, Path folder, Tally tally, boolean spread)
      throws IOException, InterruptedException {
    this.watched = watched;
    this.tally = tally;
    random = new Random(seed);
    Files.createDirectories(folder);
    Path plan = folder.resolve("plan.yaml");
    Files.writeString(plan, Files.readString(FaultsBench.PLAN) + peers.plan());
    subject =
        spread ? new SplitSubject(folder, plan) : new WatchSubject(folder, plan, peers, tally);
    feeder = new Feeder(subject.door(), watched.plan().well(), course, ledger, tally, seed);
    feeding = new Thread(feeder, "feeder");
    feeding.setDaemon(true);
  }

  /** Lets these happen; gives what is left. */
  Evidence run(List<Kind> kinds) throws IOException, InterruptedException {
    feeding.start();
    back(Optional.empty(), System.currentTimeMillis());
    for (Kind kind : kinds) {
      if (!subject.suffers(kind)) {
        continue;
      }
      tally.broke(kind);
      long sinceMs = subject.happen(kind, random, seen);
      back(Optional.of(kind), sinceMs);
      TimeUnit.MILLISECONDS.sleep(random.nextInt(3000));
    }
    rest();
    say("at rest");
    return evidence();
  }

  /**
   * Waits until a reading sent since then is accepted, the watch says that it watches, and the
   * rules have judged what came since.
   */
  private void back(Optional<Kind> after, long sinceMs) throws InterruptedException {
    String what = after.map(Kind::words).orElse("start");
    long longestMs = after.map(Kind::toPeer).orElse(false) ? LONGEST_ROUTE_MS : LONGEST_BACK_MS;
    long untilMs = System.currentTimeMillis() + longestMs;
    while (System.currentTimeMillis() < untilMs) {
      if (feeder.acceptedSinceMs() >= sinceMs
          && says(h -> h.contains("\"watching\":true"))
          && judged.upToMs(subject.brokerAddress()) >= sinceMs
          && (!after.map(Kind::toPeer).orElse(false) || routesAreEmpty())) {
        long tookMs = System.currentTimeMillis() - sinceMs;
        after.ifPresent(kind -> tally.recovered(kind, tookMs));
        say(what + ": back after " + tookMs + " ms");
        return;
      }
      TimeUnit.MILLISECONDS.sleep(100);
    }
    seen.add(
        "not back after "
            + longestMs / 1000
            + " s: "
            + what
            + "; "
            + subject.state()
            + ", health "
            + subject.desk().health().orElse("without an answer"));
    say(seen.get(seen.size() - 1));
    revive();
  }

  private static void say(String what) {
    System.out.println(LocalTime.now(ZoneOffset.UTC).format(TIME) + " " + what);
  }

  private void revive() {
    try {
      subject.revive();
    } catch (IOException e) {
      seen.add("what had ended could not be started again: " + e.getMessage());
    }
  }

  private boolean says(Predicate<String> wanted) throws InterruptedException {
    return subject.desk().health().filter(wanted).isPresent();
  }

  /** Waits until everything sent is judged and everything that goes out has gone. */
  private void rest() throws InterruptedException {
    feeder.behave();
    long untilMs = System.currentTimeMillis() + LONGEST_REST_MS;
    boolean through = false;
    while (!through && System.currentTimeMillis() < untilMs) {
      TimeUnit.MILLISECONDS.sleep(500);
      through = feeder.through();
    }
    feeder.close();
    feeding.join();
    long restMs = System.currentTimeMillis();
    while (System.currentTimeMillis() < untilMs
        && (judged.upToMs(subject.brokerAddress()) < restMs || !routesAreEmpty())) {
      TimeUnit.MILLISECONDS.sleep(200);
    }
    if (System.currentTimeMillis() >= untilMs) {
      seen.add("not at rest after " + LONGEST_REST_MS / 1000 + " s");
    }
    seen.addAll(feeder.wrong());
    if (ledger.accepted() != feeder.made()) {
      seen.add(ledger.accepted() + " of " + feeder.made() + " readings were accepted in the end");
    }
  }

  private boolean routesAreEmpty() throws InterruptedException {
    return subject
        .desk()
        .get("/metrics")
        .filter(
            m ->
                RoutePeers.NAMES.stream()
                    .allMatch(r -> m.contains("stillwatch_route_waiting{route=\"" + r + "\"} 0")))
        .isPresent();
  }

  private Evidence evidence() throws IOException, InterruptedException {
    long judgedMs = judged.upToMs(subject.brokerAddress());
    judged.close();
    try (Records records = subject.end(seen)) {
      Bus bus = records.bus();
      Journal journal = records.journal();
      List<Message> log = all(bus, Topics.TELEMETRY);
      List<String> all = UndisturbedRun.replay(watched.plan(), watched.book(), log, Long.MAX_VALUE);
      if (all.isEmpty()) {
        seen.add("the readings raise nothing, so that the run proves nothing");
      }
      seen.addAll(peers.unmarked());
      return new Evidence(
          UndisturbedRun.replay(watched.plan(), watched.book(), log, judgedMs),
          all,
          UndisturbedRun.names(all(bus, Topics.ALERTS)),
          SimulatedDesk.names(journal),
          RoutePeers.each(SimulatedDesk.wanted(journal)),
          peers.delivered(),
          ledger.against(log),
          JournalCheck.of(journal, null).fault(),
          seen);
    }
  }

  private static List<Message> all(Bus bus, String topic) {
    List<Message> all = new ArrayList<>();
    try (TopicReader reader = bus.readerOfAll(topic, Assignment.FROM_THE_START)) {
      Map<Integer, Long> ends = reader.endOffsets();
      while (!reader.passed(ends)) {
        all.addAll(reader.poll(Duration.ofMillis(200)));
      }
    }
    return all;
  }

  @Override
  public void close() throws IOException {
    feeder.close();
    judged.close();
    subject.close();
    peers.close();
  }
}
