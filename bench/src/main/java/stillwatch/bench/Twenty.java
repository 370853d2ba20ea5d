package stillwatch.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import stillwatch.rules.drill.Drill;
import stillwatch.rules.drill.Scenario;

/**
 * Twenty shut-in gauges in ten pairs, 48 h at 1 Hz: the recording and the plan every figure uses.
 */
public final class Twenty {
  /** How many gauges there are. */
  public static final int GAUGES = 20;

  private Twenty() {}

  /** The id of a gauge, counted from 0. */
  public static String gauge(int i) {
    return String.format(Locale.ROOT, "G-%02d", i + 1);
  }

  /** Writes the plan and gives its path. */
  public static Path plan(Path folder) throws IOException {
    StringBuilder text =
        new StringBuilder("plan: 1\nwell: bench\nname: Bench\nrevision: '1'\ngauges:\n");
    for (int i = 0; i < GAUGES; i++) {
      text.append("  - {id: ").append(gauge(i));
      text.append(", kind: pressure, where: bench, unit: kPa, period: 1 s, ");
      text.append("range: {low: 5 MPa, high: 103.5 MPa}, accuracy: 40 kPa, resolution: 10 Pa, ");
      text.append("twin: t").append(i / 2).append(", role: shut-in}\n");
    }
    text.append("bands: {intact-low: 46 MPa, leak-high: 41.5 MPa, ceiling: 52 MPa}\n");
    text.append("test: {phases: [watching], hold-point-every: 6 h, length: 48 h}\n");
    text.append("recordings:\n  shape: wide\n  time: {column: time, format: rfc3339}\n");
    text.append("  received: received\n  operation: operation\n  columns: {");
    for (int i = 0; i < GAUGES; i++) {
      text.append(i == 0 ? "" : ", ").append(gauge(i)).append(": ").append(gauge(i));
    }
    return Files.writeString(folder.resolve("plan.yaml"), text.append("}\n"));
  }

  /** Simulates the recording and gives its path. */
  public static Path recording(Path folder, int hours) throws IOException {
    StringBuilder text =
        new StringBuilder(
            """
            start: 2026-03-02T06:00:00Z
            hours: %d
            seed: 11
            well: {final-pressure: 46900, slope-per-cycle: 700, x-hours: 5.0e-6, flowed-hours: 1440,
              choke-loss: 20000, fill-seconds: 20, sag: 20, sag-hours: 20, sea: 14200, tide-share: 0.03}
            steps:
              - {at: 0.5, rate: 0.5, text: half shut}
              - {at: 1.0, rate: 0.0, text: shut}
            gauges:
            """
                .formatted(hours));
    for (int i = 0; i < GAUGES; i++) {
      text.append("  - {id: ").append(gauge(i)).append(", senses: well, every: 1, offset: ");
      text.append(3 * i - 30).append(", noise: 0.05, step: 0.01, decimals: 2}\n");
    }
    text.append("events: []\n");
    Path scenario = Files.writeString(folder.resolve("scenario.yaml"), text);
    Path recording = folder.resolve("twenty.csv.gz");
    Drill.write(Scenario.read(scenario), recording);
    return recording;
  }
}
