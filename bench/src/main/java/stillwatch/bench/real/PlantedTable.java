package stillwatch.bench.real;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Future;
import stillwatch.bench.Interval;
import stillwatch.bench.Seeds;
import stillwatch.rules.engine.RuleBook;

/** Prints what the rules see of changes planted into quiet stretches. */
final class PlantedTable {
  private static final int[] EVERY = {1, 10, 60};
  private static final int LEARN_S = 1200;
  private static final int SEEN_WITHIN_S = 1800;
  private static final Map<String, String> TWINS =
      Map.of("A", ", twin: t, role: shut-in", "B", ", twin: t, role: shut-in");

  private final RuleBook book;
  private final ExecutorService threads;

  PlantedTable(RuleBook book, ExecutorService threads) {
    this.book = book;
    this.threads = threads;
  }

  /**
   * One replay.
   *
   * @param delayS until the first alarm about the well above LOW; NaN where there was none within
   *     half an hour
   * @param stands whether one raised since the onset stands at the end
   * @param alarms all raised since the onset
   */
  private record Outcome(
      PlantedChange planted, int every, double delayS, boolean stands, List<Alarm> alarms) {}

  void print(List<Series> all) throws InterruptedException, ExecutionException {
    List<Future<Outcome>> running = new ArrayList<>();
    for (Series series : all) {
      Series quiet = series.quiet().beforeClockStepsBack();
      for (int onset = LEARN_S; onset + SEEN_WITHIN_S / 2 < quiet.size(); onset += 4800) {
        for (PlantedChange planted : PlantedChange.all()) {
          for (int every : EVERY) {
            int row = onset;
            running.add(threads.submit(() -> one(quiet, planted, row, every)));
          }
        }
      }
    }
    List<Outcome> outcomes = new ArrayList<>();
    for (Future<Outcome> f : running) {
      outcomes.add(f.get());
    }
    System.out.println("\n### Planted into quiet stretches\n");
    System.out.println(
        "| planted | a reading every | places | alarm about the well above LOW within 30 min | 95 % | median | worst | stands at the end | about the well | about gauges |");
    System.out.println("|---|---|---|---|---|---|---|---|---|---|");
    for (PlantedChange planted : PlantedChange.all()) {
      for (int every : EVERY) {
        row(
            planted,
            every,
            outcomes.stream()
                .filter(o -> o.planted().name().equals(planted.name()) && o.every() == every)
                .toList());
      }
    }
  }

  private Outcome one(Series quiet, PlantedChange planted, int onset, int every) {
    int until = Math.min(quiet.size(), onset + 2 * 3600);
    int from = Math.max(0, onset - 3600);
    Series part = quiet.part(from, until);
    long seed = Seeds.mix(quiet.name().hashCode(), onset);
    Series changed = planted.into(part, onset - from, seed).every(every);
    long onsetMs = quiet.atMs()[onset];
    List<Alarm> alarms =
        SeriesReplay.replay(changed, TWINS, book).stream()
            .filter(a -> a.finding().raisedMs() >= onsetMs)
            .toList();
    List<Alarm> well = alarms.stream().filter(Alarm::ofWellAboveLow).toList();
    double delay =
        well.stream()
            .mapToDouble(a -> (a.finding().raisedMs() - onsetMs) / 1000.0)
            .filter(s -> s <= SEEN_WITHIN_S)
            .findFirst()
            .orElse(Double.NaN);
    return new Outcome(planted, every, delay, well.stream().anyMatch(Alarm::stands), alarms);
  }

  private static void row(PlantedChange planted, int every, List<Outcome> some) {
    double[] delays =
        some.stream().mapToDouble(Outcome::delayS).filter(d -> !Double.isNaN(d)).sorted().toArray();
    Interval share = Interval.ofShare(delays.length, some.size());
    List<Alarm> alarms = some.stream().flatMap(o -> o.alarms().stream()).toList();
    System.out.printf(
        Locale.ROOT,
        "| %s | %d s | %d | %d, %s | %.0f to %.0f %% | %s | %s | %d | %s | %s |%n",
        planted.name(),
        every,
        some.size(),
        delays.length,
        planted.loss() ? "wanted" : "false",
        100 * share.low(),
        100 * share.high(),
        delays.length == 0 ? "-" : String.format(Locale.ROOT, "%.0f s", delays[delays.length / 2]),
        delays.length == 0
            ? "-"
            : String.format(Locale.ROOT, "%.0f s", Arrays.stream(delays).max().orElseThrow()),
        some.stream().filter(Outcome::stands).count(),
        Real.counts(alarms.stream().filter(Alarm::ofWellAboveLow).toList()),
        Real.counts(alarms.stream().filter(a -> !a.ofWell()).toList()));
  }
}
