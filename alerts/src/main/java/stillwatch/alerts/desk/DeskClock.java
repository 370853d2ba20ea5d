package stillwatch.alerts.desk;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;

/** Has the desk do what time brings, twice a second. One thread runs it. */
public final class DeskClock implements Runnable, AutoCloseable {
  private static final long EVERY_MS = 500;

  private final Desk desk;
  private final Supplier<String> phase;
  private final Runnable alive;
  private final CountDownLatch closing = new CountDownLatch(1);

  /**
   * A clock for this desk.
   *
   * @param phase the phase the test is in
   * @param alive told each time
   */
  public DeskClock(Desk desk, Supplier<String> phase, Runnable alive) {
    this.desk = desk;
    this.phase = phase;
    this.alive = alive;
  }

  @Override
  public void run() {
    try {
      while (!closing.await(EVERY_MS, TimeUnit.MILLISECONDS)) {
        desk.look(phase.get());
        alive.run();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() {
    closing.countDown();
  }
}
