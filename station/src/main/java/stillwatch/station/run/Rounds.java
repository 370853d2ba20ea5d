package stillwatch.station.run;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** The same work again and again, with a pause after each time, until it is closed. */
public final class Rounds implements Runnable, AutoCloseable {
  private final long everyMs;
  private final Runnable once;
  private final CountDownLatch closing = new CountDownLatch(1);

  /** Rounds with pauses so long, ms; the first begins at once. */
  public Rounds(long everyMs, Runnable once) {
    this.everyMs = everyMs;
    this.once = once;
  }

  @Override
  public void run() {
    try {
      do {
        once.run();
      } while (!closing.await(everyMs, TimeUnit.MILLISECONDS));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() {
    closing.countDown();
  }
}
