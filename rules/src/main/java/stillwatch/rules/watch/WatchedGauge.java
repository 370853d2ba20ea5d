package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.account.Rise;
import stillwatch.rules.account.Witness;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.Trust;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.signal.Course;
import stillwatch.rules.signal.FreeSlope;
import stillwatch.rules.signal.GaugeTrack;
import stillwatch.rules.signal.Pace;
import stillwatch.rules.signal.TrackSettings;
import stillwatch.rules.signal.Trail;

/** One gauge of the plan, its track, and what is held against it now. Not thread-safe. */
final class WatchedGauge {
  private static final long HOUR_MS = 3_600_000;
  private static final long NEVER = Long.MIN_VALUE / 2;
  private static final long NOT_YET = Long.MAX_VALUE / 2;

  /** A rise counts when its slope is so many times its error. */
  private static final double FOLLOWS_SIGMAS = 5;

  /** And so large a share of the gauge's accuracy an hour. */
  private static final double FOLLOWS = 0.25;

  private static final long LONGEST_MISSED_MS = HOUR_MS;

  final GaugePlan plan;
  final String group;
  final Set<String> against = new TreeSet<>();

  /** The gauges it should agree with. */
  final List<WatchedPair> pairs = new ArrayList<>();

  GaugeTrack track;
  boolean odd;
  String oddWhy = "";

  /** When it last stepped by itself, source's time, and by how much. */
  long steppedMs = NEVER;

  double steppedBy;

  final Drift drift = new Drift();

  /** What is to be thought of it should it alone see a loss; null before there is a twin. */
  @Nullable Judgement judged;

  /** When it last left its own course while a twin that is alive kept to its, log time. */
  long strayedMs = NEVER;

  /** When somebody last worked on it, source's time, and what was done. */
  long workedMs = NEVER;

  String work = "";

  /** Taken out of use by somebody. */
  boolean out;

  /** The unit it seems to speak; empty when its own. */
  String unit = "";

  boolean belowSea;

  /** The last closure step, which another gauge answered and it did not; source's time. */
  long missedStepMs = Long.MIN_VALUE;

  @Nullable GaugeIndicator said;
  private final Responses responses = new Responses(this);
  private FreeSlope threeHours;
  private FreeSlope oneHour;
  private long touchedMs = NOT_YET;
  private long followsMs = NEVER;

  private final double tideKPa;
  private final long periodMs;
  private final long firstDueMs;
  private long missedSinceMs = Long.MIN_VALUE;

  WatchedGauge(GaugePlan plan, String group, double tideKPa, long startMs) {
    this.plan = plan;
    this.group = group;
    this.tideKPa = tideKPa;
    periodMs = plan.period().toMillis();
    firstDueMs = startMs;
    track = track();
    threeHours = slope(3 * HOUR_MS);
    oneHour = slope(HOUR_MS);
  }

  private GaugeTrack track() {
    return new GaugeTrack(
        new TrackSettings(
            plan.kind(),
            plan.low(),
            plan.high(),
            plan.resolution(),
            plan.accuracy(),
            new Pace(periodMs)));
  }

  private FreeSlope slope(long horizonMs) {
    boolean sea = plan.kind() == Kind.PRESSURE && plan.role() == GaugePlan.Role.SHUT_IN;
    return new FreeSlope(Math.max(horizonMs, 36 * periodMs), plan.resolution(), sea ? tideKPa : 0);
  }

  /** Whether it senses the shut-in pressure. */
  boolean shutIn() {
    return plan.kind() == Kind.PRESSURE && plan.role() == GaugePlan.Role.SHUT_IN;
  }

  long periodMs() {
    return periodMs;
  }

  /** Whether what it says may reassure. */
  boolean trusted() {
    return against.isEmpty() && sane();
  }

  private boolean sane() {
    return track.acceptedCount() > 0 && !out && unit.isEmpty() && !belowSea;
  }

  /** Whether what it sees may raise an alarm, whatever is said against it. */
  boolean alarms(long nowMs) {
    return sane() && fresh(nowMs) && (against.isEmpty() || track.alive());
  }

