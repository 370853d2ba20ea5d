package stillwatch.bench.dangers;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.watch.WellWatch;

/**
 * What the rules said of a scene, in the order of raising. One thread at a time.
 *
 * @param said all of it
 * @param told each finding as it came, those over too
 */
record Story(List<Said> said, List<Finding> told) {

  /** Lets a scene's log pass before the rules, as a recording of it would. */
  static Story of(Scene scene, RuleBook book) {
    List<Finding> told = new ArrayList<>();
    try (WellWatch watch = new WellWatch(scene.plan.load(book), book, told::add)) {
      play(scene, watch, told);
    }
    Map<String, Long> returned = new HashMap<>();
    for (Finding f : told) {
      Long over = f.returnedMs();
      if (over != null) {
        returned.put(f.id(), over);
      }
    }
    List<Said> said = new ArrayList<>();
    for (Finding f : told) {
      if (!f.returned()) {
        Long over = returned.get(f.id());
        said.add(
            new Said(
                f,
                f.about(),
                Scene.sinceStart(f.raisedMs()),
                over == null ? Double.POSITIVE_INFINITY : Scene.sinceStart(over)));
      }
    }
    said.sort(Comparator.comparingDouble(Said::raisedS));
    return new Story(said, told);
  }

  private static void play(Scene scene, WellWatch watch, List<Finding> told) {
    List<BenchGauge> gauges = List.copyOf(scene.gauges.values());
    GaugeSet columns = GaugeSet.of(gauges.stream().map(g -> g.id).toList());
    List<Happenings.Due> logged = scene.log.sorted();
    ArrayDeque<Frame> late = new ArrayDeque<>();
    int next = 0;
    for (int s = 0; s <= scene.endS; s++) {
      long now = Scene.ms(s);
      watch.accept(new Pulse(Scene.WELL, now, now));
      while (next < logged.size() && logged.get(next).receivedS() <= s) {
        watch.accept(logged.get(next++).entry());
      }
      if (s == Math.floor(scene.explainedS)) {
        explain(now, watch, told);
      }
      Frame frame = frame(scene, gauges, columns, s);
      if (frame != null) {
        if (frame.receivedMs() > now) {
          late.add(frame);
        } else {
          watch.accept(frame);
        }
      }
      for (Frame f = late.peek(); f != null && f.receivedMs() <= now; f = late.peek()) {
        watch.accept(late.remove());
      }
    }
  }

  private static void explain(long now, WellWatch watch, List<Finding> told) {
    List<String> changes =
        told.stream().map(Finding::change).filter(Objects::nonNull).distinct().toList();
    for (String change : changes) {
      watch.accept(
          new Explanation(
              Scene.WELL,
              now,
              now,
              change,
              Explanation.Cause.OPERATION,
              "a sampling line was opened and not logged",
              "shift lead"));
    }
  }

  private static @Nullable Frame frame(
      Scene scene, List<BenchGauge> gauges, GaugeSet columns, int s) {
    double[] values = new double[gauges.size()];
    boolean any = false;
    for (int i = 0; i < values.length; i++) {
      BenchGauge gauge = gauges.get(i);
      values[i] = s % gauge.periodS == 0 ? gauge.read(s) : Double.NaN;
      any |= !Double.isNaN(values[i]);
    }
    return any
        ? Frame.good(
            Scene.WELL,
            Scene.ms(s + scene.aheadS.applyAsDouble(s)),
            Scene.ms(scene.link.receivedS(s)),
            columns,
            values)
        : null;
  }
}
