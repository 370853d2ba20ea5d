package stillwatch.station;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import stillwatch.ingest.recording.PrefetchingSource;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.service.RulesService.Watched;

/** Runs recordings through the rules. */
@Command(
    name = "replay",
    mixinStandardHelpOptions = true,
    description =
        "Runs recordings through the same rules as fast as the machine allows. Findings go to standard output, the summary to standard error.",
    footer = {"", Cautions.TEXT})
final class ReplayCommand implements Callable<Integer> {
  /** How findings are written. */
  enum Format {
    TEXT,
    NDJSON
  }

  @Mixin private PlanOption plan = new PlanOption();

  @Option(
      names = "--format",
      paramLabel = "text|ndjson",
      description = "Text for people (default) or one JSON object a line.")
  private Format format = Format.TEXT;

  @Parameters(
      arity = "1..*",
      paramLabel = "RECORDING",
      description = "CSV or CSV.gz files, each run by itself.")
  private List<Path> recordings = new ArrayList<>();

  @Override
  public Integer call() throws IOException {
    Watched watched = plan.load();
    OutputStream out = new BufferedOutputStream(System.out, 1 << 16);
    boolean read = true;
    for (Path file : recordings) {
      read &= replay(watched, file, out);
    }
    out.flush();
    if (format == Format.TEXT) {
      System.err.println(Cautions.TEXT);
    }
    return read ? 0 : 2;
  }

  /** Replays one recording; false when nothing in it could be read. */
  private boolean replay(Watched watched, Path file, OutputStream out) throws IOException {
    PrintStream err = System.err;
    Problems problems = new Problems();
    long startNs = System.nanoTime();
    RecordingFeed feed = RecordingFeed.open(file, watched.plan().recordings(), problems);
    try (TelemetrySource source = new PrefetchingSource(feed);
        Progressing bar = Progressing.over(file, feed)) {
      Replay.Result result = Replay.run(watched.plan(), watched.book(), source, f -> write(f, out));
      out.flush();
      bar.close();
      double seconds = (System.nanoTime() - startNs) / 1e9;
      err.printf(
          Locale.ROOT,
          "%s: %,d readings over %s in %.1f s; findings: %d%n",
          file,
          result.readings(),
          span(result.toMs() - result.fromMs()),
          seconds,
          result.findings());
      problems.report().forEach(err::println);
      if (result.entries() == 0) {
        err.println(
            file
                + ": no row could be read; check the columns and the time format under 'recordings' in the plan");
      }
      return result.entries() > 0;
    }
  }

  private void write(Finding finding, OutputStream out) {
    try {
      if (format == Format.NDJSON) {
        out.write(FindingCodec.encode(finding));
        out.write('\n');
      } else {
        out.write(FindingText.of(finding).getBytes(StandardCharsets.UTF_8));
      }
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write the findings", e);
    }
  }

  private static String span(long ms) {
    return String.format(Locale.ROOT, "%d h %02d min", ms / 3_600_000, ms / 60_000 % 60);
  }
}
