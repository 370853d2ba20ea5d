package stillwatch.rules.signal;

import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.unit.Kind;

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
  private final TenSecondMeans means = new TenSecondMeans();
  private final Jitter jitter = new Jitter();
  private final Spikes spikes = new Spikes();
  private final StraightLine straight;
  private final @Nullable Expectation expectation;
  private final @Nullable Background background;
  private final Trail trail = new Trail();

  private long lastAtMs = Long.MIN_VALUE;
  private long lastReceivedMs = Long.MIN_VALUE;
  private double lastValue = Double.NaN;
  private double level = Double.NaN;
  private double saidLevel = Double.NaN;
  private long saidAtMs = Long.MIN_VALUE;
  private boolean outOfRange;
  private boolean outOfRangeLately;
  private long outOfRangeSinceMs;
  private long outOfRangeLastMs;
  private long outOfRangeReceivedMs = Long.MIN_VALUE;
  private double lastOutOfRange = Double.NaN;
  private long accepted;
  private long outOfRangeCount;
  private long late;
  private long bad;
  private long lateStreak;
  private long backMs;

  /** A track that has seen nothing. */
  public GaugeTrack(TrackSettings settings) {
    this.settings = settings;
    straight = new StraightLine(0.5 * settings.resolution());
    expectation =
        settings.kind() == Kind.PRESSURE
            ? new Expectation(settings.accuracy() / 1000 + settings.resolution() / 2)
            : null;
    background = settings.kind() == Kind.SOUND ? new Background() : null;
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
        lateStreak++;
        backMs = lastAtMs - atMs;
        return;
      }
      believe(atMs, receivedMs, value);
    } else if (!Double.isNaN(value)) {
      if (!outOfRange) {
        outOfRange = true;
        outOfRangeSinceMs = atMs;
      }
      outOfRangeLately = true;
      outOfRangeLastMs = Math.max(atMs, outOfRangeSinceMs);
      outOfRangeReceivedMs = receivedMs;
      lastOutOfRange = value;
      outOfRangeCount++;
    }
  }

  private void believe(long atMs, long receivedMs, double value) {
    outOfRange = false;
    accepted++;
    lateStreak = 0;
    backMs = 0;
    lastAtMs = atMs;
    lastReceivedMs = receivedMs;
    lastValue = value;
    noise.accept(value);
    repeats.accept(atMs, value);
    level = median.accept(value);
    slope10m.accept(atMs, level);
    fall60s.accept(atMs, level);
    fall10m.accept(atMs, level);
    jitter.accept(value);
    straight.accept(atMs, value);
    if (Math.abs(median.middleOff())
        > Math.max(10 * noise.sigma(), Math.max(5 * settings.resolution(), settings.accuracy()))) {
      spikes.add(atMs);
    }
    if (means.accept(atMs, level)) {
      ended(means.fromMs(), means.mean());
    }
    trail.accept(atMs, level);
  }

  private void ended(long fromMs, double mean) {
    slope1h.accept(fromMs, mean);
    slope3h.accept(fromMs, mean);
    if (expectation != null) {
      expectation.accept(fromMs, mean);
    } else if (background != null) {
      background.accept(fromMs, mean);
    }
  }

  /** The well was touched at this source's time: what was expected of it no longer holds. */
  public void touched(long atMs) {
    if (expectation != null) {
      expectation.touched(atMs);
    }
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
    outOfRangeLately = outOfRange;
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

  /** Slope of ten-second means over an hour, per hour; NaN until known. */
  public double slopePerHour1h() {
    return slope1h.perHour();
  }

  /** Slope of ten-second means over three hours, per hour; NaN until known. */
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

  /** Whether any reading since the level was last said was outside the range. */
  public boolean outOfRangeLately() {
    return outOfRangeLately;
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

  /** Readings in a row not later than the last one believed; 0 when the last one was. */
  public long lateStreak() {
    return lateStreak;
  }

  /** How far the last of those lies back, ms; 0 when the last reading was believed. */
  public long backMs() {
    return backMs;
  }

  /** How much the gauge goes to and fro, in its own unit. */
  public double jitter() {
    return jitter.size();
  }

  /** How much it usually does; NaN until known. */
  public double usualJitter() {
    return jitter.usual();
  }

  /**
   * The share of its changes that are turns of two steps or more; standing still proves something
   * only of a lively gauge.
   */
  public double lively() {
    return jitter.lively();
  }

  /** How long readings have lain on one straight line, ms. */
  public long straightMs() {
    return straight.lengthMs();
  }

  /** Spikes in about the last ten minutes. */
  public double spikes() {
    return spikes.at(lastAtMs);
  }

  /**
   * Ten-second mean less what was expected of it; NaN until something is, and for kinds other than
   * pressure.
   */
  public double departure() {
    return expectation == null ? Double.NaN : expectation.departure();
  }

  /** The departure's usual size, a standard deviation; NaN until known. */
  public double departureSigma() {
    return expectation == null ? Double.NaN : expectation.sigma();
  }

  /** Cumulative sum of falling short of the expectation, in those deviations. */
  public double shortSum() {
    return expectation == null ? 0 : expectation.shortSum();
  }

  /** When the present falling short began, source's time. */
  public long shortSinceMs() {
    return expectation == null ? 0 : expectation.shortSinceMs();
  }

  /**
   * When the level is expected to reach another, ms from the last reading; infinite when it does
   * not rise, NaN when not known.
   */
  public double msUntil(double other) {
    return expectation == null ? Double.NaN : expectation.msUntil(other, lastAtMs);
  }

  /** The same, by the steeper of its present and its last hour's course. */
  public double soonestMsUntil(double other) {
    return expectation == null ? Double.NaN : expectation.soonestMsUntil(other, lastAtMs);
  }

  /** The same, by the less steep of the two. */
  public double latestMsUntil(double other) {
    return expectation == null ? Double.NaN : expectation.latestMsUntil(other, lastAtMs);
  }

  /** How far a sound level stands over its background, dB; NaN for other kinds and until known. */
  public double rise() {
    return background == null ? Double.NaN : background.rise();
  }

  /** The background, dB; NaN for other kinds and until known. */
  public double background() {
    return background == null ? Double.NaN : background.background();
  }

  /** How the level went. */
  public Trail trail() {
    return trail;
  }
}
