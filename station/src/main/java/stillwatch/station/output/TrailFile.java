package stillwatch.station.output;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;

/** Writes what every gauge said as CSV, in base units; an unknown number is an empty cell. */
final class TrailFile implements AutoCloseable {
  private final BufferedWriter text;

  TrailFile(Path file) throws IOException {
    text = Files.newBufferedWriter(file);
    text.write(
        "time,gauge,trusted,level,slope10m_per_h,decline_3h_tide_free_per_h,lost,usual_change,noise,departure,short_sum,sound_rise_db,silent_s,unchanged_s\n");
  }

  /** Writes a line for each gauge. */
  void said(GaugesIndicator indicator) {
    try {
      for (GaugeIndicator g : indicator.gauges()) {
        text.write(Instant.ofEpochMilli(g.atMs()).toString());
        text.write(',');
        text.write(g.gauge());
        text.write(g.trusted() ? ",yes" : ",no");
        for (double v : figures(g)) {
          text.write(',');
          text.write(Double.isFinite(v) ? String.valueOf((float) v) : "");
        }
        text.write('\n');
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write the trails", e);
    }
  }

  private static double[] figures(GaugeIndicator g) {
    return new double[] {
      g.level(),
      g.course().slope10m(),
      g.course().decline(),
      g.fall().lost(),
      g.fall().usual(),
      g.noisiness().noise(),
      g.shortfall().departure(),
      g.shortfall().shortSum(),
      g.hearing().rise(),
      g.life().silentS(),
      g.life().unchangedS()
    };
  }

  @Override
  public void close() throws IOException {
    text.close();
  }
}
