package stillwatch.station.command;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import stillwatch.ingest.unit.Dimension;
import stillwatch.ingest.unit.Quantities;
import stillwatch.ingest.unit.UnitException;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RuleSetting;
import stillwatch.rules.service.RulesService.WatchedWell;
import stillwatch.rules.tune.Label;
import stillwatch.rules.tune.Labels;
import stillwatch.rules.tune.RecordingWithLeak;
import stillwatch.rules.tune.Recordings;
import stillwatch.rules.tune.Run;
import stillwatch.rules.tune.Score;
import stillwatch.rules.tune.Tuning;
import stillwatch.rules.tune.TuningFiles;
import stillwatch.rules.tune.TuningResult;
import stillwatch.station.option.InputException;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.Cautions;

/** Tries many limits on recordings. */
@Command(
    name = "tune",
    mixinStandardHelpOptions = true,
    description = {
      "Tries many limits on recordings with known happenings: how soon each is seen, what is missed, how often a rule cries wolf.",
      "Writes frontier.csv, frontier.svg and recommended.yaml into --out. Ctrl-C keeps what is done."
    },
    footer = {"", Cautions.TEXT})
public final class TuneCommand implements Callable<Integer> {
  @Mixin private PlanOption plan = new PlanOption();

  @Option(
      names = "--labels",
      paramLabel = "FILE",
      description =
          "CSV with recording,from,to,what,gauges: what truly happened. Needed unless --plant is given.")
  private @Nullable Path labels;

  @Option(
      names = "--operations",
      paramLabel = "FILE",
      description =
          "What people did, saw and decided, where the recordings do not say it: CSV with the columns time and operation.")
  private @Nullable Path operations;

  @Option(
      names = "--out",
      required = true,
      paramLabel = "DIR",
      description = "The folder to write to; made where there is none.")
  private Path out = Path.of("tuned");

  @Option(
      names = "--rule",
      paramLabel = "ID",
      description = "Tunes only this rule; may be given again. Default: every rule that can be.")
  private List<String> only = new ArrayList<>();

  @Option(
      names = "--sets",
      paramLabel = "N",
      description = "How many sets of limits to try for each rule. Default: 120.")
  private int sets = 120;

  @Option(
      names = "--plant",
      paramLabel = "SIZE",
      description =
          "Adds a leak of this size to each recording at random times: '50 kPa' opens at once, '100 kPa/h' grows. May be given again.")
  private List<String> plant = new ArrayList<>();

  @Option(
      names = "--plantings",
      paramLabel = "N",
      description = "How often each size is planted in each recording. Default: 3.")
  private int plantings = 3;

  @Parameters(arity = "1..*", paramLabel = "RECORDING", description = "CSV or CSV.gz files.")
  private List<Path> recordings = new ArrayList<>();

  private volatile boolean stopped;

  @Override
  public Integer call() throws IOException, InterruptedException, ExecutionException {
    WatchedWell watched = plan.load();
    check(watched);
    List<Recordings.Planting> leaks = leaks();
    List<Label> known =
        labels == null ? List.of() : Labels.read(labels, watched.book().catalogue());
    unheard(known);
    Files.createDirectories(out);
    CountDownLatch written = new CountDownLatch(1);
    Thread keep = new Thread(() -> keep(written), "keep what is done");
    Runtime.getRuntime().addShutdownHook(keep);
    ExecutorService threads =
        Executors.newFixedThreadPool(
            Runtime.getRuntime().availableProcessors(),
            r -> {
              Thread t = new Thread(r, "tuning");
              t.setDaemon(true);
              return t;
            });
    try {
      tune(watched, known, leaks, threads);
    } finally {
      threads.shutdownNow();
      written.countDown();
    }
    System.err.println(Cautions.TEXT);
    return 0;
  }

