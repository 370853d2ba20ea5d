package stillwatch.alerts;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.concurrent.atomic.AtomicLong;

/** A clock that is never read twice at the same millisecond. */
public final class MovingClock extends Clock {
  private final AtomicLong nextMs;

  /** Starts here. */
  public MovingClock(String now) {
    nextMs = new AtomicLong(Instant.parse(now).toEpochMilli());
  }

  /** Moves on. */
  public void forward(Duration step) {
    nextMs.addAndGet(step.toMillis());
  }

  @Override
  public long millis() {
    return nextMs.getAndIncrement();
  }

  @Override
  public Instant instant() {
    return Instant.ofEpochMilli(millis());
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
