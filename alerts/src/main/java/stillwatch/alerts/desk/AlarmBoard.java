package stillwatch.alerts.desk;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/** What the room may see and do with alarms. Safe from any thread. */
public interface AlarmBoard {
  /**
   * Every alarm that is not normal, those suppressed too: highest priority first, then oldest
   * first.
   */
  List<DeskAlarm> open();

  /** The most urgent of those that are not suppressed, oldest first among as urgent ones. */
  List<DeskAlarm> open(int atMost);

  /** How many there are of those. */
  long openCount();

  /** Those that are suppressed, and those that speak against a gauge; so many of each at most. */
  List<DeskAlarm> heldOrAgainstGauges(int atMost);

  /** The newest alarms in any state, newest first. */
  List<DeskAlarm> newest(int atMost);

  /** The newest alarms that are normal again, newest first. */
  List<DeskAlarm> newestOver(int atMost);

  /** The alarm with this id, in any state. */
  Optional<DeskAlarm> find(String id);

  /** What is suppressed now, oldest first. */
  List<Hold> holds();

  /**
   * Acknowledges an alarm; doing it twice changes nothing.
   *
   * @throws java.util.NoSuchElementException when there is no alarm with that id
   */
  DeskAlarm acknowledge(String id, String by, String note);

  /**
   * Resets an alarm that latched; of no effect before it is acknowledged.
   *
   * @throws java.util.NoSuchElementException when there is no alarm with that id
   */
  DeskAlarm reset(String id, String by);

  /**
   * Puts an alarm's point aside for a time: it neither asks nor goes out, and is on record.
   *
   * @throws java.util.NoSuchElementException when there is no alarm with that id
   * @throws IllegalArgumentException when the time is longer than the plan allows
   */
  Hold shelve(String id, Duration forTime, String by, String reason);

  /**
   * Takes an alarm's point out of service until somebody returns it.
   *
   * @throws java.util.NoSuchElementException when there is no alarm with that id
   */
  Hold remove(String id, String by, String reason);

  /**
   * Ends what holds a point back; what still lasts asks again.
   *
   * @throws java.util.NoSuchElementException when the point is not suppressed
   */
  void restore(String point, String by);

  /** Adds a note to the record; about an alarm where its id is given. */
  void note(String id, String by, String text);

  /**
   * Tells the listener of every change, after it is in the journal, until the returned handle is
   * run.
   */
  Runnable onChange(Consumer<DeskAlarm> listener);
}
