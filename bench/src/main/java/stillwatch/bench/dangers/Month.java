package stillwatch.bench.dangers;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Predicate;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation.What;
import stillwatch.rules.engine.RuleBook;

/**
 * A sound well for thirty days: tide, swell, cooling, vessels, drop-outs of both gauges, an
 * earthquake, a twin that drifts for a week and is then re-zeroed. Everything is logged as a room
 * would. How many alarms were raised about it?
 */
final class Month {
  private static final double DAY = 24 * Course.HOUR;
  private static final double DAYS = 30;

  private Month() {}

  static void run(Words words) throws InterruptedException, ExecutionException {
    RuleBook book = RuleBook.shipped();
    boolean quick = words.has("--quick");
    ExecutorService threads = Executors.newFixedThreadPool(2);
    try {
      List<int[]> runs = new ArrayList<>();
      List<Future<Story>> running = new ArrayList<>();
      for (int period : quick ? new int[] {10} : new int[] {1, 10}) {
        for (int seed = 0; seed < words.number("--seeds", quick ? 2 : 5); seed++) {
          if (words.takes("--period", period) && words.takes("--seed", seed)) {
            Scene scene = scene(period, seed);
            runs.add(new int[] {period, seed});
            running.add(threads.submit(() -> Story.of(scene, book)));
          }
        }
      }
      System.out.println(
          "| period | well | about the well above LOW | of them HIGH | HIGH about anything else | all alarms |");
      System.out.println("|---|---|---|---|---|---|");
      for (int i = 0; i < runs.size(); i++) {
        Story story = running.get(i).get();
        row(runs.get(i), story);
        if (words.has("--verbose")) {
          tell(story);
        }
      }
    } finally {
      threads.shutdownNow();
    }
  }

  private static void row(int[] run, Story story) {
    System.out.printf(
        Locale.ROOT,
        "| %d s | %d | %s | %s | %s | %s |%n",
        run[0],
        run[1],
        counts(story, s -> s.aboutWell() && s.aboveLow()),
        counts(story, s -> s.aboutWell() && s.high()),
        counts(story, s -> !s.aboutWell() && s.high()),
        counts(story, RaisedAlarm::alarm));
  }

  private static String counts(Story story, Predicate<RaisedAlarm> which) {
    Map<String, Integer> counts = new TreeMap<>();
    story.said().stream()
        .filter(which)
        .forEach(s -> counts.merge(s.finding().rule(), 1, Integer::sum));
    int all = counts.values().stream().mapToInt(n -> n).sum();
    return all == 0 ? "0" : all + " " + counts;
  }

  private static void tell(Story story) {
    for (RaisedAlarm s : story.said()) {
      if ((s.aboutWell() && s.aboveLow()) || s.high()) {
        System.out.printf(
            Locale.ROOT,
            "  day %6.3f to %6.3f %s %s: %s%n",
            s.raisedS() / DAY,
            s.returnedS() / DAY,
            s.finding().rule(),
            s.finding().priority(),
            s.finding().summary());
      }
    }
  }

  private static Scene scene(int periodS, int seed) {
    Scene s = new Scene("month", periodS, 1, seed);
    s.endS = DAYS * DAY;
    s.plan.length("744 h");
    s.buildUp();
    s.tide(15, 0.2 + 0.5 * s.random.nextDouble());
    s.well = s.well.plus(Course.settling(Scene.SHUT_S, 15 * Course.HOUR, -30));
    swell(s);
    s.quake(300 + 500 * s.random.nextDouble(), 17 * DAY + s.onsetS);
    vessels(s);
    dropOuts(s.twin(1), s.random.split());
    dropOuts(s.twin(2), s.random.split());
    driftAndZero(s);
    s.sound(21.3 * DAY, 21.3 * DAY + 600, 4);
    room(s);
    return s;
  }

  /** Two storms. */
  private static void swell(Scene s) {
    Course swell = Course.swell(20, s.random);
    Course storms =
        t ->
            Math.exp(-Math.pow((t / DAY - 8) / 1.2, 2))
                + Math.exp(-Math.pow((t / DAY - 20) / 2, 2));
    s.sea = s.sea.plus(t -> storms.at(t) * swell.at(t));
    s.well = s.well.plus(t -> 0.5 * storms.at(t) * swell.at(t));
  }

  private static void vessels(Scene s) {
    double at = 0.3 * DAY;
    while (at < (DAYS - 1) * DAY) {
      double lasts = (0.5 + 3 * s.random.nextDouble()) * Course.HOUR;
      s.log.did(at - 120, What.VESSEL, "supply boat on station, 80 m");
      s.log.did(at + lasts + 120, What.VESSEL_LEFT, "supply boat has left");
      double dB = 6 + 9 * s.random.nextDouble();
      if (s.random.nextBoolean()) {
        s.sound(at, at + lasts, dB);
      } else {
        s.sound(at, at + lasts, dB, "HY-2");
      }
      at += (0.4 + 1.5 * s.random.nextDouble()) * DAY;
    }
  }

  /** About every three days, at once or as a straight ramp, to nothing for some minutes. */
  private static void dropOuts(BenchGauge gauge, SplittableRandom random) {
    for (double at = (0.5 + random.nextDouble()) * DAY; at < DAYS * DAY; ) {
      double from = at;
      double ramp = random.nextBoolean() ? 0 : 10 + 110 * random.nextDouble();
      double lasts = 30 + 900 * random.nextDouble();
      gauge.fault((t, v) -> QuietCases.droppedOut(t, v, from, lasts, ramp));
      at += (1 + 4 * random.nextDouble()) * DAY;
    }
  }

  /** It drifts by 2 kPa/h for a week and is then set right within one reading. */
  private static void driftAndZero(Scene s) {
    double perHour = s.vary(2, -2);
    Course drift = Course.slope(5 * DAY, perHour);
    s.twin(2).feels(f -> f.plus(t -> t < 12 * DAY ? drift.at(t) : 0));
  }

  /** Decisions and camera passes as the plan wants them. */
  private static void room(Scene s) {
    for (double at = Scene.SHUT_S + 5.5 * Course.HOUR; at < s.endS; at += 5.9 * Course.HOUR) {
      s.log.decided(at, Decision.Choice.CONTINUE, "nothing speaks against it");
      s.log.saw(at - 600, "camera", Observation.Result.CLEAR, "nothing to be seen");
    }
  }
}
