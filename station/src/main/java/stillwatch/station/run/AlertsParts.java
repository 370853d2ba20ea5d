package stillwatch.station.run;

import io.micrometer.core.instrument.MeterRegistry;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import javax.net.ssl.SSLContext;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.AlarmFigures;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Role;
import stillwatch.alerts.room.LogPen;
import stillwatch.alerts.room.RoomParts;
import stillwatch.alerts.room.Shift;
import stillwatch.alerts.series.NewestReview;
import stillwatch.alerts.series.WellPicture;
import stillwatch.alerts.watchdog.Watchdog;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.rules.plan.Plan;
import stillwatch.station.output.Cautions;

/** What the alerts of one well are made of; making it starts nothing. */
public final class AlertsParts {
  private final Journal journal;
  private final Plan plan;
  private final LogPace logPace;
  private final Clock clock = Clock.systemUTC();
  private final Trust outgoing;
  private final RoutesSide routes;
  private final Desk desk;
  private final WellPicture picture;
  private final Watchdog watchdog;
  private final NewestReview review;
  private final People people;
  private final LogPen pen;
  private final Metrics metrics;

  /**
   * Makes it.
   *
   * @param logPace how the log's time runs
   * @param outgoing whom alerts that go out trust
   */
  public AlertsParts(
      Bus bus, Journal journal, Plan plan, LogPace logPace, Trust outgoing, Metrics metrics) {
    this.journal = journal;
    this.plan = plan;
    this.logPace = logPace;
    this.outgoing = outgoing;
    this.metrics = metrics;
    routes = new RoutesSide(plan, journal, logPace.drill(), outgoing);
    desk = new Desk(plan.well(), plan.desk(), journal, routes.outbox(), clock);
    picture = new WellPicture(plan, clock, logPace.drill());
    watchdog = new Watchdog(plan.well(), picture, clock, logPace.pace());
    if (logPace.drill()) {
      journal.exercise(picture::logMs);
    }
    review = new NewestReview(plan.well());
    people = new People(journal, clock);
    pen =
        new LogPen(
            bus,
            () -> logPace.drill() ? picture.logMs() : Math.max(clock.millis(), picture.logMs()));
  }

  /** What the room shows. */
  RoomParts shown(
      boolean open,
      @Nullable SSLContext tls,
      Supplier<String> mode,
      @Nullable Reception reception,
      Supplier<List<SourceHealth.State>> sources) {
    return new RoomParts(
        plan,
        picture,
        desk,
        routes::status,
        watchdog,
        review,
        journal,
        new Shift(journal, plan.well()),
        people,
        open,
        tls,
        pen,
        metrics::text,
        mode,
        logPace.drill(),
        reception,
        sources,
        Cautions.TEXT);
  }

  /** Has everything measured. */
  void measure() {
    MeterRegistry meters = metrics.registry();
    WatchMeters.bindSight(watchdog, picture, meters);
    WatchMeters.bindDesk(desk, journal, meters);
    WatchMeters.bindRoutes(routes.outbox(), meters);
    new FigureMeters(
            () ->
                AlarmFigures.sinceFirst(
                    desk.newest(Integer.MAX_VALUE), plan.desk(), picture.logMs()),
            clock)
        .bindTo(meters);
  }

  /** The secret of a link by which the first administrator enters; empty once there is one. */
  Optional<String> firstLink() {
    return people.nobody() ? Optional.of(people.invite(Role.ADMINISTER, "")) : Optional.empty();
  }

  /** Now, by the log's time: the recording's in a drill, else this machine's. */
  LongSupplier logMs() {
    return logPace.drill() ? picture::logMs : clock::millis;
  }

  Journal journal() {
    return journal;
  }

  Plan plan() {
    return plan;
  }

  LogPace logPace() {
    return logPace;
  }

  Clock clock() {
    return clock;
  }

  /** Whom alerts that go out trust. */
  Trust outgoing() {
    return outgoing;
  }

  RoutesSide routes() {
    return routes;
  }

  Desk desk() {
    return desk;
  }

  WellPicture picture() {
    return picture;
  }

  Watchdog watchdog() {
    return watchdog;
  }

  NewestReview review() {
    return review;
  }

  LogPen pen() {
    return pen;
  }

  Metrics metrics() {
    return metrics;
  }
}
