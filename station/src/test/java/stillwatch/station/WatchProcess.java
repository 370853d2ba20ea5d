package stillwatch.station;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** A Stillwatch command in a process of its own, as a user would run it. */
final class WatchProcess implements AutoCloseable {
  static final Path LARKSPUR = Path.of("../demo-data/larkspur");

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Pattern PORT = Pattern.compile("(?:127\\.0\\.0\\.1:|port )([0-9]+)");
  private static final HttpClient HTTP = HttpClient.newHttpClient();

  private final Process process;
  private final Path errors;
  private final BlockingQueue<String> said = new LinkedBlockingQueue<>();
  private int port;

  private WatchProcess(Process process, Path errors) {
    this.process = process;
    this.errors = errors;
  }

  /** Starts a command; returns at once. */
  static WatchProcess start(String... arguments) throws IOException {
    return start(Map.of(), arguments);
  }

  /** Starts a command with these environment variables. */
  static WatchProcess start(Map<String, String> environment, String... arguments)
      throws IOException {
    ProcessBuilder builder = ChildJava.running("stillwatch.station.Main", List.of(arguments));
    builder.command().add(1, "-Xmx512m");
    builder.environment().putAll(environment);
    return of(builder);
  }

  /** Starts this. */
  static WatchProcess of(ProcessBuilder builder) throws IOException {
    Path errors = Files.createTempFile("watch", ".err");
    errors.toFile().deleteOnExit();
    return new WatchProcess(builder.redirectError(errors.toFile()).start(), errors);
  }

  /** An open watch of a plan at a broker; it listens. */
  static WatchProcess at(String broker, Path plan, Path data)
      throws IOException, InterruptedException {
    String[] options = {"--broker", broker, "--data", data.toString(), "--open", "--http", "0"};
    return start(
            Stream.concat(Stream.of("watch", "--plan", plan.toString()), Stream.of(options))
                .toArray(String[]::new))
        .listening();
  }

  /** Starts a watch of Larkspur-2 that one of its recordings feeds, so many times faster. */
  static WatchProcess drill(Path data, String recording, String speed, String... more)
      throws IOException {
    return drill(data, Map.of(), recording, speed, more);
  }

  /** The same with these environment variables. */
  static WatchProcess drill(
      Path data, Map<String, String> environment, String recording, String speed, String... more)
      throws IOException {
    return start(environment, drilling(data, recording, speed, more).toArray(String[]::new));
  }

  /** The arguments of a drill. */
  static List<String> drilling(Path data, String recording, String speed, String... more) {
    List<String> arguments = new ArrayList<>(List.of("watch", "--speed", speed));
    arguments.addAll(List.of("--plan", LARKSPUR.resolve("plan.yaml").toString()));
    arguments.addAll(List.of("--drill", LARKSPUR.resolve(recording).toString()));
    arguments.addAll(List.of("--data", data.toString()));
    arguments.addAll(List.of(more));
    return arguments;
  }

  /** Waits until it says at which port it listens. */
  WatchProcess listening() throws IOException, InterruptedException {
    BufferedReader out = process.inputReader();
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      Matcher m = PORT.matcher(line);
      if (m.find()) {
        port = Integer.parseInt(m.group(1));
        Thread drain = new Thread(() -> out.lines().forEach(said::add), "drain");
        drain.setDaemon(true);
        drain.start();
        return this;
      }
    }
    throw new IllegalStateException(
        "the process ended without a port, exit "
            + process.waitFor()
            + ": "
            + Files.readString(errors));
  }

  /** What the first group of this pattern matches in a line said after the port. */
  String says(Pattern pattern) throws InterruptedException {
    for (String line = said.poll(30, TimeUnit.SECONDS);
        line != null;
        line = said.poll(30, TimeUnit.SECONDS)) {
      Matcher m = pattern.matcher(line);
      if (m.find()) {
        return m.group(1);
      }
    }
    throw new IllegalStateException("it never said " + pattern);
  }

  String url(String path) {
    return "http://127.0.0.1:" + port + path;
  }

  JsonNode get(String path) throws IOException, InterruptedException {
    return JSON.readTree(
        HTTP.send(
                HttpRequest.newBuilder(URI.create(url(path))).build(),
                HttpResponse.BodyHandlers.ofByteArray())
            .body());
  }

  HttpResponse<String> post(String path, String type, String body)
      throws IOException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(url(path)))
            .header("Content-Type", type)
            .POST(HttpRequest.BodyPublishers.ofString(body))
            .build();
    return HTTP.send(request, HttpResponse.BodyHandlers.ofString());
  }

  /** Does something in an open room, which must take it. */
  JsonNode act(String path, String body) throws IOException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(url(path)))
            .header("Content-Type", "application/json")
            .header("Idempotency-Key", UUID.randomUUID().toString())
            .POST(HttpRequest.BodyPublishers.ofString(body))
            .build();
    HttpResponse<String> answer = HTTP.send(request, HttpResponse.BodyHandlers.ofString());
    if (answer.statusCode() != 200) {
      throw new IllegalStateException(
          path + " answered " + answer.statusCode() + ": " + answer.body());
    }
    return JSON.readTree(answer.body());
  }

  /** What it answers, as it is. */
  String text(String path) throws IOException, InterruptedException {
    return HTTP.send(
            HttpRequest.newBuilder(URI.create(url(path))).build(),
            HttpResponse.BodyHandlers.ofString())
        .body();
  }

  /** Asks for the state until it is as wanted; the caller's timeout ends the asking. */
  JsonNode state(Predicate<JsonNode> wanted) throws IOException, InterruptedException {
    JsonNode state = get("/api/state");
    while (!wanted.test(state)) {
      process.waitFor(200, TimeUnit.MILLISECONDS);
      state = get("/api/state");
    }
    return state;
  }

  /** Asks for its health until it says this; the caller's timeout ends the asking. */
  void healthSays(String said) throws IOException, InterruptedException {
    while (!text("/health").contains(said)) {
      if (endsWithin(200)) {
        throw new IllegalStateException("it ended by itself: " + Files.readString(errors));
      }
    }
  }

  /** Lets it run for that long. */
  boolean endsWithin(long ms) throws InterruptedException {
    return process.waitFor(ms, TimeUnit.MILLISECONDS);
  }

  /** Waits for its end and gives its exit code. */
  int exit() throws InterruptedException {
    return process.waitFor();
  }

  /** It and all that it started. */
  List<ProcessHandle> processes() {
    return Stream.concat(Stream.of(process.toHandle()), process.descendants()).toList();
  }

  /** Signal 9. */
  void kill() throws InterruptedException {
    process.destroyForcibly();
    process.waitFor();
  }

  /** Signal 15, what Ctrl-C comes to; gives the time it took to end, ms. */
  long stop() throws InterruptedException {
    long startNs = System.nanoTime();
    process.destroy();
    process.waitFor();
    return TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - startNs);
  }

  @Override
  public void close() {
    process.destroyForcibly();
  }
}
