package stillwatch.bench.real;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Stream;
import stillwatch.bench.Interval;
import stillwatch.rules.engine.RuleBook;

/**
 * Runs real recordings, where the machine has them: 1 Hz files of the public 3W data set (Vargas et
 * al. 2019, J. Petroleum Science and Engineering 181, 106223).
 */
public final class Real {
  private static final Path FOLDER =
      Path.of(System.getProperty("stillwatch.recordings", "../shared/recordings"));
  private static final int[] EVERY = {1, 10, 30, 60};

  private final RuleBook book = RuleBook.shipped();
  private final boolean verbose;
  private final ExecutorService threads = Executors.newFixedThreadPool(2);

  private Real(boolean verbose) {
    this.verbose = verbose;
  }

  /**
   * Runs them.
   *
   * @param args {@code --quick} leaves out what is planted; {@code --verbose} tells each alarm
   *     about the well
   */
  public static void main(String[] args)
      throws IOException, InterruptedException, ExecutionException {
    if (!Files.isDirectory(FOLDER)) {
      System.out.println(
          "Skipped: there are no real recordings at "
              + FOLDER
              + "; give their folder with STILLWATCH_JAVA_OPTS=-Dstillwatch.recordings=FOLDER.");
      return;
    }
    List<String> words = List.of(args);
    Real real = new Real(words.contains("--verbose"));
    try {
      List<Series> all = real.all();
      real.closings(all);
      real.quiet(all);
      real.glitches(all);
      if (!words.contains("--quick")) {
        new PlantedTable(real.book, real.threads).print(all);
      }
    } finally {
      real.threads.shutdownNow();
    }
  }

  private List<Series> all() throws IOException {
    List<Series> all = new ArrayList<>();
    try (Stream<Path> files = Files.list(FOLDER)) {
      for (Path file : files.sorted().toList()) {
        if (String.valueOf(file.getFileName()).matches("c\\d_.*\\.csv\\.gz")) {
          all.add(Series.read(file));
        }
      }
    }
    return all;
  }

  /** The plan's lines: the tree is shut-in, the downhole gauge is other or shut-in. */
  private static Map<String, String> roles(boolean both) {
    String shutIn = ", role: shut-in";
    return both
        ? Map.of(Series.TREE, shutIn, Series.DOWNHOLE, shutIn)
        : Map.of(Series.TREE, shutIn);
  }

  private static String plan(boolean both) {
    return both ? "both shut-in" : "tree shut-in";
  }

  private <T> Future<T> later(Callable<T> work) {
    return threads.submit(work);
  }

  private List<Run> runs(List<Series> all) throws InterruptedException, ExecutionException {
    List<Future<Run>> running = new ArrayList<>();
    for (Series series : all) {
      for (boolean both : new boolean[] {false, true}) {
        for (int every : EVERY) {
          running.add(
              later(
                  () -> {
                    Series seldom = series.every(every);
                    return new Run(
                        series, every, both, SeriesReplay.replay(seldom, roles(both), book));
                  }));
        }
      }
    }
    List<Run> runs = new ArrayList<>();
    for (Future<Run> f : running) {
      runs.add(f.get());
    }
    return runs;
  }

  /**
   * A recording watched.
   *
   * @param whole the recording, a row a second
   * @param every seconds between the rows that were watched
   * @param both whether the downhole gauge is shut-in too
   */
  private record Run(Series whole, int every, boolean both, List<Alarm> alarms) {
    double atS(Alarm alarm) {
      return (alarm.finding().raisedMs() - whole.atMs()[0]) / 1000.0;
    }
  }

  private void closings(List<Series> all) throws InterruptedException, ExecutionException {
    System.out.println("\n### Closings of the downhole safety valve\n");
    System.out.println(
        "| recording | plan | a reading every | turns at | first alarm about the well above LOW | by | readings after the turn | alarms about the well before the turn |");
    System.out.println("|---|---|---|---|---|---|---|---|");
    List<Series> closings = all.stream().filter(s -> s.name().startsWith("c2_")).toList();
    int found = 0;
    List<Run> runs = runs(closings);
    for (Run run : runs) {
      Turn turn = Turn.of(run.whole().of(Series.TREE));
      double turnS = (run.whole().atMs()[turn.row()] - run.whole().atMs()[0]) / 1000.0;
      List<Alarm> after =
          run.alarms().stream().filter(a -> a.ofWellAboveLow() && run.atS(a) >= turnS).toList();
      List<Alarm> before =
          run.alarms().stream().filter(a -> a.ofWell() && run.atS(a) < turnS).toList();
      double late = after.isEmpty() ? Double.NaN : run.atS(after.get(0)) - turnS;
      double readings = Math.ceil(late / run.every());
      found += late <= 60 || readings <= 2 ? 1 : 0;
      System.out.printf(
          Locale.ROOT,
          "| %s | %s | %d s | %.0f s | %s | %s | %s | %s |%n",
          run.whole().name(),
          plan(run.both()),
          run.every(),
          turnS,
          after.isEmpty() ? "never" : String.format(Locale.ROOT, "%.0f s after", late),
          after.isEmpty() ? "" : after.get(0).named(),
          after.isEmpty() ? "" : String.format(Locale.ROOT, "%.0f", readings),
          counts(before));
    }
    System.out.printf(
        "%n%d of %d within 60 s of the turn, or within two readings.%n", found, runs.size());
  }

