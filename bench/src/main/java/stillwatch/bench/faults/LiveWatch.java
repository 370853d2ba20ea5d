package stillwatch.bench.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A watch and its broker, in processes of their own. */
final class LiveWatch implements AutoCloseable {
  private final Part part;

  LiveWatch(Path plan, Path data, Path errors) throws IOException {
    part =
        Part.command(
            List.of("watch", "--open", "--plan", plan.toString(), "--data", data.toString()),
            Map.of(),
            errors);
  }

  /** The process that listens. */
  Part part() {
    return part;
  }

  /** Its broker's process; empty while there is none. */
  Optional<ProcessHandle> broker() {
    return part.handle().children().findFirst();
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

  /** Ends it and its broker, whatever state they are in. */
  @Override
  public void close() {
    broker().ifPresent(ProcessHandle::destroyForcibly);
    part.close();
  }
}
