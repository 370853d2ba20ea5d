package stillwatch.alerts;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;

/** A clock that the test sets. */
public final class HandSetClock extends Clock {
  private volatile long nowMs;

  /** Set to this. */
  public HandSetClock(String now) {
    nowMs = Instant.parse(now).toEpochMilli();
  }

  /** Moves on. */
  public void forward(Duration step) {
    nowMs += step.toMillis();
  }

  @Override
  public long millis() {
    return nowMs;
  }

  @Override
  public Instant instant() {
    return Instant.ofEpochMilli(nowMs);
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
