package stillwatch.rules.signal;

/**
 * Keeps readings that a well cannot make away from the estimators until it is known what they are.
 * A change faster than fluid can move starts it. While it lasts readings wait; then one of three
 * things happens. The gauge comes back to where it was, or reads outside its range: what waited is
 * thrown away, as if it had never been read, and counted. Or the new level stays within its range
 * for the holding time: what waited is let go, in order, and was true. A gauge that turns back as
 * fast as it went swings wildly, and is believed only after four times as long without another such
 * turn. So a straight dive to zero, a ramp that an archive drew between two points and a wild jump
 * leave no trace in level, slope and noise.
 *
 * <p>{@value #FASTEST_PER_S} kPa/s was chosen on recordings of producing wells: a valve that shuts
 * on a small volume moves its gauge by up to 115 kPa/s, drop-outs drawn as lines by 187 kPa/s and
 * more (common practice, no source). Only pressure is judged so. The waiting readings are bounded
 * in number and time. Not thread-safe.
 */
final class Quarantine {
  /** Faster than this no well moves, kPa/s. */
  static final double FASTEST_PER_S = 150;

  /** What becomes of a reading. */
  enum Verdict {
    /** It is as it should be. */
    PASS,
    /** It waits. */
    WAITS,
    /** What waited was true: take it from {@link Quarantine#waiting()} on, this one last. */
    RELEASED,
    /** What waited was no reading of the well; this one passes. */
    DISCARDED
  }

  private static final int MOST = 512;
  private static final long STAYS_MS = 30_000;
  private static final double STAYS = 0.25;
  private static final int AFTER_OUTSIDE = 20;

  /** So many holding times without one more wild turn, until a gauge that made one is believed. */
  private static final int AFTER_WILD = 4;

  /** So long what was thrown away tells of the gauge (a choice, no source). */
  private static final long HISTORY_MS = 6 * 3_600_000L;

  private static final long NEVER = Long.MIN_VALUE / 2;
  private static final long LEAST_STEP_MS = 1_000;
  private static final long HOLD_MS = 30_000;
  private static final long SHORT_STEP_MS = 10_000;
  private static final long LONG_STEP_MS = 60_000;

  private final long holdMs;
  private final long mostStepMs;
  private final double near;
  private final long[] atMs = new long[MOST];
  private final long[] receivedMs = new long[MOST];
  private final double[] value = new double[MOST];
  private int waiting;
  private long goodAtMs = Long.MIN_VALUE;
  private double good = Double.NaN;
  private double before = Double.NaN; // the reading before the good one, which may be on its way
  private double discarded;
  private double jumps; // too fast for a well, of those thrown away or undone
  private double leap; // by which what was let go had gone, and from where
  private double leaptFrom = Double.NaN;
  private long thrownMs = NEVER;
  private int turns;
  private boolean longer;
  private boolean strayed;
  private int heading;
  private long sinceMs; // since when it moves as a well can
  private boolean wild;
  private boolean turned;
  private boolean cameFromOutside;

  /**
   * A quarantine.
   *
   * @param periodMs how often the gauge reads, ms: readings wait for half a minute or three of them
   * @param near within this of where it was, kPa, the gauge counts as back
   */
  Quarantine(long periodMs, double near) {
    holdMs = Math.max(HOLD_MS, 3 * periodMs);
    mostStepMs = Math.max(SHORT_STEP_MS, Math.min(LONG_STEP_MS, periodMs));
    this.near = near;
  }

  /** Takes a reading inside the range, stamped later than the one before. */
  Verdict accept(long at, long received, double reading) {
    if (waiting == 0) {
      if (Double.isNaN(good) || !tooFast(at - goodAtMs, reading - good)) {
        goodAtMs = at;
        before = good;
        good = reading;
        cameFromOutside = false;
        return Verdict.PASS;
      }
      begin(at, reading);
      keep(at, received, reading);
      return Verdict.WAITS;
    }
    if (back(reading)) {
      thrown(at);
      goodAtMs = at;
      before = Double.NaN;
      good = reading;
      cameFromOutside = false;
      return Verdict.DISCARDED;
    }
    look(at, reading);
    if (wild && waiting == MOST) {
      thrown(at);
    }
    keep(at, received, reading);
    boolean full = waiting == MOST && !wild;
    boolean held =
        at - sinceMs >= (cameFromOutside ? AFTER_OUTSIDE : wild ? AFTER_WILD : 1) * holdMs;
    if (!full && !stays(at) && (!held || (longer && straight()))) {
      return Verdict.WAITS;
    }
    leapt(at);
    believe();
    return Verdict.RELEASED;
  }

  /** What waits is true after all, as another gauge shows, and is to be taken. */
  void let() {
    leap = 0;
    believe();
  }

