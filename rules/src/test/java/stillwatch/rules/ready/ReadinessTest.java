package stillwatch.rules.ready;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;

/** Recordings of the hours before the test, run through the rules. */
class ReadinessTest {
  private static final Path PLAN = Path.of("../demo-data/larkspur/plan.yaml");
  private static final Instant START = Instant.parse("2026-03-02T06:00:00Z");
  private static final int SECONDS = 300;

  @TempDir Path folder;

  private final Map<Integer, String> entries = new TreeMap<>();
  private final List<Finding> found = new ArrayList<>();
  private String silent = "";
  private int silentFrom;
  private int silentUntil = SECONDS;

  private void enter(int second, String entry) {
    entries.put(second, entry);
  }

  private void tickAll() {
    enter(10, "observation: readiness; clear; A. Berg; skimming: two boats");
    enter(11, "observation: readiness; clear; T. Moen; drill");
    enter(12, "observation: readiness; clear; K. Lund; limits");
    enter(13, "observation: camera; clear; vehicle crew; nothing seen");
  }

  /** Every gauge each second with a little life in it, the twins 6 kPa apart; then the entries. */
  private Path recording() throws IOException {
    StringBuilder csv =
        new StringBuilder("time,received,PT-1,PT-2,PA-1,TT-1,HY-1,HY-2,TI-1,operation\n");
    String[] gauges = {"PT-1", "PT-2", "PA-1", "TT-1", "HY-1", "HY-2", "TI-1"};
    double[] levels = {21_158, 21_152, 14_211, 50, 92, 91, 0.3};
    double[] lives = {0.1, 0.1, 0.1, 0.05, 0.5, 0.5, 0.004};
    java.util.Random random = new java.util.Random(5);
    for (int s = 0; s < SECONDS; s++) {
      csv.append(START.plusSeconds(s)).append(',');
      for (int g = 0; g < gauges.length; g++) {
        double value = levels[g] + lives[g] * random.nextGaussian();
        boolean says = !gauges[g].equals(silent) || s < silentFrom || s >= silentUntil;
        csv.append(',').append(says ? String.format(java.util.Locale.ROOT, "%.3f", value) : "");
      }
      csv.append(',').append(entries.getOrDefault(s, "")).append('\n');
    }
    return Files.writeString(folder.resolve("before.csv"), csv);
  }

  private Readiness read(Path planFile) throws IOException {
    RuleBook book = RuleBook.forPlan(planFile);
    Plan plan = PlanLoader.load(planFile, book.catalogue());
    Readiness readiness = new Readiness(plan);
    Problems problems = new Problems();
    try (TelemetrySource feed = RecordingFeed.open(recording(), plan.recordings(), problems)) {
      TelemetrySource heard =
          new TelemetrySource() {
            @Override
            public @Nullable Telemetry next() throws IOException {
              Telemetry entry = feed.next();
              if (entry != null) {
                readiness.accept(entry);
              }
              return entry;
            }

            @Override
            public void close() {}
          };
      Replay.run(
          plan,
          book,
          heard,
          f -> {
            found.add(f);
            readiness.accept(f);
          });
    }
    assertThat(problems.report()).isEmpty();
    return readiness;
  }

