package stillwatch.alerts.desk;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/** What the room may see and do with alarms. Safe from any thread. */
public interface AlarmBoard {
  /** Every alarm that is not normal: highest priority first, then oldest first. */
  List<DeskAlarm> open();

  /** The newest alarms in any state, newest first. */
  List<DeskAlarm> newest(int atMost);

  /** The alarm with this id, in any state. */
  Optional<DeskAlarm> find(String id);

  /**
   * Acknowledges an alarm; doing it twice changes nothing.
   *
   * @throws java.util.NoSuchElementException when there is no alarm with that id
   */
  DeskAlarm acknowledge(String id, String by, String note);

  /**
   * Tells the listener of every change, after it is in the journal, until the returned handle is
   * run.
   */
  Runnable onChange(Consumer<DeskAlarm> listener);
}
