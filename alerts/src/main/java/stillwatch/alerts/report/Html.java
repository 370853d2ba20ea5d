package stillwatch.alerts.report;

import java.util.List;

/** Writes XHTML. Not thread-safe. */
final class Html {
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

  Html paragraph(String text) {
    return raw("<p>" + escaped(text) + "</p>");
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
      row.forEach(c -> out.append("<td>").append(escaped(c)).append("</td>"));
      out.append("</tr>\n");
    }
    out.append("</tbody></table>\n");
    return this;
  }

  String text() {
    return out.toString();
  }
}
