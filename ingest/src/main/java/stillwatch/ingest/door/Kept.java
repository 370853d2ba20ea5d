package stillwatch.ingest.door;

import java.io.IOException;
import java.util.Collection;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** Waits until what an {@link Inlet} was given is kept. */
public final class Kept {
  private static final int PATIENCE_S = 20;

  private Kept() {}

  /**
   * Returns when all of it is kept, the refused among the rejects.
   *
   * @throws IOException when some cannot be kept, or not soon, in a sentence
   */
  public static void all(Collection<? extends CompletableFuture<?>> given)
      throws IOException, InterruptedException {
    try {
      CompletableFuture.allOf(given.toArray(CompletableFuture[]::new))
          .get(PATIENCE_S, TimeUnit.SECONDS);
    } catch (ExecutionException e) {
      Throwable why = e.getCause() == null ? e : e.getCause();
      throw new IOException("readings cannot be kept: " + why.getMessage(), e);
    } catch (TimeoutException e) {
      throw new IOException("readings are not kept within " + PATIENCE_S + " s", e);
    }
  }
}
