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
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * A watch in processes of its own, as a user would run it, which is started again on the same port
 * and the same folder. One thread starts and ends it; anybody may ask it.
 */
final class LiveWatch implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(2);
  private static final long ENDS_WITHIN_S = 30;

  private final Path plan;
  private final Path data;
  private final File errors;
  private final int port;
  private final HttpClient client = HttpClient.newBuilder().connectTimeout(PATIENCE).build();
  private volatile Process process;

  LiveWatch(Path plan, Path data, Path errors) throws IOException {
    this.plan = plan;
    this.data = data;
    this.errors = errors.toFile();
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    process = run();
  }

  private Process run() throws IOException {
    List<String> line = new ArrayList<>();
    line.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    line.addAll(List.of("-Xmx512m", "-XX:+UseSerialGC", "-XX:TieredStopAtLevel=1", "-cp"));
    line.add(System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")));
    line.addAll(List.of("stillwatch.station.Main", "watch", "--open"));
    line.addAll(List.of("--http", Integer.toString(port), "--plan", plan.toString()));
    line.addAll(List.of("--data", data.toString()));
    Process made =
        new ProcessBuilder(line)
            .redirectError(ProcessBuilder.Redirect.appendTo(errors))
            .redirectOutput(ProcessBuilder.Redirect.PIPE)
            .start();
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

  boolean alive() {
    return process.isAlive();
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

  /** Sends the watch itself a signal. */
  void signal(String which) throws IOException, InterruptedException {
    signal(process.toHandle(), which);
  }

  /** Its broker's process; empty while there is none. */
  Optional<ProcessHandle> broker() {
    return process.children().findFirst();
  }

  /**
   * The address of its broker, from the command that runs it. Read from Linux's {@code /proc}: Java
   * gives no command that is longer than a page.
   */
  Optional<String> brokerAddress() {
    return broker()
        .map(ProcessHandle::pid)
        .map(LiveWatch::command)
        .filter(a -> a.length > 2)
        .map(a -> "127.0.0.1:" + a[a.length - 2]);
  }

  private static String[] command(long pid) {
    try {
      return Files.readString(Path.of("/proc", Long.toString(pid), "cmdline")).split("\0");
    } catch (IOException e) { // it has ended meanwhile
      return new String[0];
    }
  }

  /** Sends a process a signal. */
  static void signal(ProcessHandle to, String which) throws IOException, InterruptedException {
    new ProcessBuilder("kill", which, Long.toString(to.pid())).start().waitFor();
  }

  /** Ends it and its broker, whatever state they are in. */
  @Override
  public void close() {
    broker().ifPresent(ProcessHandle::destroyForcibly);
    process.destroyForcibly();
  }
}
