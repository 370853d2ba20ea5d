package stillwatch.station.run;

import java.time.Duration;
import java.util.Map;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.disk.Disk;

/** What a process looks at in rounds, so that whoever wants to know need not wait for it. */
public final class Lookouts {
  private static final long DISK_MS = 200;
  private static final long BROKER_MS = 1000;
  private static final Duration PATIENCE = Duration.ofSeconds(3);
  private static final String ANSWER = "broker's answer";

  private Lookouts() {}

  /**
   * Looks at a disk five times a second.
   *
   * @param alive told after each look
   */
  public static Rounds disk(Disk disk, Runnable alive) {
    return new Rounds(
        DISK_MS,
        () -> {
          disk.look();
          alive.run();
        });
  }

  /**
   * Asks the broker every second whether it is there.
   *
   * @param broken has a sentence of it while the broker does not answer
   */
  public static Rounds broker(Bus bus, Map<String, String> broken) {
    return new Rounds(
        BROKER_MS,
        () ->
            bus.fault(PATIENCE)
                .ifPresentOrElse(
                    why -> broken.put(ANSWER, "the broker does not answer (" + why + ")"),
                    () -> broken.remove(ANSWER)));
  }
}
