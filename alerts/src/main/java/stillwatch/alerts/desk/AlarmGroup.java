package stillwatch.alerts.desk;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import stillwatch.rules.book.Priority;

/**
 * Alarms that one cause explains: one line, with the others behind it.
 *
 * @param lead the one that says most
 * @param members the others, in the order they came in
 */
public record AlarmGroup(DeskAlarm lead, List<DeskAlarm> members) {
  /**
   * An alarm that began at most this long before its cause began still belongs to that cause, ms.
   */
  private static final long TOGETHER_MS = 120_000;

  /** From this many alarms of one rule at about one time on, they make a group. */
  private static final int MANY = 3;

  /**
   * Groups alarms.
   *
   * @param alarms in the order they are to be shown; each group stands where its first one would
   */
  public static List<AlarmGroup> of(List<DeskAlarm> alarms) {
    IdentityHashMap<DeskAlarm, DeskAlarm> behind = new IdentityHashMap<>();
    alarms.forEach(a -> behind.put(a, behind(a, alarms)));
    Map<DeskAlarm, List<DeskAlarm>> byLead = new LinkedHashMap<>();
    for (DeskAlarm a : alarms) {
      DeskAlarm lead = lead(a, behind);
      byLead.computeIfAbsent(lead, l -> new ArrayList<>());
      if (!lead.equals(a)) {
        byLead.get(lead).add(a);
      }
    }
    return byLead.entrySet().stream()
        .map(e -> new AlarmGroup(e.getKey(), List.copyOf(e.getValue())))
        .toList();
  }

  /** The one that stands behind none, so that each alarm stands in one place. */
  private static DeskAlarm lead(DeskAlarm a, IdentityHashMap<DeskAlarm, DeskAlarm> behind) {
    Set<DeskAlarm> passed = Collections.newSetFromMap(new IdentityHashMap<>());
    DeskAlarm lead = a;
    while (passed.add(lead)) {
      lead = behind.getOrDefault(lead, lead);
    }
    return lead;
  }

  /** The one that it stands behind; itself when it stands for itself. */
  private static DeskAlarm behind(DeskAlarm a, List<DeskAlarm> alarms) {
    DeskAlarm best = a;
    for (DeskAlarm other : alarms) {
      if (explains(other, best)) {
        best = other;
      }
    }
    return best.equals(a) ? first(a, alarms) : best;
  }

  private static boolean explains(DeskAlarm cause, DeskAlarm a) {
    Long over = cause.finding().returnedMs();
    return cause.finding().explains().contains(a.finding().rule())
        && cause.finding().priority().compareTo(a.finding().priority()) >= 0
        && !cause.state().held()
        && a.finding().onsetMs() >= cause.finding().onsetMs() - TOGETHER_MS
        && (over == null || a.finding().onsetMs() <= over);
  }

  /**
   * The most urgent of many of one rule that came at about one time, of those as urgent the first;
   * itself when they are few.
   */
  private static DeskAlarm first(DeskAlarm a, List<DeskAlarm> alarms) {
    List<DeskAlarm> same =
        alarms.stream()
            .filter(
                o ->
                    o.finding().rule().equals(a.finding().rule())
                        && o.state().held() == a.state().held()
                        && Math.abs(o.finding().onsetMs() - a.finding().onsetMs()) <= TOGETHER_MS)
            .sorted(
                Comparator.<DeskAlarm, Priority>comparing(o -> o.finding().priority())
                    .reversed()
                    .thenComparingLong(o -> o.finding().raisedMs())
                    .thenComparingLong(DeskAlarm::seq))
            .toList();
    return same.size() >= MANY ? same.get(0) : a;
  }
}
