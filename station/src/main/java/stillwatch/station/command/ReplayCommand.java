package stillwatch.station.command;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import stillwatch.ingest.recording.OperationsFile;
import stillwatch.ingest.recording.PrefetchingSource;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.Recording;
import stillwatch.ingest.recording.RecordingLayout;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.replay.PlannedRecording;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.station.option.Format;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.output.Difference;
import stillwatch.station.output.FindingText;
import stillwatch.station.output.ProgressBar;
import stillwatch.station.output.ReplayFolder;
import stillwatch.station.output.RockText;

/** Runs recordings through the rules. */
@Command(
    name = "replay",
    mixinStandardHelpOptions = true,
    description =
        "Runs recordings through the same rules as fast as the machine allows. Findings go to standard output, the summary to standard error.",
    footer = {"", Cautions.TEXT})
public final class ReplayCommand implements Callable<Integer> {

  @Mixin private PlanOption plan = new PlanOption();

  @Option(
      names = "--format",
      paramLabel = "text|ndjson",
      description = "Text for people (default) or one JSON object a line.")
  private Format format = Format.TEXT;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description =
          "Also writes, for each recording, findings.ndjson, trails.csv and page.html, which needs nothing but a browser.")
  private @Nullable Path out;

  @Option(
      names = "--against",
      paramLabel = "FILE",
      description =
          "Another plan of the same well: tells which alerts its limits and rules would add, take away or move in time.")
  private @Nullable Path against;

  @Option(
      names = "--operations",
      paramLabel = "FILE",
      description =
          "What people did, saw and decided, where the recordings do not say it: CSV with the columns time and operation.")
  private @Nullable Path operations;

  @Parameters(
      arity = "1..*",
      paramLabel = "RECORDING",
      description =
          "CSV or CSV.gz files, or .ndjson or .ndjson.gz as log export writes, each run by itself.")
  private List<Path> recordings = new ArrayList<>();

  private boolean delaysSaid;

  @Override
  public Integer call() throws IOException {
    WatchedWell watched = plan.load();
    WatchedWell other = against == null ? null : PlanOption.load(against);
    OutputStream text = new BufferedOutputStream(System.out, 1 << 16);
    boolean read = true;
    for (Path file : recordings) {
      read &= replay(watched, other, file, text);
    }
    text.flush();
    if (format == Format.TEXT) {
      System.err.println(Cautions.TEXT);
    }
    return read ? 0 : 2;
  }

  /** Replays one recording; false when nothing in it could be read. */
  private boolean replay(
      WatchedWell watched, @Nullable WatchedWell other, Path file, OutputStream text)
      throws IOException {
    PrintStream err = System.err;
    if (format == Format.TEXT && recordings.size() > 1) {
      text.write(("Recording " + file + System.lineSeparator()).getBytes(StandardCharsets.UTF_8));
    }
    Problems problems = new Problems();
    long startNs = System.nanoTime();
    List<Finding> raised = new ArrayList<>();
    Map<String, Finding> lasting = new LinkedHashMap<>();
    String name = String.valueOf(file.getFileName());
    Path folder = out == null ? null : folder(out, name);
    try (ReplayFolder kept =
        folder == null ? null : ReplayFolder.make(folder, watched.plan(), name)) {
      Replay.Result result =
          run(
              watched,
              file,
              problems,
              kept,
              Replay.raisedInto(raised)
                  .andThen(f -> keep(f, lasting))
                  .andThen(f -> write(f, name, text)));
      List<OpenChange> open = OpenChange.in(lasting.values());
      if (format == Format.TEXT) {
        text.write(FindingText.open(open).getBytes(StandardCharsets.UTF_8));
      }
      text.flush();
      err.println(about(file, result, (System.nanoTime() - startNs) / 1e9));
      RockText.of(result.closings()).forEach(err::println);
      problems.report().forEach(err::println);
      List<String> difference = other == null ? null : difference(other, file, raised);
      if (kept != null) {
        kept.page(file, result, problems, difference);
        err.println("Written: " + kept.path().resolve("page.html"));
      }
      if (result.entries() == 0) {
        err.println(
            file
                + (PlannedRecording.ofLines(file)
                    ? ": no line could be read; it must hold lines of the plan's well, as log export writes them"
                    : ": no row could be read; check the columns and the time format under 'recordings' in the plan"));
      }
      return result.entries() > 0;
    }
  }

  private static String about(Path file, Replay.Result result, double seconds) {
    return String.format(
        Locale.ROOT,
        "%s: %,d readings over %s in %.1f s; findings: %d",
        file,
        result.readings(),
        span(result.toMs() - result.fromMs()),
        seconds,
        result.findings());
  }

  /** How the alerts of another plan differ, told and returned. */
  private List<String> difference(WatchedWell other, Path file, List<Finding> raised)
      throws IOException {
    List<Finding> then = new ArrayList<>();
    var unused = run(other, file, new Problems(), null, Replay.raisedInto(then));
    List<String> difference = Difference.between(raised, then);
    PrintStream to = format == Format.TEXT ? System.out : System.err; // NDJSON holds findings only
    to.println("With " + against + ": " + (difference.isEmpty() ? "the same alerts" : ""));
    difference.forEach(line -> to.println("  " + line));
    return difference;
  }

  private Replay.Result run(
      WatchedWell watched,
      Path file,
      Problems problems,
      @Nullable ReplayFolder kept,
      Consumer<Finding> sink)
      throws IOException {
    Recording feed = PlannedRecording.open(file, watched.plan(), problems);
    if (!delaysSaid) { // not before a recording is there
      PlanOption.sayDelays(watched);
      delaysSaid = true;
    }
    RecordingLayout layout = watched.plan().recordings();
    try (TelemetrySource source =
            new PrefetchingSource(OperationsFile.beside(feed, operations, layout, problems));
        ProgressBar bar = ProgressBar.over(file, feed)) {
      if (kept == null) {
        return Replay.run(watched.plan(), watched.book(), source, sink);
      }
      return Replay.run(
          watched.plan(),
          watched.book(),
          kept.listening(source),
          f -> {
            sink.accept(f);
            kept.finding(f);
          },
          kept.tap());
    }
  }

  /** A folder named as the recording, beside those of others of that name. */
  private static Path folder(Path out, String name) {
    return out.resolve(name.replaceFirst("\\.(csv|ndjson)(\\.gz)?$", ""));
  }

  private static void keep(Finding finding, Map<String, Finding> lasting) {
    if (finding.returned()) {
      lasting.remove(finding.id());
    } else {
      lasting.put(finding.id(), finding);
    }
  }

  private void write(Finding finding, String recording, OutputStream text) {
    try {
      if (format == Format.NDJSON) {
        text.write(FindingCodec.encode(finding, recording));
        text.write('\n');
      } else {
        text.write(FindingText.of(finding).getBytes(StandardCharsets.UTF_8));
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write the findings", e);
    }
  }

  private static String span(long ms) {
    return String.format(Locale.ROOT, "%d h %02d min", ms / 3_600_000, ms / 60_000 % 60);
  }
}
