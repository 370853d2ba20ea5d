package stillwatch.rules.engine;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.watch.WellWatch;

/** Wells that share an engine say what each says alone. */
class EnginesTest {
  private static final Path PLAN = Path.of("../demo-data/larkspur/plan.yaml");
  private static final List<String> RECORDINGS = List.of("leak.csv.gz", "low-plateau.csv.gz");

  /** So many entries the first well is ahead of the second, as one whose log is read sooner. */
  private static final int AHEAD = 5000;

  @TempDir Path folder;

  @Test
  void wellsThatTakeTurnsAtOneEngineSayWhatEachSaysAlone() throws IOException {
    RuleBook book = RuleBook.shipped();
    assertThat(together(PLAN, book)).isEqualTo(alone(PLAN, book)).allMatch(said -> said.size() > 2);
  }

  /** It counts the moments it has heard of, which must be those of its own well. */
  @Test
  void aRuleThatRemembersIsSharedByNobody() throws IOException {
    Path plan = Files.copy(PLAN, folder.resolve("plan.yaml"));
    Path rules = Files.createDirectory(folder.resolve("rules"));
    Files.writeString(
        rules.resolve("catalogue.yaml"),
        """
        - id: counted
          title: Counted
          priority: low
          about: well
          sentence: "It has heard of many moments."
          returned: "It is over."
          cause: A test.
          consequence: None.
          response: None.
          respond-within: 10 min
          fooled-by: Nothing.
        """);
    Files.writeString(
        rules.resolve("counted.epl"),
        "@name('counted') select well as subject, nowMs, count(*) > 1000 as beyond,"
            + " false as normal from WellIndicator");
    RuleBook book = RuleBook.forPlan(plan);
    assertThat(together(plan, book)).isEqualTo(alone(plan, book));
  }

  @Test
  void theSameRulesUnderTheSameLimitsShareUntilTheLastWellIsDone() {
    Engines engines = new Engines();
    WellEngine first = engines.of(rules(0));
    WellEngine second = engines.of(rules(0));
    WellEngine other = engines.of(rules(1));
    assertThat(engines.sharedNow()).isEqualTo(2);
    first.close();
    other.close();
    assertThat(engines.sharedNow()).isEqualTo(1);
    second.close();
    assertThat(engines.sharedNow()).isZero();
  }

  private static List<DeployedRule> rules(double more) {
    return RuleBook.shipped().rules().stream()
        .filter(r -> r.entry().id().equals("gauge-noisy"))
        .map(r -> new DeployedRule(r, Map.of("factor", 3 + more), VerdictNeeds.ALWAYS, v -> {}))
        .toList();
  }

  private static List<List<String>> alone(Path plan, RuleBook book) throws IOException {
    List<List<String>> all = new ArrayList<>();
    for (String recording : RECORDINGS) {
      List<String> said = new ArrayList<>();
      all.add(said);
      try (WellWatch watch = watch(plan, book, said, new Engines())) {
        entries(plan, book, recording).forEach(watch::accept);
      }
    }
    return all;
  }

  private static List<List<String>> together(Path plan, RuleBook book) throws IOException {
    Engines engines = new Engines();
    List<List<String>> all = List.of(new ArrayList<>(), new ArrayList<>());
    List<Telemetry> one = entries(plan, book, RECORDINGS.get(0));
    List<Telemetry> two = entries(plan, book, RECORDINGS.get(1));
    try (WellWatch first = watch(plan, book, all.get(0), engines);
        WellWatch second = watch(plan, book, all.get(1), engines)) {
      for (int i = 0; i < Math.max(one.size(), two.size() + AHEAD); i++) {
        if (i < one.size()) {
          first.accept(one.get(i));
        }
        if (i >= AHEAD && i < two.size() + AHEAD) {
          second.accept(two.get(i - AHEAD));
        }
      }
    }
    return all;
  }

  private static WellWatch watch(Path plan, RuleBook book, List<String> said, Engines engines) {
    Plan read = PlanLoader.load(plan, book.catalogue());
    return new WellWatch(
        read,
        book,
        f -> said.add(f.id() + " " + f.returned() + " " + f.summary()),
        WellWatch.NOBODY,
        engines);
  }

  private static List<Telemetry> entries(Path plan, RuleBook book, String recording)
      throws IOException {
    Plan read = PlanLoader.load(plan, book.catalogue());
    List<Telemetry> all = new ArrayList<>();
    try (RecordingFeed feed =
        RecordingFeed.open(PLAN.resolveSibling(recording), read.recordings(), new Problems())) {
      for (Telemetry e = feed.next(); e != null; e = feed.next()) {
        all.add(e);
      }
    }
    return all;
  }
}
