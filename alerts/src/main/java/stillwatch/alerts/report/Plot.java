package stillwatch.alerts.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleFunction;
import java.util.function.DoubleUnaryOperator;

/**
 * A plot that needs no script: lines as SVG, words as text above and beside it, so that they can be
 * searched and no font is needed to draw them. Not thread-safe.
 */
final class Plot {
  /** An even scale. */
  static final DoubleUnaryOperator EVEN = DoubleUnaryOperator.identity();

  /** A logarithmic scale. */
  static final DoubleUnaryOperator LOGARITHMIC = Math::log10;

  private static final int WIDE = 640;
  private static final int TICKS = 5;

  private final int high;
  private final String unit;
  private final double fromX;
  private final double toX;
  private final double fromY;
  private final double toY;
  private final DoubleUnaryOperator scaleX;
  private final DoubleUnaryOperator scaleY;
  private final StringBuilder svg = new StringBuilder();
  private final List<String> key = new ArrayList<>();

  /**
   * A plot of this range.
   *
   * @param scaleX what is even along the paper: the identity, or a logarithm
   */
  Plot(
      int high,
      String unit,
      double fromX,
      double toX,
      double fromY,
      double toY,
      DoubleUnaryOperator scaleX,
      DoubleUnaryOperator scaleY) {
    this.high = high;
    this.unit = unit;
    this.scaleX = scaleX;
    this.scaleY = scaleY;
    this.fromX = scaleX.applyAsDouble(fromX);
    this.toX = scaleX.applyAsDouble(toX);
    this.fromY = scaleY.applyAsDouble(fromY);
    this.toY = scaleY.applyAsDouble(toY);
  }

  /** What undoes the logarithmic scale. */
  static double power(double cycles) {
    return Math.pow(10, cycles);
  }

  private double x(double value) {
    return WIDE * (scaleX.applyAsDouble(value) - fromX) / (toX - fromX);
  }

  private double y(double value) {
    return high * (1 - (scaleY.applyAsDouble(value) - fromY) / (toY - fromY));
  }

  private boolean inside(double x, double y) {
    return x >= -0.5 && x <= WIDE + 0.5 && y >= -0.5 && y <= high + 0.5;
  }

  /** A line through these points; NaN breaks it. */
  Plot line(double[] xs, double[] ys, String colour, String dash, String name) {
    svg.append(
        "<path d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"1.2\"%s/>\n"
            .formatted(
                path(xs, ys), colour, dash.isEmpty() ? "" : " stroke-dasharray=\"" + dash + "\""));
    if (!name.isEmpty()) {
      key.add(name);
    }
    return this;
  }

  private String path(double[] xs, double[] ys) {
    StringBuilder path = new StringBuilder();
    boolean on = false;
    for (int i = 0; i < xs.length; i++) {
      double px = x(xs[i]);
      double py = y(ys[i]);
      if (Double.isNaN(py) || !inside(px, py)) {
        on = false;
        continue;
      }
      path.append(String.format(Locale.ROOT, "%s%.1f %.1f", on ? "L" : "M", px, py));
      on = true;
    }
    return path.toString();
  }

  /** A dot at each of these points. */
  Plot dots(double[] xs, double[] ys, String colour) {
    for (int i = 0; i < xs.length; i++) {
      double px = x(xs[i]);
      double py = y(ys[i]);
      if (!Double.isNaN(py) && inside(px, py)) {
        svg.append(
            String.format(
                Locale.ROOT,
                "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"1.6\" fill=\"%s\"/>%n",
                px,
                py,
                colour));
      }
    }
    return this;
  }

  /** A level all along. */
  Plot level(double value, String name) {
    double py = y(value);
    if (inside(0, py)) {
      svg.append(
          String.format(
              Locale.ROOT,
              "<path d=\"M0 %.1fH%d\" stroke=\"#565d62\" stroke-width=\"1\" stroke-dasharray=\"6 4\"/>%n",
              py,
              WIDE));
      key.add(name);
    }
    return this;
  }

  /** An upright mark. */
  Plot mark(double at, String colour, String dash) {
    double px = x(at);
    if (inside(px, 0)) {
      svg.append(
          String.format(
              Locale.ROOT,
              "<path d=\"M%.1f 0V%d\" stroke=\"%s\" stroke-width=\"1\" stroke-dasharray=\"%s\"/>%n",
              px,
              high,
              colour,
              dash.isEmpty() ? "none" : dash));
    }
    return this;
  }

  /**
   * The whole, with its words.
   *
   * @param tellX how a place along the paper is told
   * @param backX what undoes the scale
   */
  String html(
      String title,
      DoubleFunction<String> tellX,
      DoubleUnaryOperator backX,
      DoubleUnaryOperator backY,
      int decimals) {
    StringBuilder xs = new StringBuilder();
    StringBuilder ys = new StringBuilder();
    for (int i = 0; i <= TICKS; i++) {
      double share = (double) i / TICKS;
      if (i < TICKS) {
        xs.append("<td>")
            .append(Html.escaped(tellX.apply(backX.applyAsDouble(fromX + share * (toX - fromX)))))
            .append("</td>");
      }
      ys.append(
          String.format(
              Locale.ROOT,
              "<div style=\"top:%.0fpx\">%s</div>",
              share * high - 7,
              String.format(
                  Locale.ROOT,
                  "%." + decimals + "f",
                  backY.applyAsDouble(toY - share * (toY - fromY)))));
    }
    return """
        <div class="plot"><p class="title">%s, %s</p>
        <div class="field" style="height:%dpx"><div class="ys">%s</div>
        <svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d">
        <rect width="%d" height="%d" fill="#ffffff" stroke="#9aa0a4"/>
        %s%s</svg></div>
        <table class="xs"><tr>%s</tr></table>
        <p class="key">%s</p></div>
        """
        .formatted(
            Html.escaped(title),
            Html.escaped(unit),
            high,
            ys,
            WIDE,
            high,
            WIDE,
            high,
            WIDE,
            high,
            grid(),
            svg,
            xs,
            Html.escaped(String.join("; ", key)));
  }

  private String grid() {
    StringBuilder grid = new StringBuilder();
    for (int i = 0; i <= TICKS; i++) {
      double share = (double) i / TICKS;
      grid.append(
          String.format(
              Locale.ROOT,
              "<path d=\"M%.1f 0V%d\" stroke=\"#d4d8da\"/><path d=\"M0 %.1fH%d\" stroke=\"#d4d8da\"/>%n",
              share * WIDE,
              high,
              share * high,
              WIDE));
    }
    return grid.toString();
  }
}
