package stillwatch.alerts.desk;

import java.util.Collection;
import java.util.Map;
import stillwatch.alerts.journal.Journal;
import stillwatch.ingest.bus.Assignment;

/**
 * Starts a topic where the desk of a well stopped taking it in.
 *
 * @param well whose
 * @param topic which
 */
public record FromTheInbox(Journal journal, String well, String topic) implements Assignment {
  @Override
  public Map<Integer, Long> assigned(Collection<Integer> partitions) {
    return journal.inbox(well, topic);
  }

  @Override
  public void revoked(Collection<Integer> partitions) {
    // the journal keeps what was taken
  }
}
