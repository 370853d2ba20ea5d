package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Priority;
import stillwatch.rules.engine.Verdict;

/** On-delay, off-delay and growing worse (ISA-18.2-2016, 3.1: on-delay, off-delay). */
class GateTest {
  private static final int HOLD = 3;
  private static final int RELEASE = 4;

  private final Gate gate = new Gate(HOLD * 1000L, RELEASE * 1000L, Priority.MEDIUM);
  private int second;

  /** A verdict of one second. */
  private record Said(
      long timeMs,
      boolean beyond,
      boolean normal,
      long onsetMs,
      double size,
      @Nullable String priority)
      implements Verdict {
    @Override
    public String subject() {
      return "PT-1";
    }

    @Override
    public long nowMs() {
      return timeMs;
    }

    @Override
    public Map<String, String> texts() {
      return Map.of();
    }

    @Override
    public Map<String, Double> numbers() {
      return Map.of();
    }
  }

  private Gate.Change says(boolean beyond, boolean normal, double size, @Nullable String priority) {
    return gate.judge(new Said(1000L * second++, beyond, normal, -1, size, priority));
  }

  private Gate.Change beyond(double size, String priority) {
    return says(true, false, size, priority);
  }

  private Gate.Change normal() {
    return says(false, true, Double.NaN, null);
  }

  private static boolean beyond(int verdict) {
    return verdict == 1;
  }

  private static boolean normal(int verdict) {
    return verdict == 0;
  }

  /**
   * Looking back from each second: it is raised in the first in which the condition holds and held
   * already so long ago with no normal between, and has returned in the first that ends so long an
   * unbroken run of normal.
   */
  @Property(seed = "20260308")
  void itIsRaisedAfterTheOnDelayAndReturnsAfterTheOffDelay(
      @ForAll @Size(max = 60) List<@IntRange(min = 0, max = 2) Integer> verdicts) {
    Gate some = new Gate(HOLD * 1000L, RELEASE * 1000L, Priority.MEDIUM);
    List<String> changes = new ArrayList<>();
    List<String> expected = new ArrayList<>();
    boolean raised = false;
    int from = 0; // verdicts before this one count no longer
    for (int i = 0; i < verdicts.size(); i++) {
      int v = verdicts.get(i); // 2: neither beyond nor normal
      Gate.Change change =
          some.judge(new Said(1000L * i, beyond(v), normal(v), -1, Double.NaN, null));
      if (change != Gate.Change.NONE) {
        changes.add(change + " " + i);
      }
      int lastNormal = from - 1;
      int lastOther = from - 1;
      for (int j = from; j <= i; j++) {
        lastNormal = normal(verdicts.get(j)) ? j : lastNormal;
        lastOther = normal(verdicts.get(j)) ? lastOther : j;
      }
      int firstBeyond = lastNormal + 1;
      while (firstBeyond <= i && !beyond(verdicts.get(firstBeyond))) {
        firstBeyond++;
      }
      if (!raised && beyond(v) && i - firstBeyond >= HOLD) {
        raised = true;
        expected.add("RAISED " + i);
        assertThat(some.onsetMs()).isEqualTo(1000L * firstBeyond);
        from = i + 1;
      } else if (raised && normal(v) && i - (lastOther + 1) >= RELEASE) {
        raised = false;
        expected.add("RETURNED " + i);
        from = i + 1;
      }
    }
    assertThat(changes).isEqualTo(expected);
  }

  @Test
  void anOnsetThatTheRuleKnowsCountsAsDelayAlreadyServed() {
    Gate.Change change =
        gate.judge(new Said(1_000_000, true, false, 1_000_000 - HOLD * 1000L, Double.NaN, null));
    assertThat(change).isEqualTo(Gate.Change.RAISED);
    assertThat(gate.onsetMs()).isEqualTo(1_000_000 - HOLD * 1000L);
  }

  @Test
  void whatBecomesMoreUrgentIsRaisedAgainAndNeverBecomesLess() {
    for (int i = 0; i < HOLD; i++) {
      assertThat(beyond(1, "low")).isEqualTo(Gate.Change.NONE);
    }
    assertThat(beyond(1, "low")).isEqualTo(Gate.Change.RAISED);
    assertThat(beyond(1, "high")).isEqualTo(Gate.Change.ESCALATED);
    assertThat(beyond(1, "low")).isEqualTo(Gate.Change.NONE);
    assertThat(beyond(1, "high")).as("it was so before").isEqualTo(Gate.Change.NONE);
    assertThat(gate.escalations()).isEqualTo(1);
  }

  @Test
  void whatHasGrownToThreeTimesItsSizeIsANewFactEachTime() {
    for (int i = 0; i <= HOLD; i++) {
      beyond(100, "high");
    }
    assertThat(beyond(300, "high")).isEqualTo(Gate.Change.NONE);
    assertThat(beyond(301, "high")).isEqualTo(Gate.Change.ESCALATED);
    assertThat(beyond(900, "high")).isEqualTo(Gate.Change.NONE);
    assertThat(beyond(904, "medium")).as("and stays as urgent").isEqualTo(Gate.Change.ESCALATED);
    assertThat(beyond(905, "high")).isEqualTo(Gate.Change.NONE);
  }

  /** A burst through a small leak: the moment that raised the priority may know no size. */
  @Test
  void aMomentWithoutKnownSizeDoesNotHideThatItGrows() {
    for (int i = 0; i <= HOLD; i++) {
      beyond(100, "low");
    }
    assertThat(beyond(Double.NaN, "high")).isEqualTo(Gate.Change.ESCALATED);
    assertThat(beyond(5000, "high")).isEqualTo(Gate.Change.ESCALATED);
  }

  @Test
  void beyondWhileItIsReturningKeepsItRaised() {
    for (int i = 0; i <= HOLD; i++) {
      beyond(1, "high");
    }
    for (int i = 0; i < RELEASE; i++) {
      assertThat(normal()).isEqualTo(Gate.Change.NONE);
    }
    assertThat(beyond(1, "high")).isEqualTo(Gate.Change.NONE);
    for (int i = 0; i < RELEASE; i++) {
      assertThat(normal()).isEqualTo(Gate.Change.NONE);
    }
    assertThat(normal()).isEqualTo(Gate.Change.RETURNED);
    assertThat(gate.idle()).isTrue();
  }
}
