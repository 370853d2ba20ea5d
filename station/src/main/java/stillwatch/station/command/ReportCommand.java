package stillwatch.station.command;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.report.Report;
import stillwatch.alerts.report.ReportParts;
import stillwatch.alerts.report.ReportPdf;
import stillwatch.alerts.report.Stretch;
import stillwatch.alerts.route.Outbox;
import stillwatch.alerts.series.NewestReview;
import stillwatch.alerts.series.PictureFeed;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.BrokerOption;
import stillwatch.station.option.InputException;
import stillwatch.station.option.JournalOption;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.Cautions;
import stillwatch.station.run.DrillFeeder;
import stillwatch.station.run.KeptLog;
import stillwatch.station.run.Shutdown;

/** The story of a test, for the deciders and whoever asks afterwards. */
@Command(
    name = "report",
    mixinStandardHelpOptions = true,
    description =
        "Writes the report of a test from its log and journal: .html or .pdf. Stop the watch on the folder first; while it runs, its page gives the same at /api/report.",
    footer = {"", Cautions.TEXT})
public final class ReportCommand implements Callable<Integer> {
  @Mixin private PlanOption plan = new PlanOption();
  @Mixin private BrokerOption broker = new BrokerOption();
  @Mixin private JournalOption journal = new JournalOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder of the watch. Default: stillwatch-data.")
  private Path data = Path.of("stillwatch-data");

  @Option(
      names = "--out",
      paramLabel = "FILE",
      required = true,
      description = "Where to: a name that ends in .html or .pdf.")
  private @Nullable Path out;

  @Option(
      names = "--from",
      paramLabel = "TIME",
      description =
          "Tells only of the log from this moment (UTC, for example 2026-03-08T11:20:00Z): one shift, or one hold point.")
  private @Nullable Instant from;

  @Option(
      names = "--to",
      paramLabel = "TIME",
      description = "Tells only of the log up to this moment.")
  private @Nullable Instant to;

  @Override
  public Integer call() throws IOException {
    Path file = out;
    if (file == null || !file.toString().matches("(?i).*\\.(html|pdf)")) {
      throw new InputException(
          "--out " + file + ": a report is .html or .pdf; give a name that ends so");
    }
    Stretch stretch = stretch();
    Plan watched = plan.load().plan();
    Shutdown shutdown = new Shutdown();
    try {
      Bus bus = KeptLog.open(broker, data, shutdown);
      Journal open = shutdown.closes(journal.existing(data));
      ReportParts all = parts(watched, open, bus);
      write(file, all.within(stretch));
    } finally {
      shutdown.end();
    }
    System.err.println("Written: " + file);
    return 0;
  }

  private Stretch stretch() {
    long fromMs = from == null ? Stretch.ALL.fromMs() : from.toEpochMilli();
    long toMs = to == null ? Stretch.ALL.toMs() : to.toEpochMilli();
    if (fromMs >= toMs) {
      throw new InputException(
          "--from " + from + " --to " + to + ": the stretch ends before it begins; swap them");
    }
    return new Stretch(fromMs, toMs);
  }

  private static ReportParts parts(Plan plan, Journal journal, Bus bus) {
    Clock clock = Clock.systemUTC();
    WellPicture picture = new WellPicture(plan, clock, true);
    PictureFeed feed = new PictureFeed(plan.well(), picture);
    NewestReview review = new NewestReview(plan.well());
    boolean[] exercise = new boolean[1];
    KeptLog.read(
        bus,
        Topics.TELEMETRY,
        m -> {
          exercise[0] |= m.headers().containsKey(DrillFeeder.DRILL);
          feed.take(m);
        });
    KeptLog.read(bus, Topics.REVIEWS, review::take);
    Desk desk =
        new Desk(
            plan.well(), plan.desk(), journal, new Outbox(plan.well(), journal, List.of()), clock);
    return ReportParts.now(
        plan, picture, desk, journal, review.whole(), exercise[0], clock.millis(), Cautions.TEXT);
  }

  private static void write(Path file, ReportParts parts) throws IOException {
    String xhtml = Report.of(parts);
    if (file.toString().toLowerCase(java.util.Locale.ROOT).endsWith(".html")) {
      Files.writeString(file, xhtml);
      return;
    }
    try (OutputStream to = Files.newOutputStream(file)) {
      ReportPdf.write(xhtml, to);
    }
  }
}
