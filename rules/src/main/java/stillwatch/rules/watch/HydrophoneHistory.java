package stillwatch.rules.watch;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import stillwatch.rules.well.Hydrophone;
import stillwatch.rules.well.HydrophoneLevels;

/** What the hydrophones that the facts know heard since the shut-in. Not thread-safe. */
final class HydrophoneHistory {
  /** Longer ago is of no interest: the rules hear what comes and goes. */
  private static final int KEPT = 36;

  private static final int LEAST = 10;

  private final Map<Hydrophone, Ear> ears = new LinkedHashMap<>();

  HydrophoneHistory(List<Hydrophone> hydrophones) {
    hydrophones.forEach(h -> ears.put(h, new Ear()));
  }

  /** Takes what is heard now, hours on the flow history's clock. */
  void look(Gauges gauges, double clock, long nowMs) {
    ears.forEach(
        (hydrophone, ear) -> {
          WatchedGauge g = gauges.get(hydrophone.gauge());
          if (g != null && g.trusted() && g.fresh(nowMs)) {
            ear.accept(clock, g.track.level());
          }
        });
  }

  /** The newest hours, of each hydrophone that heard anything. */
  List<HydrophoneLevels> heard() {
    List<HydrophoneLevels> all = new ArrayList<>();
    ears.forEach(
        (hydrophone, ear) -> {
          if (!ear.levels.isEmpty()) {
            all.add(new HydrophoneLevels(hydrophone, List.copyOf(ear.levels)));
          }
        });
    return List.copyOf(all);
  }

  private static final class Ear {
    private final Deque<HydrophoneLevels.Level> levels = new ArrayDeque<>();
    private long slot = Long.MIN_VALUE;
    private double sum;
    private int count;

    void accept(double clock, double level) {
      long now = (long) Math.floor(clock / HydrophoneLevels.LENGTH_HOURS);
      if (now != slot) {
        if (count >= LEAST) {
          levels.addLast(
              new HydrophoneLevels.Level((slot + 1) * HydrophoneLevels.LENGTH_HOURS, sum / count));
        }
        if (levels.size() > KEPT) {
          levels.removeFirst();
        }
        slot = now;
        sum = 0;
        count = 0;
      }
      sum += level;
      count++;
    }
  }
}
