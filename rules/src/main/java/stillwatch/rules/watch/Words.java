package stillwatch.rules.watch;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Conversion;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.finding.UtcText;

/** Puts numbers into a rule's sentence, in the plan's display units. */
final class Words {
  private static final Pattern SLOT = Pattern.compile("\\{([A-Za-z0-9_]+)(?::([a-z-]+))?}");

  private static final Pattern PART = Pattern.compile("\\[([^]]*)]");

  /** So many gauges are told by name; of more, the first of them and how many others. */
  static final int MOST_NAMES = 4;

  private final Map<Kind, String> display;

  Words(Map<Kind, String> display) {
    this.display = display;
  }

  /**
   * The sentence with its slots filled. A part in square brackets is left out when a number in it
   * is not known or a text in it is empty.
   *
   * @param numbers the columns, in base units
   * @param texts slots that are texts
   * @param nowMs when it is said
   * @param own the kind of the gauge it is about, for slots in its own unit; null when it is about
   *     none
   */
  String fill(
      String sentence,
      Map<String, Double> numbers,
      Map<String, String> texts,
      @Nullable Kind own,
      long nowMs) {
    StringBuilder kept = new StringBuilder();
    Matcher part = PART.matcher(sentence);
    while (part.find()) {
      Matcher slots = SLOT.matcher(part.group(1));
      boolean known =
          slots
              .results()
              .allMatch(
                  r ->
                      numbers.containsKey(r.group(1))
                          || !texts.getOrDefault(r.group(1), "").isEmpty());
      part.appendReplacement(kept, known ? Matcher.quoteReplacement(part.group(1)) : "");
    }
    Matcher m = SLOT.matcher(part.appendTail(kept));
    StringBuilder out = new StringBuilder();
    while (m.find()) {
      String name = m.group(1);
      String text = texts.get(name);
      Double number = numbers.get(name);
      String said =
          text != null
              ? "start".equals(m.group(2)) ? start(text) : text
              : number == null ? unknown(m.group(2)) : number(number, m.group(2), own, nowMs);
      m.appendReplacement(out, Matcher.quoteReplacement(said));
    }
    return m.appendTail(out).toString().strip();
  }

  /** With a capital, and without the full stop that the sentence brings. */
  private static String start(String text) {
    String bare = text.endsWith(".") ? text.substring(0, text.length() - 1) : text;
    return bare.isEmpty() ? bare : Character.toUpperCase(bare.charAt(0)) + bare.substring(1);
  }

  private static String unknown(@Nullable String form) {
    return "duration".equals(form) ? "an unknown time" : "an unknown value";
  }

  private String number(double value, @Nullable String form, @Nullable Kind own, long nowMs) {
    if (form == null) {
      return plain(value);
    }
    return switch (form) {
      case "count" -> plain(Math.rint(value) + 0.0);
      case "number" -> plain(digits(value, 3));
      case "pressure" -> inUnit(fine(value, Kind.PRESSURE), Kind.PRESSURE, true);
      case "pressure-difference" -> difference(value, Kind.PRESSURE, 3);
      case "pressure-rate" -> rate(value);
      case "error-rate" -> inUnit(value, Kind.PRESSURE, false, 2) + "/h";
      case "temperature" -> inUnit(value, Kind.TEMPERATURE, true);
      case "temperature-difference" -> inUnit(value, Kind.TEMPERATURE, false);
      case "sound" -> inUnit(fine(value, Kind.SOUND), Kind.SOUND, true);
      case "sound-difference" -> plain(Math.rint(value)) + " dB";
      case "tilt" -> inUnit(value, Kind.TILT, true);
      case "flow" -> inUnit(value, Kind.FLOW, true);
      case "duration" -> duration(Math.round(value));
      case "time" -> when(nowMs + Math.round(value * 1000), nowMs);
      case "own" -> own == null ? plain(value) : inUnit(fine(value, own), own, true);
      case "own-difference" -> own == null ? plain(value) : difference(value, own, 3);
      case "own-error" -> own == null ? plain(value) : inUnit(value, own, false, 2);
      case "own-offset" ->
          (own == null ? plain(Math.abs(value)) : difference(Math.abs(value), own, 3))
              + (value < 0 ? " below" : " above");
      default -> throw new IllegalStateException("unchecked slot form " + form);
    };
  }

  /** A level of the pressure, kPa. */
  String level(double kPa) {
    return number(kPa, "pressure", null, 0);
  }

  /** A difference of two pressures, kPa. */
  String difference(double kPa) {
    return difference(kPa, Kind.PRESSURE, 3);
  }

