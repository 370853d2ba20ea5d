package stillwatch.alerts;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.concurrent.atomic.AtomicLong;

/** A clock that the test sets. */
public final class HandSetClock extends Clock {
  private final AtomicLong nowMs;

  /** Set to this. */
  public HandSetClock(String now) {
    nowMs = new AtomicLong(Instant.parse(now).toEpochMilli());
  }

  /** Moves on. */
  public void forward(Duration step) {
    nowMs.addAndGet(step.toMillis());
  }

  @Override
  public long millis() {
    return nowMs.get();
  }

  @Override
  public Instant instant() {
    return Instant.ofEpochMilli(nowMs.get());
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
