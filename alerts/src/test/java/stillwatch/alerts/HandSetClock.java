package stillwatch.alerts;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.concurrent.atomic.AtomicLong;

/** A clock that the test sets. Safe from any thread. */
public final class HandSetClock extends Clock {
  private final AtomicLong nowMs;
  private final long tickMs;

  private HandSetClock(String now, long tickMs) {
    nowMs = new AtomicLong(Instant.parse(now).toEpochMilli());
    this.tickMs = tickMs;
  }

  /** A clock set to an instant (RFC 3339), which moves by {@link #forward} alone. */
  public HandSetClock(String now) {
    this(now, 0);
  }

  /** A clock that each reading moves on by 1 ms, so that no two readings are the same. */
  public static HandSetClock ticking(String now) {
    return new HandSetClock(now, 1);
  }

  /** Moves the clock on. */
  public void forward(Duration step) {
    nowMs.addAndGet(step.toMillis());
  }

  @Override
  public long millis() {
    return nowMs.getAndAdd(tickMs);
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
