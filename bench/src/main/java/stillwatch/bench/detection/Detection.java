package stillwatch.bench.detection;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Predicate;
import stillwatch.bench.Interval;
import stillwatch.bench.dangers.Dangers;
import stillwatch.bench.real.Real;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;

/** Runs the matrix of simulated wells on all cores and prints the tables of docs/detection.md. */
public final class Detection {
  private static final List<LeakCase> LEAKS =
      List.of(
          new LeakCase("grows 0.002 %/h", 0.00002, true),
          new LeakCase("grows 0.02 %/h", 0.0002, true),
          new LeakCase("grows 0.1 %/h", 0.001, true),
          new LeakCase("grows 0.5 %/h", 0.005, true),
          new LeakCase("grows 2 %/h", 0.02, true),
          new LeakCase("opens 0.005 %", 0.00005, false),
          new LeakCase("opens 0.05 %", 0.0005, false),
          new LeakCase("opens 0.5 %", 0.005, false),
          new LeakCase("opens 5 %", 0.05, false),
          new LeakCase("opens 10 %", 0.1, false));
  private static final List<String> PATHS = List.of("sea", "rock");
  private static final double[] ONSETS = {2.5, 5};

  private final RuleBook book = RuleBook.shipped();
  private final Plan pair;
  private final Plan alone;

  private Detection() throws IOException {
    Path folder = Files.createTempDirectory("stillwatch-detection");
    pair = plan(folder.resolve("pair.yaml"), true);
    alone = plan(folder.resolve("alone.yaml"), false);
  }

  private Plan plan(Path file, boolean twins) throws IOException {
    String gauge =
        "  - {id: %s, kind: %s, where: bench, unit: %s, period: %s s, range: {low: %s, high: %s}, accuracy: %s, resolution: %s%s}\n";
    StringBuilder text = new StringBuilder("plan: 1\nwell: bench\nname: Bench\nrevision: '1'\n");
    text.append("gauges:\n");
    String twin = twins ? ", twin: cap, role: shut-in" : ", role: shut-in";
    for (String id : twins ? List.of("PT-1", "PT-2") : List.of("PT-1")) {
      text.append(
          gauge.formatted(
              id, "pressure", "kPa", "1", "5 MPa", "103.5 MPa", "20 kPa", "10 Pa", twin));
    }
    text.append(
        gauge.formatted(
            "PA-1",
            "pressure",
            "kPa",
            "10",
            "10 MPa",
            "20 MPa",
            "5 kPa",
            "10 Pa",
            ", role: ambient"));
    for (String id : List.of("HY-1", "HY-2")) {
      text.append(
          gauge.formatted(
              id,
              "sound",
              "dB re 1 uPa",
              "5",
              "40 dB re 1 uPa",
              "200 dB re 1 uPa",
              "2 dB",
              "0.1 dB",
              ""));
    }
    text.append("bands: {intact-low: 46 MPa, leak-high: 41.5 MPa, ceiling: 52 MPa}\n");
    text.append(
        "facts: {water-depth: 1410 m, datum-depth: 4350 m, fluid-gradient: 8.1 kPa/m, sea-gradient: 10.07 kPa/m,"
            + " reservoir-pressure: {low: 74 MPa, high: 75 MPa}, cooling: {low: 5 kPa, high: 35 kPa},"
            + " flow: {rate: 8000 m3/d, lasted: 60 d, volume-factor: 1.4}}\n");
    text.append(
        "test: {closure-steps: [one, two, three, four], phases: [closing, watching], hold-point-every: 6 h, length: 48 h}\n");
    text.append("recordings:\n  time: {column: time}\n  columns: {PT-1: PT-1}\n");
    Files.writeString(file, text);
    return PlanLoader.load(file, book.catalogue());
  }

