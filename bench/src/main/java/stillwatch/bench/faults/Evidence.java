package stillwatch.bench.faults;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * What is left of a run, and what it proves. An alert is named by its id and whether it was raised
 * or returned.
 *
 * @param judged the alerts of an undisturbed replay of as much of the log as the rules judged
 * @param all the alerts of an undisturbed replay of the whole log
 * @param topic what is on the alerts topic
 * @param desk what the journal says that the desk took in
 * @param wanted the ids of the messages that the route must have delivered
 * @param delivered how often the route's peer got each message
 * @param readings what became of every reading
 * @param journalFault why the journal is not whole; null when it is
 * @param seen what went wrong visibly while it ran
 */
record Evidence(
    List<String> judged,
    List<String> all,
    List<String> topic,
    List<String> desk,
    Set<String> wanted,
    Map<String, Integer> delivered,
    List<Reading> readings,
    @Nullable String journalFault,
    List<String> seen) {
  private static final int TOLD = 5;

  /**
   * A reading.
   *
   * @param name its gauge, time and value
   * @param sent how often it was sent
   * @param accepted how often it was accepted
   * @param logged how often it is in the log
   */
  record Reading(String name, int sent, int accepted, int logged) {}

  /** What was lost. */
  List<String> lost() {
    List<String> lost = new ArrayList<>();
    add(lost, "alert missing on the topic", missing(judged, topic));
    add(lost, "alert missing at the desk", missing(topic, desk));
    add(lost, "message missing at the route's peer", missing(wanted, delivered.keySet()));
    add(
        lost,
        "accepted reading missing in the log",
        readings.stream()
            .filter(r -> r.logged() < r.accepted())
            .map(r -> r.name() + " accepted " + r.accepted() + ", logged " + r.logged())
            .toList());
    return lost;
  }

  /** What is there more often than it should be, or should not be there. */
  List<String> doubled() {
    List<String> doubled = new ArrayList<>();
    add(doubled, "alert twice on the topic", twice(topic));
    add(doubled, "alert twice at the desk", twice(desk));
    add(doubled, "alert on the topic that no replay raises", missing(topic, all));
    add(doubled, "alert at the desk that is not on the topic", missing(desk, topic));
    add(
        doubled,
        "reading in the log more often than sent",
        readings.stream()
            .filter(r -> r.logged() > r.sent())
            .map(r -> r.name() + " sent " + r.sent() + ", logged " + r.logged())
            .toList());
    return doubled;
  }

  /** Everything that is not as promised, a sentence each; empty when all is. */
  List<String> failures() {
    List<String> failures = new ArrayList<>(lost());
    failures.addAll(doubled());
    if (journalFault != null) {
      failures.add("journal not whole: " + journalFault);
    }
    failures.addAll(seen);
    return failures;
  }

  private static void add(List<String> to, String what, List<String> which) {
    if (!which.isEmpty()) {
      to.add(
          which.size()
              + " x "
              + what
              + ": "
              + String.join("; ", which.subList(0, Math.min(TOLD, which.size()))));
    }
  }

  private static List<String> missing(Iterable<String> these, Iterable<String> among) {
    Set<String> there = new HashSet<>();
    among.forEach(there::add);
    List<String> missing = new ArrayList<>();
    these.forEach(
        t -> {
          if (!there.contains(t)) {
            missing.add(t);
          }
        });
    return missing;
  }

  private static List<String> twice(List<String> names) {
    Map<String, Integer> counts = new TreeMap<>();
    names.forEach(n -> counts.merge(n, 1, Integer::sum));
    return counts.entrySet().stream().filter(e -> e.getValue() > 1).map(Map.Entry::getKey).toList();
  }
}
