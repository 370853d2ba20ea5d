package stillwatch.ingest.intake;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * What a source gave lately, so that what it gives again, because it did not hear that it was kept,
 * is not logged twice: readings of the same gauges, time, values and qualities. It goes back
 * {@value #KEPT} entries of the source, and as far as the log's end that it was made of. Safe from
 * any thread.
 */
public final class Resent {
  private static final int KEPT = 10_000;

  private final Supplier<List<Telemetry>> before;
  private @Nullable LinkedHashMap<Telemetry, CompletableFuture<Void>> lately;

  /**
   * Of a source.
   *
   * @param before reads the log's end
   */
  public Resent(Supplier<List<Telemetry>> before) {
    this.before = before;
  }

  /**
   * Learns what the log has, once.
   *
   * @throws RuntimeException when the log cannot be read now
   */
  public synchronized void load() {
    var unused = known();
  }

  /** When that is kept which was given before; empty when it was not given before. */
  synchronized Optional<CompletableFuture<Void>> of(Telemetry entry) {
    return Optional.ofNullable(known().get(entry));
  }

  /** Remembers what is given now, until it turns out that it could not be kept. */
  synchronized void remember(Telemetry entry, CompletableFuture<Void> kept) {
    Map<Telemetry, CompletableFuture<Void>> all = known();
    all.put(entry, kept);
    if (all.size() > KEPT) {
      var oldest = all.entrySet().iterator();
      oldest.next();
      oldest.remove();
    }
    var unused =
        kept.whenComplete(
            (done, fault) -> {
              if (fault != null) {
                forget(entry);
              }
            });
  }

  private synchronized void forget(Telemetry entry) {
    known().remove(entry);
  }

  private Map<Telemetry, CompletableFuture<Void>> known() {
    LinkedHashMap<Telemetry, CompletableFuture<Void>> all = lately;
    if (all == null) {
      all = new LinkedHashMap<>();
      for (Telemetry entry : before.get()) {
        if (entry instanceof Frame f) {
          all.put(key(f), CompletableFuture.completedFuture(null));
        }
      }
      lately = all;
    }
    return all;
  }

  /** The same frame, whenever it was received. */
  private static Frame key(Frame f) {
    return new Frame(f.well(), f.atMs(), 0, f.gauges(), f.values(), f.qualities());
  }
}
