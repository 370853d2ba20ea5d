package stillwatch.bench.diagnosis;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.well.BuildUp;
import stillwatch.rules.well.Diagnosis;
import stillwatch.rules.well.Estimate;
import stillwatch.rules.well.Expectation;
import stillwatch.rules.well.ExplanationFit;
import stillwatch.rules.well.Uncertain;

/** Runs the study on all cores and prints the tables of docs/diagnosis.md. */
public final class Study {
  private static final List<Integer> HOURS = List.of(2, 6, 12, 24);

  private static final List<Fate> FATES =
      List.of(
          new Fate("sound, as the facts say", 0, false, false, false),
          new Fate("sound, depleted by 1 to 3 MPa more", 0, false, false, true),
          new Fate("2 % to the sea from before", 0.02, true, false, false),
          new Fate("5 % to the sea from before", 0.05, true, false, false),
          new Fate("10 % to the sea from before", 0.10, true, false, false),
          new Fate("20 % to the sea from before", 0.20, true, false, false),
          new Fate("2 % into rock", 0.02, false, false, false),
          new Fate("5 % into rock", 0.05, false, false, false),
          new Fate("10 % into rock", 0.10, false, false, false),
          new Fate("20 % into rock", 0.20, false, false, false),
          new Fate("50 % into rock", 0.50, false, false, false),
          new Fate("1 % to the sea, begins 3 to 8 h after", 0.01, true, true, false),
          new Fate("2 % to the sea, begins 3 to 8 h after", 0.02, true, true, false),
          new Fate("2 % into rock, begins 3 to 8 h after", 0.02, false, true, false),
          new Fate("5 % into rock, begins 3 to 8 h after", 0.05, false, true, false));

  /** What the facts of these wells say; their truth is drawn accordingly. */
  private static final Expectation FACTS =
      new Expectation(
          new Estimate(46_900, 600),
          new Estimate(50_900, 600),
          new Estimate(650, 150),
          Uncertain.between(5, 40),
          14_200,
          List.of(new Estimate(40_400, 700), new Estimate(39_100, 800)));

  private Study() {}

  /**
   * What was seen of one well.
   *
   * @param verdicts by hour
   * @param leads by hour: where the build-up was said to lead; null without a line
   */
  private record Seen(
      StudyWell well, Map<Integer, Diagnosis> verdicts, Map<Integer, @Nullable Estimate> leads) {}

  /**
   * Runs it.
   *
   * @param args how many wells of each sort; 100 by default. The first sort, of sound wells, gets
   *     five times as many. Then, where only some sorts are wanted, what their names contain
   */
  public static void main(String[] args) throws Exception {
    int wells = args.length > 0 ? Integer.parseInt(args[0]) : 100;
    List<StudyWell> all = new ArrayList<>();
    long seed = 1;
    String only = args.length > 1 ? args[1] : "";
    for (Fate fate : FATES) {
      int many = fate.equals(FATES.get(0)) || fate.depleted() ? 5 * wells : wells;
      if (!fate.name().contains(only)) {
        seed += many; // a sort run alone has the wells it has among all
        continue;
      }
      for (int i = 0; i < many; i++) {
        all.add(drawn(fate, seed++));
      }
    }
    List<Seen> seen = run(all);
    extrapolated(seen);
    verdicts(seen);
    if (only.isEmpty()) {
      new ReviewCost().print();
    }
  }

  /** A well in which this can happen. */
  private static StudyWell drawn(Fate fate, long seed) {
    StudyWell well = new StudyWell(fate, seed);
    return fate.share() == 0 || well.possible() ? well : drawn(fate, seed + 1_000_000);
  }

