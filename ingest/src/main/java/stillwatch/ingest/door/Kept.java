package stillwatch.ingest.door;

import java.io.IOException;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** Waits until readings are kept. */
final class Kept {
  private static final int PATIENCE_S = 20;

  private Kept() {}

  /**
   * Returns when they are.
   *
   * @throws IOException when they are not: the other side must keep them
   */
  static void await(CompletableFuture<?> readings) throws IOException, InterruptedException {
    try {
      readings.get(PATIENCE_S, TimeUnit.SECONDS);
    } catch (ExecutionException e) {
      throw new IOException("readings cannot be kept: " + e.getMessage(), e);
    } catch (TimeoutException e) {
      throw new IOException("readings are not kept within " + PATIENCE_S + " s", e);
    }
  }
}
