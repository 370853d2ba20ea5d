package stillwatch.rules.well;

import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * A quantity that may not be known for certain.
 *
 * @param form how its probability is spread
 * @param low its least value; of a normal one the mean less three deviations
 * @param likely its most likely value
 * @param high its greatest; of a normal one the mean and three deviations
 */
public record Uncertain(Form form, double low, double likely, double high) {
  private static final NormalDistribution NORMAL = new NormalDistribution();

  /** How probability is spread. */
  public enum Form {
    /** One value. */
    KNOWN,
    /** Any value between low and high alike. */
    EVEN,
    /** Rising straight from low to likely and falling straight to high. */
    TRIANGLE,
    /** Gauss's, with a third of (high − likely) as its deviation. */
    NORMAL
  }

  /** Known for certain. */
  public static Uncertain known(double value) {
    return new Uncertain(Form.KNOWN, value, value, value);
  }

  /** Anything between the two. */
  public static Uncertain between(double low, double high) {
    return new Uncertain(Form.EVEN, low, (low + high) / 2, high);
  }

  /** Between low and high, likely the middle one. */
  public static Uncertain triangle(double low, double likely, double high) {
    return new Uncertain(Form.TRIANGLE, low, likely, high);
  }

  /** Normally distributed. */
  public static Uncertain normal(double mean, double deviation) {
    return new Uncertain(Form.NORMAL, mean - 3 * deviation, mean, mean + 3 * deviation);
  }

  /** The value below which it lies with this probability, between 0 and 1, both left out. */
  public double quantile(double probability) {
    return switch (form) {
      case KNOWN -> likely;
      case EVEN -> low + probability * (high - low);
      case TRIANGLE -> {
        double left = (likely - low) / (high - low);
        yield probability < left
            ? low + Math.sqrt(probability * (high - low) * (likely - low))
            : high - Math.sqrt((1 - probability) * (high - low) * (high - likely));
      }
      case NORMAL ->
          likely + (high - likely) / 3 * NORMAL.inverseCumulativeProbability(probability);
    };
  }
}
