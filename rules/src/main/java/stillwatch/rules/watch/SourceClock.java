package stillwatch.rules.watch;

import stillwatch.ingest.telemetry.Frame;

/**
 * The clock of one source, as its frames show it. A frame stamped too far ahead of its reception is
 * refused: it would deafen its gauges until then. A source whose stamps go on at the pace of
 * reception, but behind what it said before or too far ahead of reception, has a clock that was
 * set: from then on its frames are timed by reception, until its stamps fit again. Late frames that
 * come faster than they are stamped are a backlog and are left as they are. Not thread-safe.
 */
final class SourceClock {
  /** Where a frame belongs. */
  enum Place {
    /** It goes on from the last one. */
    ON,
    /** It lies before one already taken. */
    BEHIND,
    /** It is stamped too far ahead of its reception, and is ignored. */
    AHEAD
  }

  /** So many frames in a row at the pace of reception show that the clock was set. */
  private static final int STREAK = 3;

  /** Less than this a source may go back without its clock having been set, ms. */
  private static final long SLIGHT_MS = 5_000;

  private final long toleranceMs;
  private long lastAtMs = Long.MIN_VALUE;
  private long lastRawMs = Long.MIN_VALUE;
  private long lastReceivedMs = Long.MIN_VALUE;
  private long forwardMs;
  private long atMs;
  private int streak;
  private boolean wasSet;

  /** A clock that may run ahead of reception by so much, ms. */
  SourceClock(long toleranceMs) {
    this.toleranceMs = toleranceMs;
  }

  /**
   * Somebody says that the source's clock was set: where the next frame does not go on from the
   * last one, it and those after it are moved so that they do, at once and however irregularly the
   * source speaks. They are moved at most so far ahead of reception as the last one was believed.
   */
  void wasSet() {
    wasSet = true;
  }

  /** Takes a frame's stamps; {@link #atMs()} then is its time. */
  Place accept(Frame frame) {
    long raw = frame.atMs();
    long received = frame.receivedMs();
    boolean paced = paced(raw, received);
    if (forwardMs != 0 && Math.abs(raw - received) <= toleranceMs && raw > lastAtMs) {
      forwardMs = 0; // the clock was set right again
    }
    long at = raw + forwardMs;
    Place place =
        at - received > toleranceMs ? Place.AHEAD : at <= lastAtMs ? Place.BEHIND : Place.ON;
    boolean strange = place == Place.AHEAD || (place == Place.BEHIND && lastAtMs - at > SLIGHT_MS);
    streak = strange ? (paced ? streak + 1 : 1) : 0;
    if (wasSet && place != Place.ON) {
      at = Math.max(received, lastAtMs + 1);
      forwardMs = at - raw;
      place = Place.ON;
      streak = 0;
    } else if (streak >= STREAK) {
      forwardMs = received - raw;
      at = Math.max(received, lastAtMs + 1);
      place = Place.ON;
      streak = 0;
    }
    wasSet = false;
    lastRawMs = raw;
    lastReceivedMs = received;
    atMs = at;
    if (place == Place.ON) {
      lastAtMs = at;
    }
    return place;
  }

  /** Whether the source's time has gone on as reception has. */
  private boolean paced(long raw, long received) {
    long by = received - lastReceivedMs;
    return lastRawMs != Long.MIN_VALUE
        && by > 0
        && Math.abs(raw - lastRawMs - by) <= Math.max(500, by / 2);
  }

  /** The time of the frame last taken, source's time or, where the clock was set, by reception. */
  long atMs() {
    return atMs;
  }

  /** The last time taken. */
  long lastAtMs() {
    return lastAtMs;
  }

  /** How far the source's time is moved forward, ms; 0 when it is not. */
  long forwardMs() {
    return forwardMs;
  }
}
