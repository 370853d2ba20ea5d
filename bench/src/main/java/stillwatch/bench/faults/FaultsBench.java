package stillwatch.bench.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.service.RulesService.WatchedWell;

/** Breaks things around a watch, and prints what came of it. */
public final class FaultsBench {
  static final Path PLAN = Path.of("demo-data/larkspur/plan.yaml");

  private static final String USAGE =
      "bench/faults [--quick] [--seed N] [--faults N] [--kinds KIND,KIND] [--form simulated|watch|spread|both|all]";
  private static final int QUICK_FAULTS = 150;
  private static final int FAULTS = 1000;
  private static final int A_LOG_RUN = 12;
  private static final int A_WATCH_RUN = 16;

  /** How often each happens to the watch, of all of these together. */
  private static final List<Kind> DRAWN =
      List.of(
          Kind.WATCH_KILLED,
          Kind.WATCH_KILLED,
          Kind.WATCH_KILLED,
          Kind.WATCH_STOPPED,
          Kind.WATCH_STILL,
          Kind.WATCH_STILL,
          Kind.BROKER_KILLED,
          Kind.BROKER_KILLED,
          Kind.BROKER_STILL,
          Kind.BROKER_STILL,
          Kind.BROKER_LONG_STILL,
          Kind.DISK_FULL,
          Kind.DISK_SLOW,
          Kind.DISK_READ_ONLY,
          Kind.PEER_AWAY,
          Kind.PEER_REFUSES,
          Kind.WEBHOOK_AWAY,
          Kind.WEBHOOK_HANGS,
          Kind.MAIL_AWAY,
          Kind.MAIL_HANGS,
          Kind.MQTT_AWAY,
          Kind.MQTT_HANGS);

  /** How often each happens to the parts of one. */
  private static final List<Kind> DRAWN_SPREAD =
      List.of(
          Kind.ONE_RULES_KILLED,
          Kind.ONE_RULES_KILLED,
          Kind.ONE_RULES_KILLED,
          Kind.ONE_RULES_STILL,
          Kind.ONE_RULES_STILL,
          Kind.BOTH_RULES_KILLED,
          Kind.INTAKE_KILLED,
          Kind.INTAKE_KILLED,
          Kind.ALERTS_KILLED,
          Kind.ALERTS_KILLED,
          Kind.ALERTS_STILL,
          Kind.LOG_BROKER_KILLED,
          Kind.LOG_BROKER_STILL,
          Kind.DATABASE_KILLED,
          Kind.DATABASE_STILL,
          Kind.DATABASE_AWAY);

  private static final List<Kind> QUICK_SPREAD =
      List.of(
          Kind.ONE_RULES_KILLED, Kind.DATABASE_KILLED, Kind.ALERTS_KILLED, Kind.LOG_BROKER_KILLED);

  private static final List<Kind> QUICK =
      List.of(
          Kind.WATCH_KILLED,
          Kind.BROKER_KILLED,
          Kind.PEER_REFUSES,
          Kind.DISK_FULL,
          Kind.BROKER_STILL);

  private final WatchedWell watched;
  private final Path folder;
  private final Tally tally = new Tally();

  private FaultsBench(WatchedWell watched, Path folder) {
    this.watched = watched;
    this.folder = folder;
  }

  /** A campaign with its data in this folder. */
  static FaultsBench in(Path folder) throws IOException {
    RuleBook book = RuleBook.forPlan(PLAN);
    return new FaultsBench(new WatchedWell(PlanLoader.load(PLAN, book.catalogue()), book), folder);
  }

