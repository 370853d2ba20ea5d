package stillwatch.ingest.recording;

import java.util.function.Supplier;
import stillwatch.ingest.telemetry.Quality;

/** Reads qualities as recordings write them. */
final class QualityText {
  private QualityText() {}

  /**
   * The code of a quality: a word, or an OPC UA status code. What is not understood is noted, and
   * taken as bad.
   *
   * @param here says the place of the row, to begin a sentence with
   */
  static byte code(String text, Problems problems, Supplier<String> here) {
    for (Quality q : Quality.values()) {
      if (q.name().equalsIgnoreCase(text)) {
        return q.code();
      }
    }
    try {
      return ofStatus(Long.decode(text)).code();
    } catch (NumberFormatException e) {
      problems.add(
          Problems.Sort.BAD_QUALITY,
          here.get() + "'" + text + "'; write good, uncertain, bad or a status code");
      return Quality.BAD.code();
    }
  }

  /** What an OPC UA status code says: its top two bits are the severity (OPC 10000-4, 7.39). */
  private static Quality ofStatus(long code) {
    long severity = (code >>> 30) & 3;
    return severity == 0 ? Quality.GOOD : severity == 1 ? Quality.UNCERTAIN : Quality.BAD;
  }
}