  private static Standing of(Readiness readiness, String name) {
    return readiness.standings().stream()
        .filter(s -> s.condition().name().equals(name))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void allIsMetOnceEverythingIsTickedAndSeen() throws IOException {
    tickAll();
    Readiness readiness = read(PLAN);
    assertThat(readiness.standings()).hasSize(7).allMatch(Standing::met);
    assertThat(of(readiness, "skimming").why())
        .isEqualTo("ticked by A. Berg at 2026-03-02T06:00:10Z (two boats)");
    assertThat(of(readiness, "camera").why())
        .isEqualTo("the last camera pass, at 2026-03-02T06:00:13Z by vehicle crew, was clear");
    assertThat(readiness.strayTicks()).isEmpty();
    assertThat(readiness.begun()).isEmpty();
  }

  @Test
  void nothingIsMetByALogThatSaysNothingOfIt() throws IOException {
    Readiness readiness = read(PLAN);
    assertThat(readiness.standings())
        .filteredOn(s -> !s.met())
        .extracting(s -> s.condition().name())
        .containsExactly("skimming", "drill", "limits", "camera");
    assertThat(new Readiness(PlanLoader.load(PLAN, RuleBook.forPlan(PLAN).catalogue())).standings())
        .filteredOn(s -> s.condition().name().equals("gauges"))
        .extracting(Standing::why)
        .containsExactly("no log was given to see the gauges in");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "observation: readiness; inconclusive; A. Berg; skimming: one boat left | taken back by A. Berg at 2026-03-02T06:01:00Z (one boat left)",
        "observation: readiness; adverse; A. Berg; skimming | taken back by A. Berg at 2026-03-02T06:01:00Z",
        "observation: readiness; clear; ; skimming | ticked at 2026-03-02T06:01:00Z without a name; enter it again with one",
      })
  void aTickIsTakenBackByALaterOneAndWantsAName(String entry, String why) throws IOException {
    tickAll();
    enter(60, entry);
    Standing skimming = of(read(PLAN), "skimming");
    assertThat(skimming.met()).isFalse();
    assertThat(skimming.why()).isEqualTo(why);
    assertThat(found)
        .as("a tick is no look at the well")
        .noneMatch(f -> f.rule().equals("sighting"));
  }

  @Test
  void anAdversePassLeavesItsConditionOpen() throws IOException {
    tickAll();
    enter(60, "observation: camera; adverse; vehicle crew; bubbles");
    assertThat(of(read(PLAN), "camera").met()).isFalse();
    assertThat(found).as("the pass is one").anyMatch(f -> f.rule().equals("sighting"));
  }

  @Test
  void aGaugeThatNeverReadsOrIsSuspectIsNamed() throws IOException {
    silent = "TI-1";
    assertThat(of(read(PLAN), "gauges").why()).contains("no good reading yet from TI-1");
    silent = "PT-2";
    silentFrom = 100;
    Standing gauges = of(read(PLAN), "gauges");
    assertThat(gauges.met()).isFalse();
    assertThat(gauges.why()).contains("alarm active: ", "PT-2");
  }

  @Test
  void anAlarmThatHasReturnedIsNotActive() throws IOException {
    silent = "PT-2";
    silentFrom = 60;
    silentUntil = 120;
    assertThat(of(read(PLAN), "gauges").met()).isTrue();
    assertThat(found).as("it was one").anyMatch(f -> f.ofGauges() && f.returned());
  }

  private static Observation tick(Observation.Result result, int atS, int receivedS) {
    return new Observation(
        "larkspur-2", atS * 1000L, receivedS * 1000L, "readiness", result, "drill", "T. Moen");
  }

  /** The second was written down late, the third has a stamp an hour ahead of its reception. */
  @Test
  void theTickThatWasMadeLastCountsAndNotTheOneThatCameLast() throws IOException {
    Plan plan = PlanLoader.load(PLAN, RuleBook.forPlan(PLAN).catalogue());
    Readiness readiness = new Readiness(plan);
    readiness.accept(tick(Observation.Result.CLEAR, 100, 100));
    readiness.accept(tick(Observation.Result.INCONCLUSIVE, 50, 150));
    assertThat(of(readiness, "drill").met()).isTrue();
    readiness.accept(tick(Observation.Result.INCONCLUSIVE, 3760, 160));
    assertThat(of(readiness, "drill").met()).isFalse();
    readiness.accept(tick(Observation.Result.CLEAR, 170, 170));
    assertThat(of(readiness, "drill").met()).isTrue();
  }

  @Test
  void whatComesAfterTheFirstClosureStepCountsNoMore() throws IOException {
    tickAll();
    enter(12, "closure-step: choke part-turn 1 of 6");
    Readiness readiness = read(PLAN);
    assertThat(readiness.begun()).contains(START.plusSeconds(12));
    assertThat(readiness.standings())
        .filteredOn(s -> !s.met())
        .extracting(s -> s.condition().name())
        .containsExactly("limits", "camera");
  }