  /**
   * Runs it.
   *
   * @param args {@code --quick} for a quarter of the seeds; {@code --gross N} for N wells that open
   *     at 5 % instead, with every gauge condition and path in turn
   */
  public static void main(String[] args) throws Exception {
    List<String> words = List.of(args);
    if (words.contains("--dangers") || words.contains("--month")) {
      Dangers.main(args);
      return;
    }
    if (words.contains("--real")) {
      Real.main(args);
      return;
    }
    int gross = words.indexOf("--gross");
    if (gross >= 0) {
      new Detection().gross(Integer.parseInt(words.get(gross + 1)));
      return;
    }
    boolean quick = words.contains("--quick");
    new Detection().run(quick ? 2 : 6, quick ? 4 : 30);
  }

  private void gross(int wells) throws InterruptedException, ExecutionException {
    LeakCase leak =
        LEAKS.stream().filter(l -> l.name().equals("opens 5 %")).findFirst().orElseThrow();
    Condition[] conditions = Condition.values();
    List<Trial> trials = new ArrayList<>();
    for (int i = 0; i < wells; i++) {
      trials.add(
          new Trial(
              leak,
              PATHS.get(i % 2),
              ONSETS[i / 2 % 2],
              conditions[i / 4 % conditions.length],
              1_000_000 + i));
    }
    List<Trial.Outcome> outcomes = outcomes(trials);
    byLeak(outcomes);
    byCondition(outcomes);
  }

  private void run(int seeds, int soundSeeds) throws InterruptedException, ExecutionException {
    List<Trial> trials = new ArrayList<>();
    long seed = 1;
    for (Condition condition : Condition.values()) {
      for (int s = 0; s < soundSeeds; s++) {
        trials.add(new Trial(LeakCase.NONE, "none", 0, condition, seed++));
      }
      for (LeakCase leak : LEAKS) {
        for (String path : PATHS) {
          for (double onset : ONSETS) {
            for (int s = 0; leak.fits(path) && s < seeds; s++) {
              trials.add(new Trial(leak, path, onset, condition, seed++));
            }
          }
        }
      }
    }
    List<Trial.Outcome> outcomes = outcomes(trials);
    System.out.printf("%d wells watched.%n", outcomes.size());
    byLeak(outcomes);
    byCondition(outcomes);
    byRule(outcomes);
    falseAlerts(outcomes);
  }

  private List<Trial.Outcome> outcomes(List<Trial> trials)
      throws InterruptedException, ExecutionException {
    ExecutorService cores =
        Executors.newFixedThreadPool(Runtime.getRuntime().availableProcessors());
    try {
      List<Future<Trial.Outcome>> running = new ArrayList<>();
      for (Trial t : trials) {
        running.add(
            cores.submit(() -> t.run(t.condition() == Condition.ALONE ? alone : pair, book)));
      }
      List<Trial.Outcome> outcomes = new ArrayList<>();
      for (Future<Trial.Outcome> f : running) {
        outcomes.add(f.get());
        if (outcomes.size() % 100 == 0) {
          System.err.printf("%d of %d%n", outcomes.size(), trials.size());
        }
      }
      return outcomes;
    } finally {
      cores.shutdownNow();
    }
  }

  private static void byLeak(List<Trial.Outcome> all) {
    System.out.println("\n### Every leak, healthy pair and all faults together\n");
    System.out.println(
        "| leak | path | wells | seen within 2 h | 95 % | median delay | 90 % | worst |");
    System.out.println("|---|---|---|---|---|---|---|---|");
    for (LeakCase leak : LEAKS) {
      for (String path : PATHS) {
        line(
            "| " + leak.name() + " | " + path + " |",
            all,
            o -> o.trial().leak().equals(leak) && o.trial().path().equals(path));
      }
    }
  }

