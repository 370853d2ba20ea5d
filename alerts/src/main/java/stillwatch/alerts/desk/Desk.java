package stillwatch.alerts.desk;

import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Message;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.DeskPlan;

/**
 * The alarms of one well. What the alerts topic says is taken in by transactions that hold the
 * alarm, its entry in the record, what must go out, and how far the topic was read: whichever part
 * is killed, and whenever, each alarm is taken exactly once. Safe from any thread.
 */
public final class Desk implements AlarmBoard {
  private static final Logger LOG = LoggerFactory.getLogger(Desk.class);

  private final String well;
  private final DeskPlan plan;
  private final Journal journal;
  private final Outbox outbox;
  private final Clock clock;
  private final List<Consumer<DeskAlarm>> listeners = new CopyOnWriteArrayList<>();

  /** The desk of a well. */
  public Desk(String well, DeskPlan plan, Journal journal, Outbox outbox, Clock clock) {
    this.well = well;
    this.plan = plan;
    this.journal = journal;
    this.outbox = outbox;
    this.clock = clock;
  }

  /** Work on alarms in a transaction; those that change are told afterwards. */
  private interface Handling {
    void with(DeskAction action) throws SQLException;
  }

  private List<DeskAlarm> handle(long nowMs, Handling handling) {
    List<DeskAlarm> all =
        journal.write(
            nowMs,
            record -> {
              DeskAction action = new DeskAction(record, well, plan, outbox);
              handling.with(action);
              return action.changed();
            });
    all.forEach(this::tell);
    return all;
  }

  /**
   * Takes in messages of the alerts topic; those taken before are passed over. Returns how many
   * alarms changed.
   */
  public synchronized int take(String topic, List<Message> messages) {
    return handle(
            clock.millis(),
            action -> {
              Map<Integer, Long> next = new TreeMap<>();
              for (Message m : messages) {
                next.merge(m.partition(), m.offset() + 1, Math::max);
                Optional<Finding> finding = finding(m);
                if (finding.isPresent()) {
                  action.take(finding.get());
                }
              }
              action.takenIn(topic, next);
            })
        .size();
  }

  /** Takes in a finding of the desk's own. */
  public synchronized void say(Finding finding) {
    handle(clock.millis(), action -> action.take(finding));
  }

  private Optional<Finding> finding(Message m) {
    if (!m.key().equals(well)) {
      return Optional.empty();
    }
    try {
      Finding finding = FindingCodec.decode(m.value());
      if (!finding.well().equals(well)) {
        throw new IllegalArgumentException("its key says " + well + ", it says " + finding.well());
      }
      return Optional.of(finding);
    } catch (IllegalArgumentException e) {
      LOG.error(
          "offset {} of the alerts topic cannot be taken in and is left out: {}",
          m.offset(),
          e.getMessage());
      return Optional.empty();
    }
  }

  @Override
  public List<DeskAlarm> open() {
    return journal.transaction(c -> AlarmTable.open(c, well));
  }

  @Override
  public List<DeskAlarm> open(int atMost) {
    return journal.transaction(c -> AlarmTable.open(c, well, atMost));
  }

  @Override
  public long openCount() {
    return journal.transaction(c -> AlarmTable.openCount(c, well));
  }

  @Override
  public List<DeskAlarm> heldOrAgainstGauges(int atMost) {
    return journal.transaction(c -> AlarmTable.heldOrAgainstGauges(c, well, atMost));
  }

  @Override
  public List<DeskAlarm> newest(int atMost) {
    return journal.transaction(c -> AlarmTable.newest(c, well, atMost));
  }

  @Override
  public List<DeskAlarm> newestOver(int atMost) {
    return journal.transaction(c -> AlarmTable.newestOver(c, well, atMost));
  }

  @Override
  public Optional<DeskAlarm> find(String id) {
    return journal.transaction(c -> AlarmTable.find(c, well, id));
  }

  @Override
  public List<Hold> holds() {
    return journal.transaction(c -> HoldTable.all(c, well));
  }

  @Override
  public synchronized DeskAlarm acknowledge(String id, String by, String note) {
    return one(id, AlarmEvent.ACKNOWLEDGED, by, note);
  }

