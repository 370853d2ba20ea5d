package stillwatch.rules.signal;

import stillwatch.ingest.telemetry.Quality;

/**
 * What is known of one gauge, updated in constant time and without allocation per reading. A
 * reading is believed when its quality is not bad, it is finite and inside the gauge's range, and
 * its time is later than that of the last one believed; everything else is counted and used for
 * nothing. Falls, slopes and jumps are those of the robust level. Not thread-safe.
 */
public final class GaugeTrack {
  private static final long MINUTE_MS = 60_000;
  private static final byte BAD = Quality.BAD.code();

  private final TrackSettings settings;
  private final RobustLevel median = new RobustLevel();
  private final BlockSlope slope10m = new BlockSlope(10 * MINUTE_MS);
  private final BlockSlope slope1h = new BlockSlope(60 * MINUTE_MS);
  private final BlockSlope slope3h = new BlockSlope(180 * MINUTE_MS);
  private final BlockFall fall60s = new BlockFall(MINUTE_MS);
  private final BlockFall fall10m = new BlockFall(10 * MINUTE_MS);
  private final Noise noise = new Noise();
  private final Repeats repeats = new Repeats();
  private final Trail trail = new Trail();

  private long lastAtMs = Long.MIN_VALUE;
  private long lastReceivedMs = Long.MIN_VALUE;
  private double lastValue = Double.NaN;
  private double level = Double.NaN;
  private double saidLevel = Double.NaN;
  private long saidAtMs = Long.MIN_VALUE;
  private boolean outOfRange;
  private long outOfRangeSinceMs;
  private long outOfRangeLastMs;
  private long outOfRangeReceivedMs = Long.MIN_VALUE;
  private double lastOutOfRange = Double.NaN;
  private long accepted;
  private long outOfRangeCount;
  private long late;
  private long bad;

  /** A track that has seen nothing. */
  public GaugeTrack(TrackSettings settings) {
    this.settings = settings;
  }

  /**
   * Takes a reading.
   *
   * @param atMs source's time, ms since 1970 UTC
   * @param receivedMs log time, ms since 1970 UTC
   * @param value in the base unit; NaN with good quality says nothing at all
   * @param quality a {@link Quality#code()}
   */
  public void accept(long atMs, long receivedMs, double value, byte quality) {
    if (quality >= BAD || quality < 0) {
      bad++;
      return;
    }
    if (value >= settings.low() && value <= settings.high()) {
      if (atMs <= lastAtMs) {
        late++;
        return;
      }
      believe(atMs, receivedMs, value);
    } else if (!Double.isNaN(value)) {
      if (!outOfRange) {
        outOfRange = true;
        outOfRangeSinceMs = atMs;
      }
      outOfRangeLastMs = Math.max(atMs, outOfRangeSinceMs);
      outOfRangeReceivedMs = receivedMs;
      lastOutOfRange = value;
      outOfRangeCount++;
    }
  }

  private void believe(long atMs, long receivedMs, double value) {
    outOfRange = false;
    accepted++;
    lastAtMs = atMs;
    lastReceivedMs = receivedMs;
    lastValue = value;
    noise.accept(value);
    repeats.accept(atMs, value);
    level = median.accept(value);
    slope10m.accept(atMs, level);
    slope1h.accept(atMs, level);
    slope3h.accept(atMs, level);
    fall60s.accept(atMs, level);
    fall10m.accept(atMs, level);
    trail.accept(atMs, level);
  }

  /**
   * Whether the level has moved far since it was last said: by more than eight times the noise,
   * four steps of its resolution and half its accuracy. Says so at most once a second of the
   * source's time.
   */
  public boolean jumped() {
    if (Math.abs(level - saidLevel) <= 0.5 * settings.accuracy() || lastAtMs - saidAtMs < 1000) {
      return false;
    }
    return Math.abs(level - saidLevel) > Math.max(8 * noise.sigma(), 4 * settings.resolution());
  }

  /** Notes that the present level has been said. */
  public void said() {
    saidLevel = level;
    saidAtMs = lastAtMs;
  }

  /** Source's time of the last reading believed; {@link Long#MIN_VALUE} before the first. */
  public long lastAtMs() {
    return lastAtMs;
  }

  /** Log time of the last reading believed; {@link Long#MIN_VALUE} before the first. */
  public long lastReceivedMs() {
    return lastReceivedMs;
  }

  /** The last reading believed; NaN before the first. */
  public double lastValue() {
    return lastValue;
  }

  /** The robust level: median of the last five; NaN before the first. */
  public double level() {
    return level;
  }

  /** Slope of the level over ten minutes, per hour; NaN until known. */
  public double slopePerHour10m() {
    return slope10m.perHour();
  }

  /** Slope of the level over an hour, per hour; NaN until known. */
  public double slopePerHour1h() {
    return slope1h.perHour();
  }

  /** Slope of the level over three hours, per hour; NaN until known. */
  public double slopePerHour3h() {
    return slope3h.perHour();
  }

  /** How far the level is under its highest of the last minute. */
  public double fall60s() {
    return fall60s.fall();
  }

  /** How far the level is under its highest of the last ten minutes. */
  public double fall10m() {
    return fall10m.fall();
  }

  /** Standard deviation from reading to reading; NaN until known. */
  public double noise() {
    return noise.sigma();
  }

  /** How long the last value has repeated, ms of the source's time. */
  public long unchangedMs() {
    return repeats.unchangedMs();
  }

  /** How many readings have shown the last value. */
  public int unchangedCount() {
    return repeats.unchangedCount();
  }

  /** The longest the gauge usually repeats a value, ms. */
  public double habitMs() {
    return repeats.habitMs();
  }

  /** How many changes the gauge has shown. */
  public long changes() {
    return repeats.changes();
  }

  /** Whether the last reading, believed or not, was outside the range. */
  public boolean outOfRange() {
    return outOfRange;
  }

  /**
   * How long readings have been outside the range, ms of the source's time; 0 when the last was
   * inside.
   */
  public long outOfRangeMs() {
    return outOfRange ? outOfRangeLastMs - outOfRangeSinceMs : 0;
  }

  /** Since when, source's time; of no meaning while inside. */
  public long outOfRangeSinceMs() {
    return outOfRangeSinceMs;
  }

  /** Log time of the last reading outside the range; {@link Long#MIN_VALUE} when there was none. */
  public long outOfRangeReceivedMs() {
    return outOfRangeReceivedMs;
  }

  /** The last reading outside the range; NaN when there was none. */
  public double lastOutOfRange() {
    return lastOutOfRange;
  }

  /** Readings believed. */
  public long acceptedCount() {
    return accepted;
  }

  /** Readings outside the range. */
  public long outOfRangeCount() {
    return outOfRangeCount;
  }

  /** Readings not later than the last one believed. */
  public long lateCount() {
    return late;
  }

  /** Readings the source itself called bad. */
  public long badCount() {
    return bad;
  }

  /** How the level went. */
  public Trail trail() {
    return trail;
  }
}
