package stillwatch.alerts.report;

import java.util.List;
import java.util.regex.Pattern;

/** Writes XHTML. Not thread-safe. */
final class Html {
  private static final Pattern UNBROKEN =
      Pattern.compile(
          "\\b\\d\\d:\\d\\d:\\d\\d UTC|\\b[A-Z]{1,4}-\\d{1,3}\\b|\\b\\d+(\\.\\d+)? (MPa|bar|psi|dB)");

  /** What is no character of XML 1.0 (5th ed., production 2). */
  private static final String NO_XML =
      "[^\\x09\\x0A\\x0D\\x20-\\uD7FF\\uE000-\\uFFFD\\x{10000}-\\x{10FFFF}]";

  private final StringBuilder out = new StringBuilder();

  static String escaped(String text) {
    return text.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;")
        .replaceAll(NO_XML, "?");
  }

  /** Adds HTML as it is given, without escaping anything. */
  Html raw(String text) {
    out.append(text).append('\n');
    return this;
  }

  Html heading(String text) {
    return raw("<h2>" + escaped(text) + "</h2>");
  }

  /** A heading that begins a page. */
  Html page(String text) {
    return raw("<h2 class=\"page\">" + escaped(text) + "</h2>");
  }

  /** Escaped, with times and gauges' names kept on one line each. */
  private static String words(String text) {
    return UNBROKEN.matcher(escaped(text)).replaceAll("<span class=\"one\">$0</span>");
  }

  Html paragraph(String text) {
    return raw("<p>" + words(text) + "</p>");
  }

  Html dim(String text) {
    return raw("<p class=\"dim\">" + escaped(text) + "</p>");
  }

  /** A table; where there are no rows, a sentence says so. */
  Html table(List<String> heads, List<List<String>> rows, String none) {
    if (rows.isEmpty()) {
      return paragraph(none);
    }
    out.append("<table><thead><tr>");
    heads.forEach(h -> out.append("<th>").append(escaped(h)).append("</th>"));
    out.append("</tr></thead><tbody>\n");
    for (List<String> row : rows) {
      out.append("<tr>");
      row.forEach(
          c ->
              out.append(c.length() < 13 ? "<td class=\"one\">" : "<td>")
                  .append(words(c))
                  .append("</td>"));
      out.append("</tr>\n");
    }
    out.append("</tbody></table>\n");
    return this;
  }

  String text() {
    return out.toString();
  }
}
