package stillwatch.bench.dangers;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;

/** Runs the cases and prints how they came out. */
public final class Dangers {
  private static final int SIZES = 3;

  private final RuleBook book = RuleBook.shipped();
  private final Words words;

  private Dangers(Words words) {
    this.words = words;
  }

  /**
   * Runs the cases.
   *
   * @param args {@code --month} for the sound month instead; {@code --quick} for two periods, one
   *     size, one seed; {@code --case NAME}, {@code --period S}, {@code --size K} (0 to 2), {@code
   *     --seed N} to run fewer; {@code --seeds N}; {@code --verbose} to print each finding; {@code
   *     --write FOLDER} to keep each run's recording and plan
   */
  public static void main(String[] args) throws InterruptedException, ExecutionException {
    Words words = new Words(List.of(args));
    if (words.has("--month")) {
      Month.run(words);
    } else {
      new Dangers(words).run();
    }
  }

  /** All cases. */
  static List<Case> cases() {
    List<Case> all = new ArrayList<>();
    all.addAll(GaugeCases.all());
    all.addAll(OperationCases.all());
    all.addAll(LowCases.all());
    all.addAll(LossCases.all());
    all.addAll(TimeCases.all());
    all.addAll(QuietCases.all());
    return all;
  }

  private void run() throws InterruptedException, ExecutionException {
    boolean verbose = words.has("--verbose");
    ExecutorService threads = Executors.newFixedThreadPool(verbose ? 1 : 2);
    try {
      List<Future<Outcome>> running = new ArrayList<>();
      for (Case danger : cases()) {
        if (danger.name().contains(words.text("--case", ""))) {
          for (int[] run : runs(danger)) {
            running.add(threads.submit(() -> one(danger, run[0], run[1], run[2], verbose)));
          }
        }
      }
      List<Outcome> outcomes = new ArrayList<>();
      for (Future<Outcome> f : running) {
        outcomes.add(f.get());
        if (outcomes.size() % 200 == 0) {
          System.err.printf("%d of %d%n", outcomes.size(), running.size());
        }
      }
      Table.print(outcomes, System.out);
    } finally {
      threads.shutdownNow();
    }
  }

  private List<int[]> runs(Case danger) {
    boolean quick = words.has("--quick");
    List<int[]> runs = new ArrayList<>();
    for (int period : danger.periods()) {
      if ((quick && period != 1 && period != 60) || !words.takes("--period", period)) {
        continue;
      }
      for (int size = 0; size < SIZES; size++) {
        if ((quick && size != 1) || !words.takes("--size", size)) {
          continue;
        }
        int seeds = quick ? 1 : words.number("--seeds", 5);
        for (int seed = 0; seed < seeds; seed++) {
          if (words.takes("--seed", seed)) {
            runs.add(new int[] {period, size, seed});
          }
        }
      }
    }
    return runs;
  }

  private Outcome one(Case danger, int period, int size, int seed, boolean verbose) {
    try {
      if (words.has("--write")) {
        write(Path.of(words.text("--write", "")), danger, period, size, seed);
      }
      if (!verbose) {
        return Outcome.of(danger, period, size, seed, book);
      }
      Scene scene = new Scene(danger.name(), period, size, seed);
      List<Claim> claims = danger.script().write(scene);
      Story story = Story.of(scene, book);
      Outcome outcome = Outcome.judge(danger, scene, claims, story);
      tell(scene, claims, story, outcome);
      return outcome;
    } catch (RuntimeException e) {
      throw new IllegalStateException(
          danger.name() + " at " + period + " s, size " + size + ", seed " + seed, e);
    }
  }

  private static void write(Path folder, Case danger, int period, int size, int seed) {
    String name = danger.name() + "-" + period + "-" + size + "-" + seed;
    Scene scene = new Scene(danger.name(), period, size, seed);
    danger.script().write(scene);
    try {
      Files.createDirectories(folder);
      Files.writeString(folder.resolve(name + ".yaml"), scene.plan.text());
      Written.to(folder.resolve(name + ".csv"), scene, !scene.withoutReception);
    } catch (IOException e) {
      throw new UncheckedIOException(folder + ": cannot be written", e);
    }
  }

  private static void tell(Scene scene, List<Claim> claims, Story story, Outcome outcome) {
    System.out.printf(
        Locale.ROOT,
        "%n%s, period %d s, size %d, seed %d: onset at %.0f s, end at %.0f s, %s%n",
        outcome.of().name(),
        scene.periodS,
        scene.size,
        scene.seed,
        scene.onsetS,
        scene.endS,
        outcome.right() ? "RIGHT" : "WRONG");
    claims.forEach(
        c ->
            System.out.println(
                (outcome.broken().contains(c.text()) ? "  NOT KEPT: " : "  kept: ") + c.text()));
    for (Story.Told told : story.told()) {
      Finding f = told.finding();
      System.out.printf(
          Locale.ROOT,
          "  %7.0f s %-8s %-22s %-11s %s %s%n",
          told.atS(),
          f.returned() ? "returned" : "raised",
          f.rule(),
          f.priority(),
          f.gauges(),
          f.summary());
    }
  }
}
