package stillwatch.ingest.recording;

import java.util.Locale;

/**
 * A line of a LAS header, {@code MNEM.UNIT DATA : DESCRIPTION}: the mnemonic ends at the first
 * point, the unit at the first blank after that, the data at the last colon.
 *
 * @param line where it stands in the file, from 1
 */
record LasItem(String mnemonic, String unit, String data, long line) {
  /**
   * Reads one.
   *
   * @throws IllegalArgumentException when the line is none, saying why
   */
  static LasItem of(String text, long line) {
    int point = text.indexOf('.');
    int colon = text.lastIndexOf(':');
    if (point < 1 || colon < point) {
      throw new IllegalArgumentException(
          "'" + text + "' is no header line; write it like NULL. -999.25 : NULL VALUE");
    }
    int blank = point + 1;
    while (blank < colon && !Character.isWhitespace(text.charAt(blank))) {
      blank++;
    }
    return new LasItem(
        text.substring(0, point).strip(),
        text.substring(point + 1, blank),
        text.substring(blank, colon).strip(),
        line);
  }

  /** Whether it has this mnemonic, in capitals or not. */
  boolean is(String name) {
    return mnemonic.equalsIgnoreCase(name);
  }

  /** The mnemonic in capitals, by which it is looked up. */
  String key() {
    return mnemonic.toUpperCase(Locale.ROOT);
  }
}
