package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Whoever is removed from a real watch is out with all they had: session, stream, link, token. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@Timeout(300)
class RemovedTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final HttpClient HTTP = HttpClient.newHttpClient();
  private static final Pattern LINK = Pattern.compile("#enter=([A-Za-z0-9_-]+)");
  private static final String PASSWORD = "correct horse 12";

  @SuppressWarnings("NullAway.Init") // set before all tests
  private WatchProcess watch;

  private Map<String, String> root = Map.of();

  @BeforeAll
  void start(@TempDir Path data) throws IOException, InterruptedException {
    watch = WatchProcess.drill(data, "sick-gauge.csv.gz", "2000", "--http", "0").listening();
    root = entered(watch.says(LINK), "Root");
  }

  @AfterAll
  void stop() {
    watch.close();
  }

  private HttpRequest.Builder to(Map<String, String> who, String path) {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(watch.url(path)))
            .header("Content-Type", "application/json")
            .header("Idempotency-Key", UUID.randomUUID().toString());
    who.forEach(request::header);
    return request;
  }

  private HttpResponse<String> get(Map<String, String> who, String path)
      throws IOException, InterruptedException {
    return HTTP.send(to(who, path).build(), HttpResponse.BodyHandlers.ofString());
  }

  private HttpResponse<String> post(Map<String, String> who, String path, Map<String, String> body)
      throws IOException, InterruptedException {
    var sent = HttpRequest.BodyPublishers.ofString(JSON.writeValueAsString(body));
    return HTTP.send(to(who, path).POST(sent).build(), HttpResponse.BodyHandlers.ofString());
  }

  /** What a post made: a link or a token. */
  private String made(Map<String, String> who, String path, Map<String, String> body)
      throws IOException, InterruptedException {
    JsonNode answer = JSON.readTree(post(who, path, body).body());
    return answer.path("link").asText(answer.path("token").asText());
  }

  private Map<String, String> entered(String link, String name)
      throws IOException, InterruptedException {
    HttpResponse<String> answer =
        post(Map.of(), "/api/enter", Map.of("link", link, "name", name, "password", PASSWORD));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return Map.of(
        "Cookie",
        answer.headers().firstValue("Set-Cookie").orElse("").replaceFirst(";.*", ""),
        "X-Stillwatch-Guard",
        JSON.readTree(answer.body()).path("guard").asText());
  }

  private static Map<String, String> bearer(String token) {
    return Map.of("Authorization", "Bearer " + token);
  }

  private BufferedReader stream(Map<String, String> who) throws IOException, InterruptedException {
    HttpResponse<InputStream> answer =
        HTTP.send(
            to(who, "/api/events").header("Accept", "text/event-stream").build(),
            HttpResponse.BodyHandlers.ofInputStream());
    assertThat(answer.statusCode()).isEqualTo(200);
    BufferedReader lines =
        new BufferedReader(new InputStreamReader(answer.body(), StandardCharsets.UTF_8));
    assertThat(lines.readLine()).as("the stream speaks").isNotNull();
    return lines;
  }

  /** Reads to the stream's end; one that never ends fails by the test's time limit. */
  private static void ends(BufferedReader stream) throws IOException {
    while (stream.readLine() != null) {
      // what was on its way
    }
  }

  @Test
  void whoIsRemovedIsOutWithEverythingTheyHadAndMade() throws Exception {
    Map<String, String> eve =
        entered(made(root, "/api/people/invite", Map.of("role", "administer")), "Eve");
    String link = made(eve, "/api/people/invite", Map.of("role", "administer"));
    String token = made(eve, "/api/people/machine", Map.of("name", "winch", "role", "administer"));
    String byToken = made(bearer(token), "/api/people/invite", Map.of("role", "administer"));
    BufferedReader bySession = stream(eve);
    BufferedReader byMachine = stream(bearer(token));
    JsonNode listed = JSON.readTree(get(root, "/api/people").body()).path("passes");
    assertThat(listed)
        .extracting(p -> p.path("what").asText() + " by " + p.path("made_by").asText())
        .containsExactly("link by Eve", "token by Eve", "link by winch");
    assertThat(listed.get(0).path("until").asText()).as("its end").endsWith("Z");

    HttpResponse<String> removed = post(root, "/api/people/remove", Map.of("name", "Eve"));
    assertThat(removed.statusCode()).as(removed.body()).isEqualTo(200);
    for (String path : new String[] {"/api/state", "/api/events", "/api/people"}) {
      assertThat(get(eve, path).statusCode()).as("session at " + path).isEqualTo(401);
      assertThat(get(bearer(token), path).statusCode()).as("token at " + path).isEqualTo(401);
    }
    assertThat(post(eve, "/api/people/invite", Map.of("role", "look")).statusCode()).isEqualTo(401);
    assertThat(
            post(Map.of(), "/api/login", Map.of("name", "Eve", "password", PASSWORD)).statusCode())
        .isEqualTo(401);
    for (String dead : new String[] {link, byToken}) {
      HttpResponse<String> again =
          post(Map.of(), "/api/enter", Map.of("link", dead, "name", "Eva", "password", PASSWORD));
      assertThat(again.statusCode()).isEqualTo(401);
      assertThat(again.body()).contains("no longer good");
    }
    ends(bySession);
    ends(byMachine);
    assertThat(JSON.readTree(get(root, "/api/people").body()).path("passes")).isEmpty();
    assertThat(JSON.readTree(get(root, "/api/journal/check").body()).path("whole").asBoolean())
        .isTrue();
  }

  @Test
  void whoMayDoLessFromNowOnMayAtOnceAndTheLastAdministratorStays() throws Exception {
    Map<String, String> olga =
        entered(made(root, "/api/people/invite", Map.of("role", "operate")), "Olga");
    Map<String, String> note = Map.of("text", "seen");
    assertThat(post(olga, "/api/notes", note).statusCode()).isEqualTo(200);
    post(root, "/api/people/role", Map.of("name", "Olga", "role", "look"));
    assertThat(post(olga, "/api/notes", note).statusCode()).isEqualTo(403);
    String token = made(root, "/api/people/machine", Map.of("name", "clerk", "role", "administer"));
    for (String path : new String[] {"/api/people/remove", "/api/people/role"}) {
      HttpResponse<String> last = post(bearer(token), path, Map.of("name", "Root", "role", "look"));
      assertThat(last.statusCode()).as(path).isEqualTo(400);
      assertThat(last.body()).contains("Root is the last administrator");
    }
    post(root, "/api/people/remove", Map.of("name", "clerk"));
  }
}
