package stillwatch.rules.signal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.LongRange;
import org.junit.jupiter.api.Test;
import stillwatch.rules.signal.Series.Reading;

/** Each streaming estimator against the plain calculation over all readings kept. */
class EstimatorsTest {
  private static final long HORIZON_MS = 600_000;

  @Provide
  Arbitrary<List<Reading>> series() {
    return Series.increasing();
  }

  /** The readings the windows say they cover: {@code [(k−19)·w; now]}. */
  private static List<Reading> covered(List<Reading> all, long horizonMs) {
    long blockMs = horizonMs / BlockSlope.BLOCKS;
    Reading last = all.get(all.size() - 1);
    long from = (Math.floorDiv(last.atMs(), blockMs) - BlockSlope.BLOCKS + 1) * blockMs;
    return all.stream().filter(r -> r.atMs() >= from).toList();
  }

  @Property
  void theLevelIsTheMedianOfTheLastFive(@ForAll("series") List<Reading> series) {
    RobustLevel level = new RobustLevel(5);
    for (int i = 0; i < series.size(); i++) {
      double got = level.accept(series.get(i).value());
      double[] recent =
          series.subList(Math.max(0, i - 4), i + 1).stream()
              .mapToDouble(Reading::value)
              .sorted()
              .toArray();
      assertThat(got).isEqualTo(recent[(recent.length - 1) / 2]);
    }
  }

  /** The definition, over all blocks: the highest that a run never went under, less the newest. */
  @Property
  void whatIsLostOfALevelThatWasHeldIsThatOfItsDefinition(@ForAll("series") List<Reading> series) {
    HeldLoss loss = new HeldLoss(5_000, 4, 3);
    series.forEach(r -> loss.accept(r.atMs(), r.value()));
    List<List<Double>> blocks = new ArrayList<>();
    long last = Long.MIN_VALUE;
    for (Reading r : series) {
      long now = Math.floorDiv(r.atMs(), 5_000L);
      if (now != last) {
        if (last != Long.MIN_VALUE && now - last > HeldLoss.BLOCKS) {
          blocks.clear();
        }
        blocks.add(new ArrayList<>());
        last = now;
      }
      blocks.get(blocks.size() - 1).add(r.value());
    }
    List<List<Double>> kept =
        blocks.subList(Math.max(0, blocks.size() - HeldLoss.BLOCKS), blocks.size());
    if (kept.size() < 7) {
      assertThat(loss.lost()).isNaN();
      return;
    }
    double lostLevel = Double.NEGATIVE_INFINITY;
    for (List<Double> b : kept.subList(kept.size() - 3, kept.size())) {
      lostLevel = Math.max(lostLevel, Collections.max(b));
    }
    double held = Double.NEGATIVE_INFINITY;
    for (int from = 0; from + 4 <= kept.size() - 3; from++) {
      double run = Double.POSITIVE_INFINITY;
      for (List<Double> b : kept.subList(from, from + 4)) {
        run = Math.min(run, Collections.min(b));
      }
      held = Math.max(held, run);
    }
    assertThat(loss.lost()).isEqualTo(Math.max(0, held - lostLevel));
  }

  /**
   * A reading a minute: 9 kPa a minute for twelve minutes is no sudden loss, 100 kPa at once is.
   */
  @Test
  void ofASlowWanderLittleIsLostAtOnce() {
    HeldLoss wander = new HeldLoss(60_000, 2, 1);
    HeldLoss step = new HeldLoss(60_000, 2, 1);
    for (int minute = 0; minute < 30; minute++) {
      long atMs = Series.START_MS + minute * 60_000L;
      wander.accept(atMs, 46_000 - 9 * Math.max(0, minute - 17));
      step.accept(atMs, minute < 20 ? 46_000 : 45_900);
    }
    assertThat(wander.lost()).isEqualTo(108);
    assertThat(wander.quick()).isEqualTo(18);
    assertThat(step.lost()).isEqualTo(100);
    assertThat(step.quick()).isEqualTo(100);
  }

