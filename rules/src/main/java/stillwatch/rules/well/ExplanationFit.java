package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * Fits every explanation of a build-up to all means of the closing and the time after it, and
 * weighs them by their evidence. Each explanation is a family of models that are linear in what is
 * unknown, one for each combination of the few things that are not: where the boundary is, what the
 * rock takes, when a leak began. A leak's rate follows the measured pressure, so that it too is
 * linear in its size. Formulas: docs/well-model.md.
 */
public final class ExplanationFit {
  /** Means sooner than this after a step are the filling of the well, hours. */
  private static final double FILLED = 0.1;

  /** What no reading shows and no model knows, kPa. */
  private static final double LEAST_SPREAD = 0.15;

  /** Logarithm of {@code k/(φμc r²)} and skin in cycles at one hour: between wells about this. */
  private static final double[] SKIN_CYCLES = {4.2, 5, 5.8};

  /** Hours at which a boundary may be felt, dimensionless time 0.1 on the outer radius. */
  private static final double[] BOUNDARY_HOURS = {0.5, 2, 8, 32, 128};

  /**
   * A leak takes up to about such a share of the flow before the closing: two in three small ones.
   */
  private static final Map<Double, Double> LEAK_SHARES =
      new TreeMap<>(Map.of(0.1, 2.0 / 3, 0.5, 1.0 / 3));

  /** A leak into rock is heard as one into the sea is, or not at all: one chance in two. */
  private static final double ROCK_HEARD = 0.5;

  private final Expectation expected;
  private final ModelRows rows;
  private final double[] values;
  private final double shutIn;
  private final double end;
  private final List<Leak> leaks;
  private final SoundEvidence sound;
  private double weight;

  private final Map<Explanation, Family> tried = new EnumMap<>(Explanation.class);

  private ExplanationFit(
      BuildUp.Snapshot buildUp, Expectation expected, List<HydrophoneLevels> heard) {
    this.expected = expected;
    sound = new SoundEvidence(heard);
    List<BuildUp.Observed> seen =
        buildUp.observed().stream().filter(o -> o.sinceStep() >= FILLED).toList();
    values = seen.stream().mapToDouble(BuildUp.Observed::pressure).toArray();
    shutIn = buildUp.flow().lastChangeHours();
    end = seen.isEmpty() ? shutIn : seen.get(seen.size() - 1).clock();
    rows = new ModelRows(buildUp, expected, seen);
    leaks = new LeakTrials(buildUp, expected, seen, shutIn, end).all();
  }

  /**
   * Compares the explanations.
   *
   * @param buildUp shut in, with ten means or more since
   * @param heard what hydrophones heard since, of those the facts know
   */
  public static Diagnosis of(
      BuildUp.Snapshot buildUp, Expectation expected, List<HydrophoneLevels> heard) {
    ExplanationFit e = new ExplanationFit(buildUp, expected, heard);
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
    fit(
        new Model(
            Explanation.INTACT, Model.NEVER, 0, null, 0, rows.priors(expected.level(), slope())));
    fit(new Model(Explanation.DEPLETED, Model.NEVER, 0, null, 0, rows.priors(lower, slope())));
    Estimate before =
        new Estimate(expected.undepleted().value(), 1000 + expected.undepleted().deviation());
    for (double boundary : BOUNDARY_HOURS) {
      fit(new Model(Explanation.DEPLETED, boundary, 0, null, 0, rows.priors(before, slope())));
    }
    fit(
        new Model(
            Explanation.COOLING,
            Model.NEVER,
            0,
            null,
            0,
            rows.priors(lower, new LinearFit.Prior(0, 1))));
    for (Estimate level : List.of(expected.level(), lower)) { // a depleted well may leak as well
      for (double share : LEAK_SHARES.keySet()) {
        double likely = StrictMath.log(LEAK_SHARES.getOrDefault(share, 1.0));
        List<LinearFit.Prior> priors = rows.priors(level, slope());
        priors.add(ModelRows.LEAK, new LinearFit.Prior(0, share * expected.slope().value()));
        for (Leak leak : leaks) {
          for (double skin : SKIN_CYCLES) {
            fit(
                new Model(
                    leak.explanation(), Model.NEVER, skin, leak, likely + leak.before(), priors));
          }
        }
      }
    }
  }

