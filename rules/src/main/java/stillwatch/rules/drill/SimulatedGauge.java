package stillwatch.rules.drill;

import java.util.List;
import java.util.Random;

/** One gauge with its error, its noise and its faults. Not thread-safe. */
final class SimulatedGauge {
  private final Scenario.Gauge gauge;
  private final List<Scenario.Fault> faults;
  private final Random random;
  private double wander;
  private double shown = Double.NaN;

  SimulatedGauge(Scenario.Gauge gauge, long seed) {
    this.gauge = gauge;
    faults = gauge.faults() == null ? List.of() : gauge.faults();
    // this one's numbers are laid down by its specification, so every Java makes the same recording
    random = new Random(seed * 1_000_003 + gauge.id().hashCode());
  }

  boolean speaks(long second, double hours) {
    return second % gauge.every() == 0
        && faults.stream().noneMatch(f -> f.what().equals("silent") && within(f, hours));
  }

  /** What it shows for this truth; noise of a sound level wanders slowly besides. */
  double show(double truth, double hours) {
    double noise = gauge.noise() * random.nextGaussian();
    wander = 0.999 * wander + 0.03 * gauge.noise() * random.nextGaussian();
    boolean spike = random.nextDouble() < gauge.every() / 60.0;
    double value =
        truth + gauge.offset() + noise + (gauge.senses().equals("sound") ? 5 * wander : 0);
    for (Scenario.Fault f : faults) {
      if (within(f, hours)) {
        double size = f.value() == null ? 0 : f.value();
        switch (f.what()) {
          case "drift" -> value += size * (hours - f.from());
          case "spikes" -> value += spike ? size : 0;
          case "dead" -> value = size;
          case "frozen" -> value = Double.isNaN(shown) ? value : shown;
          case "silent" -> {
            // says nothing, see speaks
          }
          default -> throw new IllegalStateException("unchecked fault " + f.what());
        }
      }
    }
    shown = Math.rint(value / gauge.step()) * gauge.step();
    return shown;
  }

  private static boolean within(Scenario.Fault f, double hours) {
    return hours >= f.from() && hours < f.to();
  }

  Scenario.Gauge gauge() {
    return gauge;
  }
}
