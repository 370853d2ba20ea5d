package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.DoubleStream;
import org.jspecify.annotations.Nullable;

/**
 * Fits every explanation of a build-up to all means of the closing and the time after it, and
 * weighs them by their evidence. Each explanation is a family of models that are linear in what is
 * unknown, one for each combination of the few things that are not: where the boundary is, what the
 * rock takes, when a leak began. A leak's rate follows the measured pressure, so that it too is
 * linear in its size. Formulas: docs/well-model.md.
 */
public final class Explaining {
  /** Means sooner than this after a step are the filling of the well, hours. */
  private static final double FILLED = 0.1;

  /** What no reading shows and no model knows, kPa. */
  private static final double LEAST_SPREAD = 0.15;

  /** Logarithm of {@code k/(φμc r²)} and skin in cycles at one hour: between wells about this. */
  private static final double[] SKIN_CYCLES = {4.2, 5, 5.8};

  /** Hours at which a boundary may be felt, dimensionless time 0.1 on the outer radius. */
  private static final double[] BOUNDARY_HOURS = {0.5, 2, 8, 32, 128};

  private static final double FELT = 0.1;

  /** What rock takes is tried at so many deviations off. */
  private static final double[] OFF = {-1.6, -0.8, 0, 0.8, 1.6};

  /** And as little under the newest pressure, kPa: rock that takes much pins the pressure. */
  private static final double[] UNDER = {50, 100, 200, 400};

  /** A leak that began so many hours ago is tried too. */
  private static final double[] AGO = {0.2, 0.5, 1};

  /**
   * A leak takes up to about such a share of the flow before the closing: two in three small ones.
   */
  private static final Map<Double, Double> LEAK_SHARES =
      new TreeMap<>(Map.of(0.1, 2.0 / 3, 0.5, 1.0 / 3));

  /** A leak into rock is heard as one into the sea is, or not at all: one chance in two. */
  private static final double ROCK_HEARD = 0.5;

  private static final double NEVER = Double.POSITIVE_INFINITY;
  private static final int COOLING = 2;
  private static final int SEA = COOLING + Cooling.COLUMNS;
  private static final int STORAGE = SEA + 1;
  private static final int LEAK = STORAGE + 1;

  private final List<BuildUp.Observed> seen;
  private final FlowHistory flow;
  private final double flowing;
  private final int closing;
  private final Expectation expected;
  private final double seaMean;
  private final double[] values;
  private final double shutIn;
  private final double end;
  private final double[] infinite;
  private final List<Leak> leaks;
  private final SoundEvidence sound;
  private double weight;

  private final Map<Explanation, List<Tried>> tried = new EnumMap<>(Explanation.class);

  /**
   * One model of a family.
   *
   * @param boundary hours at which it is felt; infinite for none
   * @param leak what leaks; null when nothing does
   * @param before the logarithm of how likely it is beforehand among those of its family
   */
  private record Model(
      Explanation explanation,
      double boundary,
      double skin,
      @Nullable Leak leak,
      double before,
      List<LinearFit.Prior> priors) {
    /** Whether something leaks that did not always leak. */
    boolean late() {
      return leak != null && !leak.always();
    }
  }

  private record Tried(Model model, LinearFit fit, double logWeight) {}

  private Explaining(BuildUp.Snapshot buildUp, Expectation expected, List<Heard> heard) {
    this.expected = expected;
    sound = new SoundEvidence(heard);
    flow = buildUp.flow();
    flowing = buildUp.flowing();
    closing = buildUp.closing();
    seen = buildUp.observed().stream().filter(o -> o.sinceStep() >= FILLED).toList();
    seaMean =
        seen.stream()
            .mapToDouble(BuildUp.Observed::sea)
            .filter(s -> !Double.isNaN(s))
            .average()
            .orElse(0);
    values = seen.stream().mapToDouble(BuildUp.Observed::pressure).toArray();
    shutIn = flow.lastChangeHours();
    end = seen.isEmpty() ? shutIn : seen.get(seen.size() - 1).clock();
    infinite = new double[seen.size()];
    for (int i = 0; i < infinite.length; i++) {
      infinite[i] = changes(seen.get(i).clock(), NEVER);
    }
    leaks = leaks();
  }

  /**
   * Compares the explanations.
   *
   * @param buildUp shut in, with ten means or more since
   * @param heard what hydrophones heard since, of those the facts know
   */
  public static Diagnosis of(BuildUp.Snapshot buildUp, Expectation expected, List<Heard> heard) {
    Explaining e = new Explaining(buildUp, expected, heard);
    e.weight = 1 / (LEAST_SPREAD * LEAST_SPREAD);
    e.fitAll();
    e.weight = e.weightByResiduals();
    e.fitAll();
    return e.diagnosis();
  }

