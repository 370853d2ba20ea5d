package stillwatch.rules.tune;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Future;
import java.util.function.BooleanSupplier;
import java.util.function.ToDoubleFunction;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.plan.RuleSetting;
import stillwatch.rules.watch.RuleTrials;

/**
 * Searches one rule's limits: points that fill the space, then more around the best. The best has
 * the fewest misses, then the fewest late, then the fewest false alerts, then the shortest delay;
 * among equals it is the one nearest their middle, because that one has most room on every side.
 * The same input gives the same result, however many threads there are.
 */
public final class Tuning {
  private static final int BATCH = 25;

  private final List<Run> runs;
  private final ExecutorService threads;
  private final BooleanSupplier stopped;

  /**
   * A search over these recordings.
   *
   * @param threads where trials run
   * @param stopped asked between batches; when true the search ends with what it has
   */
  public Tuning(List<Run> runs, ExecutorService threads, BooleanSupplier stopped) {
    this.runs = runs;
    this.threads = threads;
    this.stopped = stopped;
  }

  /**
   * Tunes a rule.
   *
   * @param sets how many sets of limits to try
   * @return what was found; the present limits alone where none may be moved
   */
  public TuningResult tune(Rule rule, RuleSetting setting, int sets)
      throws InterruptedException, ExecutionException {
    Map<String, Double> present = setting.limits(rule.entry());
    Space space = new Space(rule.entry(), present);
    List<Trial> tried = new ArrayList<>(score(rule, List.of(present)));
    Trial now = tried.get(0);
    if (!space.empty()) {
      tried.addAll(score(rule, space.fill(sets * 2 / 3)));
      tried.addAll(score(rule, space.around(best(space, tried, Trial::all).limits(), sets / 3)));
    }
    Score heldOut = Score.NOTHING;
    for (int i = 0; i < runs.size(); i++) {
      int out = i;
      heldOut = heldOut.and(best(space, tried, t -> t.without(out)).byRun().get(i));
    }
    Trial best = chosen(now, best(space, tried, Trial::all));
    return new TuningResult(rule.entry(), now, best, frontier(tried), tried, heldOut);
  }

  /** Scores each set on every recording. */
  public List<Trial> score(Rule rule, List<Map<String, Double>> sets)
      throws InterruptedException, ExecutionException {
    List<List<Future<List<Score>>>> batches = new ArrayList<>();
    for (int from = 0; from < sets.size(); from += BATCH) {
      List<Map<String, Double>> batch = sets.subList(from, Math.min(sets.size(), from + BATCH));
      List<Future<List<Score>>> perRun = new ArrayList<>();
      for (Run run : runs) {
        perRun.add(
            threads.submit(
                () ->
                    stopped.getAsBoolean()
                        ? List.<Score>of()
                        : RuleTrials.run(rule, batch, run.captured()).stream()
                            .map(raises -> Score.of(rule.entry(), run, raises))
                            .toList()));
      }
      batches.add(perRun);
    }
    List<Trial> tried = new ArrayList<>();
    for (int b = 0; b < batches.size(); b++) {
      List<List<Score>> perRun = new ArrayList<>();
      for (Future<List<Score>> f : batches.get(b)) {
        perRun.add(f.get());
      }
      int known = perRun.stream().mapToInt(List::size).min().orElse(0);
      for (int i = 0; i < known; i++) {
        int at = i;
        tried.add(new Trial(sets.get(b * BATCH + i), perRun.stream().map(s -> s.get(at)).toList()));
      }
    }
    return tried;
  }

  private static Trial best(
      Space space, List<Trial> tried, java.util.function.Function<Trial, Score> by) {
    Comparator<Trial> better =
        Comparator.<Trial>comparingInt(t -> by.apply(t).missed() + by.apply(t).late())
            .thenComparingInt(t -> by.apply(t).falseAlerts())
            .thenComparingInt(t -> by.apply(t).missed());
    Trial first = tried.stream().min(better).orElseThrow();
    List<Trial> equals = tried.stream().filter(t -> better.compare(t, first) == 0).toList();
    List<double[]> positions = equals.stream().map(t -> space.position(t.limits())).toList();
    double[] middle = middle(positions);
    ToDoubleFunction<Trial> away = t -> squaredDistance(space.position(t.limits()), middle);
    return equals.stream().min(Comparator.comparingDouble(away)).orElseThrow();
  }

  private static double[] middle(List<double[]> positions) {
    double[] middle = new double[positions.get(0).length];
    for (double[] u : positions) {
      for (int d = 0; d < u.length; d++) {
        middle[d] += u[d] / positions.size();
      }
    }
    return middle;
  }

  private static double squaredDistance(double[] u, double[] v) {
    double sum = 0;
    for (int d = 0; d < u.length; d++) {
      sum += (u[d] - v[d]) * (u[d] - v[d]);
    }
    return sum;
  }

  private static double delay(Score score) {
    double median = score.medianDelayS();
    return Double.isNaN(median) ? Double.POSITIVE_INFINITY : median;
  }

  /**
   * The best one, or the present one where a single event would have to speak for looser limits.
   */
  private static Trial chosen(Trial now, Trial best) {
    boolean seesMore =
        best.all().missed() + best.all().late() < now.all().missed() + now.all().late();
    return now.all().happenings() < TuningResult.FEWEST_TO_MOVE && !seesMore ? now : best;
  }

  private static List<Trial> frontier(List<Trial> tried) {
    List<Trial> frontier = new ArrayList<>();
    for (Trial t : tried) {
      Score s = t.all();
      boolean beaten = tried.stream().anyMatch(o -> beats(o.all(), s));
      boolean known = frontier.stream().anyMatch(f -> !beats(f.all(), s) && same(f.all(), s));
      if (!beaten && !known) {
        frontier.add(t);
      }
    }
    frontier.sort(
        Comparator.<Trial>comparingInt(t -> t.all().missed())
            .thenComparingInt(t -> t.all().falseAlerts())
            .thenComparingDouble(t -> delay(t.all())));
    return frontier;
  }

  private static boolean beats(Score a, Score b) {
    return a.missed() <= b.missed()
        && a.falseAlerts() <= b.falseAlerts()
        && delay(a) <= delay(b)
        && !same(a, b);
  }

  private static boolean same(Score a, Score b) {
    return a.missed() == b.missed() && a.falseAlerts() == b.falseAlerts() && delay(a) == delay(b);
  }
}
