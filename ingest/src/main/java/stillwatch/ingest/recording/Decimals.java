package stillwatch.ingest.recording;

import java.nio.charset.StandardCharsets;

/**
 * Reads decimal numbers from bytes without making a text. Up to fifteen significant digits and a
 * power of ten up to 22 are exact in one multiplication or division (W. D. Clinger, "How to Read
 * Floating Point Numbers Accurately", PLDI 1990, the fast path); everything else goes through
 * {@link Double#parseDouble}, so the result is always the nearest double.
 */
final class Decimals {
  private static final double[] POWERS = new double[23];

  static {
    double p = 1;
    for (int i = 0; i < POWERS.length; i++) {
      POWERS[i] = p;
      p *= 10;
    }
  }

  private Decimals() {}

  /**
   * The number in {@code text[from; to)}.
   *
   * @throws NumberFormatException when it is none
   */
  static double parse(byte[] text, int from, int to) {
    int i = from;
    boolean negative = i < to && text[i] == '-';
    if (i < to && (text[i] == '-' || text[i] == '+')) {
      i++;
    }
    long mantissa = 0;
    int digits = 0;
    int scale = 0;
    boolean point = false;
    int read = 0;
    for (; i < to; i++) {
      int c = text[i];
      if (c >= '0' && c <= '9') {
        read++;
        if (digits > 0 || c != '0') {
          digits++;
          if (digits > 18) {
            return slow(text, from, to);
          }
        }
        mantissa = mantissa * 10 + (c - '0');
        scale += point ? 1 : 0;
      } else if (c == '.' && !point) {
        point = true;
      } else {
        break;
      }
    }
    if (i < to || read == 0 || mantissa > 1L << 53 || scale >= POWERS.length) {
      return slow(text, from, to);
    }
    double value = mantissa / POWERS[scale];
    return negative ? -value : value;
  }

  private static double slow(byte[] text, int from, int to) {
    for (int i = from; i < to; i++) {
      if ("0123456789+-.eE \t".indexOf(text[i]) < 0) { // Java takes 1d, 0x1p3 and Infinity too
        throw new NumberFormatException("no decimal number");
      }
    }
    return Double.parseDouble(new String(text, from, to - from, StandardCharsets.US_ASCII));
  }
}
