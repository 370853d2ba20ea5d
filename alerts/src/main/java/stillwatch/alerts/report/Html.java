package stillwatch.alerts.report;

import java.util.List;
import java.util.regex.Pattern;
import stillwatch.ingest.entrance.Texts;

/** Writes XHTML. Not thread-safe. */
final class Html {
  private static final Pattern UNBROKEN =
      Pattern.compile(
          "\\b\\d\\d:\\d\\d:\\d\\d UTC|\\b[A-Z]{1,4}-\\d{1,3}\\b|\\b\\d+(\\.\\d+)? (MPa|bar|psi|dB)");

  private final StringBuilder out = new StringBuilder();

  static String escaped(String text) {
    return Texts.forXml(text)
        .replace("&", "&amp;")
        .replace("<", "&lt;")
        .replace(">", "&gt;")
        .replace("\"", "&quot;");
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

  /** A paragraph on the same page as what follows it. */
  Html lead(String text) {
    return raw("<p class=\"lead\">" + words(text) + "</p>");
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
