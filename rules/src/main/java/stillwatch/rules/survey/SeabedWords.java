package stillwatch.rules.survey;

import java.util.Locale;
import stillwatch.ingest.telemetry.SurveyItem;

/** What passes over the seabed saw, in the words that alarms, page and report share. */
public final class SeabedWords {
  private SeabedWords() {}

  /** What one entry of the log says, one sentence without its stop. */
  public static String of(SurveyItem item) {
    return pass(item)
        + switch (item.what()) {
          case SEEN -> " sees " + what(item);
          case GONE -> " finds '" + item.name() + "' gone";
          case NOTHING -> " sees nothing";
        }
        + (item.text().isEmpty() ? "" : ": " + item.text());
  }

  /** A pass at the beginning of a sentence. */
  static String pass(SurveyItem item) {
    String means = item.means();
    return means.substring(0, 1).toUpperCase(Locale.ROOT)
        + means.substring(1)
        + " pass '"
        + item.pass()
        + "'";
  }

  /** A thing that was seen. */
  static String what(SurveyItem item) {
    SurveyItem.Shape s = item.at().orElseThrow();
    return "'%s' (%s, %s)".formatted(item.name(), kind(s), place(s));
  }

  /** What it is and how large. */
  public static String kind(SurveyItem.Shape s) {
    return s.kind() + (Double.isNaN(s.sizeM()) ? "" : ", " + size(s));
  }

  /** How large it is, where that was measured. */
  static String size(SurveyItem.Shape s) {
    return metres(s.sizeM())
        + (Double.isNaN(s.uncertaintyM()) ? " m" : " ± " + metres(s.uncertaintyM()) + " m");
  }

  /** Where it is. */
  public static String place(SurveyItem.Shape s) {
    return "%s m %s, %s m %s of the wellhead"
        .formatted(
            metres(Math.abs(s.eastM())),
            s.eastM() < 0 ? "west" : "east",
            metres(Math.abs(s.northM())),
            s.northM() < 0 ? "south" : "north");
  }

  /** To the decimetre, or finer where it is less than one. */
  private static String metres(double m) {
    return String.format(Locale.ROOT, m > 0 && m < 0.1 ? "%.2g" : "%.1f", m);
  }
}
