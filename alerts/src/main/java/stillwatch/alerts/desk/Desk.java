package stillwatch.alerts.desk;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Message;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/**
 * The alarms of one well. What the alerts topic says is taken in by transactions that hold the
 * alarm, its entry in the record, what must go out, and how far the topic was read: whatever is
 * killed when, an alarm is taken exactly once. Safe from any thread.
 */
public final class Desk implements AlarmBoard {
  private static final Logger LOG = LoggerFactory.getLogger(Desk.class);

  private final String well;
  private final Journal journal;
  private final Outbox outbox;
  private final Clock clock;
  private final List<Consumer<DeskAlarm>> listeners = new CopyOnWriteArrayList<>();

  /** The desk of a well. */
  public Desk(String well, Journal journal, Outbox outbox, Clock clock) {
    this.well = well;
    this.journal = journal;
    this.outbox = outbox;
    this.clock = clock;
  }

  /**
   * Takes in messages of the alerts topic; those taken before are passed over. Returns how many
   * alarms changed.
   */
  public synchronized int take(String topic, List<Message> messages) {
    List<DeskAlarm> changed =
        journal.transaction(
            c -> {
              List<DeskAlarm> all = new ArrayList<>();
              Map<Integer, Long> next = new TreeMap<>();
              for (Message m : messages) {
                next.merge(m.partition(), m.offset() + 1, Math::max);
                Optional<Finding> finding = finding(m);
                if (finding.isPresent()) {
                  take(c, finding.get()).ifPresent(all::add);
                }
              }
              for (Map.Entry<Integer, Long> e : next.entrySet()) {
                Journal.takenIn(c, topic, e.getKey(), e.getValue());
              }
              return all;
            });
    changed.forEach(this::tell);
    return changed.size();
  }

  /** Takes in a finding of the desk's own. */
  public synchronized void say(Finding finding) {
    journal.transaction(c -> take(c, finding)).ifPresent(this::tell);
  }

  private Optional<Finding> finding(Message m) {
    if (!m.key().equals(well)) {
      return Optional.empty();
    }
    try {
      return Optional.of(FindingCodec.decode(m.value()));
    } catch (IllegalArgumentException e) {
      LOG.error(
          "offset {} of the alerts topic is no finding and is left out: {}",
          m.offset(),
          e.getMessage());
      return Optional.empty();
    }
  }

  private Optional<DeskAlarm> take(Connection c, Finding finding) throws SQLException {
    Optional<DeskAlarm> known = AlarmTable.find(c, finding.id());
    boolean returnedBefore = known.isPresent() && known.get().finding().returned();
    if (known.isPresent() && (!finding.returned() || returnedBefore)) {
      return Optional.empty(); // said before: the same fact has the same id
    }
    DeskAlarm now;
    if (known.isPresent()) {
      DeskAlarm k = known.get();
      now =
          new DeskAlarm(
              finding,
              k.raisedSummary(),
              k.state().whenReturned(),
              k.acknowledgedBy(),
              k.acknowledgedMs(),
              k.note());
      AlarmTable.update(c, now);
    } else {
      AlarmState first = first(finding);
      AlarmState state = finding.returned() ? first.whenReturned() : first;
      now = new DeskAlarm(finding, finding.summary(), state, null, null, "");
      AlarmTable.insert(c, now);
    }
    long nowMs = clock.millis();
    Journal.enter(
        c, nowMs, finding.returned() ? "returned" : "raised", finding.id(), "", finding.summary());
    outbox.add(c, finding, nowMs);
    return Optional.of(now);
  }

  /** What asks for no action asks nobody to acknowledge it either (ISA-18.2: it is no alarm). */
  private static AlarmState first(Finding finding) {
    return finding.priority() == Priority.INFORMATION
        ? AlarmState.ACKNOWLEDGED
        : AlarmState.UNACKNOWLEDGED;
  }

  @Override
  public List<DeskAlarm> open() {
    return journal.transaction(c -> AlarmTable.open(c, well));
  }

  @Override
  public List<DeskAlarm> newest(int atMost) {
    return journal.transaction(c -> AlarmTable.newest(c, well, atMost));
  }

  @Override
  public Optional<DeskAlarm> find(String id) {
    return journal.transaction(c -> AlarmTable.find(c, id));
  }

  @Override
  public synchronized DeskAlarm acknowledge(String id, String by, String note) {
    boolean[] changed = {false};
    DeskAlarm after =
        journal.transaction(
            c -> {
              DeskAlarm a =
                  AlarmTable.find(c, id)
                      .orElseThrow(
                          () ->
                              new NoSuchElementException(
                                  "there is no alarm '" + id + "'; look at the list again"));
              if (a.acknowledgedBy() != null) {
                return a;
              }
              changed[0] = true;
              long nowMs = clock.millis();
              DeskAlarm now =
                  new DeskAlarm(
                      a.finding(),
                      a.raisedSummary(),
                      a.state().whenAcknowledged(),
                      by,
                      nowMs,
                      note);
              AlarmTable.update(c, now);
              Journal.enter(c, nowMs, "acknowledged", id, by, note);
              return now;
            });
    if (changed[0]) {
      tell(after);
    }
    return after;
  }

  private void tell(DeskAlarm alarm) {
    for (Consumer<DeskAlarm> listener : listeners) {
      try {
        listener.accept(alarm);
      } catch (
          RuntimeException e) { // one who does not listen must not keep the others from hearing
        LOG.error("a listener failed on alarm {}: {}", alarm.finding().id(), e.toString());
      }
    }
  }

  @Override
  public Runnable onChange(Consumer<DeskAlarm> listener) {
    listeners.add(listener);
    return () -> listeners.remove(listener);
  }
}