  /**
   * Whether its last believable reading is at most three periods old and nothing worse came since.
   */
  boolean fresh(long nowMs) {
    return track.acceptedCount() > 0
        && !track.outOfRange()
        && nowMs - track.lastReceivedMs() <= Math.max(5000, 3 * periodMs());
  }

  /** What it shows of the movements of those beside it. */
  Responses responses() {
    return responses;
  }

  /** Takes in how it went beside the others; on the cadence. */
  void compare(long nowMs) {
    if (!fresh(nowMs) || track.waiting()) {
      return;
    }
    responses.compare(nowMs);
    long atMs = track.lastAtMs();
    long lastMissedMs = responses.missedMs();
    boolean misses = lastMissedMs > provenMs() && atMs - lastMissedMs < LONGEST_MISSED_MS;
    if (!misses) {
      missedSinceMs = Long.MIN_VALUE;
    } else if (missedSinceMs == Long.MIN_VALUE) {
      missedSinceMs = atMs;
    }
  }

  /** When it last showed that it feels the well, source's time; {@link Long#MIN_VALUE} if never. */
  long provenMs() {
    long proven = Math.max(responses.provenMs(), followsMs);
    return proven == NEVER ? Long.MIN_VALUE : proven;
  }

  /** Whether it has shown within so long that it feels the well, and has missed nothing since. */
  boolean responds(long withinMs) {
    long atMs = track.lastAtMs();
    return missedS() == 0
        && track.alive()
        && (atMs - responses.provenMs() <= withinMs || atMs - followsMs <= HOUR_MS);
  }

  /** Whether it has shown within so long that it feels the well, and has missed no rise since. */
  boolean proven(long withinMs) {
    return track.alive() && !missedRise() && provenMs() >= track.lastAtMs() - withinMs;
  }

  /**
   * Whether it has missed a rise of another, or a step, since it last showed that it feels the
   * well. A fall that another shows alone is what is to be decided, and no evidence.
   */
  boolean missedRise() {
    long missed = Math.max(missedStepMs, responses.missedRiseMs());
    return missed != Long.MIN_VALUE && missed >= provenMs();
  }

  /**
   * Notes whether it rises as a shut-in well does, by the logarithm of the time since the last
   * step: then its slope falls with that time, which neither a plugged gauge nor its drift does.
   * The last hour's slope speaks for the middle of that hour. The limits are common practice, no
   * source.
   */
  private void follow() {
    double sinceHours = (track.lastAtMs() - touchedMs) / (double) HOUR_MS;
    double slope = oneHour.slopePerHour();
    double now = slope * (sinceHours - 0.5);
    double before = threeHours.slopePerHour() * (sinceHours - 1.5);
    if (sinceHours > 2
        && slope > Math.max(FOLLOWS_SIGMAS * oneHour.slopeError(), FOLLOWS * plan.accuracy())
        && now > 0.5 * before
        && now < 2 * before) {
      followsMs = track.lastAtMs() - HOUR_MS / 2;
    }
  }

  /** The well was touched: slow courses begin again. */
  void touched(long atMs) {
    track.touched(atMs);
    threeHours = slope(3 * HOUR_MS);
    oneHour = slope(HOUR_MS);
    touchedMs = atMs;
  }

  /** Whether the well was touched, or the gauge worked on, at this source's time or later. */
  boolean touchedSince(long atMs) {
    return touchedMs != NOT_YET && touchedMs >= atMs;
  }

  /** Somebody worked on it: what was known of its level no longer holds. */
  void worked(String what, long atMs) {
    work = what;
    workedMs = atMs;
    odd = false;
    oddWhy = "";
    track.forgetCourse();
    touched(atMs);
    responses.restart();
  }

