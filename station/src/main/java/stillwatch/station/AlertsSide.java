package stillwatch.station;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import java.util.random.RandomGenerator;
import javax.net.ssl.SSLContext;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.DeskClock;
import stillwatch.alerts.desk.FromTheInbox;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Role;
import stillwatch.alerts.room.Digest;
import stillwatch.alerts.room.LogPen;
import stillwatch.alerts.room.Room;
import stillwatch.alerts.room.RoomParts;
import stillwatch.alerts.room.Shift;
import stillwatch.alerts.route.Backoff;
import stillwatch.alerts.route.DigestSender;
import stillwatch.alerts.route.Outbox;
import stillwatch.alerts.route.Route;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.alerts.route.Sender;
import stillwatch.alerts.series.NewestReview;
import stillwatch.alerts.series.PictureFeed;
import stillwatch.alerts.series.WellPicture;
import stillwatch.alerts.watchdog.DeskJudge;
import stillwatch.alerts.watchdog.DiskRoom;
import stillwatch.alerts.watchdog.Heartbeat;
import stillwatch.alerts.watchdog.Watchdog;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicFollower;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.disk.DiskRounds;
import stillwatch.ingest.intake.Reception;
import stillwatch.rules.plan.Plan;

/** Desk, routes, picture, watchdog and room of one well, running. */
final class AlertsSide implements AutoCloseable {
  private static final long FIRST_RETRY_MS = 1000;
  private static final long LONGEST_RETRY_MS = 300_000;

  private final Desk desk;
  private final Outbox outbox;
  private final List<DigestSender> digests = new CopyOnWriteArrayList<>();
  private final List<Route> closing = new ArrayList<>();
  private final Watchdog watchdog;
  private final List<Stage<?>> stages = new ArrayList<>();
  private final Room room;
  private final People people;
  private final LogPen pen;
  private final Plan plan;
  private final Metrics metrics;
  private final Clock clock = Clock.systemUTC();
  private final LongSupplier logMs;

  /**
   * Starts it.
   *
   * @param feeding how the log's time runs
   * @param mode what feeds the log, for people
   * @param reception takes telemetry on the room's address; null where another process does
   */
  AlertsSide(
      Bus bus,
      Journal journal,
      Plan plan,
      Feeding feeding,
      Supplier<String> mode,
      @Nullable Reception reception,
      Metrics metrics,
      RoomOption option) {
    this.plan = plan;
    this.metrics = metrics;
    List<Route> routes = new ArrayList<>();
    String told = feeding.drill() ? plan.well() + "/exercise" : plan.well();
    SSLContext tls = option.outgoing();
    plan.routes().forEach(r -> routes.add(Route.of(r, told, tls)));
    outbox = new Outbox(journal, routes, feeding.drill());
    desk = new Desk(plan.well(), plan.desk(), journal, outbox, clock);
    WellPicture picture = new WellPicture(plan, clock, feeding.drill());
    watchdog = new Watchdog(plan.well(), picture, clock, feeding.pace());
    NewestReview review = new NewestReview(plan.well());
    people = new People(journal, clock);
    pen =
        new LogPen(
            bus,
            () -> feeding.drill() ? picture.logMs() : Math.max(clock.millis(), picture.logMs()));
    RoomParts parts =
        new RoomParts(
            plan,
            picture,
            desk,
            this::routes,
            watchdog,
            review,
            journal,
            new Shift(journal, plan.well()),
            people,
            option.open(),
            option.tls(),
            pen,
            metrics::text,
            mode,
            feeding.drill(),
            reception,
            Cautions.TEXT);
    room = option.listen().first(address -> Room.open(parts, address));
    measure(metrics.registry(), journal, outbox, picture);
    new FigureMeters(
            () ->
                AlarmFigures.sinceFirst(
                    desk.newest(Integer.MAX_VALUE), plan.desk(), picture.logMs()),
            clock)
        .bindTo(metrics.registry());
    begin("desk clock", alive -> new DeskClock(desk, picture::phase, alive));
    PictureFeed feed = new PictureFeed(plan.well(), picture);
    follow(bus, "picture", Topics.TELEMETRY, Assignment.FROM_THE_START, each(feed::take));
    follow(bus, "reader of reviews", Topics.REVIEWS, Assignment.FROM_THE_START, each(review::take));
    follow(
        bus,
        "desk",
        Topics.ALERTS,
        new FromTheInbox(journal, Topics.ALERTS),
        messages -> desk.take(Topics.ALERTS, messages));
    follow(bus, "watchdog", Topics.PROGRESS, Assignment.FROM_THE_START, each(watchdog::take));
    logMs = feeding.drill() ? picture::logMs : clock::millis;
    stages.add(
        Stage.start(
            "judge of the watch",
            () ->
                new DeskJudge(
                    DeskJudge.WATCH_LOST,
                    desk,
                    plan,
                    watchdog::blind,
                    () -> !feeding.over().getAsBoolean(),
                    logMs,
                    clock),
            listener()));
    stages.add(
        Stage.start(
            "judge of the routes",
            () ->
                new DeskJudge(
                    DeskJudge.ROUTE_FAILING, desk, plan, this::failing, () -> true, logMs, clock),
            listener()));
    Plan.Heartbeat heartbeat = plan.heartbeat();
    if (heartbeat != null && !feeding.drill()) { // an exercise is no sign that the well is watched
      stages.add(
          Stage.start(
              "heartbeat",
              () -> new Heartbeat(heartbeat, () -> watchdog.blind().isEmpty(), tls),
              listener()));
    }
    Digest digest = new Digest(parts);
    for (Route route : routes) {
      closing.add(route);
      Duration every = route.plan().digest();
      if (every != null) {
        DigestSender sender = new DigestSender(route, every, digest::text);
        digests.add(sender);
        stages.add(Stage.start("digest " + route.name(), () -> sender, listener()));
        continue;
      }
      Backoff backoff = new Backoff(FIRST_RETRY_MS, LONGEST_RETRY_MS, RandomGenerator.getDefault());
      stages.add(
          Stage.start(
              "route " + route.name(),
              () -> new Sender(outbox, route, backoff, clock),
              listener()));
    }
  }

