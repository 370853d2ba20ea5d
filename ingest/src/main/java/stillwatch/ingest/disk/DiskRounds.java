package stillwatch.ingest.disk;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Looks at a disk five times a second until it is closed. One thread runs it. */
public final class DiskRounds implements Runnable, AutoCloseable {
  private static final long EVERY_MS = 200;

  private final Disk disk;
  private final Runnable alive;
  private final CountDownLatch closing = new CountDownLatch(1);

  /**
   * Rounds.
   *
   * @param alive told after each look
   */
  public DiskRounds(Disk disk, Runnable alive) {
    this.disk = disk;
    this.alive = alive;
  }

  @Override
  public void run() {
    try {
      do {
        disk.look();
        alive.run();
      } while (!closing.await(EVERY_MS, TimeUnit.MILLISECONDS));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() {
    closing.countDown();
  }
}
