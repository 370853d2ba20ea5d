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
  private static final byte BAD = Quality.BAD.code();

  /** So close to an end of its range, as a share of it, a pressure gauge is at that end. */
  private static final double AT_END = 1e-4;

  private final TrackSettings settings;
  private final double end;
  private final RobustLevel median;
  private final BlockSlope slope10m;
  private final HeldLoss fall;
  private final Swings swings;
  private final Jump jump;
  private final @Nullable Quarantine quarantine;
  private final Noise noise = new Noise();
  private final Repeats repeats = new Repeats();
  private final SpanMeans means;
  private final Jitter jitter = new Jitter();
  private final Spikes spikes = new Spikes();
  private final StraightLine straight;
  private final @Nullable Expectation expectation;
  private final @Nullable Background background;
  private final Outside outside = new Outside();
  private final Lateness lateness = new Lateness();
  private final Trail trail = new Trail();

  private long lastAtMs = Long.MIN_VALUE;
  private long lastReceivedMs = Long.MIN_VALUE;
  private double lastValue = Double.NaN;
  private double level = Double.NaN;
  private double saidLevel = Double.NaN;
  private long saidAtMs = Long.MIN_VALUE;
  private long accepted;
  private long bad;

  /** A track that has seen nothing. */
  public GaugeTrack(TrackSettings settings) {
    this.settings = settings;
    Pace pace = settings.pace();
    boolean pressure = settings.kind() == Kind.PRESSURE;
    end = pressure ? AT_END * (settings.high() - settings.low()) : 0;
    median = new RobustLevel(pace.medianOf());
    slope10m = new BlockSlope(pace.steadyMs());
    fall = new HeldLoss(pace.suddenBlockMs(), pace.heldBlocks(), pace.lostBlocks());
    swings = new Swings(settings);
    jump = new Jump(pace.suddenMs());
    means = new SpanMeans(pace.meanMs());
    quarantine = pressure ? new Quarantine(pace.periodMs(), 5 * settings.accuracy()) : null;
    straight = new StraightLine(0.5 * settings.resolution());
    expectation =
        pressure
            ? new Expectation(settings.accuracy() / 1000 + settings.resolution() / 2, pace)
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
    if (value >= settings.low() + end && value <= settings.high() - end) {
      if (!lateness.late(atMs)) {
        outside.end();
        weigh(atMs, receivedMs, value);
      }
    } else if (!Double.isNaN(value)) {
      if (quarantine != null) {
        quarantine.outside();
      }
      outside.accept(atMs, receivedMs, value);
    }
  }

  /** Believes a reading, or lets it wait until it is known what it is. */
  private void weigh(long atMs, long receivedMs, double value) {
    Quarantine q = quarantine;
    if (q == null) {
      believe(atMs, receivedMs, value);
      return;
    }
    switch (q.accept(atMs, receivedMs, value)) {
      case PASS -> believe(atMs, receivedMs, value);
      case DISCARDED -> {
        spikes.add(atMs);
        believe(atMs, receivedMs, value);
      }
      case RELEASED -> {
        accepted++;
        release(q);
      }
      case WAITS -> {
        lastReceivedMs = receivedMs;
        accepted++;
        if (q.turned()) {
          spikes.add(atMs);
        }
      }
    }
  }

  private void release(Quarantine q) {
    for (int i = 0; i < q.waiting(); i++) {
      if (q.atMs(i) > lastAtMs) {
        accepted--; // it was counted when it began to wait
        believe(q.atMs(i), q.receivedMs(i), q.value(i));
      }
    }
    q.taken();
  }

  /**
   * Two gauges wait with the same change: it is the well's, and is believed.
   *
   * @return whether any reading waited
   */
  public boolean release() {
    Quarantine q = quarantine;
    if (q == null || q.waiting() == 0) {
      return false;
    }
    q.let();
    release(q);
    return true;
  }

  /** The newest reading of any sort: believed, waiting or outside the range; NaN before one. */
  public double lastReading() {
    if (outside.now()) {
      return outside.last();
    }
    return waiting() ? level + waitingChange() : lastValue;
  }

  /** The level, or where readings that wait have gone if that is lower; NaN before the first. */
  public double lowest() {
    double change = waitingChange();
    return change < 0 ? level + change : level;
  }

  /** How far the level has gone to and fro in the last minutes; 0 until known. */
  public double swung() {
    return fall.range();
  }

  /** Whether readings wait until it is known what they are. */
  public boolean waiting() {
    return quarantine != null && quarantine.waiting() > 0;
  }

  /** The largest change from one reading to the next, either way, within about a minute. */
  public double jumpedBy() {
    return Math.max(jump.largestFall(), jump.largestRise());
  }

  /** Whether it has within about a minute moved faster than fluid can, and was believed. */
  public boolean leapt() {
    return quarantine != null && quarantine.tooFast(settings.pace().periodMs(), jumpedBy());
  }

  /** How far the readings that wait have gone; NaN when none waits. */
  public double waitingChange() {
    return quarantine == null ? Double.NaN : quarantine.change();
  }

  /** Whether other gauges of the well stand still, while this one's readings wait. */
  public void othersStandStill(boolean still) {
    if (quarantine != null) {
      quarantine.othersStandStill(still);
    }
  }

  private void believe(long atMs, long receivedMs, double value) {
    accepted++;
    lateness.end();
    lastAtMs = atMs;
    lastReceivedMs = receivedMs;
    lastValue = value;
    noise.accept(value);
    repeats.accept(atMs, value);
    level = median.accept(value);
    slope10m.accept(atMs, level);
    fall.accept(atMs, level);
    swings.accept(atMs, level);
    jump.accept(atMs, value);
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
    if (expectation != null) {
      expectation.accept(fromMs, mean);
    } else if (background != null) {
      background.accept(fromMs, mean);
    }
  }

  /** Somebody worked on the gauge: a level that it held before counts no longer. */
  public void forgetCourse() {
    fall.restart();
    if (quarantine != null) {
      quarantine.restart();
    }
  }

  /** The well was touched at this source's time: what was expected of it no longer holds. */
  public void touched(long atMs) {
    swings.touched(atMs);
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
    outside.said();
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

  /** Readings believed, and those that wait. */
  public long acceptedCount() {
    return accepted;
  }

  /** Readings outside the range. */
  public long outOfRangeCount() {
    return outside.count();
  }

  /** Readings not later than the last one believed. */
  public Lateness lateness() {
    return lateness;
  }

  /** Readings the source itself called bad. */
  public long badCount() {
    return bad;
  }

  /** Whether the last reading, believed or not, was outside the range. */
  public boolean outOfRange() {
    return outside.now();
  }

  /** Log time of the last reading of any sort; {@link Long#MIN_VALUE} before the first. */
  public long seenMs() {
    return Math.max(lastReceivedMs, outside.receivedMs());
  }

  /** Slope of the level over ten minutes or twenty periods, per hour; NaN until known. */
  public double slopePerHour10m() {
    return slope10m.perHour();
  }

  /** Whether its last readings moved as a living gauge's do. */
  public boolean alive() {
    long periodMs = settings.pace().periodMs();
    return accepted > 0
        && repeats.unchangedMs()
            <= Math.max(10_000, Math.max(5 * periodMs, 3 * (long) repeats.habitMs()));
  }

  /** Whether it goes to and fro no more than it usually does. */
  public boolean calm() {
    double usual = jitter.usual();
    return Double.isNaN(usual) || jitter.size() <= 3 * usual;
  }

  /** What it lost of a level that it had held. */
  public Fall fall() {
    return fall.fall(swings.sudden(), jump.largestFall());
  }

  /**
   * Whether it moves as a living gauge does.
   *
   * @param nowMs log time
   * @param firstDueMs log time from which on it was waited for
   */
  public Life life(long nowMs, long firstDueMs) {
    long seen = Math.max(firstDueMs, seenMs());
    return new Life(
        (nowMs - seen) / 1000.0,
        seen,
        repeats.unchangedMs() / 1000.0,
        lastAtMs - repeats.unchangedMs(),
        repeats.habitMs() / 1000.0,
        repeats.changes(),
        straight.lengthMs() / 1000.0,
        jitter.lively());
  }

  /** Whether it reads what can be. */
  public Range range() {
    Quarantine q = quarantine;
    return q == null
        ? outside.range(0, 0, 0, 0)
        : outside.range(q.waiting(), q.discarded(), q.jumps(lastAtMs), q.leap());
  }

  /** How it keeps to its own expected course. */
  public Shortfall shortfall() {
    Expectation e = expectation;
    return e == null
        ? new Shortfall(Double.NaN, Double.NaN, 0, 0, 0, 0, Double.NaN)
        : new Shortfall(
            e.departure(),
            e.sigma(),
            e.shortSum(),
            e.usualPeak(),
            e.shortSinceMs(),
            swings.steady(),
            e.below());
  }

  /** How it goes to and fro. */
  public Noisiness noisiness() {
    return new Noisiness(noise.sigma(), jitter.size(), jitter.usual(), spikes.at(lastAtMs));
  }

  /** A sound level against its background. */
  public Hearing hearing() {
    return background == null
        ? new Hearing(Double.NaN, Double.NaN)
        : new Hearing(background.rise(), background.background());
  }

  /** When it will be at a level, if it goes on. */
  public Reach reach(double other) {
    return expectation == null
        ? new Reach(Double.NaN, Double.NaN, Double.NaN)
        : expectation.reach(other, lastAtMs);
  }

  /** How the level went. */
  public Trail trail() {
    return trail;
  }
}
