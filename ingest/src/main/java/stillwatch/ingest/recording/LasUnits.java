package stillwatch.ingest.recording;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import stillwatch.ingest.unit.Kind;

/**
 * Units as LAS files write them, which no standard fixes: the usual spellings, in capitals or not.
 * Pressures that say against what they are counted (psig, psia) are left out: the plan must say
 * their unit.
 */
final class LasUnits {
  private static final Map<Kind, Map<String, String>> UCUM =
      Map.of(
          Kind.PRESSURE,
          Map.of(
              "KPA", "kPa", "PA", "Pa", "HPA", "hPa", "MPA", "MPa", "BAR", "bar", "MBAR", "mbar",
              "PSI", "[psi]", "ATM", "atm"),
          Kind.TEMPERATURE,
          Map.of(
              "DEGC", "Cel", "C", "Cel", "CEL", "Cel", "K", "K", "DEGK", "K", "DEGF", "[degF]", "F",
              "[degF]"),
          Kind.TILT,
          Map.of("DEG", "deg", "DEGA", "deg", "RAD", "rad", "MRAD", "mrad"),
          Kind.FLOW,
          Map.of(
              "M3/D",
              "m3/d",
              "M3/H",
              "m3/h",
              "M3/S",
              "m3/s",
              "L/S",
              "L/s",
              "L/MIN",
              "L/min",
              "BBL/D",
              "[bbl_us]/d",
              "BBL/H",
              "[bbl_us]/h"));

  private static final Map<String, Double> SECONDS =
      Map.ofEntries(
          Map.entry("MS", 1e-3),
          Map.entry("MSEC", 1e-3),
          Map.entry("S", 1.0),
          Map.entry("SEC", 1.0),
          Map.entry("SECS", 1.0),
          Map.entry("SECONDS", 1.0),
          Map.entry("MIN", 60.0),
          Map.entry("MINUTES", 60.0),
          Map.entry("H", 3600.0),
          Map.entry("HR", 3600.0),
          Map.entry("HRS", 3600.0),
          Map.entry("HOURS", 3600.0),
          Map.entry("D", 86_400.0),
          Map.entry("DAY", 86_400.0),
          Map.entry("DAYS", 86_400.0));

  private LasUnits() {}

  /** The UCUM code; empty for a unit that no gauge of this kind has, or that is not known. */
  static Optional<String> ucum(Kind kind, String unit) {
    return Optional.ofNullable(
        UCUM.getOrDefault(kind, Map.of()).get(unit.toUpperCase(Locale.ROOT)));
  }

  /** Whether it is a unit of some kind of gauge. */
  static boolean known(String unit) {
    return UCUM.values().stream().anyMatch(m -> m.containsKey(unit.toUpperCase(Locale.ROOT)));
  }

  /** How many seconds a unit of time has; empty where it is none. */
  static Optional<Double> seconds(String unit) {
    return Optional.ofNullable(SECONDS.get(unit.toUpperCase(Locale.ROOT)));
  }
}
