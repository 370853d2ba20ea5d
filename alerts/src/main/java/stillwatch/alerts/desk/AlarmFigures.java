package stillwatch.alerts.desk;

import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.LongSummaryStatistics;
import java.util.Map;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;

/**
 * How the alarm system itself does, by the measures of ANSI/ISA-18.2-2016, 16.4 (tables 5 and 6;
 * figures at second hand, the daily ones from memory). Information asks nobody and is no alarm.
 *
 * @param hours the time looked at
 * @param alarms how many came
 * @param perTenMinutes the mean; about 1 is very likely acceptable, about 2 the most an operator
 *     can handle
 * @param mostInTenMinutes the most in any ten minutes counted from the first; 10 or fewer
 * @param busyShare the share of ten-minute periods with more than 10; under about 1 %
 * @param floods all of them
 * @param floodShare the share of the time in flood; under about 1 %
 * @param stale how many have lasted for more than a day; fewer than 5
 * @param chattering points that were raised again and again within a short time; none
 * @param busiest the points with most alarms, with how many; ten at most
 * @param shares by priority; low about 80 %, medium about 15 %, high about 5 %
 */
public record AlarmFigures(
    double hours,
    int alarms,
    double perTenMinutes,
    int mostInTenMinutes,
    double busyShare,
    List<Flood> floods,
    double floodShare,
    int stale,
    List<String> chattering,
    Map<String, Integer> busiest,
    Map<Priority, Double> shares) {
  private static final int MANY = 10;
  private static final long DAY_MS = 86_400_000;

  /**
   * The figures of these alarms.
   *
   * @param all in any order
   * @param fromMs from when, log time
   * @param nowMs until when
   */
  public static AlarmFigures of(List<DeskAlarm> all, DeskPlan plan, long fromMs, long nowMs) {
    List<DeskAlarm> alarms =
        all.stream()
            .filter(a -> a.finding().priority() != Priority.INFORMATION)
            .filter(a -> a.finding().raisedMs() >= fromMs && a.finding().raisedMs() <= nowMs)
            .sorted(Comparator.comparingLong(a -> a.finding().raisedMs()))
            .toList();
    long[] raised = alarms.stream().mapToLong(a -> a.finding().raisedMs()).toArray();
    int periods = (int) Math.max(1, -Math.floorDiv(fromMs - nowMs, Flood.WINDOW_MS));
    int[] counts = new int[periods];
    for (long ms : raised) {
      counts[(int) Math.min(periods - 1, (ms - fromMs) / Flood.WINDOW_MS)]++;
    }
    List<Flood> floods = Flood.of(raised, nowMs);
    long flooded = floods.stream().mapToLong(f -> end(f, nowMs) - f.fromMs()).sum();
    Map<String, Integer> byPoint = new LinkedHashMap<>();
    Map<Priority, Double> shares = new EnumMap<>(Priority.class);
    for (DeskAlarm a : alarms) {
      byPoint.merge(a.point(), 1, Integer::sum);
      shares.merge(a.finding().priority(), 1.0 / alarms.size(), Double::sum);
    }
    Map<String, Integer> busiest = new LinkedHashMap<>();
    byPoint.entrySet().stream()
        .sorted(Map.Entry.<String, Integer>comparingByValue().reversed())
        .limit(MANY)
        .forEach(e -> busiest.put(e.getKey(), e.getValue()));
    return new AlarmFigures(
        (nowMs - fromMs) / 3_600_000.0,
        alarms.size(),
        (double) alarms.size() / periods,
        Arrays.stream(counts).max().orElse(0),
        (double) Arrays.stream(counts).filter(n -> n > MANY).count() / periods,
        floods,
        nowMs > fromMs ? (double) flooded / (nowMs - fromMs) : 0,
        (int)
            alarms.stream()
                .filter(a -> a.standing().lasts() && nowMs - a.finding().raisedMs() > DAY_MS)
                .count(),
        chattering(alarms, plan),
        busiest,
        shares);
  }

  /** The figures since the first of these alarms, until now or the last of them. */
  public static AlarmFigures sinceFirst(List<DeskAlarm> all, DeskPlan plan, long nowMs) {
    LongSummaryStatistics raised =
        all.stream().mapToLong(a -> a.finding().raisedMs()).summaryStatistics();
    return raised.getCount() == 0
        ? of(all, plan, nowMs, nowMs)
        : of(all, plan, raised.getMin(), Math.max(raised.getMax(), nowMs));
  }

  private static long end(Flood flood, long nowMs) {
    Long to = flood.toMs();
    return to == null ? nowMs : to;
  }

  private static List<String> chattering(List<DeskAlarm> alarms, DeskPlan plan) {
    Map<String, List<Long>> times = new LinkedHashMap<>();
    for (DeskAlarm a : alarms) {
      times
          .computeIfAbsent(a.point(), p -> new java.util.ArrayList<>())
          .add(a.finding().raisedMs());
    }
    return times.entrySet().stream()
        .filter(e -> chatters(e.getValue(), plan))
        .map(Map.Entry::getKey)
        .toList();
  }

  private static boolean chatters(List<Long> times, DeskPlan plan) {
    for (int i = plan.chatterTimes() - 1; i < times.size(); i++) {
      if (times.get(i) - times.get(i - plan.chatterTimes() + 1)
          <= plan.chatterWithin().toMillis()) {
        return true;
      }
    }
    return false;
  }
}
