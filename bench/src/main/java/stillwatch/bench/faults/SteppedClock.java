package stillwatch.bench.faults;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/** A clock that goes on by 10 ms whenever somebody reads it, and steps. Safe from any thread. */
final class SteppedClock extends Clock {
  private Instant now = Instant.parse("2026-03-08T06:00:00Z");

  /** Sets it on, or back. */
  synchronized void step(Duration by) {
    now = now.plus(by);
  }

  @Override
  public synchronized Instant instant() {
    now = now.plusMillis(10);
    return now;
  }

  @Override
  public ZoneId getZone() {
    return ZoneOffset.UTC;
  }

  @Override
  public Clock withZone(ZoneId zone) {
    return this;
  }
}
