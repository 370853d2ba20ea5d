package stillwatch.bench.entrance;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/** What was measured. Safe from any thread. */
public final class Figures {
  private final Map<String, List<Double>> times = new TreeMap<>();
  private final Map<String, Map<String, Integer>> answers = new TreeMap<>();

  /** Something took so long, ms. */
  synchronized void took(String what, double ms) {
    times.computeIfAbsent(what, w -> new ArrayList<>()).add(ms);
  }

  /** Something was answered so. */
  synchronized void answered(String what, String answer) {
    answers.computeIfAbsent(what, w -> new TreeMap<>()).merge(answer, 1, Integer::sum);
  }

  /** How often something was timed. */
  public synchronized int count(String what) {
    return times.getOrDefault(what, List.of()).size();
  }

  /** How something was answered, and how often. */
  public synchronized Map<String, Integer> answers(String what) {
    return Map.copyOf(answers.getOrDefault(what, Map.of()));
  }

  /** A line a figure. */
  synchronized List<String> lines() {
    List<String> lines = new ArrayList<>();
    times.forEach(
        (what, all) -> {
          List<Double> sorted = all.stream().sorted().toList();
          lines.add(
              String.format(
                  Locale.ROOT,
                  "%-40s %5d times, median %7.0f ms, worst %7.0f ms",
                  what,
                  sorted.size(),
                  sorted.get(sorted.size() / 2),
                  sorted.get(sorted.size() - 1)));
        });
    answers.forEach((what, all) -> lines.add(String.format(Locale.ROOT, "%-40s %s", what, all)));
    return lines;
  }

  @Override
  public String toString() {
    return String.join("\n", lines());
  }
}
