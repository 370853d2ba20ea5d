package stillwatch.alerts.route;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.Path2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Locale;
import javax.imageio.ImageIO;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;

/**
 * The trails an alert is based on as a small picture: lines only, for a machine may have no fonts;
 * what they are is said beside it.
 */
final class TrailPicture {
  private static final int WIDE = 640;
  private static final int HIGH = 240;
  private static final int PAD = 12;
  private static final Color[] SHADES = {new Color(0x24282b), new Color(0x1d5c86)};

  private TrailPicture() {}

  private static List<Evidence.Trail> trails(Finding f) {
    List<Evidence.Trail> all = f.evidence().trails();
    String unit = all.isEmpty() ? "" : all.get(0).unit();
    return all.stream().filter(t -> t.unit().equals(unit) && t.level().size() > 1).toList();
  }

  /** Whether there is anything to draw. */
  static boolean possible(Finding f) {
    return !trails(f).isEmpty();
  }

  private static double[] range(List<Evidence.Trail> trails) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    double from = Double.POSITIVE_INFINITY;
    double to = Double.NEGATIVE_INFINITY;
    for (Evidence.Trail t : trails) {
      for (int i = 0; i < t.level().size(); i++) {
        low = Math.min(low, t.level().get(i));
        high = Math.max(high, t.level().get(i));
        from = Math.min(from, t.atMs().get(i));
        to = Math.max(to, t.atMs().get(i));
      }
    }
    return new double[] {low, high > low ? high : low + 1, from, to > from ? to : from + 1};
  }

  /** What the picture shows. */
  static String words(Finding f) {
    List<Evidence.Trail> trails = trails(f);
    double[] r = range(trails);
    return String.format(
        Locale.ROOT,
        "Picture: %s over %.0f min, from %.2f to %.2f %s; red: where it began.",
        String.join(" and ", trails.stream().map(Evidence.Trail::gauge).toList()),
        (r[3] - r[2]) / 60_000,
        r[0],
        r[1],
        trails.get(0).unit());
  }

  /** The picture as PNG. */
  static byte[] png(Finding f) {
    List<Evidence.Trail> trails = trails(f);
    double[] r = range(trails);
    BufferedImage image = new BufferedImage(WIDE, HIGH, BufferedImage.TYPE_INT_RGB);
    Graphics2D g = image.createGraphics();
    g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
    drawGrid(g);
    drawOnset(g, x((double) f.onsetMs(), r));
    g.setStroke(new BasicStroke(1.6f));
    for (int k = 0; k < trails.size(); k++) {
      g.setColor(SHADES[k % SHADES.length]);
      g.draw(path(trails.get(k), r));
    }
    g.dispose();
    return png(image);
  }

  private static void drawGrid(Graphics2D g) {
    g.setColor(Color.WHITE);
    g.fillRect(0, 0, WIDE, HIGH);
    g.setColor(new Color(0xd4d8da));
    for (int i = 0; i <= 4; i++) {
      int y = PAD + i * (HIGH - 2 * PAD) / 4;
      g.drawLine(PAD, y, WIDE - PAD, y);
    }
  }

  private static void drawOnset(Graphics2D g, double x) {
    if (x >= PAD) {
      g.setColor(new Color(0xa3123c));
      g.drawLine((int) x, PAD, (int) x, HIGH - PAD);
    }
  }

  private static Path2D path(Evidence.Trail t, double[] r) {
    Path2D path = new Path2D.Double();
    for (int i = 0; i < t.level().size(); i++) {
      double y = HIGH - PAD - (t.level().get(i) - r[0]) / (r[1] - r[0]) * (HIGH - 2 * PAD);
      if (i == 0) {
        path.moveTo(x(t.atMs().get(i), r), y);
      } else {
        path.lineTo(x(t.atMs().get(i), r), y);
      }
    }
    return path;
  }

  private static byte[] png(BufferedImage image) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    try {
      ImageIO.write(image, "png", out);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write a picture to memory", e);
    }
    return out.toByteArray();
  }

  private static double x(double ms, double[] r) {
    return PAD + (ms - r[2]) / (r[3] - r[2]) * (WIDE - 2 * PAD);
  }
}