  private void quiet(List<Series> all) throws InterruptedException, ExecutionException {
    System.out.println("\n### Quiet stretches\n");
    System.out.println(
        "| plan | a reading every | days | about the well above LOW | a day | 95 % | about the well, LOW | about gauges and the watch |");
    System.out.println("|---|---|---|---|---|---|---|---|");
    List<Run> runs = runs(all.stream().map(Series::quiet).filter(s -> s.size() > 0).toList());
    for (boolean both : new boolean[] {false, true}) {
      for (int every : EVERY) {
        List<Run> some = runs.stream().filter(r -> r.both() == both && r.every() == every).toList();
        row(plan(both) + " | " + every + " s", some);
      }
    }
    row("all | all", runs);
    for (Run run : verbose ? runs : List.<Run>of()) {
      tell(run);
    }
  }

  private static void row(String head, List<Run> runs) {
    double days = runs.stream().mapToDouble(r -> r.whole().days()).sum();
    List<Alarm> alarms = runs.stream().flatMap(r -> r.alarms().stream()).toList();
    List<Alarm> high = alarms.stream().filter(Alarm::ofWellAboveLow).toList();
    Interval interval = Interval.ofCount(high.size());
    System.out.printf(
        Locale.ROOT,
        "| %s | %.2f | %s | %.2f | %.2f to %.2f | %s | %s |%n",
        head,
        days,
        counts(high),
        high.size() / days,
        interval.low() / days,
        interval.high() / days,
        counts(alarms.stream().filter(a -> a.ofWell() && !a.ofWellAboveLow()).toList()),
        counts(alarms.stream().filter(a -> !a.ofWell()).toList()));
  }

  /**
   * Alarms about the well when in the ten minutes before one gauge had moved by more than 10 bar
   * and its neighbour, alive, by less than one. What the gauge at the tree does after the experts
   * say that the downhole valve has closed is the well's: no glitch.
   */
  private void glitches(List<Series> all) throws InterruptedException, ExecutionException {
    System.out.println("\n### Alarms about the well while one gauge glitches\n");
    List<Alarm> cried = new ArrayList<>();
    for (Run run : runs(all)) {
      for (Alarm alarm : run.alarms()) {
        if (alarm.ofWellAboveLow() && glitch(run.whole(), alarm.finding().raisedMs())) {
          cried.add(alarm);
          System.out.printf(
              Locale.ROOT,
              "- %s, %s, every %d s, at %.0f s: %s%n",
              run.whole().name(),
              plan(run.both()),
              run.every(),
              run.atS(alarm),
              alarm.finding().summary());
        }
      }
    }
    System.out.printf("%nIn sum: %s%n", counts(cried));
  }

  private static boolean glitch(Series series, long atMs) {
    Span tree = Span.before(series, Series.TREE, atMs);
    Span downhole = Span.before(series, Series.DOWNHOLE, atMs);
    return (!series.closesAt(atMs) && tree.glitchesBeside(downhole))
        || downhole.glitchesBeside(tree);
  }

  static String counts(List<Alarm> alarms) {
    Map<String, Integer> counts = new TreeMap<>();
    alarms.forEach(a -> counts.merge(a.named(), 1, Integer::sum));
    return alarms.isEmpty() ? "0" : alarms.size() + " " + counts;
  }

  private static void tell(Run run) {
    for (Alarm alarm : run.alarms()) {
      if (alarm.ofWell()) {
        System.out.printf(
            Locale.ROOT,
            "- %s, %s, every %d s, at %.0f s: %s: %s%n",
            run.whole().name(),
            plan(run.both()),
            run.every(),
            run.atS(alarm),
            alarm.named(),
            alarm.finding().summary());
      }
    }
  }
}
