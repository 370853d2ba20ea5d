package stillwatch.ingest.telemetry;

import java.util.Arrays;

/**
 * The values of some gauges of a well at one instant. The arrays belong to the frame once it is
 * made: nobody changes them afterwards.
 *
 * @param gauges the gauges, one per column
 * @param values one value per column in the base unit of the gauge's kind; NaN where the gauge said
 *     nothing
 * @param qualities one {@link Quality#code()} per column; of no meaning where the value is NaN and
 *     the quality good
 */
public record Frame(
    String well, long atMs, long receivedMs, GaugeSet gauges, double[] values, byte[] qualities)
    implements Telemetry {
  public Frame {
    if (values.length != gauges.size() || qualities.length != gauges.size()) {
      throw new IllegalArgumentException(
          "frame of "
              + well
              + " at "
              + atMs
              + " ms: "
              + gauges.size()
              + " gauges, "
              + values.length
              + " values, "
              + qualities.length
              + " qualities");
    }
  }

  /** A frame whose values are all good. */
  public static Frame good(
      String well, long atMs, long receivedMs, GaugeSet gauges, double... values) {
    return new Frame(well, atMs, receivedMs, gauges, values, new byte[values.length]);
  }

  /** Equal when every field is, the arrays by content. */
  @Override
  public boolean equals(Object other) {
    return other instanceof Frame f
        && well.equals(f.well)
        && atMs == f.atMs
        && receivedMs == f.receivedMs
        && gauges == f.gauges
        && Arrays.equals(values, f.values)
        && Arrays.equals(qualities, f.qualities);
  }

  @Override
  public int hashCode() {
    return 31 * Long.hashCode(atMs) + Arrays.hashCode(values);
  }

  @Override
  public String toString() {
    return "Frame[" + well + " at " + atMs + " " + gauges + " " + Arrays.toString(values) + "]";
  }
}
