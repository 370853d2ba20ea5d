package stillwatch.alerts.room;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import javax.net.ssl.SSLContext;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.AlarmBoard;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.people.People;
import stillwatch.alerts.route.RouteStatus;
import stillwatch.alerts.series.NewestReview;
import stillwatch.alerts.series.WellPicture;
import stillwatch.alerts.watchdog.Watchdog;
import stillwatch.ingest.intake.Reception;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.rules.plan.Plan;

/**
 * What a room shows and writes to.
 *
 * @param plan the well's plan
 * @param picture the well as its log tells it
 * @param board its alarms
 * @param routes how the routes are doing
 * @param watchdog whether the watch can see
 * @param review what the newest reading of the build-up says
 * @param journal the record
 * @param shift who is on shift
 * @param people who may come in
 * @param open whether nobody is asked who they are; heeded on this machine's own address only
 * @param tls what the room speaks TLS with; null for plain HTTP
 * @param pen writes what people do and see into the log
 * @param metrics the metrics in Prometheus text form
 * @param mode what feeds the log, for people, for example {@code live}
 * @param exercise whether a recording feeds it
 * @param reception takes telemetry at {@code POST /telemetry}; null where another process does
 * @param sources how the sources are that this process fetches readings from
 * @param cautions what must stand wherever a person reads results
 */
public record RoomParts(
    Plan plan,
    WellPicture picture,
    AlarmBoard board,
    Supplier<List<RouteStatus>> routes,
    Watchdog watchdog,
    NewestReview review,
    Journal journal,
    Shift shift,
    People people,
    boolean open,
    @Nullable SSLContext tls,
    LogPen pen,
    Supplier<String> metrics,
    Supplier<String> mode,
    boolean exercise,
    @Nullable Reception reception,
    Supplier<List<SourceHealth.State>> sources,
    String cautions) {
  /** The newest review of the build-up; empty where the well was opened or shut in after it. */
  Optional<JsonNode> reviewOfThisShutIn() {
    Optional<Long> shutInMs = picture.shutInMs();
    return review
        .words()
        .filter(r -> !picture.open())
        .filter(
            r ->
                shutInMs.isEmpty()
                    || Instant.parse(r.path("at").asText()).toEpochMilli() >= shutInMs.get());
  }
}
