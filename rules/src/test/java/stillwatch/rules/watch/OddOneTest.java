package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Quality;

/** Two that agree outvote a third; of two nobody is named without a reason. */
class OddOneTest {
  private static final long START = 1_772_967_600_000L;

  private final List<WatchedGauge> members = new ArrayList<>();
  private final List<WatchedPair> pairs = new ArrayList<>();
  private long nowMs = START;

  private void gauges(int count) {
    for (int i = 1; i <= count; i++) {
      WatchedGauge g = TestGauges.of("PT-" + i, "kPa", "cap", START);
      for (WatchedGauge other : members) {
        WatchedPair pair = new WatchedPair(other, g, null);
        pairs.add(pair);
        other.pairs.add(pair);
        g.pairs.add(pair);
      }
      members.add(g);
    }
  }

  /** Each gauge at its level for some seconds, with noise of its own. */
  private void run(int seconds, double... levels) {
    for (int s = 0; s < seconds; s++) {
      nowMs += 1000;
      for (int i = 0; i < levels.length; i++) {
        double noise = 0.05 * ((s * (31 + i)) % 11 - 5);
        members.get(i).track.accept(nowMs, nowMs, levels[i] + noise, Quality.GOOD.code());
      }
      if (nowMs % WellWatch.CADENCE_MS == 0) {
        pairs.forEach(p -> p.update(nowMs));
        OddOne.judge(members, pairs, nowMs);
      }
    }
  }

  private List<String> odd() {
    return members.stream().filter(g -> g.odd).map(g -> g.plan.id()).toList();
  }

  @Test
  void theThirdIsNamedWhileTwoAgreeAndNoLongerOnceItIsBack() {
    gauges(3);
    run(3600, 46_000, 46_005, 45_998);
    assertThat(odd()).isEmpty();
    run(300, 46_000, 46_005, 45_798);
    assertThat(odd()).containsExactly("PT-3");
    assertThat(members.get(2).oddWhy)
        .contains("PT-1", "PT-2", "agree with each other and not with PT-3");
    run(300, 46_000, 46_005, 45_998);
    assertThat(odd()).isEmpty();
    assertThat(members.get(2).oddWhy).isEmpty();
  }

  /** Two fall together: the one that stays is what differs, and might be plugged. */
  @Test
  void theOneThatStaysIsNamedWhenTwoFallTogether() {
    gauges(3);
    run(3600, 46_000, 46_005, 45_998);
    run(300, 45_800, 45_805, 45_998);
    assertThat(odd()).containsExactly("PT-3");
  }

  @Test
  void nobodyIsNamedWhenNoTwoAgree() {
    gauges(3);
    run(3600, 46_000, 46_005, 45_998);
    run(300, 46_000, 46_305, 45_698);
    assertThat(odd()).isEmpty();
  }

  /** One that keeps its course may be plugged: it never showed that it feels the well. */
  @Test
  void ofTwoThatNeverShowedThatTheyFeelTheWellNobodyIsNamed() {
    gauges(2);
    run(3600, 46_000, 46_005);
    run(300, 44_500, 46_005);
    assertThat(odd()).isEmpty();
  }

  @Test
  void oneThatIsOutOfUseHasNoVote() {
    gauges(3);
    run(3600, 46_000, 46_005, 45_998);
    members.get(1).out = true;
    run(300, 46_000, 46_005, 45_798);
    assertThat(odd()).isEmpty();
  }
}
