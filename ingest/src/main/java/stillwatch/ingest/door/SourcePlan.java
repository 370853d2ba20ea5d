package stillwatch.ingest.door;

/**
 * What a plan says of one source of readings.
 *
 * @param name unique in the plan; what is refused carries it
 * @param way how its readings come
 */
public record SourcePlan(String name, Way way) {
  /** How readings come. */
  public sealed interface Way permits MqttPlan, FilesPlan, SqlPlan, KafkaPlan, LinesPlan {}
}
