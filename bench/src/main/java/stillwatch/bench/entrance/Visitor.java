package stillwatch.bench.entrance;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Stream;

/** Whoever speaks HTTP to the watch. Safe from any thread. */
final class Visitor {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Duration PATIENCE = Duration.ofSeconds(20);
  private static final String PASSWORD = "correct horse 12";

  private final HttpClient http = HttpClient.newHttpClient();
  private final String url;
  private volatile String cookie = "";

  Visitor(int port) {
    url = "http://127.0.0.1:" + port;
  }

  private HttpRequest.Builder to(String path) {
    HttpRequest.Builder to = HttpRequest.newBuilder(URI.create(url + path));
    return cookie.isEmpty() ? to : to.header("Cookie", cookie);
  }

  private HttpRequest json(String path, String body) {
    return to(path)
        .timeout(PATIENCE)
        .header("Content-Type", "application/json")
        .POST(HttpRequest.BodyPublishers.ofString(body))
        .build();
  }

  /** Enters by this link; from now on it is known who asks. */
  void enters(String link) throws IOException, InterruptedException {
    String body =
        JSON.createObjectNode()
            .put("link", link)
            .put("name", "Root")
            .put("password", PASSWORD)
            .toString();
    HttpResponse<String> answer =
        http.send(json("/api/enter", body), HttpResponse.BodyHandlers.ofString());
    if (answer.statusCode() != 200) {
      throw new IllegalStateException("could not enter: " + answer.body());
    }
    cookie = answer.headers().firstValue("Set-Cookie").orElse("").replaceFirst(";.*", "");
  }

  /** The lines of the page's stream as they come. */
  Stream<String> stream() throws IOException, InterruptedException {
    return http.send(
            to("/api/events").header("Accept", "text/event-stream").build(),
            HttpResponse.BodyHandlers.ofLines())
        .body();
  }

  HttpResponse<String> get(String path) throws IOException, InterruptedException {
    return http.send(to(path).timeout(PATIENCE).build(), HttpResponse.BodyHandlers.ofString());
  }

  /** Tries to enter with a wrong password. */
  CompletableFuture<HttpResponse<String>> triesToEnter(String name) {
    String body =
        JSON.createObjectNode().put("name", name).put("password", "a wrong password").toString();
    return http.sendAsync(json("/api/login", body), HttpResponse.BodyHandlers.ofString());
  }

  /** Sends telemetry. */
  HttpResponse<String> sends(String lines) throws IOException, InterruptedException {
    return http.send(
        HttpRequest.newBuilder(URI.create(url + "/telemetry"))
            .timeout(PATIENCE)
            .header("Authorization", "Bearer " + Child.TOKEN)
            .POST(HttpRequest.BodyPublishers.ofString(lines))
            .build(),
        HttpResponse.BodyHandlers.ofString());
  }
}
