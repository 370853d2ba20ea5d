package stillwatch.alerts.desk;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Inbox;
import stillwatch.alerts.journal.Recorder;
import stillwatch.alerts.route.Outbox;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.DeskPlan;

/**
 * What happens to the alarms of a well in one transaction, at one instant: entries, the alarms and
 * holds they make, and what goes out. Used by the thread that runs the transaction only.
 */
final class DeskAction {
  private final Recorder record;
  private final String well;
  private final DeskPlan plan;
  private final Outbox outbox;
  private final List<DeskAlarm> changed = new ArrayList<>();

  DeskAction(Recorder record, String well, DeskPlan plan, Outbox outbox) {
    this.record = record;
    this.well = well;
    this.plan = plan;
    this.outbox = outbox;
  }

  /** The alarms that changed, in order. */
  List<DeskAlarm> changed() {
    return changed;
  }

  private Connection connection() {
    return record.connection();
  }

  private Entry enter(String what, String subject, String by, String body) throws SQLException {
    return record.enter(well, what, subject, by, body);
  }

  /** Enters an event about an alarm and brings the alarm to what the entry makes of it. */
  private DeskAlarm apply(DeskAlarm alarm, AlarmEvent event, String by, String body)
      throws SQLException {
    DeskAlarm after = alarm.after(enter(event.wire(), alarm.finding().id(), by, body));
    AlarmTable.update(record, after);
    return after;
  }

  /** Notes how far the partitions of a topic have been taken in. */
  void takenIn(String topic, Map<Integer, Long> next) throws SQLException {
    for (Map.Entry<Integer, Long> e : next.entrySet()) {
      Inbox.takenIn(record, well, topic, e.getKey(), e.getValue());
    }
  }

  /** Takes a finding in; one that was said before changes nothing: the same fact, the same id. */
  void take(Finding finding) throws SQLException {
    Optional<DeskAlarm> known = AlarmTable.find(connection(), well, finding.id());
    if (known.isPresent() && (!finding.returned() || known.get().finding().returned())) {
      return;
    }
    DeskAlarm alarm = known.isPresent() ? known.get() : raise(finding);
    if (finding.returned()) {
      alarm = apply(alarm, AlarmEvent.RETURNED, "", DeskAlarm.text(finding));
    }
    changed.add(alarm);
    if (!alarm.state().held()) {
      outbox.add(record, finding);
    }
  }

  private DeskAlarm raise(Finding finding) throws SQLException {
    String point = DeskAlarm.point(finding);
    int times = overtaken(point, finding);
    boolean latches = plan.latching().contains(finding.rule());
    String body = DeskAlarm.raising(finding, latches, times);
    DeskAlarm alarm = DeskAlarm.raised(enter(DeskAlarm.RAISED, finding.id(), "", body));
    AlarmTable.insert(record, alarm);
    Optional<Hold> hold = HoldTable.find(connection(), well, point);
    if (hold.isPresent()) {
      return apply(alarm, hold.get().how().event(), "", hold.get().reason());
    }
    return plan.suppresses(finding.rule(), finding.phase())
        ? apply(alarm, AlarmEvent.SUPPRESSED, "", "phase " + finding.phase())
        : alarm;
  }

  /** Lets a new alarm stand for those of its point that nobody saw; how many times it is then. */
  private int overtaken(String point, Finding by) throws SQLException {
    int times = 1;
    for (DeskAlarm before : AlarmTable.openOf(connection(), well, point)) {
      if (before.state() == AlarmState.RETURNED_UNACKNOWLEDGED) {
        times = Math.max(times, before.times() + 1);
        changed.add(apply(before, AlarmEvent.RAISED_AGAIN, "", by.id()));
      }
    }
    return times;
  }

  /**
   * The alarm of this id.
   *
   * @throws NoSuchElementException when there is none
   */
  DeskAlarm known(String id) throws SQLException {
    return AlarmTable.find(connection(), well, id)
        .orElseThrow(
            () ->
                new NoSuchElementException(
                    "there is no alarm '" + id + "'; look at the list again"));
  }

  /** An event of an alarm; of no effect where the state model knows none. */
  void happened(String id, AlarmEvent event, String by, String body) throws SQLException {
    DeskAlarm alarm = known(id);
    if (!alarm.standing().after(event).equals(alarm.standing())) {
      changed.add(apply(alarm, event, by, body));
    }
  }

  /** Whether a point is suppressed. */
  boolean holds(String point) throws SQLException {
    return HoldTable.find(connection(), well, point).isPresent();
  }

  /** Holds a point back, with the alarms it has. */
  void hold(Hold hold) throws SQLException {
    HoldTable.put(record, well, hold);
    enter(HoldEntries.HELD, hold.point(), hold.by(), HoldEntries.body(hold));
    for (DeskAlarm alarm : AlarmTable.openOf(connection(), well, hold.point())) {
      changed.add(apply(alarm, hold.how().event(), hold.by(), hold.reason()));
    }
  }

  /** Holds a point back no longer. */
  void release(String point, String by) throws SQLException {
    HoldTable.remove(record, well, point);
    enter(HoldEntries.RELEASED, point, by, "");
    for (DeskAlarm alarm : AlarmTable.openOf(connection(), well, point)) {
      restored(alarm, by);
    }
  }

  /** What still lasts asks again, and goes out now if it never did. */
  void restored(DeskAlarm alarm, String by) throws SQLException {
    DeskAlarm after = apply(alarm, AlarmEvent.RESTORED, by, "");
    if (after.state().open()) {
      outbox.add(record, after.finding());
    }
    changed.add(after);
  }

  /** A sentence for the record, about an alarm where an id is given. */
  void note(String id, String by, String text) throws SQLException {
    if (!id.isEmpty()) {
      changed.add(known(id));
    }
    enter("note", id, by, text);
  }
}
