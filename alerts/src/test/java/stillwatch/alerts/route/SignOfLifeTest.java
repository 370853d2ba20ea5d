package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;

import io.moquette.broker.Server;
import io.moquette.broker.config.MemoryConfig;
import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Properties;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.alerts.desk.Findings;
import stillwatch.ingest.entrance.Trust;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.RoutePlan;

/** What an MQTT broker that keeps its messages on disk says of the watch after what befell both. */
@Timeout(180)
class SignOfLifeTest {
  private static final String WATCH = "site/larkspur-2/watch";

  @TempDir Path kept;

  private static Route route(int port) {
    RoutePlan.Way way = new RoutePlan.Mqtt("tcp://127.0.0.1:" + port, "site", null, null);
    return Route.of(
        new RoutePlan("out", way, Priority.LOW, null, null, null), "larkspur-2", Trust.usual());
  }

  private Server broker(int port) throws Exception {
    Properties settings = Peers.mqtt(port);
    settings.put("persistence_enabled", "true");
    settings.put("data_path", kept.toString());
    Server broker = new Server();
    broker.startServer(new MemoryConfig(settings));
    return broker;
  }

  /** Stops it, keeping that the watch is gone, and starts another one on what it kept. */
  private Server again(Server broker, int port) throws Exception {
    try (Shore shore = new Shore(port, null, WATCH)) {
      shore.say(WATCH, "gone");
      awaits(shore, "gone");
    }
    broker.stopServer();
    return broker(port);
  }

  private static void awaits(Shore shore, String state) throws Exception {
    String said = shore.next();
    while (!said.equals(WATCH + " " + state)) {
      assertThat(said).isNotEqualTo("nothing");
      said = shore.next();
    }
  }

  @Test
  void aBrokerThatRestartsHearsThatTheWatchIsHereWithoutAnAlert() throws Exception {
    int port = Peers.freePort();
    Server broker = broker(port);
    try (Route route = route(port)) {
      route.open();
      try (Shore shore = new Shore(port, null, WATCH)) {
        awaits(shore, "here");
      }
      broker = again(broker, port);
      try (Shore shore = new Shore(port, null, WATCH)) {
        awaits(shore, "here");
      }
    } finally {
      broker.stopServer();
    }
  }

  @Test
  void aWatchThatIsKilledAfterTheBrokerRestartedLeavesGone() throws Exception {
    int port = Peers.freePort();
    Server broker = broker(port);
    Process watch = watchProcess(port);
    try (BufferedReader says =
        new BufferedReader(new InputStreamReader(watch.getInputStream(), StandardCharsets.UTF_8))) {
      assertThat(says.readLine()).isEqualTo("open");
      broker = again(broker, port);
      try (Shore shore = new Shore(port, null, WATCH)) {
        awaits(shore, "here");
        watch.destroyForcibly().waitFor();
        awaits(shore, "gone");
      }
    } finally {
      watch.destroyForcibly().waitFor();
      broker.stopServer();
    }
  }

  private static Process watchProcess(int port) throws Exception {
    return new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-cp",
            System.getProperty("java.class.path"),
            Watch.class.getName(),
            Integer.toString(port))
        .redirectError(ProcessBuilder.Redirect.DISCARD)
        .start();
  }

  /** A process that has a route open until it is killed. */
  static final class Watch {
    private Watch() {}

    public static void main(String[] args) throws Exception {
      Route route = route(Integer.parseInt(args[0]));
      route.deliver(new Delivery(1, "raised", Findings.raised("k1", Priority.HIGH), 1, false, ""));
      System.out.println("open");
      System.out.flush();
      new CountDownLatch(1).await();
    }
  }
}