  private void keep(CountDownLatch written) {
    stopped = true;
    try {
      if (!written.await(60, TimeUnit.SECONDS)) {
        System.err.println("stillwatch: what was done could not be written in time");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void check(WatchedWell watched) {
    if (labels == null && plant.isEmpty()) {
      throw new InputException(
          "tuning needs to know what happened: give --labels FILE, or --plant SIZE to add leaks");
    }
    if (sets < 3 || sets > 100_000) {
      throw new InputException("--sets " + sets + ": a number from 3 to 100000");
    }
    if (plantings < 1 || plantings > 1000) {
      throw new InputException("--plantings " + plantings + ": a number from 1 to 1000");
    }
    for (String id : only) {
      RuleEntry rule = watched.book().catalogue().rule(id).orElse(null);
      if (rule == null) {
        throw new InputException("--rule " + id + ": there is no such rule; see docs/rules.md");
      }
      if (rule.parameters().stream().allMatch(p -> p.tuning() == null)) {
        throw new InputException("--rule " + id + ": has no limit that tuning moves");
      }
    }
  }

  private List<Recordings.Planting> leaks() {
    List<Recordings.Planting> all = new ArrayList<>();
    for (String size : plant) {
      try {
        boolean grows = size.contains("/");
        double value = Quantities.parse(size, grows ? Dimension.PRESSURE_RATE : Dimension.PRESSURE);
        if (value <= 0) {
          throw new InputException("--plant " + size + ": a leak's size must be above 0");
        }
        all.add(
            new Recordings.Planting(
                size,
                grows
                    ? new RecordingWithLeak.Leak(0, value)
                    : new RecordingWithLeak.Leak(value, 0)));
      } catch (UnitException e) {
        throw new InputException("--plant " + size + ": " + e.getMessage());
      }
    }
    return all;
  }

  private void unheard(List<Label> known) {
    List<String> names = recordings.stream().map(r -> String.valueOf(r.getFileName())).toList();
    known.stream()
        .map(Label::recording)
        .filter(r -> !names.contains(r))
        .distinct()
        .forEach(r -> System.err.println("labels of " + r + " are not used: it was not given"));
  }

  private void tune(
      WatchedWell watched,
      List<Label> known,
      List<Recordings.Planting> leaks,
      ExecutorService threads)
      throws IOException, InterruptedException, ExecutionException {
    PrintStream say = System.out;
    RuleBook book = watched.book();
    Recordings sources =
        new Recordings(
            recordings, operations, known, threads, (done, of) -> progress("read", done, of));
    sources.plant(watched.plan(), book, leaks, plantings);
    List<TuningResult> all = new ArrayList<>();
    Plan now = watched.plan();
    for (boolean excluding : List.of(true, false)) {
      // the others are based on the gauges that these leave them, so the indicators are taken again
      List<Run> runs = sources.runs(now, book);
      Tuning tuning = new Tuning(runs, threads, () -> stopped);
      for (Rule rule : tuned(book, excluding, runs)) {
        if (!stopped) {
          RuleSetting setting = now.setting(rule.entry().id());
          TuningResult t = tuning.tune(rule, setting, sets);
          all.add(t);
          now = now.with(rule.entry().id(), t.best().limits());
          say.printf(Locale.ROOT, "%s, %d sets tried%n", rule.entry().id(), t.tried());
          say.println("  in force:    " + t.present().all().text());
          say.println("  recommended: " + t.best().all().text());
          say.println("  held out:    " + t.heldOut().text());
          say.print(t.doubt().isEmpty() ? "" : "  " + t.doubt() + "\n");
          bySize(t, sources, say);
        }
      }
    }
    Map<String, Score> inFull = stopped ? Map.of() : sources.inFull(now, book, all);
    TuningFiles.table(all, out.resolve("frontier.csv"));
    TuningFiles.picture(all, out.resolve("frontier.svg"));
    TuningFiles.fragment(all, inFull, out.resolve("recommended.yaml"));
    inFull.forEach((rule, s) -> say.println(rule + ", replayed in full: " + s.text()));
    say.println(
        (stopped ? "Stopped early; what is done is in " : "Written: ")
            + out.resolve("recommended.yaml")
            + ", frontier.csv, frontier.svg");
  }

  /** What could be seen of each planted size. */
  private void bySize(TuningResult t, Recordings sources, PrintStream say) {
    for (String size : plant) {
      Score now = sources.ofPlanted(size, t.present().byRun());
      if (now.happenings() > 0) {
        Score recommended = sources.ofPlanted(size, t.best().byRun());
        say.println("  planted " + size + ", in force:    " + now.text());
        say.println("  planted " + size + ", recommended: " + recommended.text());
      }
    }
  }

  private List<Rule> tuned(RuleBook book, boolean excluding, List<Run> runs) {
    return book.rules().stream()
        .filter(r -> r.entry().excludes() == excluding)
        .filter(r -> r.entry().parameters().stream().anyMatch(p -> p.tuning() != null))
        .filter(r -> only.isEmpty() || only.contains(r.entry().id()))
        .filter(
            r ->
                !only.isEmpty()
                    || runs.stream()
                        .flatMap(run -> run.labels().stream())
                        .anyMatch(l -> r.entry().sees().containsKey(l.what())))
        .toList();
  }

  private static void progress(String what, int done, int of) {
    if (Boolean.getBoolean("stillwatch.terminal")) {
      System.err.printf("\r%s %d of %d\033[K%s", what, done, of, done == of ? "\r\033[K" : "");
      System.err.flush();
    }
  }
}