  private static void byCondition(List<Trial.Outcome> all) {
    System.out.println("\n### The same by gauge condition\n");
    System.out.println(
        "| leak | gauges | wells | seen within 2 h | 95 % | median delay | 90 % | worst |");
    System.out.println("|---|---|---|---|---|---|---|---|");
    for (LeakCase leak : LEAKS.subList(2, LEAKS.size())) {
      for (Condition condition : Condition.values()) {
        line(
            "| " + leak.name() + " | " + condition.name + " |",
            all,
            o -> o.trial().leak().equals(leak) && o.trial().condition() == condition);
      }
    }
  }

  private static void line(String head, List<Trial.Outcome> all, Predicate<Trial.Outcome> which) {
    List<Trial.Outcome> some = all.stream().filter(which).toList();
    if (some.isEmpty()) {
      return;
    }
    double[] delays =
        some.stream().mapToDouble(Trial.Outcome::delayS).filter(d -> !Double.isNaN(d)).toArray();
    Arrays.sort(delays);
    Interval share = Interval.ofShare(delays.length, some.size());
    System.out.printf(
        Locale.ROOT,
        "%s %d | %.1f %% | %.2f to %.2f %% | %s | %s | %s |%n",
        head,
        some.size(),
        100.0 * delays.length / some.size(),
        100 * share.low(),
        100 * share.high(),
        quantile(delays, 0.5),
        quantile(delays, 0.9),
        quantile(delays, 1));
  }

  private static String quantile(double[] sorted, double q) {
    if (sorted.length == 0) {
      return "none";
    }
    double s = sorted[(int) Math.ceil(q * sorted.length) - 1];
    return s < 600
        ? String.format(Locale.ROOT, "%.0f s", s)
        : String.format(Locale.ROOT, "%.0f min", s / 60);
  }

  private static void byRule(List<Trial.Outcome> all) {
    System.out.println("\n### Which rule saw it, median delay (share of wells)\n");
    TreeSet<String> rules = new TreeSet<>();
    all.forEach(o -> rules.addAll(o.byRule().keySet()));
    System.out.println("| leak | " + String.join(" | ", rules) + " |");
    System.out.println("|---" + "|---".repeat(rules.size()) + "|");
    for (LeakCase leak : LEAKS) {
      List<Trial.Outcome> some = all.stream().filter(o -> o.trial().leak().equals(leak)).toList();
      StringBuilder row = new StringBuilder("| " + leak.name() + " |");
      for (String rule : rules) {
        double[] delays =
            some.stream()
                .filter(o -> o.byRule().containsKey(rule))
                .mapToDouble(o -> o.byRule().getOrDefault(rule, Double.NaN))
                .sorted()
                .toArray();
        row.append(' ')
            .append(
                delays.length == 0
                    ? "–"
                    : quantile(delays, 0.5)
                        + String.format(
                            Locale.ROOT, " (%.0f %%)", 100.0 * delays.length / some.size()))
            .append(" |");
      }
      System.out.println(row);
    }
  }

  private static void falseAlerts(List<Trial.Outcome> all) {
    System.out.println("\n### False alerts about a sound well, per 30 days\n");
    System.out.println("| gauges | days | by rule | all | 95 % |");
    System.out.println("|---|---|---|---|---|");
    for (Condition condition : Condition.values()) {
      List<Trial.Outcome> some =
          all.stream().filter(o -> o.trial().condition() == condition).toList();
      double days = some.stream().mapToDouble(Trial.Outcome::soundHours).sum() / 24;
      Map<String, Integer> counts = new TreeMap<>();
      some.forEach(o -> o.falseAlerts().forEach((r, n) -> counts.merge(r, n, Integer::sum)));
      int total = counts.values().stream().mapToInt(n -> n).sum();
      Interval interval = Interval.ofCount(total);
      System.out.printf(
          Locale.ROOT,
          "| %s | %.0f | %s | %.2f | %.2f to %.2f |%n",
          condition.name,
          days,
          counts.isEmpty() ? "none" : counts,
          total * 30 / days,
          interval.low() * 30 / days,
          interval.high() * 30 / days);
    }
  }
}