  /** Runs it; the exit code is 1 when something was not as promised. */
  public static void main(String[] args) throws IOException, InterruptedException {
    List<String> given = Arrays.asList(args);
    boolean quick = given.contains("--quick");
    long seed = number(given, "--seed", 20_260_308);
    int faults = (int) number(given, "--faults", quick ? QUICK_FAULTS : FAULTS);
    List<Kind> kinds = kinds(given);
    String form = given.contains("--form") ? given.get(given.indexOf("--form") + 1) : "both";
    Path folder = Files.createTempDirectory("faults-bench");
    System.out.println("seed " + seed + ", " + faults + " faults, data in " + folder);
    FaultsBench bench = in(folder);
    if (List.of("simulated", "both", "all").contains(form)) {
      bench.simulated(seed, form.equals("simulated") ? faults : faults / 2);
    }
    if (List.of("watch", "both", "all").contains(form)) {
      bench.live(seed, quick ? 0 : form.equals("all") ? faults * 3 / 4 : faults, kinds, false);
    }
    if (List.of("spread", "all").contains(form)) {
      bench.live(seed, quick ? 0 : faults, kinds, true);
    }
    System.out.print(bench.tally);
    System.exit(bench.tally.failures().isEmpty() ? 0 : 1);
  }

  private static long number(List<String> given, String option, long standard) {
    int at = given.indexOf(option);
    try {
      return at < 0 ? standard : Long.parseLong(given.get(at + 1));
    } catch (NumberFormatException | IndexOutOfBoundsException e) {
      System.err.println(option + " wants a whole number: " + USAGE);
      System.exit(2);
      return standard;
    }
  }

  /** What is to happen in this order; empty where it is to be drawn. */
  private static List<Kind> kinds(List<String> given) {
    int at = given.indexOf("--kinds");
    try {
      return at < 0
          ? List.of()
          : Arrays.stream(given.get(at + 1).split(",", -1)).map(Kind::valueOf).toList();
    } catch (IllegalArgumentException | IndexOutOfBoundsException e) {
      System.err.println("--kinds wants names of " + Arrays.toString(Kind.values()));
      System.exit(2);
      return List.of();
    }
  }

  /** Runs logs on simulated time until at least so many things have happened. */
  Tally simulated(long seed, int faults) throws IOException {
    for (long next = seed; tally.faults() < faults; next++) {
      Course course = Course.of(watched.plan(), next);
      tally.over(
          LogRun.of(watched, course, next, A_LOG_RUN, tally),
          "--form simulated --faults 1 --seed " + next);
    }
    return tally;
  }

  /**
   * Runs watches until at least so many things have happened, what happened before counted; none
   * for a short fixed set.
   *
   * @param wanted what happens to one watch and no other; empty where it is drawn
   */
  private void live(long seed, int faults, List<Kind> wanted, boolean spread)
      throws IOException, InterruptedException {
    if (!wanted.isEmpty()) {
      live(seed, wanted, spread);
      return;
    }
    for (long next = seed; next == seed || tally.faults() < faults; next++) {
      List<Kind> kinds =
          faults == 0
              ? (spread ? QUICK_SPREAD : QUICK)
              : drawn(new Random(next), spread ? DRAWN_SPREAD : DRAWN);
      live(next, kinds, spread);
      System.out.println("seed " + next + ": " + tally.faults() + " faults so far");
    }
  }

  /** Runs one watch, in one process and its broker or spread out, to which these happen. */
  Tally live(long seed, List<Kind> kinds, boolean spread) throws IOException, InterruptedException {
    Course course = Course.of(watched.plan(), seed);
    String form = spread ? "spread" : "watch";
    Path at = folder.resolve(form + "-" + seed);
    try (LiveRun run = new LiveRun(watched, course, seed, at, tally, spread)) {
      tally.over(run.run(kinds), "--form " + form + " --faults 1 --seed " + seed);
    }
    return tally;
  }

  private static List<Kind> drawn(Random random, List<Kind> from) {
    List<Kind> kinds = new ArrayList<>();
    for (int i = 0; i < A_WATCH_RUN; i++) {
      kinds.add(from.get(random.nextInt(from.size())));
    }
    return kinds;
  }
}
