package stillwatch.alerts.report;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import stillwatch.ingest.unit.Conversion;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.Pressures;

/** The build-up, its plots and what may explain it. */
final class BuildUpChapter {
  private final ReportParts parts;
  private final Pressures unit;
  private final Conversion pressure;

  BuildUpChapter(ReportParts parts) {
    this.parts = parts;
    unit = Pressures.of(parts.plan());
    pressure = unit.conversion();
  }

  void write(Html html) {
    html.heading("Build-up and what may explain it");
    if (parts.review().isEmpty()) {
      html.paragraph(
          "The build-up was not read: the well was not shut in, not long enough, or the facts say too little.");
      return;
    }
    JsonNode r = parts.review().get();
    if (parts.isLater(r.path("at").asText())) {
      html.paragraph("The newest review of the build-up is of after this stretch and not shown.");
      return;
    }
    html.paragraph("As of " + r.path("at").asText() + ": " + r.path("leads").asText());
    horner(html, r);
    if (r.has("verdict")) {
      html.paragraph(r.path("verdict").asText());
      boolean fits = r.path("fits").asBoolean(true);
      candidates(html, r, fits);
      if (fits) { // where nothing fits, a weight only says which is the least wrong
        weights(html, r);
      }
    }
  }

  private static void candidates(Html html, JsonNode r, boolean fits) {
    List<List<String>> rows = new ArrayList<>();
    for (JsonNode c : r.path("candidates")) {
      rows.add(
          List.of(
              c.path("name").asText(),
              fits
                  ? String.format(Locale.ROOT, "%.1f %%", 100 * c.path("weight").asDouble())
                  : "does not fit",
              c.path("leak").asText(),
              c.path("ahead").path(1).asText()));
    }
    html.table(
        List.of(
            "Explanation", "Weight", "Leak rate, share of earlier flow", "Forecast three hours on"),
        rows,
        "None was compared.");
  }

  private static double[] column(JsonNode points, int i) {
    double[] all = new double[points.size()];
    for (int k = 0; k < all.length; k++) {
      JsonNode v = points.path(k).path(i);
      all[k] = v.isNumber() ? v.asDouble() : Double.NaN;
    }
    return all;
  }

  private void horner(Html html, JsonNode r) {
    double[] hours = column(r.path("points"), 2);
    int from = 0;
    while (from < hours.length && hours[from] < 0.02) {
      from++;
    }
    if (hours.length - from < 3) {
      return;
    }
    JsonNode line = r.path("line");
    superposition(html, since(r, 0, from), since(r, 1, from), line);
    derivative(html, since(r, 2, from), since(r, 3, from), line);
  }

  /** A column of the points, without the first few. */
  private static double[] since(JsonNode r, int i, int from) {
    double[] all = column(r.path("points"), i);
    return Arrays.copyOfRange(all, from, all.length);
  }

  private void superposition(Html html, double[] x, double[] p, JsonNode line) {
    double most = Arrays.stream(x).max().orElse(1);
    double low = Arrays.stream(p).min().orElse(0);
    double high =
        Math.max(
            Arrays.stream(p).max().orElse(1),
            line.path("at_zero").asDouble(Double.NEGATIVE_INFINITY));
    double pad = Math.max(0.02 / pressure.factor(), 0.05 * (high - low));
    Plot plot = new Plot(200, unit.sign(), most, 0, low - pad, high + pad, Plot.EVEN, Plot.EVEN);
    plot.dots(x, p, Shades.of(1));
    if (!line.isMissingNode()) {
      double zero = line.path("at_zero").asDouble();
      plot.line(
          new double[] {most, 0},
          new double[] {zero + line.path("slope").asDouble() * most, zero},
          Shades.of(Priority.MEDIUM),
          "6 4",
          "dashed: the line, carried on to where it leads");
    }
    html.raw(
        plot.html(
            "Pressure against superposition time (log cycles; time increases to the right)",
            v -> String.format(Locale.ROOT, "%.1f", v),
            Plot.EVEN,
            Plot.EVEN,
            2));
  }

  private void derivative(Html html, double[] hours, double[] slope, JsonNode line) {
    double[] known = Arrays.stream(slope).filter(v -> v > 0).toArray();
    if (known.length < 3) {
      return;
    }
    Arrays.sort(known);
    Plot d =
        new Plot(
            160,
            unit.sign(),
            hours[0],
            hours[hours.length - 1],
            known[0] * 0.7,
            known[known.length - 1] * 1.4,
            Plot.LOGARITHMIC,
            Plot.LOGARITHMIC);
    d.dots(hours, slope, Shades.of(1));
    if (!line.isMissingNode()) {
      d.line(
          new double[] {line.path("from_hours").asDouble(), hours[hours.length - 1]},
          new double[] {line.path("level").asDouble(), line.path("level").asDouble()},
          Shades.of(Priority.MEDIUM),
          "6 4",
          "dashed: the line's");
    }
    html.raw(
        d.html(
            "Derivative of the pressure by the natural logarithm of superposition time, against hours since shut-in",
            v -> String.format(Locale.ROOT, "%.2g h", v),
            Plot::power,
            Plot::power,
            4));
  }

  private void weights(Html html, JsonNode r) {
    JsonNode history = r.path("history");
    if (history.size() < 2) {
      return;
    }
    double[] at = new double[history.size()];
    for (int i = 0; i < at.length; i++) {
      at[i] = history.path(i).path("at").asDouble();
    }
    Plot plot =
        new Plot(130, "share of the weights", at[0], at[at.length - 1], 0, 1, Plot.EVEN, Plot.EVEN);
    JsonNode names = r.path("weights");
    String[] dashes = {"", "6 3", "2 3", "", "6 3"};
    String[] words = {"black", "blue dashed", "green dotted", "brown", "purple dashed"};
    for (int k = 0; k < names.size() && k < Shades.COUNT; k++) {
      double[] w = new double[at.length];
      for (int i = 0; i < at.length; i++) {
        w[i] = history.path(i).path("weight").path(k).asDouble();
      }
      plot.line(
          at, w, Shades.of(k), dashes[k], words[k] + ": " + names.path(k).path("name").asText());
    }
    html.raw(
        plot.html(
            "Weights of the explanations over time",
            ms -> Words.minute((long) ms),
            Plot.EVEN,
            Plot.EVEN,
            1));
  }
}