  private void fitAll() {
    tried.clear();
    Estimate lower =
        new Estimate(expected.level().value() - 1000, 2000 + expected.level().deviation());
    fit(new Model(Explanation.INTACT, NEVER, 0, null, 0, priors(expected.level(), slope())));
    fit(new Model(Explanation.DEPLETED, NEVER, 0, null, 0, priors(lower, slope())));
    Estimate before =
        new Estimate(expected.undepleted().value(), 1000 + expected.undepleted().deviation());
    for (double boundary : BOUNDARY_HOURS) {
      fit(new Model(Explanation.DEPLETED, boundary, 0, null, 0, priors(before, slope())));
    }
    fit(
        new Model(
            Explanation.COOLING, NEVER, 0, null, 0, priors(lower, new LinearFit.Prior(0, 1))));
    for (Estimate level : List.of(expected.level(), lower)) { // a depleted well may leak as well
      for (double share : LEAK_SHARES.keySet()) {
        double likely = StrictMath.log(LEAK_SHARES.getOrDefault(share, 1.0));
        List<LinearFit.Prior> priors = priors(level, slope());
        priors.add(LEAK, new LinearFit.Prior(0, share * expected.slope().value()));
        for (Leak leak : leaks) {
          for (double skin : SKIN_CYCLES) {
            fit(new Model(leak.explanation(), NEVER, skin, leak, likely + leak.before(), priors));
          }
        }
      }
    }
  }

  private LinearFit.Prior slope() {
    return new LinearFit.Prior(expected.slope().value(), expected.slope().deviation());
  }

  private List<LinearFit.Prior> priors(Estimate level, LinearFit.Prior slope) {
    List<LinearFit.Prior> priors = new ArrayList<>();
    priors.add(new LinearFit.Prior(level.value(), level.deviation()));
    priors.add(slope);
    priors.addAll(Cooling.priors(expected.cooling()));
    priors.add(Extrapolation.TIDE);
    priors.add(new LinearFit.Prior(0, Extrapolation.FILLING_HOURS * expected.slope().value()));
    for (int i = 1; i < closing; i++) {
      priors.add(
          new LinearFit.Prior(
              0, Extrapolation.SHARE_DEVIATION * expected.slope().value())); // of share i
      priors.add(new LinearFit.Prior(level.value() - 10_000, 1e5)); // friction after step i
    }
    return priors;
  }

  /** Every leak to be tried: each place, from always or from some time after the shut-in. */
  private List<Leak> leaks() {
    List<Double> since = new ArrayList<>();
    for (double h = 0.5; shutIn + 1.2 * h < end; h *= 1.35) {
      since.add(shutIn + h);
    }
    for (double ago : AGO) {
      if (shutIn + 0.5 < end - ago) {
        since.add(end - ago);
      }
    }
    List<Leak> leaks = new ArrayList<>();
    leaks.add(leak(Explanation.LEAK_TO_SEA, expected.sea(), 0, Double.NEGATIVE_INFINITY));
    for (double from : since) {
      leaks.add(leak(Explanation.LEAK_TO_SEA, expected.sea(), 0, from));
    }
    for (Estimate takes : expected.takes()) {
      double[] offs = offs(takes);
      for (int i = 0; i < offs.length; i++) {
        double outside = takes.value() + offs[i] * takes.deviation();
        double stands = // for its stretch of what the rock may take
            (offs[Math.min(i + 1, offs.length - 1)] - offs[Math.max(i - 1, 0)]) / 2;
        double before = StrictMath.log(stands) - offs[i] * offs[i] / 2;
        leaks.add(leak(Explanation.LEAK_TO_ROCK, outside, before, Double.NEGATIVE_INFINITY));
      }
      double under = Math.min(takes.value(), newest() - UNDER[UNDER.length - 1]);
      for (double from : since) { // what the rock takes matters less to one that begins late
        leaks.add(leak(Explanation.LEAK_TO_ROCK, under, 0, from));
      }
    }
    return leaks;
  }

  private double newest() {
    return seen.isEmpty() ? flowing : seen.get(seen.size() - 1).pressure();
  }

