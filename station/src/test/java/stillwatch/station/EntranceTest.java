package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Telemetry to a live watch: who may send what, and what is nonsense. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@Timeout(3600)
class EntranceTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final HttpClient HTTP = HttpClient.newHttpClient();

  /**
   * So many mutated lines, and a tenth as many requests; {@code -Dstillwatch.fuzz=1000000} for
   * long.
   */
  private static final int MUTATED = Integer.getInteger("stillwatch.fuzz", 5_000);

  private static final int LINES_A_BODY = 250;
  private static final long SEED = 20_260_308;

  @SuppressWarnings("NullAway.Init") // set before all tests
  private WatchProcess watch;

  private String link = "";

  @BeforeAll
  void start(@TempDir Path folder) throws Exception {
    Path tokens = folder.resolve("tokens");
    Files.writeString(
        tokens, "buoy feed " + digest("buoy") + "\nwinch operate " + digest("winch") + "\n");
    watch =
        WatchProcess.start(
                "watch",
                "--plan",
                WatchProcess.LARKSPUR.resolve("plan.yaml").toString(),
                "--data",
                folder.resolve("data").toString(),
                "--tokens",
                tokens.toString(),
                "--http",
                "0")
            .listening();
    link = watch.says(Pattern.compile("#enter=([A-Za-z0-9_-]+)"));
  }

  @AfterAll
  void stop() {
    watch.close();
  }

  private static String digest(String token) throws Exception {
    byte[] bytes = token.getBytes(StandardCharsets.UTF_8);
    return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
  }

  private HttpResponse<String> send(String token, byte[] body)
      throws IOException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(watch.url("/telemetry")))
            .POST(HttpRequest.BodyPublishers.ofByteArray(body));
    if (!token.isEmpty()) {
      request.header("Authorization", "Bearer " + token);
    }
    return HTTP.send(request.build(), HttpResponse.BodyHandlers.ofString());
  }

  private HttpResponse<String> send(String token, String... lines)
      throws IOException, InterruptedException {
    return send(token, String.join("\n", lines).getBytes(StandardCharsets.UTF_8));
  }

  private static String reading() {
    return "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"gauge\":\"PT-1\",\"value\":46.9,\"unit\":\"MPa\"}"
        .formatted(Instant.now());
  }

  private static String operation(String text) {
    return "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"operation\":\"valve\",\"text\":\"%s\",\"by\":\"A. Berg\"}"
        .formatted(Instant.now(), text);
  }

  private static List<String> refused(HttpResponse<String> answer) throws IOException {
    List<String> refused = new ArrayList<>();
    JSON.readTree(answer.body())
        .path("refused")
        .forEach(r -> refused.add(r.path("line").asInt() + " " + r.path("reason").asText()));
    return refused;
  }

  @Test
  void telemetryWantsATokenAndWhatPeopleDidWantsOneThatMayOperate() throws Exception {
    assertThat(send("", reading()).statusCode()).isEqualTo(401);
    assertThat(send("nobody's", reading()).body()).contains("telemetry wants a token");
    HttpResponse<String> feeds = send("buoy", reading(), operation("choke shut"), reading());
    assertThat(JSON.readTree(feeds.body()).path("taken").asInt()).isEqualTo(2);
    assertThat(refused(feeds)).containsExactly("2 not-allowed");
    assertThat(JSON.readTree(send("winch", operation("choke shut")).body()).path("taken").asInt())
        .isEqualTo(1);
    String token = machineOfThePage();
    assertThat(send(token, reading()).statusCode()).isEqualTo(200);
    assertThat(refused(send(token, operation("choke shut")))).containsExactly("1 not-allowed");
    HttpResponse<String> looks =
        HTTP.send(
            HttpRequest.newBuilder(URI.create(watch.url("/api/state")))
                .header("Authorization", "Bearer " + token)
                .build(),
            HttpResponse.BodyHandlers.ofString());
    assertThat(looks.statusCode()).as("who feeds does not look").isEqualTo(403);
  }

  /** The token of a machine that may feed, made as an administrator makes one. */
  private String machineOfThePage() throws Exception {
    HttpResponse<String> entered =
        post(
            "/api/enter",
            "{\"link\":\"" + link + "\",\"name\":\"Root\",\"password\":\"correct horse 12\"}");
    JsonNode me = JSON.readTree(entered.body());
    HttpResponse<String> made =
        post(
            "/api/people/machine",
            "{\"name\":\"mooring\",\"role\":\"feed\"}",
            "Cookie",
            entered.headers().firstValue("Set-Cookie").orElse("").replaceFirst(";.*", ""),
            "X-Stillwatch-Guard",
            me.path("guard").asText(),
            "Idempotency-Key",
            "mooring-0001");
    return JSON.readTree(made.body()).path("token").asText();
  }

  private HttpResponse<String> post(String path, String body, String... headers) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(watch.url(path)))
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(body));
    return HTTP.send(
        (headers.length == 0 ? request : request.headers(headers)).build(),
        HttpResponse.BodyHandlers.ofString());
  }

  @Test
  void halfASurrogatePairIsRefusedByItsLineAndTheOthersCount() throws Exception {
    HttpResponse<String> mixed = send("winch", reading(), operation("\\ud800"), reading());
    assertThat(mixed.statusCode()).isEqualTo(200);
    assertThat(JSON.readTree(mixed.body()).path("taken").asInt()).isEqualTo(2);
    assertThat(refused(mixed)).containsExactly("2 not-text");
    assertThat(send("winch", operation("\\udc00")).statusCode()).as("alone").isEqualTo(400);
    assertThat(
            post("/api/login", "{\"name\":\"\\ud800\",\"password\":\"correct horse\"}")
                .statusCode())
        .isEqualTo(400);
  }

  /** Seeded: the same lines and requests in every run. */
  @Test
  void mutatedLinesAndRequestsAreTheSendersFault() throws Exception {
    Random random = new Random(SEED);
    for (int done = 0; done < MUTATED; done += LINES_A_BODY) {
      ByteArrayOutputStream body = new ByteArrayOutputStream();
      for (int i = 0; i < LINES_A_BODY; i++) {
        body.writeBytes(mutated(random.nextBoolean() ? reading() : operation("x\\u00e9y"), random));
        body.write('\n');
      }
      HttpResponse<String> answer = send("winch", body.toByteArray());
      assertThat(answer.statusCode()).as("lines from %s: %s", done, answer.body()).isIn(200, 400);
      JsonNode said = JSON.readTree(answer.body());
      assertThat(said.path("taken").asInt() + said.path("refused").size()).isPositive();
    }
    List<String> paths =
        List.of(
            "/api/series?gauges=PT-1&span_s=60&points=5",
            "/api/alarms/0123456789ab",
            "/api/enter",
            "/api/operations",
            "/telemetry/schema",
            "/room.js",
            "/health");
    for (int i = 0; i < MUTATED / 10; i++) {
      String path =
          new String(mutated(paths.get(i % paths.size()), random), StandardCharsets.ISO_8859_1);
      int status = status(path, random.nextBoolean());
      assertThat(status).as("request %s: %s", i, path).isBetween(200, 499 + (health(path) ? 4 : 0));
    }
    assertThat(send("winch", reading()).statusCode()).as("it goes on").isEqualTo(200);
  }

  private static boolean health(String path) {
    return path.contains("health"); // 503 while no readings come
  }

  private int status(String path, boolean posts) throws IOException {
    URI door = URI.create(watch.url("/"));
    try (Socket socket = new Socket(door.getHost(), door.getPort())) {
      socket.setSoTimeout(30_000);
      String head =
          (posts ? "POST " : "GET ")
              + path
              + " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: 2\r\n\r\n{}";
      socket.getOutputStream().write(head.getBytes(StandardCharsets.ISO_8859_1));
      String answer = new String(socket.getInputStream().readNBytes(12), StandardCharsets.US_ASCII);
      return Integer.parseInt(answer.substring(9, 12));
    }
  }

  /** The text as UTF-8 with up to three bytes changed, taken out, doubled, or put in. */
  private static byte[] mutated(String text, Random random) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    for (int n = random.nextInt(4); n > 0; n--) {
      int at = random.nextInt(bytes.length);
      byte[] with = {(byte) random.nextInt(256)};
      byte[] middle =
          switch (random.nextInt(4)) {
            case 0 -> with;
            case 1 -> new byte[0];
            case 2 -> new byte[] {bytes[at], bytes[at]};
            default -> new byte[] {bytes[at], with[0]};
          };
      ByteArrayOutputStream made = new ByteArrayOutputStream();
      made.write(bytes, 0, at);
      made.writeBytes(middle);
      made.write(bytes, at + 1, bytes.length - at - 1);
      bytes = made.size() == 0 ? bytes : made.toByteArray();
    }
    return bytes;
  }
}
