package stillwatch.bench.faults;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** What broke, how often, and what came of it. Safe from any thread. */
final class Tally {
  private final Map<Kind, Integer> counts = new EnumMap<>(Kind.class);
  private final Map<Kind, List<Long>> recoveries = new EnumMap<>(Kind.class);
  private final List<String> failures = new ArrayList<>();
  private final List<String> skipped = new ArrayList<>();
  private int runs;
  private int readings;
  private int alerts;
  private int messages;
  private int repeats;
  private int lost;
  private int doubled;

  /** One happened. */
  synchronized void broke(Kind kind) {
    counts.merge(kind, 1, Integer::sum);
  }

  /** The watch was as before so long after one. */
  synchronized void recovered(Kind kind, long ms) {
    recoveries.computeIfAbsent(kind, k -> new ArrayList<>()).add(ms);
  }

  /** A kind was left out, and why. */
  synchronized void skipped(Kind kind, String why) {
    String line = kind.words() + ": " + why;
    if (!skipped.contains(line)) {
      skipped.add(line);
    }
  }

  /** A run is over; {@code again} is how to run it again. */
  synchronized void over(Evidence left, String again) {
    runs++;
    readings += left.readings().stream().mapToInt(Evidence.Reading::accepted).sum();
    alerts += left.topic().size();
    messages += left.delivered().size();
    repeats += left.delivered().values().stream().mapToInt(n -> n - 1).sum();
    lost += left.lost().isEmpty() ? 0 : 1;
    doubled += left.doubled().isEmpty() ? 0 : 1;
    left.failures().forEach(f -> failures.add(again + ": " + f));
  }

  /** How many faults there were. */
  synchronized int faults() {
    return counts.values().stream().mapToInt(Integer::intValue).sum();
  }

  /** How many alerts came of the runs. */
  synchronized int alerts() {
    return alerts;
  }

  /** Everything that was not as promised. */
  synchronized List<String> failures() {
    return List.copyOf(failures);
  }

  @Override
  public synchronized String toString() {
    StringBuilder s = new StringBuilder();
    s.append(
        "| what broke | where | times | back after, s: median | worst |\n|---|---|--:|--:|--:|\n");
    counts.forEach(
        (kind, count) -> {
          List<Long> took = recoveries.getOrDefault(kind, List.of()).stream().sorted().toList();
          s.append("| " + kind.words() + " | " + kind.group() + " | " + count + " | ");
          s.append(
              took.isEmpty()
                  ? "| |\n"
                  : String.format(
                      Locale.ROOT,
                      "%.1f | %.1f |%n",
                      took.get(took.size() / 2) / 1000.0,
                      took.get(took.size() - 1) / 1000.0));
        });
    s.append(
        String.format(
            "%n%d faults in %d runs; %d readings accepted, %d alerts, %d messages at the route's peer and %d repeats of them.%n",
            faults(), runs, readings, alerts, messages, repeats));
    s.append(
        String.format(
            "Runs in which something was lost: %d; doubled: %d; not as promised: %d sentences.%n",
            lost, doubled, failures.size()));
    skipped.forEach(line -> s.append("Left out: " + line + "\n"));
    failures.forEach(f -> s.append("FAILED " + f + "\n"));
    return s.toString();
  }
}
