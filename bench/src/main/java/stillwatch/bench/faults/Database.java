package stillwatch.bench.faults;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;

/** A PostgreSQL server that is killed, stands still, and comes back on the same port and folder. */
final class Database implements AutoCloseable {
  static final String USER = "postgres";

  private final Path folder;
  private final int port = Part.freePort();
  private EmbeddedPostgres server;

  Database(Path folder) throws IOException {
    this.folder = folder;
    server = run();
  }

  private EmbeddedPostgres run() throws IOException {
    return EmbeddedPostgres.builder()
        .setDataDirectory(folder)
        .setCleanDataDirectory(false)
        .setPort(port)
        .setPGStartupWait(Duration.ofMinutes(1))
        .start();
  }

  String url() {
    return "jdbc:postgresql://127.0.0.1:" + port + "/postgres";
  }

  /** The server and the processes it has made. */
  private List<ProcessHandle> processes() throws IOException {
    long pid = Long.parseLong(Files.readAllLines(folder.resolve("postmaster.pid")).get(0).strip());
    return ProcessHandle.of(pid).stream()
        .flatMap(p -> Stream.concat(Stream.of(p), p.descendants()))
        .toList();
  }

  /** Sends all of them a signal. */
  void signal(String which) throws IOException, InterruptedException {
    for (ProcessHandle p : processes()) {
      Part.signal(p, which);
    }
  }

  /** Signal 9 to all of them; gives up the folder. */
  void kill() throws IOException, InterruptedException {
    List<ProcessHandle> all = processes();
    for (ProcessHandle p : all) {
      Part.signal(p, "-KILL");
    }
    for (ProcessHandle p : all) {
      p.onExit().join();
    }
    server.close();
  }

  /** Stops it in order: PostgreSQL's fast shutdown. */
  void stop() throws IOException {
    server.close();
  }

  /** Starts it again after it was killed or stopped. */
  void start() throws IOException {
    server = run();
  }

  @Override
  public void close() throws IOException {
    server.close();
  }
}