  /** What waits has gone as no well can, and stays; or it has gone back where it came from so. */
  private void leapt(long at) {
    double went = value[waiting - 1] - good;
    if (leap() * went < 0) {
      jumps = jumps(at) + 2;
      thrownMs = at;
      leap = 0;
    } else if (tooFast(SHORT_STEP_MS, went)) {
      leap = went;
      leaptFrom = good;
    }
  }

  private void believe() {
    goodAtMs = atMs[waiting - 1];
    before = Double.NaN;
    good = value[waiting - 1];
    cameFromOutside = false;
  }

  /**
   * How far the newest reading that waits is from where the gauge was, kPa; NaN when none waits.
   */
  double change() {
    return waiting == 0 ? Double.NaN : value[waiting - 1] - good;
  }

  /** A reading outside the range: what waits was on its way there, and is thrown away. */
  void outside() {
    if (waiting > 0) {
      thrown(atMs[waiting - 1]);
    }
    cameFromOutside = true; // whatever comes back waits until it is where it was, or has stayed
  }

  /** What waits is thrown away: it went away from where the gauge was, and each turn once more. */
  private void thrown(long at) {
    jumps = jumps(at) + 1 + turns;
    thrownMs = at;
    discarded++;
    turns = 0;
    waiting = 0;
  }

  private void begin(long at, double reading) {
    strayed = false;
    wild = false;
    turned = false;
    turns = 0;
    heading = reading > good ? 1 : -1;
    sinceMs = at;
  }

  /** Whether the next reading strays from the first, or turns back as fast as it went. */
  private void look(long at, double reading) {
    strayed |= Math.abs(reading - value[0]) > STAYS * Math.abs(value[0] - good);
    double change = reading - value[waiting - 1];
    boolean fast = tooFast(at - atMs[waiting - 1], change);
    turned = fast && change * heading < 0;
    if (turned) {
      wild = true;
      turns++;
      heading = -heading;
    }
    if (turned || (fast && holdMs > HOLD_MS)) { // so few readings do not tell a turn from a fall
      sinceMs = at;
    }
  }

  /** Whether the newest reading that waits turned back as fast as the gauge went before. */
  boolean turned() {
    return turned;
  }

  /** Whether it has stayed about where the first reading that waits was: a slow gauge's step. */
  private boolean stays(long at) {
    return !cameFromOutside && !strayed && at - atMs[0] >= STAYS_MS;
  }

  /**
   * Whether the gauge is where it was: at its last good reading, or at the one before, when the
   * last caught it early on its way and was not yet too fast.
   */
  private boolean back(double reading) {
    return Math.abs(reading - good) <= near || Math.abs(reading - before) <= near;
  }

  /** Whether so much within this time is more than fluid can move. */
  boolean tooFast(long stepMs, double change) {
    double seconds = Math.max(LEAST_STEP_MS, Math.min(mostStepMs, stepMs)) / 1000.0;
    return Math.abs(change) > FASTEST_PER_S * seconds;
  }

  private void keep(long at, long received, double reading) {
    atMs[waiting] = at;
    receivedMs[waiting] = received;
    value[waiting] = reading;
    waiting++;
  }

  /** Whether what waits lies on one straight line, which only an archive draws so long. */
  private boolean straight() {
    double span = atMs[waiting - 1] - atMs[0];
    double slope = (value[waiting - 1] - value[0]) / span;
    double slack = 1e-3 * Math.abs(value[waiting - 1] - value[0]) + 1e-9;
    for (int i = 1; i < waiting; i++) {
      if (Math.abs(value[0] + slope * (atMs[i] - atMs[0]) - value[i]) > slack) {
        return false;
      }
    }
    return true;
  }

  /** Whether other gauges of the well stand still, so that a straight line may wait for longer. */
  void othersStandStill(boolean still) {
    longer = still;
  }

  /** How many readings wait. */
  int waiting() {
    return waiting;
  }

  long atMs(int i) {
    return atMs[i];
  }

  long receivedMs(int i) {
    return receivedMs[i];
  }

  double value(int i) {
    return value[i];
  }

  /** What waited has been taken. */
  void taken() {
    waiting = 0;
  }

  /** Somebody worked on the gauge: wherever it reads next is where it is. */
  void restart() {
    waiting = 0;
    before = Double.NaN;
    good = Double.NaN;
    leap = 0;
    cameFromOutside = false;
  }

  /**
   * How far it is from where it was before it went faster than fluid can move, by more than a well
   * moves in ten seconds, and stayed there, kPa with sign; 0 when it has not, or is nearer to where
   * it was.
   */
  double leap() {
    return leap != 0 && 2 * Math.abs(good - leaptFrom) > Math.abs(leap) ? good - leaptFrom : 0;
  }

  /**
   * How many jumps faster than fluid can move were thrown away, or stayed and were undone by
   * another, while there were no six hours between two of them.
   */
  double jumps(long at) {
    return at - thrownMs <= HISTORY_MS ? jumps : 0;
  }

  /** How often readings were thrown away. */
  double discarded() {
    return discarded;
  }
}
