package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Topics;

/** Who may look and act on a real watch; what is refused, one test a way of trying. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@Timeout(300)
class WhoMayTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final HttpClient HTTP = HttpClient.newHttpClient();
  private static final Pattern LINK = Pattern.compile("#enter=([A-Za-z0-9_-]+)");
  private static final String PASSWORD = "correct horse 12";

  private static final List<String> ACTIONS =
      List.of(
          "/api/alarms/none/acknowledge",
          "/api/alarms/none/reset",
          "/api/alarms/none/shelve",
          "/api/alarms/none/remove",
          "/api/alarms/none/note",
          "/api/notes",
          "/api/holds/restore",
          "/api/operations",
          "/api/observations",
          "/api/decisions",
          "/api/explanations",
          "/api/handover",
          "/api/handover/accept",
          "/api/corrections",
          "/api/signatures",
          "/api/people/invite",
          "/api/people/machine",
          "/api/people/remove",
          "/api/people/role",
          "/api/people/revoke");

  private static final List<String> LOOKS =
      List.of(
          "/api/fixed",
          "/api/state",
          "/api/series",
          "/api/review",
          "/api/evidence",
          "/api/figures",
          "/api/shift",
          "/api/alarms/none",
          "/api/events",
          "/api/people",
          "/api/journal/check");

  @SuppressWarnings("NullAway.Init") // set before all tests
  private WatchProcess watch;

  private Someone root = new Someone("", "");
  private String firstLink = "";

  /** Somebody with a session. */
  private record Someone(String cookie, String guard) {}

  @BeforeAll
  void start(@TempDir Path data) throws IOException, InterruptedException {
    watch = WatchProcess.drill(data, "sick-gauge.csv.gz", "2000", "--http", "0").listening();
    firstLink = watch.says(LINK);
    root = enter(firstLink, "Root");
  }

  @AfterAll
  void stop() {
    watch.close();
  }

  private HttpRequest.Builder to(String path) {
    return HttpRequest.newBuilder(URI.create(watch.url(path)));
  }

  private static HttpResponse<String> send(HttpRequest.Builder request)
      throws IOException, InterruptedException {
    return HTTP.send(request.build(), HttpResponse.BodyHandlers.ofString());
  }

  private HttpRequest.Builder posting(String path, String body) {
    return to(path)
        .header("Content-Type", "application/json")
        .POST(HttpRequest.BodyPublishers.ofString(body));
  }

  private HttpRequest.Builder by(Someone who, HttpRequest.Builder request) {
    return request
        .header("Cookie", who.cookie())
        .header("X-Stillwatch-Guard", who.guard())
        .header("Idempotency-Key", UUID.randomUUID().toString());
  }

  private HttpResponse<String> act(Someone who, String path, ObjectNode body)
      throws IOException, InterruptedException {
    return send(by(who, posting(path, body.toString())));
  }

  private static ObjectNode object() {
    return JSON.createObjectNode();
  }

  private Someone enter(String link, String name) throws IOException, InterruptedException {
    HttpResponse<String> answer =
        send(
            posting(
                "/api/enter",
                object().put("link", link).put("name", name).put("password", PASSWORD).toString()));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return someone(answer);
  }

  private static Someone someone(HttpResponse<String> answer) throws IOException {
    String cookie = answer.headers().firstValue("Set-Cookie").orElse("");
    assertThat(cookie).contains("HttpOnly").containsIgnoringCase("SameSite=Strict");
    return new Someone(
        cookie.replaceFirst(";.*", ""), JSON.readTree(answer.body()).path("guard").asText());
  }

  private Someone invited(String role, String name) throws IOException, InterruptedException {
    HttpResponse<String> made = act(root, "/api/people/invite", object().put("role", role));
    return enter(JSON.readTree(made.body()).path("link").asText(), name);
  }

  @Test
  void whoIsUnknownIsRefusedEverywhereButAtTheHealth() throws Exception {
    for (String path : LOOKS) {
      assertThat(send(to(path)).statusCode()).as(path).isEqualTo(401);
    }
    for (String path : ACTIONS) {
      assertThat(send(posting(path, "{}")).statusCode()).as(path).isEqualTo(401);
      assertThat(
              send(posting(path, "{}").header("Authorization", "Bearer " + "A".repeat(43)))
                  .statusCode())
          .as(path)
          .isEqualTo(401);
    }
    assertThat(send(to("/health")).statusCode()).isIn(200, 503);
    assertThat(send(to("/metrics")).statusCode()).isEqualTo(200);
    assertThat(send(to("/")).statusCode()).isEqualTo(200);
  }

  @Test
  void aLinkWorksOnceAndAWrongPasswordNever() throws Exception {
    ObjectNode again = object().put("link", firstLink).put("name", "Eve").put("password", PASSWORD);
    HttpResponse<String> answer = send(posting("/api/enter", again.toString()));
    assertThat(answer.statusCode()).isEqualTo(401);
    assertThat(answer.body()).contains("ask for another");
    ObjectNode wrong = object().put("name", "Mallory").put("password", "not the one 12");
    List<Integer> statuses = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      statuses.add(send(posting("/api/login", wrong.toString())).statusCode());
    }
    assertThat(statuses.get(0)).isEqualTo(401);
    assertThat(statuses).as("then it has to wait").contains(429).doesNotContain(200);
  }

  @Test
  void whoHasALinkCannotBecomeSomebodyElse() throws Exception {
    HttpResponse<String> made = act(root, "/api/people/invite", object().put("role", "look"));
    String link = JSON.readTree(made.body()).path("link").asText();
    ObjectNode stolen = object().put("link", link).put("name", "Root").put("password", PASSWORD);
    HttpResponse<String> answer = send(posting("/api/enter", stolen.toString()));
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("somebody has this name");
    assertThat(send(to("/api/people").header("Cookie", root.cookie())).statusCode())
        .as("the administrator still is one")
        .isEqualTo(200);
  }

  @Test
  void everyRoleMayWhatItIsFor() throws Exception {
    Someone looker = invited("look", "Linus");
    Someone operator = invited("operate", "Olga");
    for (String path : ACTIONS) {
      assertThat(act(looker, path, object()).statusCode()).as(path).isEqualTo(403);
    }
    assertThat(send(to("/api/state").header("Cookie", looker.cookie())).statusCode())
        .isEqualTo(200);
    assertThat(send(to("/api/people").header("Cookie", operator.cookie())).statusCode())
        .isEqualTo(403);
    for (String path :
        List.of("/api/alarms/none/remove", "/api/people/invite", "/api/people/machine")) {
      assertThat(act(operator, path, object()).statusCode()).as(path).isEqualTo(403);
    }
    assertThat(act(operator, "/api/notes", object().put("text", "seen")).statusCode())
        .isEqualTo(200);
    assertThat(act(root, "/api/people/remove", object().put("name", "Linus")).statusCode())
        .isEqualTo(200);
    assertThat(send(to("/api/state").header("Cookie", looker.cookie())).statusCode())
        .as("who was removed is out at once")
        .isEqualTo(401);
    assertThat(act(root, "/api/people/remove", object().put("name", "Root")).statusCode())
        .isEqualTo(400);
  }

  @Test
  void whoMayOperateExplainsAChangeInTheirOwnName() throws Exception {
    Someone operator = invited("operate", "Edda");
    ObjectNode said =
        object()
            .put("change", "0a1b2c3d4e5f")
            .put("cause", "gauge")
            .put("why", "PT-2 was zeroed at the surface")
            .put("by", "Somebody Else");
    HttpResponse<String> answer = act(operator, "/api/explanations", said);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(JSON.readTree(answer.body()).path("entry").asLong()).isPositive();
    ObjectNode done = object().put("what", "gauge-zeroed").put("gauge", "PT-2").put("text", "so");
    assertThat(act(operator, "/api/operations", done).statusCode()).isEqualTo(200);
    JsonNode shift =
        JSON.readTree(send(to("/api/shift").header("Cookie", operator.cookie())).body());
    assertThat(shift.path("told"))
        .filteredOn(e -> e.path("by").asText().equals("Edda"))
        .extracting(e -> e.path("what").asText() + ", " + e.path("text").asText())
        .containsExactly(
            "explanation, change 0a1b2c3d4e5f, gauge: PT-2 was zeroed at the surface",
            "operation, gauge-zeroed PT-2: so");
    HttpRequest.Builder report = to("/api/report").header("Cookie", operator.cookie());
    String reported = send(report.copy()).body();
    while (!reported.contains("0a1b2c3d4e5f")) { // until the page has read it from the log
      watch.endsWithin(200);
      reported = send(report.copy()).body();
    }
    assertThat(reported)
        .containsSubsequence(
            "0a1b2c3d4e5f", "gauge", "Edda", "was zeroed at the surface", "</table>");
  }

  /** A hand-over takes two; nobody accepts for another, and none twice. */
  @Test
  void aShiftIsAcceptedByWhomItWasProposedToAndOnce() throws Exception {
    Someone next = invited("operate", "Signe");
    ObjectNode to = object().put("to", "Signe").put("text", "the camera goes down at six");
    HttpResponse<String> proposed = act(root, "/api/handover", to);
    assertThat(proposed.statusCode()).as(proposed.body()).isEqualTo(200);
    ObjectNode it = object().put("entry", JSON.readTree(proposed.body()).path("entry").asLong());

    HttpResponse<String> forAnother = act(root, "/api/handover/accept", it);
    assertThat(forAnother.statusCode()).isEqualTo(403);
    assertThat(forAnother.body()).contains("proposed to Signe, who must accept it");
    assertThat(shift().path("proposed").path("to").asText()).isEqualTo("Signe");
    assertThat(shift().path("who").asText()).isNotEqualTo("Signe");
    assertThat(act(next, "/api/handover/accept", it).statusCode()).isEqualTo(200);
    assertThat(shift().path("who").asText()).isEqualTo("Signe");
    assertThat(shift().path("from").asText()).isEqualTo("Root");
    assertThat(shift().has("proposed")).isFalse();
    assertThat(act(next, "/api/handover/accept", it).statusCode()).as("once").isEqualTo(409);
  }

  private JsonNode shift() throws IOException, InterruptedException {
    return JSON.readTree(send(to("/api/shift").header("Cookie", root.cookie())).body());
  }

  /** What the rules raised is not corrected, and nothing that nobody entered. */
  @Test
  void onlyWhatSomebodyEnteredIsCorrected() throws Exception {
    HttpResponse<String> noted = act(root, "/api/handover", object().put("to", "Nobody else"));
    long entry = JSON.readTree(noted.body()).path("entry").asLong();
    ObjectNode right = object().put("text", "it was to Signe");

    assertThat(act(root, "/api/corrections", right.put("entry", entry)).statusCode())
        .isEqualTo(200);
    HttpResponse<String> none = act(root, "/api/corrections", right.put("entry", 1_000_000));
    assertThat(none.statusCode()).isEqualTo(404);
    assertThat(none.body()).contains("nobody entered 1000000");
    assertThat(shift().path("told"))
        .anyMatch(
            t -> t.path("text").asText().equals("corrects entry " + entry + ": it was to Signe"));
  }

  @Test
  void whatComesFromAnotherSiteIsRefused() throws Exception {
    String note = object().put("text", "by another site").toString();
    assertThat(
            send(by(root, posting("/api/notes", note)).header("Origin", "https://evil.example"))
                .statusCode())
        .isEqualTo(403);
    assertThat(
            send(posting("/api/notes", note)
                    .header("Cookie", root.cookie())
                    .header("Idempotency-Key", UUID.randomUUID().toString()))
                .statusCode())
        .as("a form that only has the cookie")
        .isEqualTo(403);
    assertThat(
            send(by(
                    root,
                    to("/api/notes")
                        .header("Content-Type", "text/plain")
                        .POST(HttpRequest.BodyPublishers.ofString(note))))
                .statusCode())
        .isEqualTo(415);
    assertThat(send(to("/api/state").header("Cookie", "stillwatch=forged")).statusCode())
        .isEqualTo(401);
  }

  @Test
  void whatWasSentBeforeIsNotDoneAgain() throws Exception {
    HttpRequest.Builder request =
        posting("/api/notes", object().put("text", "once").toString())
            .header("Cookie", root.cookie())
            .header("X-Stillwatch-Guard", root.guard());
    assertThat(send(request.copy()).statusCode()).as("without a key").isEqualTo(400);
    request.header("Idempotency-Key", UUID.randomUUID().toString());
    assertThat(send(request.copy()).statusCode()).isEqualTo(200);
    assertThat(send(request.copy()).statusCode()).isEqualTo(409);
  }

  @Test
  void aMachineHasATokenUntilItIsTakenAway() throws Exception {
    HttpResponse<String> made =
        act(root, "/api/people/machine", object().put("name", "winch").put("role", "operate"));
    String token = JSON.readTree(made.body()).path("token").asText();
    HttpRequest.Builder note =
        posting("/api/notes", object().put("text", "by machine").toString())
            .header("Authorization", "Bearer " + token);
    assertThat(send(note.copy().header("Idempotency-Key", "winch-0001")).statusCode())
        .isEqualTo(200);
    assertThat(send(note.copy().header("Idempotency-Key", "winch-0001")).statusCode())
        .isEqualTo(409);
    act(root, "/api/people/remove", object().put("name", "winch"));
    assertThat(send(note.copy().header("Idempotency-Key", "winch-0002")).statusCode())
        .isEqualTo(401);
  }

  /** Headers after the OWASP Secure Headers Project; from memory. */
  @Test
  void everyAnswerForbidsFramesSniffingAndOtherSites() throws Exception {
    for (String path : List.of("/", "/room.js", "/api/state", "/health", "/nothing")) {
      var headers = send(to(path)).headers();
      assertThat(headers.firstValue("Content-Security-Policy").orElse(""))
          .as(path)
          .contains("default-src 'self'", "frame-ancestors 'none'");
      assertThat(headers.firstValue("X-Content-Type-Options")).hasValue("nosniff");
      assertThat(headers.firstValue("Referrer-Policy")).hasValue("no-referrer");
      assertThat(headers.firstValue("Server")).isEmpty();
    }
    assertThat(send(to("/")).body()).doesNotContain("http://", "https://");
  }

  /** Bodies that are wrong in every way that comes to mind, at every action and every look. */
  @Test
  void malformedRequestsAreTheSendersFault() throws Exception {
    String deep = "[".repeat(5000) + "]".repeat(5000);
    List<byte[]> bodies = new ArrayList<>();
    for (String text :
        List.of(
            "",
            "null",
            "[]",
            "{",
            "{}",
            "\"text\"",
            "12",
            deep,
            "{\"text\":" + deep + "}",
            "{\"text\":null,\"minutes\":null,\"what\":null}",
            "{\"text\":12,\"minutes\":\"x\",\"reason\":[],\"what\":{},\"means\":1,\"result\":0,\"choice\":1,\"by\":[],\"why\":{},\"to\":7,\"role\":9,\"name\":[],\"point\":4}",
            "{\"minutes\":-1,\"reason\":\"r\"}",
            "{\"minutes\":1e99,\"reason\":\"r\"}",
            "{\"minutes\":9223372036854775808,\"reason\":\"r\"}",
            "{\"choice\":\"continue\",\"by\":\"b\",\"why\":\"w\",\"next_review\":\"+1000000000-12-31T23:59:59Z\"}",
            "{\"what\":\"phase\",\"text\":\"no such phase\"}",
            "{\"what\":\"valve\",\"text\":\"x\",\"at\":\"yesterday\"}",
            "{\"what\":\"valve\",\"text\":\"x\",\"gauge\":\"PT-1\"}",
            "{\"what\":\"gauge-zeroed\",\"text\":\"x\"}",
            "{\"what\":\"gauge-zeroed\",\"text\":\"x\",\"gauge\":\"PT-9\"}",
            "{\"change\":\"0123456789ab\",\"cause\":\"luck\",\"why\":\"w\"}",
            "{\"change\":\"0123456789AB\",\"cause\":\"gauge\",\"why\":\"w\"}",
            "{\"change\":\"0123456789ab\",\"cause\":\"gauge\",\"why\":\" \"}",
            "{\"text\":\"\\u0000\",\"reason\":\"\\u0000\",\"name\":\"\\u0000\"}",
            "{\"text\":\"" + "x".repeat(100_000) + "\"}",
            "{\"role\":\"god\"}",
            "{\"point\":\"'; drop table alarm; --\"}",
            "<xml/>")) {
      bodies.add(text.getBytes(StandardCharsets.UTF_8));
    }
    bodies.add(new byte[] {(byte) 0xff, (byte) 0xfe, '{', (byte) 0x80, '}'});
    List<String> paths = new ArrayList<>(ACTIONS);
    paths.addAll(List.of("/api/enter", "/api/login"));
    for (String path : paths) {
      Someone fresh = invited("administer", "Fuzz " + path.hashCode());
      for (byte[] body : bodies) {
        HttpResponse<String> answer;
        try {
          answer =
              send(
                  by(
                      fresh,
                      to(path)
                          .header("Content-Type", "application/json")
                          .POST(HttpRequest.BodyPublishers.ofByteArray(body))));
        } catch (IOException e) {
          throw new AssertionError(path + " was not answered for " + body.length + " bytes", e);
        }
        String sent = new String(body, StandardCharsets.UTF_8);
        boolean noteAndText = path.endsWith("/api/notes") && sent.contains("\"text\":\"");
        assertThat(answer.statusCode())
            .as("%s %.80s: %s", path, sent, answer.body())
            .isBetween(noteAndText ? 200 : 400, 499);
        String key = answer.statusCode() == 200 ? "noted" : "fault";
        assertThat(JSON.readTree(answer.body()).path(key).asText())
            .as("%s %.80s", path, sent)
            .isNotEmpty();
      }
    }
    for (String look :
        List.of(
            "/api/series?points=0",
            "/api/series?points=x",
            "/api/series?span_s=-1",
            "/api/alarms/" + "x".repeat(3000),
            "/api/none")) {
      assertThat(send(to(look).header("Cookie", root.cookie())).statusCode())
          .as(look)
          .isBetween(400, 499);
    }
    for (String odd : List.of("/api/alarms/%00", "/api/alarms/a%2Fb", "/api/alarms/..%2f..")) {
      HttpRequest request = to(odd).header("Cookie", root.cookie()).build();
      assertThat(
              HttpClient.newHttpClient() // the server cuts the line after these
                  .send(request, HttpResponse.BodyHandlers.ofString())
                  .statusCode())
          .as(odd)
          .isBetween(400, 499);
    }
  }

  /** OpenAPI 3.1 and AsyncAPI 3.0: what is described is there, and what is there is described. */
  @Test
  void theInterfaceDescribesItself() throws Exception {
    JsonNode api = JSON.readTree(send(to("/api/openapi.json")).body());
    assertThat(api.path("openapi").asText()).isEqualTo("3.1.0");
    List<String> described = new ArrayList<>();
    api.path("paths").fieldNames().forEachRemaining(described::add);
    List<String> known = new ArrayList<>(ACTIONS);
    known.addAll(LOOKS);
    known.remove("/api/events");
    assertThat(described)
        .containsAll(known.stream().map(p -> p.replace("/none", "/{id}")).toList());
    for (String path : described) {
      String method = api.path("paths").path(path).fieldNames().next();
      String at = path.replace("{id}", "none");
      int status = send(method.equals("get") ? to(at) : posting(at, "{}")).statusCode();
      assertThat(status).as("%s %s", method, path).isNotIn(404, 405, 500);
    }
    JsonNode topics = JSON.readTree(send(to("/api/asyncapi.json")).body());
    List<String> addresses = new ArrayList<>();
    topics.path("channels").forEach(c -> addresses.add(c.path("address").asText()));
    assertThat(addresses)
        .containsExactlyInAnyOrder(
            Topics.TELEMETRY, Topics.REJECTS, Topics.ALERTS, Topics.PROGRESS, Topics.REVIEWS);
  }
}
