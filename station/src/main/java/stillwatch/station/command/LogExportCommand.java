package stillwatch.station.command;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.concurrent.Callable;
import java.util.zip.GZIPOutputStream;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.ingest.intake.IntakeWell;
import stillwatch.ingest.intake.LogLine;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.InputException;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.KeptLog;
import stillwatch.station.run.Shutdown;

/** Writes the log of a well out. */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description = {
      "Writes the log of the plan's well, in its order, as the lines that POST /telemetry takes, each with the time at which it was received: readings with their qualities, and what people did, saw, decided and explained. A line that says nothing but that time is a pulse of the log.",
      "replay reads it: the same log gives the same findings."
    },
    footer = {"", Cautions.TEXT})
final class LogExportCommand implements Callable<Integer> {
  @Mixin private PlanOption plan = new PlanOption();
  @Mixin private BrokerOption broker = new BrokerOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder of a watch that is stopped. Default: stillwatch-data.")
  private Path data = Path.of("stillwatch-data");

  @Option(
      names = "--from",
      paramLabel = "TIME",
      description = "Only what was received from then on, like 2026-03-08T06:00:00Z.")
  private @Nullable String from;

  @Option(names = "--to", paramLabel = "TIME", description = "Only what was received before then.")
  private @Nullable String to;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "Where to; packed by gzip where it is named .gz. Default: standard output.")
  private @Nullable Path out;

  @Override
  public Integer call() throws IOException {
    IntakeWell well = plan.load().plan().intake();
    long fromMs = time("--from", from, Long.MIN_VALUE);
    long toMs = time("--to", to, Long.MAX_VALUE);
    Shutdown shutdown = new Shutdown();
    try (TelemetrySource log = KeptLog.of(KeptLog.open(broker, data, shutdown), well.id());
        OutputStream into = out()) {
      long lines = 0;
      for (Telemetry entry = log.next(); entry != null; entry = log.next()) {
        if (entry.receivedMs() >= fromMs && entry.receivedMs() < toMs) {
          into.write((LogLine.of(entry, well) + "\n").getBytes(StandardCharsets.UTF_8));
          lines++;
        }
      }
      System.err.println("Written: " + lines + " lines of " + well.id());
      return lines > 0 ? 0 : 1;
    } finally {
      shutdown.end();
    }
  }

  private OutputStream out() throws IOException {
    Path file = out;
    if (file == null) {
      return new BufferedOutputStream(System.out, 1 << 16);
    }
    OutputStream plain = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16);
    return file.toString().endsWith(".gz") ? new GZIPOutputStream(plain, 1 << 16) : plain;
  }

  private static long time(String option, @Nullable String text, long otherwise) {
    try {
      return text == null ? otherwise : Instant.parse(text).toEpochMilli();
    } catch (DateTimeException | ArithmeticException e) {
      throw new InputException(
          option + ": '" + text + "' is no time; write it like 2026-03-08T06:00:00Z");
    }
  }
}