  private LinearFit.Prior slope() {
    return new LinearFit.Prior(expected.slope().value(), expected.slope().deviation());
  }

  private void fit(Model model) {
    LinearFit fit = new LinearFit(rows.of(model), values, model.priors(), weight);
    double size = model.leak() == null ? 0 : fit.logAbove(ModelRows.LEAK) + StrictMath.log(2);
    tried
        .computeIfAbsent(model.explanation(), x -> new Family())
        .add(new Family.Tried(model, fit, fit.logEvidence() + size + heardOf(model, fit)));
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
    Estimate size = fit.coefficient(ModelRows.LEAK);
    double scale = Math.max(1, Math.abs(slope.value()));
    return new Estimate(size.value() / scale, size.deviation() / scale);
  }

  /** By what the best model leaves, and by how far what it leaves follows itself. */
  private double weightByResiduals() {
    Family.Tried best =
        tried.values().stream()
            .flatMap(family -> family.all().stream())
            .max(Comparator.comparingDouble(Family.Tried::logWeight))
            .orElseThrow();
    double free = Math.max(1, values.length - best.model().priors().size());
    double spread = Math.max(LEAST_SPREAD, Math.sqrt(best.fit().restSquares() / free));
    return 0.5 / (spread * spread); // two neighbours count for one
  }

  private Diagnosis diagnosis() {
    Explanation[] order = Explanation.values();
    double[] weights = weights(order);
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

  private double[] weights(Explanation[] order) {
    Map<Explanation, Double> evidence = new EnumMap<>(Explanation.class);
    tried.forEach((x, family) -> evidence.put(x, family.logEvidence()));
    double[] logs = new double[order.length];
    for (int i = 0; i < logs.length; i++) { // where the facts name no rock, none takes fluid
      logs[i] = evidence.getOrDefault(order[i], Double.NEGATIVE_INFINITY);
    }
    return Estimate.weights(logs);
  }

  private Diagnosis.Candidate candidate(Explanation x, double weight) {
    List<Estimate> ahead = new ArrayList<>();
    for (double hours : Diagnosis.AHEAD) {
      ahead.add(forecast(x, hours));
    }
    Family family = tried.getOrDefault(x, new Family());
    List<Estimate> shares = new ArrayList<>();
    for (Family.Tried t : family.all()) {
      shares.add(t.model().leak() == null ? new Estimate(0, 0) : share(t.fit()));
    }
    return new Diagnosis.Candidate(
        x,
        weight,
        shares.isEmpty() ? new Estimate(0, 0) : Estimate.mixed(shares, family.weights()),
        List.copyOf(ahead));
  }

  /** What an explanation says the pressure will be so many hours from now. */
  private Estimate forecast(Explanation x, double hours) {
    Family family = tried.get(x);
    if (family == null) {
      return new Estimate(Double.NaN, Double.NaN);
    }
    double clock = end + hours;
    List<Estimate> each = new ArrayList<>();
    for (Family.Tried t : family.all()) {
      each.add(t.fit().of(rows.ahead(t.model(), clock)));
    }
    return Estimate.mixed(each, family.weights());
  }

  private double apartHours(List<Diagnosis.Candidate> candidates) {
    Explanation sound = first(candidates, false);
    Explanation leaking = first(candidates, true);
    double spread = Math.sqrt(0.5 / weight);
    for (double hours = 0.5; hours <= 168; hours *= 1.25) {
      Estimate a = forecast(sound, hours);
      Estimate b = forecast(leaking, hours);
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
