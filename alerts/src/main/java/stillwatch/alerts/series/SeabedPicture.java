package stillwatch.alerts.series;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.rules.survey.Comparison;
import stillwatch.rules.survey.Survey;

/**
 * A plan view of the seabed as SVG: the wellhead in the middle, north up, each thing at its place,
 * by its number in the list of things. A state has a shape and a word of its own; the circle around
 * a mark is the thing's size to scale. Page and report show the same. Not thread-safe.
 */
public final class SeabedPicture {
  private static final int SIDE = 400;
  private static final int WIDE = 700;
  private static final double MIDDLE = SIDE / 2.0;
  private static final double LEAST_M = 5;
  private static final int LINE = 15;

  private final Survey survey;
  private final StringBuilder svg = new StringBuilder();
  private final List<double[]> labels = new ArrayList<>();
  private final double halfM;

  private SeabedPicture(Survey survey) {
    this.survey = survey;
    double furthest = LEAST_M;
    for (Survey.Thing t : survey.things()) {
      if (t.shape().isPresent()) {
        SurveyItem.Shape s = t.shape().get();
        double ring = Double.isNaN(s.sizeM()) ? 0 : s.sizeM() / 2;
        furthest = Math.max(furthest, Math.max(Math.abs(s.eastM()), Math.abs(s.northM())) + ring);
      }
    }
    halfM = furthest * 1.25;
  }

  /** The picture. */
  public static String of(Survey survey) {
    return new SeabedPicture(survey).drawn();
  }

  private String drawn() {
    add(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"seabed\" role=\"img\" aria-label=\"Plan view of the seabed, north up; the table says the same\" width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"12\">",
        WIDE, SIDE, WIDE, SIDE);
    add(
        "<rect class=\"line\" x=\"0.5\" y=\"0.5\" width=\"%d\" height=\"%d\" fill=\"none\" stroke=\"#565d62\"/>",
        SIDE - 1, SIDE - 1);
    add(
        "<path class=\"line\" d=\"M%1$.1f 8V%2$d M8 %1$.1fH%2$d\" stroke=\"#9aa0a4\" stroke-dasharray=\"2 5\"/>",
        MIDDLE, SIDE - 8);
    wellhead();
    Set<Comparison> shown = EnumSet.noneOf(Comparison.class);
    for (int i = 0; i < survey.things().size(); i++) {
      Survey.Thing t = survey.things().get(i);
      if (t.shape().isPresent()) {
        thing(i + 1, t.state(), t.shape().get());
        shown.add(t.state());
      }
    }
    northAndScale();
    legend(shown);
    return svg.append("</svg>").toString();
  }

  private void add(String form, Object... with) {
    svg.append(String.format(Locale.ROOT, form, with)).append('\n');
  }

  private void text(double x, double y, String words) {
    add("<text class=\"ink\" x=\"%.1f\" y=\"%.1f\" fill=\"#24282b\">%s</text>", x, y, words);
  }

  private double scaled(double metres) {
    return metres / halfM * MIDDLE;
  }

  private void wellhead() {
    add(
        "<path class=\"line\" d=\"M%1$.1f %2$.1fh16M%3$.1f %4$.1fv16\" stroke=\"#24282b\" stroke-width=\"3\"/>",
        MIDDLE - 8, MIDDLE, MIDDLE, MIDDLE - 8);
    label(MIDDLE, MIDDLE - 12, "wellhead");
  }

  private void thing(int number, Comparison state, SurveyItem.Shape s) {
    double x = MIDDLE + scaled(s.eastM());
    double y = MIDDLE - scaled(s.northM());
    if (!Double.isNaN(s.sizeM())) {
      add(
          "<circle class=\"line\" cx=\"%.1f\" cy=\"%.1f\" r=\"%.1f\" fill=\"none\" stroke=\"#565d62\"/>",
          x, y, scaled(s.sizeM() / 2));
    }
    mark(x, y, state);
    label(x, y, number + " " + word(state));
  }