  @Override
  public synchronized DeskAlarm reset(String id, String by) {
    return one(id, AlarmEvent.RESET, by, "");
  }

  /** An event that is of no effect where the state model knows none. */
  private DeskAlarm one(String id, AlarmEvent event, String by, String body) {
    handle(clock.millis(), action -> action.happened(id, event, by, body));
    return find(id).orElseThrow();
  }

  @Override
  public synchronized Hold shelve(String id, Duration forTime, String by, String reason) {
    if (forTime.compareTo(plan.shelveAtMost()) > 0 || forTime.isNegative() || forTime.isZero()) {
      throw new IllegalArgumentException(
          "an alarm can be shelved for up to " + plan.shelveAtMost().toMinutes() + " min at once");
    }
    long nowMs = clock.millis();
    return hold(nowMs, id, Hold.How.SHELVED, nowMs + forTime.toMillis(), by, reason);
  }

  @Override
  public synchronized Hold remove(String id, String by, String reason) {
    return hold(clock.millis(), id, Hold.How.OUT_OF_SERVICE, null, by, reason);
  }

  private Hold hold(
      long nowMs, String id, Hold.How how, @Nullable Long untilMs, String by, String reason) {
    Hold[] made = new Hold[1];
    handle(
        nowMs,
        action -> {
          made[0] = new Hold(action.known(id).point(), how, untilMs, by, reason, nowMs);
          action.hold(made[0]);
        });
    return made[0];
  }

  @Override
  public synchronized void restore(String point, String by) {
    handle(
        clock.millis(),
        action -> {
          if (!action.holds(point)) {
            throw new NoSuchElementException("'" + point + "' is not suppressed");
          }
          action.release(point, by);
        });
  }

  @Override
  public synchronized void note(String id, String by, String text) {
    handle(clock.millis(), action -> action.note(id, by, text));
  }

  /**
   * Does what time brings: ends what was shelved long enough, follows the phase with what the plan
   * suppresses, and lets alarms of high priority that were acknowledged long ago ask again.
   *
   * @param phase the phase the test is in
   */
  public synchronized void look(String phase) {
    long nowMs = clock.millis();
    List<Hold> ended = holds().stream().filter(h -> h.isOver(nowMs)).toList();
    List<DeskAlarm> moved = moved(phase, nowMs);
    if (ended.isEmpty() && moved.isEmpty()) {
      return;
    }
    handle(
        nowMs,
        action -> {
          for (Hold hold : ended) {
            action.release(hold.point(), "");
          }
          for (DeskAlarm alarm : moved) {
            move(alarm, phase, nowMs, action);
          }
        });
  }

  private List<DeskAlarm> moved(String phase, long nowMs) {
    if (plan.reAlarm() == null && plan.suppressed().isEmpty()) {
      return List.of(); // a flood need not be looked through twice a second for nothing
    }
    return open().stream().filter(a -> due(a, phase, nowMs) != null).toList();
  }

  private void move(DeskAlarm alarm, String phase, long nowMs, DeskAction action)
      throws SQLException {
    AlarmEvent event = due(alarm, phase, nowMs);
    if (event == AlarmEvent.RESTORED) {
      action.restored(alarm, "");
    } else if (event != null) {
      action.happened(alarm.finding().id(), event, "", "phase " + phase);
    }
  }

  private @Nullable AlarmEvent due(DeskAlarm alarm, String phase, long nowMs) {
    boolean suppressed = plan.suppresses(alarm.finding().rule(), phase);
    Duration again = plan.reAlarm();
    Long acknowledged = alarm.acknowledgedMs();
    return switch (alarm.state()) {
      case SUPPRESSED_BY_DESIGN -> suppressed ? null : AlarmEvent.RESTORED;
      case NORMAL, SHELVED, OUT_OF_SERVICE -> null;
      case ACKNOWLEDGED -> {
        boolean old =
            again != null
                && acknowledged != null
                && alarm.finding().priority() == Priority.HIGH
                && nowMs - acknowledged >= again.toMillis();
        yield suppressed ? AlarmEvent.SUPPRESSED : old ? AlarmEvent.RE_ALARMED : null;
      }
      default -> suppressed ? AlarmEvent.SUPPRESSED : null;
    };
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