  @Test
  void theLastGoOrNoGoBeforeTheFirstStepIsKept() throws IOException {
    enter(10, "decision: go; A. Berg; all is so");
    enter(11, "decision: no-go; K. Lund; a boat has left");
    enter(12, "closure-step: choke part-turn 1 of 6");
    enter(13, "decision: go; A. Berg; too late");
    assertThat(read(PLAN).decided())
        .hasValueSatisfying(
            d -> assertThat(d.choice().wire() + " " + d.by()).isEqualTo("no-go K. Lund"));
  }

  @Test
  void anotherCycleAsksPeopleAnew() throws IOException {
    tickAll();
    enter(12, "closure-step: choke part-turn 1 of 6");
    enter(13, "decision: cycle; the deciders; the level is ambiguous; smaller turns");
    Readiness readiness = read(PLAN);
    assertThat(readiness.begun()).isEmpty();
    assertThat(readiness.decided()).isEmpty();
    assertThat(readiness.standings())
        .filteredOn(s -> !s.met())
        .extracting(s -> s.condition().name())
        .contains("skimming", "drill", "limits", "camera");
  }

  @Test
  void aTickForNoConditionIsSaid() throws IOException {
    enter(10, "observation: readiness; clear; A. Berg; skiming");
    assertThat(read(PLAN).strayTicks())
        .singleElement()
        .asString()
        .contains("2026-03-02T06:00:10Z", "'skiming'", "the plan has skimming, drill");
  }

  /** Each plan differs from the demo's in one thing; the condition is judged without any log. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "twins | '' | '' | the shut-in pressure is measured by PT-1, PT-2 | true",
        "twins | PT-1 only | '' | only PT-1 has the role shut-in in the plan | false",
        "facts | water-depth: 1410 m | '' | the facts lack water-depth (or wellhead-depth) | false",
        "routes | '' | '' | the plan has no notification route; add one under 'routes' | false",
        "routes | recordings: | routes: {webhooks: [{name: duty, url: \"http://127.0.0.1:9000/a\"}]} | notification routes in the plan: 1 | true",
        "outside-check | '' | '' | the plan gives no sign of life to anybody; add 'heartbeat' under 'routes' | false",
        "outside-check | recordings: | routes: {heartbeat: {url: \"http://127.0.0.1:9000/a\", every: 60 s}} | the plan gives a sign of life to a check outside | true",
        "capacity | '' | '' | capacity: without collection vessel east it holds in 56.2 % of the draws of the ranges; without collection vessel west it holds in 94.3 % of the draws of the ranges | false",
        "capacity | {low: 7000 m3/d, likely: 7600 m3/d, high: 8400 m3/d} | 7300 m3/d | the capacity holds with any one unit lost, in every draw of the ranges | true",
      })
  void thePlanItselfIsJudged(String knownBy, String from, String to, String why, boolean met)
      throws IOException {
    String plan = Files.readString(PLAN);
    int readiness = plan.indexOf("readiness:");
    plan =
        plan.substring(0, readiness)
            + "readiness: [{name: it, condition: it is so, owner: lead, known-by: "
            + knownBy
            + "}]\n\n"
            + plan.substring(plan.indexOf("reopening:", readiness));
    if (from.equals("PT-1 only")) {
      int second = plan.indexOf("role: shut-in", plan.indexOf("id: PT-2"));
      plan = plan.substring(0, second) + "role: other" + plan.substring(second + 13);
    } else if (from.equals("recordings:")) {
      plan = plan.replace("\nrecordings:\n", "\n" + to + "\n\nrecordings:\n");
    } else if (!from.isEmpty()) {
      assertThat(plan).contains(from);
      plan = plan.replace(from, to);
    }
    Path file = Files.writeString(folder.resolve("plan.yaml"), plan);
    Plan read = PlanLoader.load(file, RuleBook.forPlan(file).catalogue());
    assertThat(new Readiness(read).standings())
        .containsExactly(new Standing(read.readiness().get(0), met, why));
  }
}
