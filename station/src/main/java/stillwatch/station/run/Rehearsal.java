package stillwatch.station.run;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import java.util.function.ToIntFunction;
import stillwatch.station.broker.EmbeddedBroker;

/**
 * A watch of the demo's leak, with its broker in the same process, until it shows an alarm: it
 * loads what a watch and a broker load. It ends this process.
 */
public final class Rehearsal {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final long PATIENCE_S = 120;
  private static final long AGAIN_MS = 100;

  private final URI page;

  private Rehearsal(URI page) {
    this.page = page;
  }

  /**
   * Runs it.
   *
   * @param data an empty folder
   * @param commands the command line
   * @return exit code of a watch that ended before it showed an alarm
   */
  public static int run(Path data, ToIntFunction<String[]> commands) throws IOException {
    int port = EmbeddedBroker.Ports.free().broker();
    EmbeddedBroker broker = EmbeddedBroker.start(data.resolve("broker")).join();
    Thread ending =
        new Thread(new Rehearsal(URI.create("http://127.0.0.1:" + port + "/"))::end, "rehearsal");
    ending.setDaemon(true);
    ending.start();
    return commands.applyAsInt(
        new String[] {
          "watch",
          "--demo",
          "--speed=3000",
          "--data=" + data.resolve("watch"),
          "--broker=" + broker.bootstrap(),
          "--http=" + port
        });
  }

  private void end() {
    HttpClient client = HttpClient.newHttpClient();
    long lastNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_S);
    boolean seen = false;
    try {
      while (!seen && System.nanoTime() < lastNs) {
        TimeUnit.MILLISECONDS.sleep(AGAIN_MS);
        seen = showsAnAlarm(client);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    System.exit(seen ? 0 : 1);
  }

  private byte[] answer(HttpClient client, String path) throws IOException, InterruptedException {
    HttpRequest request = HttpRequest.newBuilder(page.resolve(path)).build();
    return client.send(request, BodyHandlers.ofByteArray()).body();
  }

  private boolean showsAnAlarm(HttpClient client) throws InterruptedException {
    try {
      return JSON.readTree(answer(client, "api/state")).path("alarms").elements().hasNext()
          && answer(client, "").length > 0;
    } catch (IOException e) { // it does not listen yet
      return false;
    }
  }
}
