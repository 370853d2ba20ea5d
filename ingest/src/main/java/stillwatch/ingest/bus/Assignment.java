package stillwatch.ingest.bus;

import java.util.Collection;
import java.util.Map;

/** Told when partitions come and go, on the polling thread. */
public interface Assignment {
  /**
   * Partitions were taken over.
   *
   * @return for each partition the offset to start at; a partition left out starts at its beginning
   */
  Map<Integer, Long> assigned(Collection<Integer> partitions);

  /** Partitions were given up; what was kept for them should be let go. */
  void revoked(Collection<Integer> partitions);

  /** Starts each partition at its beginning and keeps nothing. */
  Assignment FROM_THE_START =
      new Assignment() {
        @Override
        public Map<Integer, Long> assigned(Collection<Integer> partitions) {
          return Map.of();
        }

        @Override
        public void revoked(Collection<Integer> partitions) {
          // nothing kept
        }
      };
}