  /** At which deviations off what rock takes is tried, in order. */
  private double[] offs(Estimate takes) {
    DoubleStream near =
        Arrays.stream(UNDER)
            .map(under -> (newest() - under - takes.value()) / takes.deviation())
            .filter(off -> Math.abs(off) < 2);
    return DoubleStream.concat(Arrays.stream(OFF), near).sorted().distinct().toArray();
  }

  private Leak leak(Explanation explanation, double outside, double before, double from) {
    return new Leak(
        explanation, outside, before, from, seen, flowing, flow.steps().get(0).atHours());
  }

  private void fit(Model model) {
    List<double[]> rows = new ArrayList<>();
    for (int i = 0; i < seen.size(); i++) {
      BuildUp.Observed o = seen.get(i);
      double changes =
          Double.isInfinite(model.boundary()) ? infinite[i] : changes(o.clock(), model.boundary());
      double leak = model.leak() == null ? 0 : model.leak().drawdown(i, model.skin());
      rows.add(row(model, o.clock(), o.stage(), changes, o.sea(), leak));
    }
    LinearFit fit = new LinearFit(rows, values, model.priors(), weight);
    double size = model.leak() == null ? 0 : fit.logAbove(LEAK) + StrictMath.log(2);
    tried
        .computeIfAbsent(model.explanation(), x -> new ArrayList<>())
        .add(new Tried(model, fit, fit.logEvidence() + size + heardOf(model, fit)));
  }

  /**
   * The logarithm of how likely what was heard is if the model is right. That it is quiet speaks
   * against no leak: one may be quieter than the facts expect.
   */
  private double heardOf(Model model, LinearFit fit) {
    Leak leak = model.leak();
    double since = leak == null ? Double.NEGATIVE_INFINITY : leak.from();
    double silent = sound.silent(since);
    if (leak == null) {
      return silent;
    }
    double given = Math.max(silent, sound.given(share(fit), since));
    return model.explanation() == Explanation.LEAK_TO_SEA
        ? given
        : given + StrictMath.log(ROCK_HEARD + (1 - ROCK_HEARD) * StrictMath.exp(silent - given));
  }

  private static Estimate share(LinearFit fit) {
    Estimate slope = fit.coefficient(1);
    Estimate size = fit.coefficient(LEAK);
    double scale = Math.max(1, Math.abs(slope.value()));
    return new Estimate(size.value() / scale, size.deviation() / scale);
  }

  /**
   * Σ Δq·log10(t − tj) of the closing and the flow before it, with a boundary where there is one.
   */
  private double changes(double clock, double boundary) {
    return flow.superposed(
        clock,
        t ->
            StrictMath.log10(t)
                + (Double.isInfinite(boundary)
                    ? 0
                    : 2 / StrictMath.log(10) * BoundedReservoir.below(FELT * t / boundary)));
  }

  private double[] row(
      Model model, double clock, int stage, double changes, double sea, double leak) {
    boolean leaks = model.leak() != null;
    double[] row = new double[LEAK + (leaks ? 1 : 0) + 2 * (closing - 1)];
    boolean shut = stage == closing - 1;
    row[0] = shut ? 1 : 0;
    row[1] = -changes;
    Cooling.fill(row, COOLING, shut ? clock - shutIn : 0);
    row[SEA] = Double.isNaN(sea) ? 0 : sea - seaMean;
    row[STORAGE] = flow.growth(clock);
    if (leaks) {
      row[LEAK] = -leak;
    }
    int at = leaks ? LEAK + 1 : LEAK;
    double last = shut ? StrictMath.log10(clock - shutIn) : 0;
    int first = flow.steps().size() - closing;
    for (int i = 1; i < closing; i++) {
      double t = clock - flow.steps().get(first + i - 1).atHours();
      row[at + 2 * (i - 1)] = t > 0 ? -(StrictMath.log10(t) - last) : 0;
      row[at + 2 * (i - 1) + 1] = stage == i - 1 ? 1 : 0;
    }
    return row;
  }

  /** By what the best model leaves, and by how far what it leaves follows itself. */
  private double weightByResiduals() {
    Tried best =
        tried.values().stream()
            .flatMap(List::stream)
            .max(Comparator.comparingDouble(Tried::logWeight))
            .orElseThrow();
    double free = Math.max(1, values.length - best.model().priors().size());
    double spread = Math.max(LEAST_SPREAD, Math.sqrt(best.fit().restSquares() / free));
    return 0.5 / (spread * spread); // two neighbours count for one
  }