  /** Beside its mark, or further down where another label stands there already. */
  private void label(double x, double y, String words) {
    double wide = 7.0 * words.length();
    double left = x + 10 + wide > SIDE ? x - 10 - wide : x + 10;
    double line = y + 4;
    for (int i = 0; i < labels.size(); i++) {
      double[] other = labels.get(i);
      if (left < other[0] + other[2]
          && other[0] < left + wide
          && Math.abs(line - other[1]) < LINE
          && line + LINE < SIDE) {
        line = other[1] + LINE;
        i = -1;
      }
    }
    labels.add(new double[] {left, line, wide});
    text(left, line, words);
  }

  private static String word(Comparison state) {
    return switch (state) {
      case NEW -> "NEW";
      case GROWN -> "GROWN";
      case SMALLER -> "smaller";
      case UNCHANGED -> "unchanged";
      case SIZE_UNKNOWN -> "seen again";
      case GONE -> "gone";
      case NOT_LOOKED -> "not looked for";
      case NONE_BEFORE -> "no comparison";
      case NO_CLOSING -> "seen";
    };
  }

  private void mark(double x, double y, Comparison state) {
    String form =
        switch (state) {
          case NEW ->
              "<path class=\"new\" d=\"M%.1f %.1fm0 -8l8 8l-8 8l-8 -8z\" fill=\"#a3123c\"/>";
          case GROWN -> "<path class=\"grown\" d=\"M%.1f %.1fm0 -8l8 14h-16z\" fill=\"#9a5200\"/>";
          case SMALLER ->
              "<path class=\"line\" d=\"M%.1f %.1fm0 8l8 -14h-16z\" fill=\"none\" stroke=\"#24282b\" stroke-width=\"2\"/>";
          case UNCHANGED, SIZE_UNKNOWN ->
              "<circle class=\"line\" cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"none\" stroke=\"#24282b\" stroke-width=\"2\"/>";
          case GONE ->
              "<path class=\"line\" d=\"M%.1f %.1fm-6 -6l12 12m0 -12l-12 12\" fill=\"none\" stroke=\"#24282b\" stroke-width=\"2\"/>";
          case NOT_LOOKED ->
              "<circle class=\"line\" cx=\"%.1f\" cy=\"%.1f\" r=\"6\" fill=\"none\" stroke=\"#24282b\" stroke-width=\"2\" stroke-dasharray=\"2 2\"/>";
          case NONE_BEFORE, NO_CLOSING ->
              "<path class=\"line\" d=\"M%.1f %.1fm-5 -5h10v10h-10z\" fill=\"none\" stroke=\"#24282b\" stroke-width=\"2\"/>";
        };
    add(form, x, y);
  }

  private void northAndScale() {
    add("<path class=\"ink\" d=\"M%d 32l-6 0l6 -20l6 20z\" fill=\"#24282b\"/>", SIDE - 20);
    text(SIDE - 24, 46, "N");
    double bar = Math.pow(10, Math.floor(Math.log10(halfM / 2)));
    for (double step : new double[] {5, 2}) {
      if (bar * step <= halfM / 2) {
        bar *= step;
        break;
      }
    }
    add(
        "<path class=\"line\" d=\"M12 %dv6h%.1fv-6\" fill=\"none\" stroke=\"#24282b\" stroke-width=\"2\"/>",
        SIDE - 18, scaled(bar));
    text(12, SIDE - 22, String.format(Locale.ROOT, "%s m", bar < 1 ? "" + bar : "" + (long) bar));
  }

  private void legend(Set<Comparison> shown) {
    int y = 20;
    for (Comparison state : shown) {
      mark(SIDE + 20, y, state);
      text(SIDE + 36, y + 4, state.words());
      y += 24;
    }
    if (shown.isEmpty()) {
      text(SIDE + 14, y, "Nothing was seen.");
      y += 24;
    }
    text(SIDE + 14, y + 4, "A ring is the thing's size to scale.");
  }
}
