package stillwatch.bench.dangers;

import java.util.ArrayDeque;
import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;

/** Makes a scene's log, second by second, in the order of reception. One thread at a time. */
final class Player {
  private final Scene scene;
  private final List<BenchGauge> gauges;
  private final GaugeSet columns;
  private int nowS;

  Player(Scene scene) {
    this.scene = scene;
    gauges = List.copyOf(scene.gauges.values());
    columns = GaugeSet.of(gauges.stream().map(g -> g.id).toList());
  }

  /** The second that is being played. */
  int nowS() {
    return nowS;
  }

  /** The gauges, one a column of each frame. */
  GaugeSet columns() {
    return columns;
  }

  /**
   * Plays it all.
   *
   * @param log takes the entries
   * @param explain called in the second in which somebody explains
   */
  void play(Consumer<Telemetry> log, Runnable explain) {
    List<Happenings.Due> logged = scene.log.sorted();
    ArrayDeque<Frame> late = new ArrayDeque<>();
    int next = 0;
    for (nowS = 0; nowS <= scene.endS; nowS++) {
      long now = Scene.ms(nowS);
      log.accept(new Pulse(Scene.WELL, now, now));
      while (next < logged.size() && logged.get(next).receivedS() <= nowS) {
        log.accept(logged.get(next++).entry());
      }
      if (nowS == Math.floor(scene.explainedS)) {
        explain.run();
      }
      Frame frame = frame(nowS);
      if (frame != null) {
        if (frame.receivedMs() > now) {
          late.add(frame);
        } else {
          log.accept(frame);
        }
      }
      for (Frame f = late.peek(); f != null && f.receivedMs() <= now; f = late.peek()) {
        log.accept(late.remove());
      }
    }
  }

  private @Nullable Frame frame(int s) {
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