  private Diagnosis diagnosis() {
    Map<Explanation, Double> evidence = new EnumMap<>(Explanation.class);
    tried.forEach((x, all) -> evidence.put(x, mean(all)));
    Explanation[] order = Explanation.values();
    double[] logs = new double[order.length];
    for (int i = 0; i < logs.length; i++) { // where the facts name no rock, none takes fluid
      logs[i] = evidence.getOrDefault(order[i], Double.NEGATIVE_INFINITY);
    }
    double[] weights = Estimate.weights(logs);
    List<Diagnosis.Candidate> candidates = new ArrayList<>();
    for (int i = 0; i < order.length; i++) {
      candidates.add(candidate(order[i], weights[i]));
    }
    candidates.sort(Comparator.comparingDouble(Diagnosis.Candidate::weight).reversed());
    return new Diagnosis(
        end - shutIn,
        Math.sqrt(0.5 / weight),
        List.copyOf(candidates),
        apartHours(candidates),
        sound.loud());
  }

  /**
   * The logarithm of the mean evidence of a family's models, a leak that was always there as likely
   * beforehand as one that began at some time after the shut-in.
   */
  private static double mean(List<Tried> all) {
    if (all.isEmpty()) {
      return Double.NEGATIVE_INFINITY;
    }
    double[] logs = fairly(all);
    double most = Arrays.stream(logs).max().orElse(0);
    double sum = Arrays.stream(logs).map(l -> StrictMath.exp(l - most)).sum();
    boolean both = all.stream().anyMatch(t -> t.model().late());
    return most + StrictMath.log(sum / (both ? 2 : 1));
  }

  /** The logarithms of the models' weights, those of late leaks together as heavy as the others. */
  private static double[] fairly(List<Tried> all) {
    double late = 0;
    double always = 0;
    for (Tried t : all) {
      double before = StrictMath.exp(t.model().before());
      late += t.model().late() ? before : 0;
      always += t.model().late() ? 0 : before;
    }
    double[] logs = new double[all.size()];
    for (int i = 0; i < logs.length; i++) {
      Model m = all.get(i).model();
      logs[i] = all.get(i).logWeight() + m.before() - StrictMath.log(m.late() ? late : always);
    }
    return logs;
  }

  private Diagnosis.Candidate candidate(Explanation x, double weight) {
    List<Estimate> ahead = new ArrayList<>();
    for (double hours : Diagnosis.AHEAD) {
      ahead.add(foretold(x, hours));
    }
    List<Tried> all = tried.getOrDefault(x, List.of());
    double[] weights = weights(all);
    List<Estimate> shares = new ArrayList<>();
    for (Tried t : all) {
      shares.add(t.model().leak() == null ? new Estimate(0, 0) : share(t.fit()));
    }
    return new Diagnosis.Candidate(
        x,
        weight,
        shares.isEmpty() ? new Estimate(0, 0) : Estimate.mixed(shares, weights),
        List.copyOf(ahead));
  }

  private static double[] weights(List<Tried> all) {
    return Estimate.weights(fairly(all));
  }

  /** What an explanation says the pressure will be so many hours from now. */
  private Estimate foretold(Explanation x, double hours) {
    List<Tried> all = tried.getOrDefault(x, List.of());
    if (all.isEmpty()) {
      return new Estimate(Double.NaN, Double.NaN);
    }
    double clock = end + hours;
    List<Estimate> each = new ArrayList<>();
    for (Tried t : all) {
      Leak leak = t.model().leak();
      double drawdown = leak == null ? 0 : leak.ahead(clock, t.model().skin());
      each.add(
          t.fit()
              .of(
                  row(
                      t.model(),
                      clock,
                      closing - 1,
                      changes(clock, t.model().boundary()),
                      Double.NaN,
                      drawdown)));
    }
    return Estimate.mixed(each, weights(all));
  }

  private double apartHours(List<Diagnosis.Candidate> candidates) {
    Explanation sound = first(candidates, false);
    Explanation leaking = first(candidates, true);
    double spread = Math.sqrt(0.5 / weight);
    for (double hours = 0.5; hours <= 168; hours *= 1.25) {
      Estimate a = foretold(sound, hours);
      Estimate b = foretold(leaking, hours);
      double either = StrictMath.hypot(StrictMath.hypot(a.deviation(), b.deviation()), spread);
      if (Math.abs(a.value() - b.value()) > 3 * either) {
        return hours;
      }
    }
    return Double.POSITIVE_INFINITY;
  }

  private static Explanation first(List<Diagnosis.Candidate> candidates, boolean leak) {
    return candidates.stream()
        .map(Diagnosis.Candidate::explanation)
        .filter(x -> x.leak() == leak)
        .findFirst()
        .orElseThrow();
  }
}
