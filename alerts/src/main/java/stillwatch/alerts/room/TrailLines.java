package stillwatch.alerts.room;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.Units;
import stillwatch.rules.finding.Finding;

/**
 * The limits of a finding as levels, to be drawn across its trails: those its rule names in what it
 * saw ({@code intactLow}, {@code ceiling}), and those that follow from what it saw and the limits
 * in force.
 */
final class TrailLines {
  /**
   * A level.
   *
   * @param kind the trails across which it is drawn
   * @param level in the kind's base unit
   * @param says what it is
   */
  record Line(Kind kind, double level, String says) {}

  private TrailLines() {}

  /** The lines of a finding; empty where its limits are no levels. */
  static List<Line> of(Finding finding) {
    Map<String, Double> saw = finding.evidence().indicator();
    List<Line> all = new ArrayList<>();
    add(all, Kind.PRESSURE, saw.get("intactLow"), "intact from this level up");
    add(all, Kind.PRESSURE, saw.get("ceiling"), "ceiling");
    Double level = saw.get("level");
    if (level == null) {
      return all;
    }
    Double missing = saw.get("missing");
    if (missing != null) {
      add(all, Kind.PRESSURE, level + missing, "expected by the build-up before");
    }
    Double fell = saw.get("fall");
    Double fall = limit(finding, "fall", Kind.PRESSURE);
    if (fell != null && fall != null) {
      add(
          all,
          Kind.PRESSURE,
          level + fell - fall,
          "limit: " + finding.limits().get("fall") + " under a minute before");
    }
    Double rose = saw.get("rise");
    Double rise = limit(finding, "rise", Kind.SOUND);
    if (rose != null && rise != null) {
      add(all, Kind.SOUND, level - rose, "background");
      add(
          all,
          Kind.SOUND,
          level - rose + rise,
          "limit: " + finding.limits().get("rise") + " over it");
    }
    return all;
  }

  private static void add(List<Line> all, Kind kind, @Nullable Double level, String says) {
    if (level != null && Double.isFinite(level)) {
      all.add(new Line(kind, level, says));
    }
  }

  /** A limit that is a difference of levels, in the base unit; null where the rule has none. */
  private static @Nullable Double limit(Finding finding, String name, Kind kind) {
    String[] said = finding.limits().getOrDefault(name, "").split(" ", 2);
    return said.length < 2
        ? null
        : Double.valueOf(
            Double.parseDouble(said[0])
                * (kind == Kind.SOUND ? 1 : Units.of(kind, said[1]).factor()));
  }
}
