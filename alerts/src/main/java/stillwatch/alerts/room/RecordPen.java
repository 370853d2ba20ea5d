package stillwatch.alerts.room;

import java.time.Clock;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.people.Person;

/** Writes what people did in the room into the record. Safe from any thread. */
final class RecordPen {
  private final RoomParts parts;
  private final Clock clock;

  RecordPen(RoomParts parts, Clock clock) {
    this.parts = parts;
    this.clock = clock;
  }

  /**
   * Writes an entry.
   *
   * @param what the sort of entry
   * @param subject what it is about; empty for the well
   */
  Entry write(Person person, String what, String subject, String body) {
    String well = parts.plan().well();
    return parts
        .journal()
        .write(clock.millis(), r -> r.enter(well, what, subject, person.name(), body));
  }
}
