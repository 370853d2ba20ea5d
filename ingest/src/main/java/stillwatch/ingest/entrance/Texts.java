package stillwatch.ingest.entrance;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Map;
import java.util.regex.Pattern;

/**
 * Which characters a text may hold: all of Unicode's but NUL, which databases refuse. Half of a
 * surrogate pair is no character (Unicode 16.0, 3.8) and can be written in no encoding. Stateless;
 * safe from any thread.
 */
public final class Texts {
  /** What is no character of XML 1.0 (5th ed., production 2). */
  private static final Pattern NO_XML =
      Pattern.compile("[^\\x09\\x0A\\x0D\\x20-\\uD7FF\\uE000-\\uFFFD\\x{10000}-\\x{10FFFF}]");

  private static final char POP = '\u202C';
  private static final char POP_ISOLATE = '\u2069';

  private Texts() {}

  /** Whether a text can be kept and written. */
  public static boolean sound(String text) {
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '\0' || (Character.isSurrogate(c) && !paired(text, i))) {
        return false;
      }
      i += Character.isHighSurrogate(c) ? 1 : 0;
    }
    return true;
  }

  private static boolean paired(String text, int i) {
    return Character.isHighSurrogate(text.charAt(i))
        && i + 1 < text.length()
        && Character.isLowSurrogate(text.charAt(i + 1));
  }

  /** Whether every name and text in this can be kept and written. */
  public static boolean sound(JsonNode n) {
    if (n.isTextual()) {
      return sound(n.textValue());
    }
    for (JsonNode element : n) {
      if (!sound(element)) {
        return false;
      }
    }
    for (Map.Entry<String, JsonNode> field : n.properties()) {
      if (!sound(field.getKey())) {
        return false;
      }
    }
    return true;
  }

  /**
   * The text, with a closing mark for each change of the direction of writing that it leaves open:
   * what is written after it on a line would be turned round too (Unicode Standard Annex 9, 2.5 and
   * 2.6).
   */
  public static String closed(String text) {
    StringBuilder closing = new StringBuilder();
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '\u202A' || c == '\u202B' || c == '\u202D' || c == '\u202E') {
        closing.insert(0, POP);
      } else if (c >= '\u2066' && c <= '\u2068') {
        closing.insert(0, POP_ISOLATE);
      } else if (!closing.isEmpty() && closing.charAt(0) == c) {
        closing.deleteCharAt(0);
      }
    }
    return text + closing;
  }

  /** The text with a question mark for what no XML document may hold. */
  public static String forXml(String text) {
    return NO_XML.matcher(text).replaceAll("?");
  }

  /** The text with a question mark for each half of a pair, and for NUL. */
  public static String mended(String text) {
    if (sound(text)) {
      return text;
    }
    StringBuilder mended = new StringBuilder(text);
    for (int i = 0; i < mended.length(); i++) {
      char c = mended.charAt(i);
      if (c == '\0' || (Character.isSurrogate(c) && !paired(text, i))) {
        mended.setCharAt(i, '?');
      } else if (Character.isHighSurrogate(c)) {
        i++;
      }
    }
    return mended.toString();
  }
}
