package stillwatch.station.output;

import java.nio.file.Path;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.Recording;

/** A progress bar on standard error while a recording is read, where that is a terminal. */
public final class ProgressBar implements AutoCloseable {
  private static final int WIDTH = 30;

  private final @Nullable ScheduledExecutorService beat;

  private ProgressBar(@Nullable ScheduledExecutorService beat) {
    this.beat = beat;
  }

  /** Begins to show how much of a recording was read. */
  public static ProgressBar over(Path file, Recording feed) {
    if (!Boolean.getBoolean("stillwatch.terminal")) {
      return new ProgressBar(null);
    }
    ScheduledExecutorService beat =
        Executors.newSingleThreadScheduledExecutor(
            r -> {
              Thread t = new Thread(r, "progress");
              t.setDaemon(true);
              return t;
            });
    var unused = beat.scheduleAtFixedRate(() -> draw(file, feed), 300, 200, TimeUnit.MILLISECONDS);
    return new ProgressBar(beat);
  }

  private static void draw(Path file, Recording feed) {
    double share = feed.size() == 0 ? 1 : Math.min(1.0, (double) feed.bytesRead() / feed.size());
    int full = (int) (share * WIDTH);
    System.err.printf(
        "\r[%s%s] %3.0f %% %s",
        "#".repeat(full), ".".repeat(WIDTH - full), share * 100, file.getFileName());
    System.err.flush();
  }

  @Override
  public void close() {
    if (beat != null && !beat.isShutdown()) {
      beat.shutdownNow();
      System.err.print("\r\033[K");
    }
  }
}
