package stillwatch.bench.dangers;

import java.io.PrintStream;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import stillwatch.bench.Interval;

/** Prints how the cases came out. */
final class Table {
  private Table() {}

  static void print(List<Outcome> all, PrintStream out) {
    out.println("| case | period | right | median | worst | claims not kept | raised (runs) |");
    out.println("|---|---|---|---|---|---|---|");
    Map<String, List<Outcome>> rows =
        all.stream()
            .collect(
                Collectors.groupingBy(
                    o -> "| " + o.of().name() + " | " + o.periodS() + " s |",
                    LinkedHashMap::new,
                    Collectors.toList()));
    rows.forEach((head, some) -> out.println(row(head, some)));
    out.println();
    summary(all, out);
  }

  private static String row(String head, List<Outcome> some) {
    long right = some.stream().filter(Outcome::right).count();
    double[] delays =
        some.stream().mapToDouble(Outcome::delayS).filter(d -> !Double.isNaN(d)).sorted().toArray();
    return String.format(
        Locale.ROOT,
        "%s %d of %d | %s | %s | %s | %s |",
        head,
        right,
        some.size(),
        delays.length == 0 ? "-" : time(delays[delays.length / 2]),
        delays.length == 0 ? "-" : time(delays[delays.length - 1]),
        counts(some, Outcome::broken),
        counts(some, Outcome::raised));
  }

  private static String counts(List<Outcome> some, Function<Outcome, List<String>> of) {
    Map<String, Integer> runs = new TreeMap<>();
    for (Outcome o : some) {
      of.apply(o).stream().distinct().forEach(text -> runs.merge(general(text), 1, Integer::sum));
    }
    return runs.entrySet().stream()
        .sorted(Comparator.comparing(e -> -e.getValue()))
        .map(e -> e.getKey() + " (" + e.getValue() + ")")
        .collect(Collectors.joining(", "));
  }

  private static String general(String claim) {
    return claim.replaceFirst(" raised from .*", " in time");
  }

  private static String time(double s) {
    return s < 600
        ? String.format(Locale.ROOT, "%.0f s", s)
        : String.format(Locale.ROOT, "%.0f min", s / 60);
  }

  private static void summary(List<Outcome> all, PrintStream out) {
    int right = (int) all.stream().filter(Outcome::right).count();
    int wrong = all.stream().mapToInt(Outcome::falseAlarms).sum();
    double days = all.stream().mapToDouble(Outcome::soundHours).sum() / 24;
    Interval share = Interval.ofShare(right, all.size());
    Interval count = Interval.ofCount(wrong);
    long cases = all.stream().map(o -> o.of().name()).distinct().count();
    long whole =
        all.stream().collect(Collectors.groupingBy(o -> o.of().name())).values().stream()
            .filter(some -> some.stream().allMatch(Outcome::right))
            .count();
    for (int period : all.stream().mapToInt(Outcome::periodS).distinct().sorted().toArray()) {
      Outcome[] some = all.stream().filter(o -> o.periodS() == period).toArray(Outcome[]::new);
      long kept = Arrays.stream(some).filter(Outcome::right).count();
      out.printf(Locale.ROOT, "period %d s: %d of %d right%n", period, kept, some.length);
    }
    out.printf(Locale.ROOT, "%d of %d cases right in every run%n", whole, cases);
    out.printf(
        Locale.ROOT,
        "RIGHT %d of %d (%.1f %%, 95 %% %.1f to %.1f), false well alarms %.2f a day (95 %% %.2f to %.2f; %d in %.0f days)%n",
        right,
        all.size(),
        100.0 * right / all.size(),
        100 * share.low(),
        100 * share.high(),
        wrong / days,
        count.low() / days,
        count.high() / days,
        wrong,
        days);
  }
}
