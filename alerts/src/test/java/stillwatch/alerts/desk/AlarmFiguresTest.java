package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.DeskPlan;

/** The measures of ANSI/ISA-18.2-2016, 16.4 (at second hand). */
class AlarmFiguresTest {
  private static final long DAY_MS = 86_400_000;

  private static DeskAlarm alarm(String rule, String gauge, Priority priority, long ms) {
    var entry =
        new stillwatch.alerts.journal.Entry(
            ms,
            ms,
            "larkspur-2",
            "raised",
            "",
            "",
            DeskAlarm.raising(Findings.at(rule, gauge, priority, ms), false, 1),
            null,
            "");
    return DeskAlarm.raised(entry);
  }

  private static AlarmFigures figures(List<DeskAlarm> alarms, long toMs) {
    return AlarmFigures.of(alarms, DeskPlan.USUAL, 0, toMs);
  }

  /** The test vector: 11 alarms at 0, 54, 108, ... 540 s are a flood, 10 are none. */
  @Test
  void moreThanTenWithinTenMinutesAreAFloodThatEndsBelowFive() {
    long[] eleven = LongStream.rangeClosed(0, 10).map(i -> i * 54_000).toArray();
    List<Flood> floods = Flood.of(eleven, DAY_MS);
    assertThat(floods).containsExactly(new Flood(540_000, 600_000 + 6 * 54_000L, 11));
    assertThat(Flood.of(LongStream.range(0, 10).map(i -> i * 54_000).toArray(), DAY_MS)).isEmpty();
  }

  @Test
  void aFloodLastsWhileItIsNotSaidToBeOver() {
    long[] eleven = LongStream.rangeClosed(0, 10).map(i -> i * 1000).toArray();
    assertThat(Flood.of(eleven, 300_000)).containsExactly(new Flood(10_000, null, 11));
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 7, 42})
  void countingEveryMomentAnewGivesTheSameFloods(long seed) {
    java.util.Random random = new java.util.Random(seed);
    long[] at = random.longs(400, 0, 20 * 600).sorted().map(s -> s * 1000).toArray();
    long end = 21 * 600_000L;
    long floodedMs = 0;
    boolean in = false;
    for (long now = 0; now < end; now += 1000) {
      long t = now;
      long count = LongStream.of(at).filter(a -> a <= t && a > t - 600_000).count();
      in = in ? count >= 5 : count > 10;
      floodedMs += in ? 1000 : 0;
    }
    long said = 0;
    for (Flood f : Flood.of(at, end)) {
      Long to = f.toMs();
      said += (to == null ? end : to) - f.fromMs();
    }
    assertThat(said).isEqualTo(floodedMs);
  }

  @Test
  void aDayInFigures() {
    List<DeskAlarm> alarms = new ArrayList<>();
    for (int i = 0; i < 80; i++) {
      alarms.add(alarm("gauge-noisy", "G" + i % 40, Priority.LOW, i * 900_000L));
    }
    for (int i = 0; i < 15; i++) {
      alarms.add(alarm("slow-fall", "M" + i, Priority.MEDIUM, i * 3_600_000L + 1));
    }
    for (int i = 0; i < 5; i++) {
      alarms.add(alarm("sudden-drop", "PT-1", Priority.HIGH, 1_000_000L + i * 20_000L));
    }
    alarms.add(alarm("hold-point-due", "", Priority.INFORMATION, 5));
    AlarmFigures f = figures(alarms, DAY_MS);
    assertThat(f.alarms()).isEqualTo(100);
    assertThat(f.perTenMinutes()).isCloseTo(100 / 144.0, within(1e-9));
    assertThat(f.shares().get(Priority.LOW)).isCloseTo(0.80, within(1e-9));
    assertThat(f.shares().get(Priority.HIGH)).isCloseTo(0.05, within(1e-9));
    assertThat(f.chattering()).containsExactly("sudden-drop PT-1");
    assertThat(f.busiest().entrySet().iterator().next().getKey()).isEqualTo("sudden-drop PT-1");
    assertThat(f.mostInTenMinutes()).isBetween(5, 7);
    assertThat(f.stale()).as("none has lasted for more than a day yet").isZero();
    assertThat(figures(alarms, 2 * DAY_MS + 1).stale()).isEqualTo(100);
  }

  @Test
  void whatOneCauseExplainsIsOneLine() {
    List<DeskAlarm> alarms = new ArrayList<>();
    alarms.add(alarm("sudden-drop", "PT-1", Priority.HIGH, 500_000));
    alarms.add(alarm("feed-silent", "", Priority.HIGH, 1_030_000));
    for (int i = 0; i < 12; i++) {
      alarms.add(alarm("gauge-silent", "G" + i, Priority.LOW, 1_010_000 + i));
    }
    alarms.add(alarm("gauge-silent", "OLD", Priority.LOW, 10_000));
    List<AlarmGroup> groups = AlarmGroup.of(alarms);
    assertThat(groups)
        .extracting(g -> g.lead().point() + " " + g.members().size())
        .containsExactly("sudden-drop PT-1 0", "feed-silent 12", "gauge-silent OLD 0");
    assertThat(AlarmGroup.of(alarms.subList(2, 14)))
        .as("many of one rule at one time, led by the first")
        .extracting(g -> g.lead().point() + " " + g.members().size())
        .containsExactly("gauge-silent G0 11");
  }
}
