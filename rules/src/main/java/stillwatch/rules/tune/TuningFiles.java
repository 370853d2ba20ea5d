package stillwatch.rules.tune;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import stillwatch.rules.book.Parameter;

/** Writes what tuning found: a table, a picture and a fragment for the plan. */
public final class TuningFiles {
  private static final int WIDE = 340;
  private static final int HIGH = 230;
  private static final int LEFT = 60;
  private static final int BOTTOM = 40;

  private TuningFiles() {}

  /** Writes {@code frontier.csv}: each rule's sets that no other beats, and the present ones. */
  public static void table(List<TuningResult> all, Path file) throws IOException {
    StringBuilder text =
        new StringBuilder(
            "rule,set,happenings,missed,late,median_delay_s,worst_delay_s,false_alerts,false_per_30_days,limits\n");
    for (TuningResult t : all) {
      row(text, t, "present", t.present());
      row(text, t, "recommended", t.best());
      t.frontier().forEach(f -> row(text, t, "frontier", f));
    }
    Files.writeString(file, text);
  }

  private static void row(StringBuilder text, TuningResult t, String set, Trial tried) {
    Score s = tried.all();
    text.append(
        String.format(
            Locale.ROOT,
            "%s,%s,%d,%d,%d,%s,%s,%d,%.2f,%s%n",
            t.rule().id(),
            set,
            s.happenings(),
            s.missed(),
            s.late(),
            number(s.medianDelayS()),
            number(s.worstDelayS()),
            s.falseAlerts(),
            s.falsePer30Days(),
            limits(t, tried)));
  }

  private static String limits(TuningResult t, Trial tried) {
    return t.rule().parameters().stream()
        .map(p -> p.name() + " " + quantity(p, tried.limits().getOrDefault(p.name(), p.standard())))
        .collect(Collectors.joining("; "));
  }

  private static String number(double value) {
    return Double.isNaN(value) ? "" : String.format(Locale.ROOT, "%.0f", value);
  }

  /** A limit as a plan says it. */
  static String quantity(Parameter p, double value) {
    String number = new BigDecimal(Double.toString(value)).stripTrailingZeros().toPlainString();
    String unit = p.dimension().baseUnit();
    return unit.equals("1") ? number : number + " " + unit;
  }

  /** Writes {@code recommended.yaml}: what to paste under {@code rules:} of the plan, and why. */
  public static void fragment(List<TuningResult> all, Map<String, Score> inFull, Path file)
      throws IOException {
    StringBuilder text =
        new StringBuilder(
            """
            # Limits that did best on the recordings given. They are a proposal, not a decision: what they were not
            # tried on they may miss. Paste what the people in charge agree to under 'rules:' of the plan.
            rules:
            """);
    for (TuningResult t : all) {
      comment(text, t, inFull.getOrDefault(t.rule().id(), t.best().all()));
      setting(text, t);
    }
    Files.writeString(file, text);
  }

  private static void comment(StringBuilder text, TuningResult t, Score recommended) {
    text.append("  # ").append(t.rule().id()).append(", ").append(t.tried());
    text.append(" sets tried\n  # in force:    ").append(t.present().all().text());
    text.append("\n  # recommended: ").append(recommended.text());
    text.append("\n  # held out:    ").append(t.heldOut().text());
    text.append("\n  # why: ").append(why(t)).append('\n');
    if (!t.doubt().isEmpty()) {
      text.append("  # ").append(t.doubt()).append('\n');
    }
  }

  private static void setting(StringBuilder text, TuningResult t) {
    text.append("  ").append(t.rule().id()).append(":\n");
    for (Parameter p : t.rule().parameters()) {
      double value = t.best().limits().getOrDefault(p.name(), p.standard());
      if (p.tuning() != null || p.follows() != null) {
        text.append("    ").append(p.name()).append(": ").append(quantity(p, value)).append('\n');
      }
    }
  }

  private static String why(TuningResult t) {
    if (t.best().limits().equals(t.present().limits())) {
      return "nothing tried was better than the limits in force.";
    }
    Score before = t.present().all();
    Score after = t.best().all();
    if (after.missed() < before.missed()) {
      return before.missed() - after.missed() + " more seen.";
    }
    if (after.late() < before.late()) {
      return before.late() - after.late() + " fewer later than promised.";
    }
    if (after.falseAlerts() < before.falseAlerts()) {
      return before.falseAlerts() - after.falseAlerts() + " fewer false, none missed more.";
    }
    return "no better and no worse than now, but in the middle of all sets that are, so with most room.";
  }

