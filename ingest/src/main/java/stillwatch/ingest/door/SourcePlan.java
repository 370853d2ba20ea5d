package stillwatch.ingest.door;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import stillwatch.ingest.entrance.Trust;

/**
 * What a plan says of one source of readings.
 *
 * @param name unique in the plan; what is refused carries it
 * @param way how its readings come
 */
public record SourcePlan(String name, Way way) {
  /** How readings come. */
  public sealed interface Way permits MqttPlan, FilesPlan, SqlPlan, KafkaPlan, LinesPlan, Brought {
    /** The gauges whose readings come so, as far as the plan says them. */
    List<String> gauges();

    /** The same for a look in passing: the other side forgets that there was one. */
    default Way looking() {
      return this;
    }
  }

  /** A way that another artifact brings, by a {@link SourceKind}. */
  public non-sealed interface Brought extends Way {
    /**
     * The source that gives its readings to this inlet.
     *
     * @param trust whom it trusts over TLS
     */
    Source source(Inlet inlet, Trust trust);

    /**
     * What the other side offers, a line each, so that a plan can be written; nothing where it
     * cannot be asked.
     *
     * @throws IOException when it does not answer, in a sentence
     */
    default List<String> offers() throws IOException {
      return List.of();
    }

    /**
     * Starts a stand-in for the other side; empty where there is none for this way.
     *
     * @throws IOException when it cannot listen, in a sentence
     */
    default Optional<StandIn> standIn() throws IOException {
      return Optional.empty();
    }
  }
}
