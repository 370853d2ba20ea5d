package stillwatch.ingest.door;

import java.util.Optional;
import stillwatch.ingest.telemetry.Quality;

/**
 * The other side of a source, where there is no real one: it listens on this machine at the address
 * that the plan names, has what the plan names there, and says what it is told. For exercises. Used
 * by one thread.
 */
public interface StandIn extends AutoCloseable {
  /**
   * The UCUM code in which it says the values of a gauge; empty where the plan states none, so that
   * they are in the gauge's own unit. No value where it does not know the gauge.
   */
  Optional<String> unit(String gauge);

  /**
   * From now on the gauge says this.
   *
   * @param value in its {@link #unit}; NaN where it has none
   */
  void says(String gauge, double value, Quality quality);

  @Override
  void close();
}