  /** How fast the pressure changes, kPa an hour. */
  String rate(double kPaPerHour) {
    return difference(kPaPerHour, Kind.PRESSURE, 3) + "/h";
  }

  /** How far such a rate may be off. */
  String rateError(double kPaPerHour) {
    return number(kPaPerHour, "error-rate", null, 0);
  }

  private String difference(double value, Kind kind, int digits) {
    return inUnit(fine(value, kind), kind, false, digits);
  }

  /** No more digits than gauges of this kind carry; common practice, no source. */
  private static double fine(double value, Kind kind) {
    double step =
        switch (kind) {
          case PRESSURE -> 0.1;
          case SOUND -> 1;
          case TEMPERATURE -> 0.01;
          default -> 0;
        };
    return step == 0 ? value : Math.rint(value / step) * step + 0.0;
  }

  private String inUnit(double value, Kind kind, boolean absolute) {
    return inUnit(value, kind, absolute, 15);
  }

  private String inUnit(double value, Kind kind, boolean absolute, int digits) {
    String code = display.getOrDefault(kind, kind.baseUnit());
    Conversion c = Units.of(kind, code);
    double shown = absolute ? c.fromBase(value) : value / c.factor();
    return plain(digits(shown, digits)) + " " + sign(code);
  }

  /** So many significant digits. */
  private static double digits(double value, int digits) {
    return Double.isFinite(value)
        ? BigDecimal.valueOf(value)
            .round(new MathContext(digits, RoundingMode.HALF_UP))
            .doubleValue()
        : value;
  }

  /** A limit with its unit as people read it. */
  String limit(double value, Dimension dimension) {
    return switch (dimension) {
      case DURATION -> duration(Math.round(value));
      case PRESSURE -> inUnit(value, Kind.PRESSURE, false);
      case PRESSURE_RATE -> inUnit(value, Kind.PRESSURE, false) + "/h";
      case TEMPERATURE -> inUnit(value, Kind.TEMPERATURE, true);
      case TEMPERATURE_DIFFERENCE -> inUnit(value, Kind.TEMPERATURE, false);
      case NUMBER -> plain(value);
      default -> plain(value) + " " + sign(dimension.baseUnit());
    };
  }

  private static String sign(String code) {
    return switch (code) {
      case "Cel" -> "°C";
      case "[degF]" -> "°F";
      case "[psi]" -> "psi";
      case "dB re 1 uPa" -> "dB re 1 µPa";
      case "m3/d" -> "m³/d";
      case "deg" -> "°";
      default -> code;
    };
  }

  /** Like {@code A}, {@code A and B}, {@code A, B and C}, {@code A, B, C and 17 others}. */
  static String names(List<String> ids) {
    int n = ids.size();
    if (n < 2) {
      return String.join("", ids);
    }
    int told = n <= MOST_NAMES ? n - 1 : MOST_NAMES - 1;
    String last = n <= MOST_NAMES ? ids.get(n - 1) : (n - told) + " others";
    return String.join(", ", ids.subList(0, told)) + " and " + last;
  }

  /** Five significant digits, never scientific, no trailing zeros. */
  static String plain(double value) {
    double size = Math.abs(value);
    int decimals =
        size >= 10_000
            ? 0
            : size >= 1000
                ? 1
                : size >= 100 ? 2 : size >= 0.01 || size == 0 ? 3 : size >= 0.0001 ? 4 : 6;
    if (size > 1e15) {
      return "an impossible number (" + value + ")";
    }
    String text = String.format(Locale.ROOT, "%." + decimals + "f", value);
    return text.contains(".") ? text.replaceAll("0+$", "").replaceAll("\\.$", "") : text;
  }

  /** The time of day, like {@code 04:30:10 UTC}. */
  static String clock(long atMs) {
    return UtcText.of(atMs).substring(11);
  }

  /** A time seen from another: the date only when it is another day. */
  static String when(long atMs, long nowMs) {
    String at = UtcText.of(atMs);
    return at.startsWith(UtcText.of(nowMs).substring(0, 10)) ? at.substring(11) : at;
  }

  /** Like {@code 3 h 05 min}, {@code 4 min 10 s}, {@code 42 s}. */
  static String duration(long seconds) {
    if (seconds >= 3600) {
      long minutes = seconds % 3600 / 60;
      return seconds / 3600
          + " h"
          + (minutes == 0 ? "" : String.format(Locale.ROOT, " %02d min", minutes));
    }
    if (seconds >= 60) {
      return seconds / 60
          + " min"
          + (seconds % 60 == 0 ? "" : String.format(Locale.ROOT, " %02d s", seconds % 60));
    }
    return seconds + " s";
  }
}
