package stillwatch.station.output;

import java.util.Locale;

/** A picture being drawn, as SVG. */
final class Svg {
  private final StringBuilder svg = new StringBuilder();

  /** Begins a white picture of this size with what it is called and the line above it. */
  void start(int wide, int high, String title, String heading) {
    add(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 %d %d' font-family='sans-serif' font-size='12'>",
        wide, high);
    add("<title>%s</title>", escaped(title));
    add("<rect width='100%%' height='100%%' fill='#fff'/>");
    add("<text x='70' y='22' font-size='16' font-weight='bold'>%s</text>", escaped(heading));
  }

  /** Adds a piece; texts must be escaped. */
  void add(String form, Object... values) {
    svg.append(String.format(Locale.ROOT, form, values)).append('\n');
  }

  /** The whole picture. */
  String end() {
    return svg.append("</svg>\n").toString();
  }

  static String escaped(String text) {
    return text.replace("&", "&amp;").replace("<", "&lt;");
  }

  static String point(double x, double y) {
    return String.format(Locale.ROOT, "%.1f,%.1f", x, y);
  }

  /** A number without the zeros at its end. */
  static String trimmed(double v) {
    return String.format(Locale.ROOT, "%.3f", v).replaceAll("\\.?0+$", "");
  }

  /** A round step that divides a span into a few parts. */
  static double nice(double span) {
    double power = Math.pow(10, Math.floor(Math.log10(span / 4)));
    double rest = span / 4 / power;
    return power * (rest < 1.5 ? 1 : rest < 3.5 ? 2 : 5);
  }

  /** From values to places. */
  record Axis(double from, double to, int start, int end) {
    double at(double value) {
      return start + (value - from) / (to - from) * (end - start);
    }
  }
}
