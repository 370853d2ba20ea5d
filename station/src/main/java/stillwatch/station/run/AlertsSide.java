package stillwatch.station.run;

import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.DeskClock;
import stillwatch.alerts.desk.FromTheInbox;
import stillwatch.alerts.room.Digest;
import stillwatch.alerts.room.Room;
import stillwatch.alerts.room.RoomParts;
import stillwatch.alerts.series.PictureFeed;
import stillwatch.alerts.watchdog.DeskJudge;
import stillwatch.alerts.watchdog.DiskRoom;
import stillwatch.alerts.watchdog.Heartbeat;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicFollower;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.disk.Disk;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.RoomOption;

/** Desk, routes, picture, watchdog and room of one well, running. */
public final class AlertsSide implements AutoCloseable {
  private final AlertsParts parts;
  private final Room room;
  private final Stages stages;

  private AlertsSide(AlertsParts parts, Room room) {
    this.parts = parts;
    this.room = room;
    stages = new Stages(parts.watchdog());
  }

  /**
   * Opens the room and starts everything.
   *
   * @param mode what feeds the log, for people
   * @param reception takes telemetry on the room's address; null where another process does
   * @param sources how the sources are that this process fetches readings from
   */
  public static AlertsSide start(
      AlertsParts parts,
      Bus bus,
      Supplier<String> mode,
      @Nullable Reception reception,
      Supplier<List<SourceHealth.State>> sources,
      RoomOption option) {
    RoomParts shown = parts.shown(option.open(), option.tls(), mode, reception, sources);
    AlertsSide side =
        new AlertsSide(parts, option.listen().first(address -> Room.open(shown, address)));
    parts.measure();
    side.follow(bus);
    side.judge();
    side.sendHeartbeats();
    parts.routes().start(side.stages, new Digest(shown, parts.clock()), parts.clock());
    return side;
  }

  private void follow(Bus bus) {
    Desk desk = parts.desk();
    stages.startAlive("desk clock", alive -> new DeskClock(desk, parts.picture()::phase, alive));
    PictureFeed feed = new PictureFeed(parts.plan().well(), parts.picture());
    Assignment start = Assignment.FROM_THE_START;
    follow(bus, "picture", Topics.TELEMETRY, start, each(feed::take));
    follow(bus, "reader of reviews", Topics.REVIEWS, start, each(parts.review()::take));
    follow(
        bus,
        "desk",
        Topics.ALERTS,
        new FromTheInbox(parts.journal(), parts.plan().well(), Topics.ALERTS),
        messages -> desk.take(Topics.ALERTS, messages));
    follow(bus, "watchdog", Topics.PROGRESS, start, each(parts.watchdog()::take));
  }

  private void follow(
      Bus bus, String name, String topic, Assignment from, Consumer<List<Message>> taking) {
    stages.startAlive(name, alive -> new TopicFollower(bus, topic, from, taking, alive));
  }

  private static Consumer<List<Message>> each(Consumer<Message> one) {
    return messages -> messages.forEach(one);
  }

  private void judge() {
    BooleanSupplier over = parts.logPace().over();
    judge(
        "judge of the watch",
        DeskJudge.WATCH_LOST,
        parts.watchdog()::blind,
        () -> !over.getAsBoolean());
    judge("judge of the routes", DeskJudge.ROUTE_FAILING, parts.routes()::failing, () -> true);
    judge(
        "judge of the digest",
        DeskJudge.SHORE_UNREACHED,
        parts.routes()::shoreUnreached,
        () -> parts.picture().absence().isPresent() && !over.getAsBoolean());
  }

  private void judge(String name, String rule, Supplier<List<String>> why, BooleanSupplier asked) {
    stages.start(
        name,
        () ->
            new DeskJudge(
                rule, parts.desk(), parts.plan(), why, asked, parts.logMs(), parts.clock()));
  }

  /** An exercise sends none: it is no sign that the well is watched. */
  private void sendHeartbeats() {
    Plan.Heartbeat heartbeat = parts.plan().heartbeat();
    if (heartbeat != null && !parts.logPace().drill()) {
      stages.start(
          "heartbeat",
          () ->
              new Heartbeat(
                  heartbeat, () -> parts.watchdog().blind().isEmpty(), parts.outgoing().context()));
    }
  }

  /** Looks at the disk of the data folder, and raises an alarm while it runs full. */
  public void watch(Disk disk) {
    DiskRoom left = new DiskRoom(disk, parts.plan());
    parts.watchdog().asks(disk::full);
    stages.startAlive("disk's lookout", alive -> Lookouts.disk(disk, alive));
    judge("judge of the disk", DeskJudge.DISK_LOW, left::low, () -> true);
    DiskMeters.bind(disk, parts.metrics().registry());
  }

  /** Asks the watch's own broker whether it works. */
  public void watch(BrokerProcess broker) {
    parts.watchdog().asks(broker::fault);
  }

  /** Tells the watchdog of stages that stop. */
  public Stage.Listener listener() {
    return stages;
  }

  /** The desk, which can be listened to. */
  public Desk desk() {
    return parts.desk();
  }

  /** The secret of a link by which the first administrator enters; empty once there is one. */
  public Optional<String> firstLink() {
    return parts.firstLink();
  }

  /** The port of the room. */
  public int port() {
    return room.port();
  }

  @Override
  public void close() {
    stages.end();
    room.close();
    parts.pen().close();
    stages.close();
    parts.routes().close();
  }
}
