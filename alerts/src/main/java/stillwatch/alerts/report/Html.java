package stillwatch.alerts.report;

import java.util.List;

/** Writes XHTML. Not thread-safe. */
final class Html {
  private final StringBuilder out = new StringBuilder();

  static String escaped(String text) {
    return text.replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;")
        .replaceAll("[\\x00-\\x08\\x0B\\x0C\\x0E-\\x1F]", "?");
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