  private static List<Seen> run(List<StudyWell> wells)
      throws InterruptedException, ExecutionException {
    ExecutorService cores =
        Executors.newFixedThreadPool(Runtime.getRuntime().availableProcessors());
    try {
      List<Future<Seen>> running = new ArrayList<>();
      for (StudyWell well : wells) {
        running.add(cores.submit(() -> watch(well)));
      }
      List<Seen> all = new ArrayList<>();
      for (Future<Seen> f : running) {
        all.add(f.get());
        if (all.size() % 100 == 0) {
          System.err.printf("%d of %d%n", all.size(), wells.size());
        }
      }
      return all;
    } finally {
      cores.shutdownNow();
    }
  }

  private static Seen watch(StudyWell well) {
    Map<Integer, Diagnosis> verdicts = new TreeMap<>();
    Map<Integer, @Nullable Estimate> leads = new TreeMap<>();
    well.live(
        24,
        (hour, buildUp, heard) -> {
          if (HOURS.contains(hour)) {
            verdicts.put(hour, ExplanationFit.of(buildUp.snapshot(), FACTS, heard));
            BuildUp.Review review = buildUp.review();
            leads.put(hour, review.extrapolated());
          }
        });
    return new Seen(well, verdicts, leads);
  }

  private static void extrapolated(List<Seen> all) {
    System.out.println("### Where the build-up of a sound well leads\n");
    System.out.println(
        "| hours | wells | a line was found | off by more than 0.5 % | median off | 90 % interval holds the truth |");
    System.out.println("|---|---|---|---|---|---|");
    for (int hour : HOURS) {
      int wells = 0;
      int far = 0;
      int held = 0;
      List<Double> off = new ArrayList<>();
      for (Seen s : all) {
        if (s.well().fate.share() > 0) {
          continue;
        }
        wells++;
        Estimate e = s.leads().get(hour);
        if (e != null) {
          double truth = s.well().leadsTo;
          off.add(Math.abs(e.value() - truth));
          far += Math.abs(e.value() - truth) > 0.005 * truth ? 1 : 0;
          held += e.low() <= truth && truth <= e.high() ? 1 : 0;
        }
      }
      off.sort(Double::compare);
      System.out.printf(
          Locale.ROOT,
          "| %d | %d | %d | %d | %.1f kPa | %.1f %% |%n",
          hour,
          wells,
          off.size(),
          far,
          off.isEmpty() ? Double.NaN : off.get(off.size() / 2),
          100.0 * held / Math.max(1, off.size()));
    }
  }

  private static void verdicts(List<Seen> all) {
    System.out.println("\n### What the comparison said, in per cent of wells\n");
    System.out.println(
        "| well | wells | hours | right and sure | cannot tell | wrong and sure | right one leads |");
    System.out.println("|---|---|---|---|---|---|---|");
    for (Fate fate : FATES) {
      Diagnosis.Verdict right =
          fate.share() > 0 ? Diagnosis.Verdict.LEAKING : Diagnosis.Verdict.NO_SIGN_OF_A_LEAK;
      for (int hour : HOURS) {
        List<Seen> some =
            all.stream()
                .filter(s -> s.well().fate.equals(fate) && s.well().hasLeakedFor(1, hour))
                .toList();
        if (some.isEmpty()) {
          continue;
        }
        int sure = 0;
        int cannot = 0;
        int leads = 0;
        for (Seen s : some) {
          Diagnosis d = s.verdicts().get(hour);
          if (d != null) {
            sure += d.verdict() == right ? 1 : 0;
            cannot += d.verdict() == Diagnosis.Verdict.CANNOT_TELL ? 1 : 0;
            leads += d.leaking() > 0.5 == fate.share() > 0 ? 1 : 0;
          }
        }
        double percent = 100.0 / some.size();
        System.out.printf(
            Locale.ROOT,
            "| %s | %d | %d | %.1f | %.1f | %.1f | %.1f |%n",
            fate.name(),
            some.size(),
            hour,
            sure * percent,
            cannot * percent,
            (some.size() - sure - cannot) * percent,
            leads * percent);
      }
    }
  }
}
