package stillwatch.ingest.door;

import stillwatch.ingest.entrance.Trust;

/**
 * A way in for readings that this process opens itself. {@link #run} fetches readings and gives
 * them to its {@link Inlet} until it is closed; it tells the other side that it has a reading only
 * when the inlet says that it is kept. It returns, or throws, when it cannot go on; whoever runs it
 * then makes another one. What it says of its health it says to {@link Inlet#health()}, which
 * outlives it. What a single gauge or message has wrong never ends it.
 */
public interface Source extends Runnable, AutoCloseable {
  /**
   * The source that a plan describes.
   *
   * @param trust whom it trusts over TLS
   */
  static Source of(SourcePlan plan, Inlet inlet, Trust trust) {
    SourcePlan.Way way = plan.way();
    if (way instanceof MqttPlan mqtt) {
      return new MqttSource(mqtt, inlet, trust);
    }
    if (way instanceof FilesPlan files) {
      return new FilesSource(files, inlet);
    }
    if (way instanceof SqlPlan sql) {
      return new SqlSource(sql, inlet);
    }
    if (way instanceof KafkaPlan kafka) {
      return new KafkaSource(kafka, inlet);
    }
    if (way instanceof LinesPlan lines) {
      return new LinesSource(lines, inlet);
    }
    if (way instanceof SourcePlan.Brought brought) {
      return brought.source(inlet, trust);
    }
    throw new IllegalArgumentException(
        "Source.of makes no source for " + way.getClass().getSimpleName() + " yet");
  }

  @Override
  void close();
}
