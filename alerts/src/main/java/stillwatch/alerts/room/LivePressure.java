package stillwatch.alerts.room;

import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.series.Columns;
import stillwatch.alerts.series.LastWord;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.plan.Bands;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Pressures;

/**
 * What the last readings say of the shut-in pressure: level, rate, band, how long low, and the gap
 * to an earlier level. Head, alarm rows and whatever else stands beside a dated sentence read it
 * here. Made anew for each moment; immutable.
 */
final class LivePressure {
  private static final long RATE_MS = 15 * 60_000L;
  private static final int RATE_COLUMNS = 90;
  private static final int RATE_LEAST = 20; // columns, so that a few readings make no rate
  private static final int MINUTES_KEPT = 2880;
  private static final long BREAK_MS = 5 * 60_000L; // a shorter stay above the edge is no recovery
  private static final double HOUR_MS = 3_600_000;
  private static final Catalogue CATALOGUE = Catalogue.shipped();

  /** Where a level lies. */
  enum Band {
    LEAK,
    AMBIGUOUS,
    INTACT,
    ABOVE_CEILING,
    /** Below the intact band, while the log says that the well is open. */
    OPEN;

    /** The band in words. */
    String words() {
      return switch (this) {
        case LEAK -> "leak band";
        case AMBIGUOUS -> "ambiguous";
        case INTACT -> "intact band";
        case ABOVE_CEILING -> "ABOVE CEILING";
        case OPEN -> "well open, low is expected";
      };
    }
  }

  private final RoomParts parts;
  private final GaugePlan gauge;
  private final LastWord word;
  private final Pressures unit;
  private final Columns past;
  private final double[] level;

  private LivePressure(RoomParts parts, GaugePlan gauge, LastWord word) {
    this.parts = parts;
    this.gauge = gauge;
    this.word = word;
    unit = Pressures.of(parts.plan());
    past = parts.picture().columns(List.of(gauge.id()), 0, MINUTES_KEPT);
    level = middles(past, gauge.id());
  }

  /** The live pressure by the gauge that speaks; empty when no shut-in gauge can be trusted. */
  static Optional<LivePressure> of(RoomParts parts, List<DeskAlarm> open) {
    return SpeakingGauge.of(parts, open)
        .flatMap(
            g -> parts.picture().lastWord(g.id()).map(word -> new LivePressure(parts, g, word)));
  }

  private static double[] middles(Columns columns, String id) {
    double[] low = columns.lows().getOrDefault(id, new double[0]);
    double[] high = columns.highs().getOrDefault(id, new double[0]);
    double[] middle = new double[low.length];
    for (int i = 0; i < low.length; i++) {
      middle[i] = (low[i] + high[i]) / 2;
    }
    return middle;
  }

  /** The gauge it is read from. */
  String gauge() {
    return gauge.id();
  }

  /** When it was read, source's time, ms since 1970 UTC. */
  long atMs() {
    return word.atMs();
  }

  /** The level, kPa. */
  double kPa() {
    return word.value();
  }

  /** The slope of the last quarter of an hour, kPa/h; empty while there is too little of it. */
  OptionalDouble rate() {
    double[] y =
        middles(parts.picture().columns(List.of(gauge.id()), RATE_MS, RATE_COLUMNS), gauge.id());
    double n = 0;
    double sx = 0;
    double sy = 0;
    for (int i = 0; i < y.length; i++) {
      if (Double.isFinite(y[i])) {
        n++;
        sx += i;
        sy += y[i];
      }
    }
    double sxx = 0;
    double sxy = 0;
    for (int i = 0; i < y.length; i++) {
      if (Double.isFinite(y[i])) {
        sxx += (i - sx / n) * (i - sx / n);
        sxy += (i - sx / n) * (y[i] - sy / n);
      }
    }
    double columnMs = (double) RATE_MS / RATE_COLUMNS;
    return n < RATE_LEAST || sxx == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(sxy / sxx * HOUR_MS / columnMs);
  }

  /** Hours since the shut-in; NaN while the well is not shut in. */
  double hoursShutIn() {
    return parts.picture().shutInMs().map(ms -> (word.atMs() - ms) / HOUR_MS).orElse(Double.NaN);
  }

  /** The bands of this hour. */
  Bands bands() {
    return parts.plan().bands().after(hoursShutIn());
  }

