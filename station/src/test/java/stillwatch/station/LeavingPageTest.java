package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/**
 * People leave before a gale and watch from shore: what is entered on the page, what is mailed
 * ashore, and what is told once they are back. What is right is what the demo's plan says.
 */
@Timeout(200)
class LeavingPageTest extends PageOfOneWatch {
  private final BlockingQueue<String> digests = new LinkedBlockingQueue<>();
  private final HttpServer shore;

  LeavingPageTest() throws IOException {
    super("60", "2026-03-08T08:40:00Z");
    shore = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    shore.createContext(
        "/",
        exchange -> {
          digests.add(new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
          exchange.sendResponseHeaders(204, -1);
          exchange.close();
        });
    shore.start();
  }

  private Path plan() {
    return folder.resolve("plan.yaml");
  }

  /** By the demo plan with one route more, which takes a digest ashore. */
  @Override
  WatchProcess begun(Path data) throws IOException {
    Files.writeString(
        plan(),
        Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml"))
            + "\nroutes: {webhooks: [{name: shore, digest: 5 s, url: \"http://127.0.0.1:%d/\"}]}\n"
                .formatted(shore.getAddress().getPort()));
    List<String> drill = WatchProcess.drilling(data, "leak.csv.gz", speed, options(from));
    drill.set(drill.indexOf("--plan") + 1, plan().toString());
    return WatchProcess.start(drill.toArray(String[]::new));
  }

  @AfterAll
  void stop() {
    shore.stop(0);
  }

  /** The first digest from now on that says this; the twelfth where none does. */
  private String digest(String saying) throws InterruptedException {
    digests.clear();
    String digest = next();
    for (int i = 0; i < 12 && !digest.contains(saying); i++) {
      digest = next();
    }
    return digest;
  }

  private String next() throws InterruptedException {
    String digest = digests.poll(60, TimeUnit.SECONDS);
    assertThat(digest).as("a digest every 5 s").isNotNull();
    return digest;
  }

  /**
   * The hours are the plan's: the slowest unit takes 20 h to connect and 36 h to be back after the
   * weather, and the deciders meet every 6 h from 08:15 on.
   */
  @Test
  @Order(1)
  void leavingForWeatherIsDecidedOnItsEvidenceAndWatchedFromShoreByName() throws Exception {
    assertThat(next()).contains("If the next one does not come, call the room.");
    sheet("weather");
    page.says("#leaving-rows tr[data-answer=missing]", "Rows of the evidence for the hold point");
    page.says("#leaving-rows", "No weather is forecast from now on");
    page.says("#leaving-rows tr[data-answer=yes]", "It goes out by shore.");
    page.says("#attends", "People are with the watch.");
    page.type("#forecast", "from", "2026-03-08T22:00:00Z");
    page.type("#forecast", "to", "2026-03-09T10:00:00Z");
    page.type("#forecast", "by", "the marine lead");
    page.click("#forecast button");
    page.says(
        "#weather-forecasts", "weather likely (over 50 %) from 03-08 22:00 UTC to 03-09 10:00 UTC");
    page.says(
        "#leaving-rows",
        "to connect every unit takes 20 h 00 min (collection vessel west, the slowest)");
    page.says(
        "#leaving-rows",
        "MORE than there is. It is too late to collect with all before the weather: that was to begin by 03-08 02:00 UTC.");
    page.says("#leaving-rows", "collection vessel west 03-10 22:00 UTC");
    page.says("#leaving-rows", "8 fall into it, to be decided from shore: 03-09 02:15 UTC");
    page.says("#cannot", "collect its flow with collection vessel east");

    decide("#leaving", "leave", "the gale comes first");
    record("#leaving");
    page.says("#last-look", "missing: well, passes");
    yes("#leaving");
    page.says("#leaving-decided", "leave, by the deciders: the gale comes first");
    page.says("#phase", "watching");

    page.click("#attendance [value=shore]");
    page.type("#attendance", "by", "N. Berg");
    page.type("#attendance", "links", "satellite mail, radio");
    page.click("#attendance button");
    page.says("#ashore", "Watched from shore by N. Berg since");
    page.says("#ashore", "by satellite mail, radio.");
    page.says("#attends", "Confirmed ");
    assertThat(digest("WATCHED FROM SHORE"))
        .contains("N. Berg watches from shore by satellite mail, radio since 03-08 ")
        .contains("Next one due by ", "Its absence is an ALARM: the well is unwatched.");
    shore.stop(0); // the link is gone from here on
  }

  @Test
  @Order(2)
  void whoComesBackSeesOnOnePageWhatHappenedMeanwhile() throws Exception {
    sheet("well");
    page.seen("#alarms > li[data-rule=shore-unreached]");
    sheet("weather");
    page.click("#attendance [value=site]");
    page.type("#attendance", "by", "A. Lund");
    page.click("#attendance button");
    page.says("#meanwhile-head", "when A. Lund took over on site");
    page.says("#meanwhile-pressures", "From leaving to coming back: PT-1 ");
    page.says("#meanwhile-rows", "Alarm raised: HIGH The digest does not reach the shore.");
    page.waitFor("nobody is ashore", "return document.querySelector('#ashore').hidden");
    page.picture("weather-back.png");
  }

  @Test
  @Order(3)
  void theSheetFitsAPhone() throws Exception {
    page.phone(390, 844);
    sheet("weather");
    assertThat((Long) page.run("return document.documentElement.scrollWidth"))
        .isLessThanOrEqualTo(390);
    page.picture("weather-phone.png");
    page.noScreen();
    assertThat(page.problems()).isEmpty();
  }

  /** What people entered is in the log: the report of the stopped watch says the same of it. */
  @Test
  @Order(4)
  void theLogReadAnewGivesTheSameChapter() throws Exception {
    String live = chapter(watch.text("/api/report"));
    stopAll();
    Path file = folder.resolve("report.html");
    String[] report = {
      "report", "--plan", plan().toString(), "--data", folder.toString(), "--out", "" + file
    };
    assertThat(Main.run(report)).isZero();

    assertThat(live).contains("when A. Lund took over on site", "digest does not reach");
    assertThat(chapter(Files.readString(file))).isEqualTo(live);
  }

  private static String chapter(String report) {
    int from = report.indexOf("<h2>Weather and leaving");
    return report.substring(from, report.indexOf("<h2>", from + 4));
  }
}