  @Property
  void theSlopeIsThatOfLeastSquares(@ForAll("series") List<Reading> series) {
    BlockSlope slope = new BlockSlope(HORIZON_MS);
    series.forEach(r -> slope.accept(r.atMs(), r.value()));
    List<Reading> covered = covered(series, HORIZON_MS);
    long spanMs = covered.get(covered.size() - 1).atMs() - covered.get(0).atMs();
    if (covered.size() < 3 || spanMs < HORIZON_MS / 2) {
      assertThat(slope.perHour()).isNaN();
    } else {
      double spread =
          covered.stream().mapToDouble(r -> Math.abs(r.value() - 46_000)).max().orElse(0);
      double tolerance = 1e-9 * (1 + spread) * 3_600_000 / spanMs;
      assertThat(slope.perHour()).isCloseTo(leastSquaresPerHour(covered), within(tolerance));
    }
  }

  private static double leastSquaresPerHour(List<Reading> all) {
    double t0 = all.stream().mapToDouble(r -> r.atMs() - Series.START_MS).average().orElseThrow();
    double y0 = all.stream().mapToDouble(r -> r.value() - 46_000).average().orElseThrow();
    double tt = 0;
    double ty = 0;
    for (Reading r : all) {
      double dt = r.atMs() - Series.START_MS - t0;
      tt += dt * dt;
      ty += dt * (r.value() - 46_000 - y0);
    }
    return ty / tt * 3_600_000;
  }

  @Property
  void repeatsAreCountedAndTheLongestIsRemembered(@ForAll("series") List<Reading> series) {
    Repeats repeats = new Repeats();
    long since = 0;
    int count = 0;
    long longest = 0;
    for (int i = 0; i < series.size(); i++) {
      Reading r = series.get(i);
      if (i > 0 && r.value() == series.get(i - 1).value()) {
        count++;
      } else {
        longest = i == 0 ? 0 : Math.max(longest, r.atMs() - since);
        since = r.atMs();
        count = 1;
      }
      repeats.accept(r.atMs(), r.value());
      assertThat(repeats.unchangedMs()).isEqualTo(r.atMs() - since);
      assertThat(repeats.unchangedCount()).isEqualTo(count);
      assertThat(repeats.habitMs()).isLessThanOrEqualTo((double) longest);
    }
  }

  /**
   * For Gaussian white noise the estimate's own standard deviation over a memory of 200 differences
   * is below 7 %; common practice, no source for the bound of four of them.
   */
  @Test
  void theNoiseOfWhiteNoiseIsItsStandardDeviationAndASpikeHardlyMovesIt() {
    Random random = new Random(7);
    Noise noise = new Noise();
    for (int i = 0; i < 5000; i++) {
      noise.accept(46_000 + 0.05 * random.nextGaussian());
    }
    double before = noise.sigma();
    assertThat(before).isCloseTo(0.05, within(0.05 * 0.28));
    noise.accept(99_000);
    noise.accept(46_000);
    assertThat(noise.sigma()).isCloseTo(before, within(before * 2 * 6 / 200 + 1e-12));
  }

  @Property
  void aTrailReachesBackInFixedMemoryAndKeepsItsOrder(
      @ForAll("series") List<Reading> series,
      @ForAll @LongRange(min = 0, max = 90_000_000) long back) {
    Trail trail = new Trail();
    series.forEach(r -> trail.accept(r.atMs(), r.value()));
    long from = series.get(series.size() - 1).atMs() - back;
    List<Trail.Point> points = trail.since(from);
    assertThat(points.size()).isBetween(0, 60);
    List<Reading> asReadings = new ArrayList<>();
    points.forEach(p -> asReadings.add(new Reading(p.atMs(), p.level())));
    assertThat(series).containsAll(asReadings);
    assertThat(asReadings).isSortedAccordingTo(Comparator.comparingLong(Reading::atMs));
    assertThat(points).allMatch(p -> p.atMs() >= from);
  }
}