  GaugeIndicator indicator(Moment moment, boolean calmTwin) {
    long nowMs = moment.nowMs();
    boolean heard = track.acceptedCount() > 0;
    if (heard && shutIn()) {
      threeHours.accept(track.lastAtMs(), track.level(), moment.ambient());
      oneHour.accept(track.lastAtMs(), track.level(), moment.ambient());
      follow();
    }
    GaugeIndicator now =
        new GaugeIndicator(
            moment.well(),
            plan.id(),
            plan.kind().wire(),
            plan.role().wire(),
            group,
            heard ? track.lastAtMs() : nowMs,
            nowMs,
            periodMs / 1000.0,
            plan.accuracy(),
            plan.resolution(),
            trust(nowMs, calmTwin),
            course(moment),
            track.fall(),
            track.life(nowMs, firstDueMs),
            track.range(),
            track.shortfall(),
            track.noisiness(),
            track.hearing(),
            track.reach(moment.bands().ceilingKPa()));
    track.said();
    said = now;
    return now;
  }

  private Course course(Moment moment) {
    return new Course(
        track.lastValue(),
        track.level(),
        track.slopePerHour10m(),
        -threeHours.slopePerHour() - moment.cooling().value(),
        both(threeHours.slopeError(), moment.cooling().deviation()),
        oneHour.slopePerHour(),
        oneHour.slopeError());
  }

  /** The deviation of two independent things together. */
  private static double both(double a, double b) {
    return Math.sqrt(a * a + b * b);
  }

  private Trust trust(long nowMs, boolean calmTwin) {
    return new Trust(
        trusted(),
        alarms(nowMs),
        odd,
        oddWhy,
        calmTwin,
        Math.max(0, provenMs()),
        missedS(),
        unit,
        belowSea,
        track.lowest());
  }

  private double missedS() {
    long since = missedSinceMs;
    if (missedStepMs > provenMs()) {
      since = since == Long.MIN_VALUE ? missedStepMs : Math.min(since, missedStepMs);
    }
    return since == Long.MIN_VALUE ? 0 : (track.lastAtMs() - since) / 1000.0;
  }

  /** The gauge as the account sees it. */
  Witness witness(boolean felt, double before, long nowMs) {
    return new Witness(
        plan.id(),
        felt,
        before,
        track.level(),
        plan.accuracy(),
        Math.max(0, provenMs()),
        alarms(nowMs));
  }

  /** The highest level it had from a while before a time up to it; NaN when it is not known. */
  double levelBefore(long atMs) {
    double highest = Double.NaN;
    double first = Double.NaN;
    for (Trail.Point p : track.trail().since(atMs - 600_000)) {
      first = Double.isNaN(first) ? p.level() : first;
      if (p.atMs() <= atMs) {
        highest = Double.isNaN(highest) ? p.level() : Math.max(highest, p.level());
      }
    }
    return Double.isNaN(highest) ? first : highest;
  }

  /**
   * How it was rising before a change that began within two hours of a step; later the rise is too
   * small beside its noise to be told.
   */
  Rise rise(long stepMs, long onsetMs) {
    Trail.Point first = null;
    Trail.Point last = null;
    for (Trail.Point p : track.trail().since(Math.max(stepMs, onsetMs - 600_000))) {
      if (p.atMs() > stepMs && p.atMs() <= onsetMs) {
        first = first == null ? p : first;
        last = p;
      }
    }
    if (first == null || last == null || last.equals(first) || onsetMs - stepMs > 2 * HOUR_MS) {
      return Rise.NONE;
    }
    double logs = StrictMath.log((double) (last.atMs() - stepMs) / (first.atMs() - stepMs));
    return new Rise(Math.max(0, last.level() - first.level()) / logs, stepMs, onsetMs);
  }

  /** How its level went from a little before a time up to now, for evidence. */
  Evidence.Trail trail(long fromMs) {
    List<Long> atMs = new ArrayList<>();
    List<Double> level = new ArrayList<>();
    for (Trail.Point point : track.trail().since(fromMs - 60_000)) {
      atMs.add(point.atMs());
      level.add(point.level());
    }
    return new Evidence.Trail(plan.id(), plan.kind().baseUnit(), atMs, level);
  }
}
