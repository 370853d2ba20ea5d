package stillwatch.station.run;

import java.time.Duration;
import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import stillwatch.ingest.bus.Bus;

/**
 * Asks the broker every second whether it is there, so that whoever wants to know need not wait for
 * one that is not. One thread runs it.
 */
public final class BrokerRounds implements Runnable, AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(3);
  private static final long EVERY_MS = 1000;
  private static final String ANSWER = "broker's answer";

  private final Bus bus;
  private final Map<String, String> broken;
  private final CountDownLatch closing = new CountDownLatch(1);

  /**
   * Rounds.
   *
   * @param broken has a sentence of it while the broker does not answer
   */
  public BrokerRounds(Bus bus, Map<String, String> broken) {
    this.bus = bus;
    this.broken = broken;
  }

  @Override
  public void run() {
    try {
      do {
        bus.fault(PATIENCE)
            .ifPresentOrElse(
                why -> broken.put(ANSWER, "the broker does not answer (" + why + ")"),
                () -> broken.remove(ANSWER));
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