  /** Looks at the disk of the data folder, and raises an alarm while it runs full. */
  void watch(Disk disk) {
    DiskRoom room = new DiskRoom(disk, plan);
    watchdog.asks(disk::full);
    begin("disk's lookout", alive -> new DiskRounds(disk, alive));
    stages.add(
        Stage.start(
            "judge of the disk",
            () ->
                new DeskJudge(DeskJudge.DISK_LOW, desk, plan, room::low, () -> true, logMs, clock),
            listener()));
    DiskMeters.bind(disk, metrics.registry());
  }

  /** Asks the watch's own broker whether it works. */
  void watch(BrokerProcess broker) {
    watchdog.asks(broker::fault);
  }

  /** Starts a stage that gives signs of life. */
  private <S extends Runnable & AutoCloseable> void begin(String name, Function<Runnable, S> make) {
    Runnable alive = watchdog.expects(name);
    stages.add(Stage.start(name, () -> make.apply(alive), listener()));
  }

  private void follow(
      Bus bus, String name, String topic, Assignment from, Consumer<List<Message>> taking) {
    begin(name, alive -> new TopicFollower(bus, topic, from, taking, alive));
  }

  private static Consumer<List<Message>> each(Consumer<Message> one) {
    return messages -> messages.forEach(one);
  }

  private List<RouteStatus> routes() {
    List<RouteStatus> all = new ArrayList<>();
    for (RouteStatus s : outbox.status(System.currentTimeMillis())) {
      all.add(
          digests.stream()
              .map(DigestSender::status)
              .filter(d -> d.name().equals(s.name()))
              .findFirst()
              .orElse(s));
    }
    return all;
  }

  private List<String> failing() {
    return routes().stream()
        .filter(RouteStatus::failing)
        .map(r -> "route " + r.name() + ", " + r.waiting() + " waiting: " + r.fault() + ".")
        .toList();
  }

  private void measure(MeterRegistry meters, Journal journal, Outbox outbox, WellPicture picture) {
    Gauge.builder("stillwatch.watching", () -> watchdog.blind().isEmpty() ? 1 : 0)
        .description("1 when the watch can see, 0 when it is blind")
        .register(meters);
    Gauge.builder("stillwatch.readings.age", () -> picture.frameAgeMs().orElse(-1000L) / 1000.0)
        .baseUnit("seconds")
        .description("age of the newest readings; -1 when none have come")
        .register(meters);
    Gauge.builder("stillwatch.alarms.open", desk::openCount)
        .description("alarms that ask for somebody")
        .register(meters);
    Gauge.builder("stillwatch.record.entries", () -> journal.head().seq())
        .description("entries of the record; one that shrinks was cut")
        .register(meters);
    for (Route route : outbox.routes()) {
      Gauge.builder(
              "stillwatch.route.waiting",
              () -> waiting(outbox.status(System.currentTimeMillis()), route.name()))
          .tag("route", route.name())
          .description("deliveries that wait")
          .register(meters);
    }
  }

  private static double waiting(List<RouteStatus> all, String route) {
    return all.stream().filter(s -> s.name().equals(route)).mapToLong(RouteStatus::waiting).sum();
  }

  /** Tells the watchdog of stages that stop. */
  Stage.Listener listener() {
    return new Stage.Listener() {
      @Override
      public void stopped(String stage, String why) {
        watchdog.stopped(stage, why);
      }

      @Override
      public void running(String stage) {
        watchdog.running(stage);
      }
    };
  }

  Desk desk() {
    return desk;
  }

  /** The secret of a link by which the first administrator enters; empty once there is one. */
  Optional<String> firstLink() {
    return people.nobody() ? Optional.of(people.invite(Role.ADMINISTER, "")) : Optional.empty();
  }

  int port() {
    return room.port();
  }

  @Override
  public void close() {
    stages.forEach(Stage::end);
    room.close();
    pen.close();
    stages.forEach(Stage::close);
    closing.forEach(Route::close);
  }
}
