package stillwatch.bench.dangers;

import java.util.SplittableRandom;
import java.util.function.UnaryOperator;

/**
 * A gauge: what it feels, its noise and step, and what its electronics make of it. One thread at a
 * time.
 */
final class BenchGauge {
  /** What becomes of a value; NaN is silence. */
  @FunctionalInterface
  interface Fault {
    double of(double s, double value);
  }

  final String id;
  final int periodS;
  private final SplittableRandom random;
  private Course felt;
  private Fault fault = (s, value) -> value;
  private double noise;
  private double resolution;

  BenchGauge(
      String id,
      int periodS,
      Course felt,
      double noise,
      double resolution,
      SplittableRandom random) {
    this.id = id;
    this.periodS = periodS;
    this.felt = felt;
    this.noise = noise;
    this.resolution = resolution;
    this.random = random;
  }

  /** Changes what it feels. */
  BenchGauge feels(UnaryOperator<Course> change) {
    felt = change.apply(felt);
    return this;
  }

  /** What it feels. */
  Course felt() {
    return felt;
  }

  /** Its port is shut from then on: it keeps what it felt, with living noise. */
  void plug(double fromS) {
    feels(f -> f.heldFrom(fromS, Double.POSITIVE_INFINITY));
  }

  /** A fault of its electronics, after those it has. */
  void fault(Fault further) {
    Fault before = fault;
    fault = (s, value) -> further.of(s, before.of(s, value));
  }

  /** White noise of this deviation. */
  void noise(double deviation) {
    noise = deviation;
  }

  /** The smallest step it tells. */
  void resolution(double step) {
    resolution = step;
  }

  /** What it says at an instant; each call draws its noise anew. */
  double read(double s) {
    double value = felt.at(s) + noise * random.nextGaussian();
    return fault.of(s, resolution > 0 ? Math.rint(value / resolution) * resolution : value);
  }
}