  /** Writes {@code frontier.svg}: each rule's median delay against its false alerts. */
  public static void picture(List<TuningResult> all, Path file) throws IOException {
    int columns = 3;
    int rows = (all.size() + columns - 1) / columns;
    StringBuilder svg = new StringBuilder();
    svg.append(
        String.format(
            Locale.ROOT,
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 %d %d' font-family='sans-serif' font-size='11'>%n",
            columns * WIDE,
            rows * HIGH + 30));
    svg.append("<rect width='100%' height='100%' fill='#fff'/>\n");
    svg.append(
        "<text x='10' y='18'>Ring: limits in force. Blue: recommended. Grey dots: sets that no ");
    svg.append(
        "other beats. Small rings: all other sets tried. Left is fewer false alerts, down is sooner.</text>\n");
    for (int i = 0; i < all.size(); i++) {
      panel(svg, all.get(i), i % columns * WIDE, 30 + i / columns * HIGH);
    }
    Files.writeString(file, svg.append("</svg>\n"));
  }

  private static void panel(StringBuilder svg, TuningResult t, int x0, int y0) {
    List<Trial> shown = new ArrayList<>(t.sets());
    shown.add(t.present());
    shown.add(t.best());
    double mostFalse = 0;
    double longest = 1;
    for (Trial f : shown) {
      mostFalse = Math.max(mostFalse, f.all().falsePer30Days());
      longest = Math.max(longest, zero(f.all().medianDelayS()));
    }
    mostFalse = Math.max(1, mostFalse);
    axes(svg, t, x0, y0, mostFalse, longest);
    for (Trial f : t.sets()) {
      dot(svg, f, x0, y0, mostFalse, longest, "r='2' fill='none' stroke='#bbb'");
    }
    for (Trial f : t.frontier()) {
      dot(svg, f, x0, y0, mostFalse, longest, "r='3' fill='#888'");
    }
    dot(svg, t.present(), x0, y0, mostFalse, longest, "r='7' fill='none' stroke='#000'");
    dot(svg, t.best(), x0, y0, mostFalse, longest, "r='4' fill='#1c5f8f'");
  }

  private static void axes(
      StringBuilder svg, TuningResult t, int x0, int y0, double mostFalse, double longest) {
    int right = x0 + WIDE - 20;
    int low = y0 + HIGH - BOTTOM;
    svg.append(
        String.format(
            Locale.ROOT,
            "<text x='%d' y='%d' font-weight='bold'>%s</text>%n<path d='M%d %dV%dH%d' fill='none' stroke='#555'/>%n",
            x0 + LEFT,
            y0 + 16,
            t.rule().id(),
            x0 + LEFT,
            y0 + 24,
            low,
            right));
    svg.append(
        String.format(
            Locale.ROOT,
            "<text x='%d' y='%d' text-anchor='end'>%.0f</text><text x='%d' y='%d'>false alerts per 30 days</text>%n<text x='%d' y='%d' text-anchor='end'>%.0f s</text><text x='%d' y='%d' text-anchor='end'>0</text>%n",
            right,
            low + 14,
            mostFalse,
            x0 + LEFT,
            low + 28,
            x0 + LEFT - 4,
            y0 + 32,
            longest,
            x0 + LEFT - 4,
            low));
    svg.append(
        String.format(
            Locale.ROOT,
            "<text transform='translate(%d %d) rotate(-90)' text-anchor='middle'>median delay</text>%n<text x='%d' y='%d' text-anchor='middle'>0</text>%n",
            x0 + 14,
            (y0 + 24 + low) / 2,
            x0 + LEFT,
            low + 14));
  }

  private static void dot(
      StringBuilder svg, Trial t, int x0, int y0, double mostFalse, double longest, String style) {
    Score s = t.all();
    if (s.delaysS().isEmpty()) {
      return; // what saw nothing has no delay to draw
    }
    double x = x0 + LEFT + (WIDE - 20 - LEFT) * s.falsePer30Days() / mostFalse;
    double y = y0 + HIGH - BOTTOM - (HIGH - BOTTOM - 24) * zero(s.medianDelayS()) / longest;
    svg.append(
        String.format(
            Locale.ROOT,
            "<circle cx='%.1f' cy='%.1f' %s><title>%s</title></circle>%n",
            x,
            y,
            style,
            s.text()));
  }

  private static double zero(double value) {
    return Double.isNaN(value) ? 0 : value;
  }
}
