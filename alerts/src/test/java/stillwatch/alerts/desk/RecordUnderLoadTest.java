package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Role;
import stillwatch.alerts.route.Backoff;
import stillwatch.alerts.route.Outbox;
import stillwatch.alerts.route.Route;
import stillwatch.alerts.route.Sender;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;
import stillwatch.rules.plan.RoutePlan;

/**
 * Random actions of the desk while alarms come in and go out, with restarts after its end and after
 * a kill: the record is whole before, during and after.
 */
class RecordUnderLoadTest {
  private static final int ACTIONS = Integer.getInteger("stillwatch.actions", 60);
  private static final int RESTARTS = 4;
  private static final int POINTS = 12;
  private static final String FILE = "journal.mv.db";

  private static final DeskPlan PLAN =
      new DeskPlan(
          Duration.ofHours(2),
          Duration.ofMinutes(20),
          Set.of(),
          Map.of("gauge-noisy", List.of("closing")),
          3,
          Duration.ofMinutes(1));

  private final HandSetClock clock = HandSetClock.ticking("2026-03-08T12:00:00Z");
  private final AtomicInteger posts = new AtomicInteger();
  private final AtomicInteger messages = new AtomicInteger();
  private final HttpServer receiver;

  @TempDir Path folder;

  RecordUnderLoadTest() throws IOException {
    receiver = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
  }

  /** A receiver that takes two of three. */
  @BeforeEach
  void receive() {
    receiver.createContext(
        "/",
        x -> {
          long taken = x.getRequestBody().readAllBytes().length;
          boolean takes = posts.incrementAndGet() % 3 > 0;
          x.sendResponseHeaders(taken > 0 && takes ? 204 : 503, -1);
          x.close();
        });
    receiver.start();
  }

  @AfterEach
  void stop() {
    receiver.stop(0);
  }

  private Route route() throws GeneralSecurityException {
    URI url = URI.create("http://127.0.0.1:" + receiver.getAddress().getPort() + "/");
    return Route.of(
        new RoutePlan(
            "duty",
            new RoutePlan.Webhook(url, null),
            Priority.LOW,
            null,
            Duration.ofMinutes(5),
            null),
        "larkspur-2",
        Trust.usual());
  }

  @ParameterizedTest
  @EnumSource
  @Timeout(300)
  void theRecordIsWholeBeforeDuringAndAfterEverything(Databases database) throws Exception {
    Random random = new Random(20_260_308);
    int checks = 0;
    Path now = folder;
    for (int run = 0; run < RESTARTS; run++) {
      Path killed = run % 2 == 1 && database == Databases.FILE ? folder.resolve("run" + run) : now;
      try (Journal journal = database.open(now)) {
        whole(journal);
        checks += underLoad(journal, random, now, killed);
        whole(journal);
      }
      now = killed;
    }
    try (Journal journal = database.open(now)) {
      whole(journal);
    }
    assertThat(checks).as("how often it was verified meanwhile").isGreaterThan(RESTARTS);
    assertThat(posts.get()).as("something went out meanwhile").isGreaterThan(RESTARTS);
  }

  private static void whole(Journal journal) {
    assertThat(JournalCheck.of(journal, null).fault()).isNull();
  }

  /**
   * Acts while alarms come in, go out and the record is verified; returns how often it was.
   *
   * @param killed where a file is left as a kill leaves it at the end of the actions; the journal's
   *     own folder for no kill
   */
  private int underLoad(Journal journal, Random random, Path now, Path killed) throws Exception {
    Route route = route();
    Outbox outbox = new Outbox("larkspur-2", journal, List.of(route));
    Desk desk = new Desk("larkspur-2", PLAN, journal, outbox, clock);
    AtomicBoolean over = new AtomicBoolean();
    ExecutorService others = Executors.newFixedThreadPool(3);
    try (Sender sender = new Sender(outbox, route, new Backoff(1, 5, new Random(1)), clock)) {
      var sending = others.submit(sender);
      var taking = others.submit(() -> take(desk, over));
      Future<Integer> checking = others.submit(() -> check(journal, over));
      People people = new People(journal, clock);
      for (int i = 0; i < ACTIONS / RESTARTS; i++) {
        act(journal, desk, people, random);
      }
      if (!killed.equals(now)) {
        Files.createDirectory(killed);
        Files.write(killed.resolve(FILE), atOneInstant(now.resolve(FILE)));
      }
      over.set(true);
      sender.close();
      taking.get();
      sending.get();
      return checking.get();
    } finally {
      over.set(true);
      others.shutdown();
      assertThat(others.awaitTermination(60, TimeUnit.SECONDS)).isTrue();
    }
  }

  /**
   * A file that somebody writes, as it is at one instant: read twice with nothing written between.
   */
  private static byte[] atOneInstant(Path file) throws IOException {
    byte[] before = Files.readAllBytes(file);
    byte[] now = Files.readAllBytes(file);
    while (!Arrays.equals(before, now)) {
      before = now;
      now = Files.readAllBytes(file);
    }
    return now;
  }

  private static int check(Journal journal, AtomicBoolean over) {
    int checks = 0;
    while (!over.get()) {
      whole(journal);
      checks++;
    }
    return checks;
  }

  private void take(Desk desk, AtomicBoolean over) {
    while (!over.get()) {
      int n = messages.getAndIncrement();
      String gauge = "G" + n / 2 % POINTS;
      var raised =
          Findings.at("gauge-noisy", gauge, n / 2 % 5 == 0 ? Priority.HIGH : Priority.LOW, n / 2);
      desk.take(
          Topics.ALERTS,
          List.of(
              Findings.message(
                  n, n % 2 == 0 ? raised : raised.over(n, "It is over.", "watching"))));
    }
  }

  private void act(Journal journal, Desk desk, People people, Random random) {
    List<DeskAlarm> open = desk.open();
    List<Hold> holds = desk.holds();
    String id = open.isEmpty() ? "" : open.get(random.nextInt(open.size())).finding().id();
    int what = id.isEmpty() ? 6 : random.nextInt(10);
    switch (what) {
      case 0 -> desk.acknowledge(id, "Ada", "seen");
      case 1 -> desk.shelve(id, Duration.ofMinutes(1 + random.nextInt(60)), "Ada", "known");
      case 2 -> desk.remove(id, "Root", "it is exchanged");
      case 3 -> desk.reset(id, "Ada");
      case 4 -> desk.note(id, "Bob", "the camera sees nothing");
      case 5 -> holds.stream().findFirst().ifPresent(h -> desk.restore(h.point(), "Ada"));
      case 6 -> assertThat(people.machine("winch", Role.LOOK, "")).isNotEmpty();
      case 7 -> enter(journal, "decision", "{\"choice\":\"continue\",\"why\":\"it is steady\"}");
      case 8 -> enter(journal, "handover", "{\"to\":\"Bob\",\"text\":\"camera at six\"}");
      default -> {
        clock.forward(Duration.ofMinutes(random.nextInt(30)));
        desk.look(random.nextBoolean() ? "closing" : "watching");
      }
    }
  }

  private void enter(Journal journal, String what, String body) {
    Entry made = journal.write(clock.millis(), r -> r.enter("larkspur-2", what, "", "Ada", body));
    assertThat(made.by()).isEqualTo("Ada");
  }
}
