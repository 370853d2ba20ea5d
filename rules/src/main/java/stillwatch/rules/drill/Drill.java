package stillwatch.rules.drill;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.zip.GZIPOutputStream;

/**
 * Makes a recording of a scenario: one row a second, a column a gauge, an operation column; gzipped
 * when the name ends in {@code .gz}. The same scenario gives the same rows.
 */
public final class Drill {
  private static final List<String> SENSES = List.of("well", "sea", "temperature", "sound", "tilt");
  private static final List<String> FAULTS = List.of("drift", "frozen", "dead", "silent", "spikes");

  private Drill() {}

  /**
   * Writes the recording.
   *
   * @return rows written
   * @throws DrillException when the scenario cannot be used
   */
  public static long write(Scenario scenario, Path out) throws IOException {
    Simulation simulation = new Simulation(scenario);
    check(scenario);
    try (OutputStream file = Files.newOutputStream(out);
        OutputStream packed =
            String.valueOf(out).endsWith(".gz") ? new GZIPOutputStream(file, 1 << 16) : file;
        BufferedWriter text =
            new BufferedWriter(new OutputStreamWriter(packed, StandardCharsets.UTF_8), 1 << 16)) {
      header(scenario, text);
      while (simulation.next()) {
        row(scenario, simulation, text);
      }
    }
    return simulation.rows();
  }

  /** Finds what cannot be simulated before the recording is begun. */
  static void check(Scenario scenario) {
    for (Scenario.Gauge g : scenario.gauges()) {
      known("gauge " + g.id() + " senses", g.senses(), SENSES);
      for (Scenario.Fault f : g.faults() == null ? List.<Scenario.Fault>of() : g.faults()) {
        known("gauge " + g.id() + " has the fault", f.what(), FAULTS);
      }
    }
    Set<Long> seconds = new HashSet<>();
    scenario.steps().forEach(s -> alone(seconds, s.at()));
    scenario.around().stream().filter(e -> e.text() != null).forEach(e -> alone(seconds, e.from()));
  }

  private static void known(String what, String name, List<String> names) {
    if (!names.contains(name)) {
      throw new DrillException(what + " '" + name + "'; known are " + String.join(", ", names));
    }
  }

  /** A row holds one operation. */
  private static void alone(Set<Long> seconds, double hours) {
    if (!seconds.add(Math.round(hours * 3600))) {
      throw new DrillException(
          "two operations at hour " + hours + " fall on one second; move one by a second or more");
    }
  }

  private static void header(Scenario scenario, BufferedWriter text) throws IOException {
    text.write("time,received");
    for (Scenario.Gauge g : scenario.gauges()) {
      text.write("," + g.id());
    }
    text.write(",operation\n");
  }

  private static void row(Scenario scenario, Simulation now, BufferedWriter text)
      throws IOException {
    text.write(Instant.ofEpochMilli(now.atMs()).toString());
    text.write(',');
    long receivedMs = now.receivedMs();
    if (receivedMs != now.atMs()) {
      text.write(Instant.ofEpochMilli(receivedMs).toString());
    }
    double[] values = now.values();
    for (int i = 0; i < values.length; i++) {
      text.write(',');
      if (!Double.isNaN(values[i])) {
        int decimals = scenario.gauges().get(i).decimals();
        text.write(String.format(Locale.ROOT, "%." + decimals + "f", values[i]));
      }
    }
    text.write(',');
    text.write(cell(now.happening()));
    text.write('\n');
  }

  static double truth(
      Scenario scenario, SimulatedWell well, String senses, double pressure, double hours) {
    return switch (senses) {
      case "well" -> pressure;
      case "sea" -> well.sea(hours);
      case "temperature" -> 4 + 46 * StrictMath.exp(-hours / 6);
      case "tilt" -> 0.3;
      case "sound" -> sound(scenario, well, hours);
      default -> throw new IllegalStateException("unchecked sense " + senses);
    };
  }

  /** Background, vessels and leak added as powers, dB re 1 µPa. */
  private static double sound(Scenario scenario, SimulatedWell well, double hours) {
    double power = StrictMath.pow(10, 9.2);
    for (Scenario.Event e : scenario.around()) {
      Double to = e.to();
      if (e.what().equals("vessel") && to != null && hours >= e.from() && hours < to) {
        double passing = StrictMath.sin(Math.PI * (hours - e.from()) / (to - e.from()));
        power +=
            StrictMath.pow(10, (92 + (e.value() == null ? 6 : e.value()) * passing) / 10) * passing;
      }
    }
    if (well.leakRate() > 0) {
      power += StrictMath.pow(10, (128 + 20 * StrictMath.log10(well.leakRate())) / 10);
    }
    return 10 * StrictMath.log10(power);
  }

  /** RFC 4180: a cell with a comma, a quote or a line end is quoted. */
  private static String cell(String text) {
    boolean plain = text.chars().noneMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r');
    return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
  }
}
