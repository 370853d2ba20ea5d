package stillwatch.bench.faults;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * A process of ours that listens to HTTP, as a user would run it, and which is started again on the
 * same port. One thread starts and ends it; anybody may ask it.
 */
final class Part implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(2);
  private static final long ENDS_WITHIN_S = 30;
  private static final long LOOK_EVERY_MS = 100;

  private final String main;
  private final List<String> arguments;
  private final Map<String, String> environment;
  private final File errors;
  private final int port;
  private final HttpClient client = HttpClient.newBuilder().connectTimeout(PATIENCE).build();
  private volatile Process process;

  private Part(
      String main,
      List<String> arguments,
      Map<String, String> environment,
      Path errors,
      boolean listens)
      throws IOException {
    this.main = main;
    this.environment = environment;
    this.errors = errors.toFile();
    port = freePort();
    this.arguments = new ArrayList<>(arguments);
    if (listens) {
      this.arguments.addAll(List.of("--http", Integer.toString(port)));
    }
    process = run();
  }

  /**
   * Starts a command of ours.
   *
   * @param arguments the command and its options, without {@code --http}
   * @param errors where it says what is wrong
   */
  static Part command(List<String> arguments, Map<String, String> environment, Path errors)
      throws IOException {
    return new Part("stillwatch.station.Main", arguments, environment, errors, true);
  }

  /** Starts a program of ours that is no command and listens to no HTTP. */
  static Part program(String main, List<String> arguments, Path errors) throws IOException {
    return new Part(main, arguments, Map.of(), errors, false);
  }

  /** A port of this machine that nobody listens to. */
  static int freePort() throws IOException {
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return free.getLocalPort();
    }
  }

  private Process run() throws IOException {
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(List.of("-Xmx512m", "-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-cp"));
    line.add(System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")));
    line.add(main);
    line.addAll(arguments);
    ProcessBuilder builder =
        new ProcessBuilder(line)
            .redirectError(ProcessBuilder.Redirect.appendTo(errors))
            .redirectOutput(ProcessBuilder.Redirect.PIPE);
    builder.environment().putAll(environment);
    Process made = builder.start();
    BufferedReader out = made.inputReader();
    Thread drain = new Thread(() -> out.lines().forEach(l -> {}), "drain");
    drain.setDaemon(true);
    drain.start();
    return made;
  }

  URI uri(String path) {
    return URI.create("http://127.0.0.1:" + port + path);
  }

  int port() {
    return port;
  }

  /** What it says of its health; empty when it does not answer within two seconds. */
  Optional<String> health() throws InterruptedException {
    return get("/health");
  }

  /** What it answers, whatever the status; empty when it does not within two seconds. */
  Optional<String> get(String path) throws InterruptedException {
    HttpRequest request = HttpRequest.newBuilder(uri(path)).timeout(PATIENCE).build();
    try {
      return Optional.of(client.send(request, HttpResponse.BodyHandlers.ofString()).body());
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /** Whether it says this there within so many milliseconds. */
  boolean says(String path, String words, long withinMs) throws InterruptedException {
    long untilMs = System.currentTimeMillis() + withinMs;
    while (System.currentTimeMillis() < untilMs) {
      if (get(path).filter(h -> h.contains(words)).isPresent()) {
        return true;
      }
      TimeUnit.MILLISECONDS.sleep(LOOK_EVERY_MS);
    }
    return false;
  }

  boolean alive() {
    return process.isAlive();
  }

  /** Its process. */
  ProcessHandle handle() {
    return process.toHandle();
  }

  /** Starts it again after it ended. */
  void start() throws IOException {
    process = run();
  }

  /** Signal 9. */
  void kill() throws InterruptedException {
    process.destroyForcibly().waitFor();
  }

  /** Signal 15; false when it did not end within half a minute. */
  boolean stop() throws InterruptedException {
    process.destroy();
    return process.waitFor(ENDS_WITHIN_S, TimeUnit.SECONDS);
  }

  /** Sends it a signal. */
  void signal(String which) throws IOException, InterruptedException {
    signal(handle(), which);
  }

  /** Sends a process a signal. */
  static void signal(ProcessHandle to, String which) throws IOException, InterruptedException {
    new ProcessBuilder("kill", which, Long.toString(to.pid())).start().waitFor();
  }

  /** Ends it, whatever state it is in. */
  @Override
  public void close() {
    process.destroyForcibly();
  }
}