  /** The band that the level lies in. */
  Band band() {
    Bands b = bands();
    if (kPa() >= b.ceilingKPa()) {
      return Band.ABOVE_CEILING;
    }
    if (kPa() >= b.intactLowKPa()) {
      return Band.INTACT;
    }
    if (parts.picture().open()) {
      return Band.OPEN;
    }
    return kPa() <= b.leakHighKPa() ? Band.LEAK : Band.AMBIGUOUS;
  }

  /**
   * Since when the pressure has been low, which is below the intact band, as the rules count it;
   * empty while it is not.
   */
  Optional<Long> lowSinceMs() {
    long from = parts.picture().lowFromMs();
    double edge = bands().intactLowKPa();
    if (word.atMs() < from || kPa() >= edge) {
      return Optional.empty();
    }
    long since = word.atMs();
    for (int i = level.length - 1; i >= 0; i--) {
      long at = past.fromMs() + i * past.columnMs();
      if (at < from || since - at > BREAK_MS) {
        break;
      }
      since = level[i] < edge ? at : since;
    }
    return Optional.of(since);
  }

  /** For how long the level must be low to count as a plateau, seconds. */
  double lowOfS() {
    return parts.plan().clockS(CATALOGUE, "low");
  }

  /** The level in the last minute before a moment, kPa; empty when there is none so early. */
  OptionalDouble before(long ms) {
    int end = (int) Math.min(level.length, (ms - past.fromMs()) / past.columnMs());
    for (int i = end - 1; i >= Math.max(0, end - 5); i--) {
      if (Double.isFinite(level[i])) {
        return OptionalDouble.of(level[i]);
      }
    }
    return OptionalDouble.empty();
  }

  /** How far the level lies above that before a moment, kPa. */
  OptionalDouble gap(long ms) {
    OptionalDouble then = before(ms);
    return then.isEmpty() ? then : OptionalDouble.of(kPa() - then.getAsDouble());
  }

  /** Whether the level has come back to what it was before, within twice the gauge's accuracy. */
  boolean recovered(long ms) {
    return gap(ms).orElse(0) >= -2 * gauge.accuracy();
  }

  /** Level, rate and band in words. */
  String text() {
    String value = unit.plain(kPa()) + " " + unit.sign();
    return value + ", " + rateText() + ", " + band().words();
  }

  /** The rate in words. */
  String rateText() {
    OptionalDouble rate = rate();
    return rate.isEmpty()
        ? "rate: no information"
        : signed(rate.getAsDouble()) + " " + unit.sign() + "/h";
  }

  /** A difference with its sign, no unit. */
  String signed(double kPa) {
    String digits =
        String.format(
            Locale.ROOT, "%." + unit.decimals() + "f", Math.abs(kPa) / unit.conversion().factor());
    boolean zero = digits.chars().allMatch(c -> c == '0' || c == '.');
    return (zero ? "" : kPa < 0 ? "−" : "+") + digits;
  }

  /** The gap to the level before a moment, in words; empty when that level is not known. */
  String gapText(long ms) {
    OptionalDouble gap = gap(ms);
    if (gap.isEmpty()) {
      return "";
    }
    String much = signed(Math.abs(gap.getAsDouble())).replace("+", "") + " " + unit.sign();
    return much
        + (gap.getAsDouble() < 0 ? " below " : " above ")
        + Instant.ofEpochMilli(ms).toString().substring(11, 16);
  }

  /** Level, rate, band, and the gap to the level before a moment. */
  String text(long sinceMs) {
    String gap = gapText(sinceMs);
    return text() + (gap.isEmpty() ? "" : ", " + gap);
  }

  /**
   * What a return to normal means for the pressure: what came back and what did not.
   *
   * @param onsetMs when the alarm's condition began
   */
  String returned(long onsetMs) {
    return recovered(onsetMs)
        ? "Recovered: " + text(onsetMs) + "."
        : "NOT recovered: " + gapText(onsetMs) + ", " + rateText() + ".";
  }

  /** The levels of the last so many milliseconds, one a column; NaN in gaps. */
  double[] trail(long spanMs) {
    int columns = (int) Math.min(level.length, spanMs / past.columnMs());
    return Arrays.copyOfRange(level, level.length - columns, level.length);
  }

  /** The width of a column of the trail, ms. */
  long columnMs() {
    return past.columnMs();
  }
}
