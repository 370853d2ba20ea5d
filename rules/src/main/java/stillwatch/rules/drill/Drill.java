package stillwatch.rules.drill;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
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
    Instant start;
    try {
      start = Instant.parse(scenario.start());
    } catch (DateTimeException e) {
      throw new DrillException(
          "start '" + scenario.start() + "' is not written like 2026-03-01T06:00:00Z", e);
    }
    check(scenario);
    SimulatedWell well = new SimulatedWell(scenario);
    List<SimulatedGauge> gauges = new ArrayList<>();
    for (Scenario.Gauge g : scenario.gauges()) {
      gauges.add(new SimulatedGauge(g, scenario.seed()));
    }
    long rows = Math.round(scenario.hours() * 3600);
    try (OutputStream file = Files.newOutputStream(out);
        OutputStream packed =
            String.valueOf(out).endsWith(".gz") ? new GZIPOutputStream(file, 1 << 16) : file;
        BufferedWriter text =
            new BufferedWriter(new OutputStreamWriter(packed, StandardCharsets.UTF_8), 1 << 16)) {
      text.write("time,received");
      for (SimulatedGauge g : gauges) {
        text.write("," + g.gauge().id());
      }
      text.write(",operation\n");
      for (long second = 0; second < rows; second++) {
        row(scenario, well, gauges, start, second, text);
      }
    }
    return rows;
  }

  /** Finds what cannot be simulated before the recording is begun. */
  private static void check(Scenario scenario) {
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

  private static void row(
      Scenario scenario,
      SimulatedWell well,
      List<SimulatedGauge> gauges,
      Instant start,
      long second,
      BufferedWriter text)
      throws IOException {
    double hours = second / 3600.0;
    double pressure = well.pressure(hours);
    text.write(start.plusSeconds(second).toString());
    text.write(',');
    long atMs = start.plusSeconds(second).toEpochMilli();
    long receivedMs = receivedMs(scenario, start.toEpochMilli(), atMs, hours);
    if (receivedMs != atMs) {
      text.write(Instant.ofEpochMilli(receivedMs).toString());
    }
    for (SimulatedGauge g : gauges) {
      text.write(',');
      if (g.speaks(second, hours)) {
        double truth = truth(scenario, well, g.gauge().senses(), pressure, hours);
        text.write(
            String.format(Locale.ROOT, "%." + g.gauge().decimals() + "f", g.show(truth, hours)));
      }
    }
    text.write(',');
    text.write(cell(operation(scenario, second)));
    text.write('\n');
  }

  /** When a row arrives: at once, or at the end of the burst it belongs to. */
  static long receivedMs(Scenario scenario, long startMs, long atMs, double hours) {
    long received = atMs;
    for (Scenario.Event e : scenario.around()) {
      Double to = e.to();
      if (e.what().equals("burst") && to != null && hours >= e.from() && hours < to) {
        received = startMs + Math.round(to * 3600) * 1000;
      }
    }
    return received;
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

  static String operation(Scenario scenario, long second) {
    for (Scenario.Step step : scenario.steps()) {
      if (Math.round(step.at() * 3600) == second) {
        return "closure-step: " + step.text();
      }
    }
    for (Scenario.Event e : scenario.around()) {
      if (e.text() != null && Math.round(e.from() * 3600) == second) {
        return e.text();
      }
    }
    return "";
  }
}
