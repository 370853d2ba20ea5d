package stillwatch.rules.tune;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Future;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.OperationsFile;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.TelemetrySource;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.replay.PlannedRecording;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.watch.CapturedRun;
import stillwatch.rules.watch.RuleTrials;
import stillwatch.rules.watch.RuleTrials.Raise;

/**
 * The recordings that limits are tried on, as they are and with leaks planted in them. They are
 * read side by side on the threads given. Not thread-safe.
 */
public final class Recordings {
  private final List<Source> sources = new ArrayList<>();
  private final ExecutorService threads;
  private final Progress progress;
  private final @Nullable Path operations;

  /** One recording, as it is or with a leak planted in it. */
  private record Source(
      String name,
      Path file,
      String planted,
      RecordingWithLeak.@Nullable Leak leak,
      long fromMs,
      List<Label> labels) {}

  /**
   * A leak to be planted.
   *
   * @param size as the user gave it
   */
  public record Planting(String size, RecordingWithLeak.Leak leak) {}

  /** Who hears how far the reading has come. */
  public interface Progress {
    /** So many have been read, of so many. */
    void read(int done, int of);
  }

  /**
   * Files, and what is known to have happened in them.
   *
   * @param operations what people did, where the files do not say it; null when they do
   */
  public Recordings(
      List<Path> files,
      @Nullable Path operations,
      List<Label> known,
      ExecutorService threads,
      Progress progress) {
    this.operations = operations;
    this.threads = threads;
    this.progress = progress;
    for (Path file : files) {
      String name = String.valueOf(file.getFileName());
      sources.add(
          new Source(
              name,
              file,
              "",
              null,
              0,
              known.stream().filter(l -> l.recording().equals(name)).toList()));
    }
  }

  /** Adds each recording with each leak, planted so many times, at the same places every time. */
  public void plant(Plan plan, RuleBook book, List<Planting> plantings, int times)
      throws InterruptedException, ExecutionException {
    if (plantings.isEmpty()) {
      return;
    }
    List<Run> spans = runs(plan, book);
    Random random = new Random(1);
    List<Source> planted = new ArrayList<>();
    for (int i = 0; i < spans.size(); i++) {
      for (Planting planting : plantings) {
        for (int n = 1; n <= times; n++) {
          planted.add(planted(sources.get(i), spans.get(i), planting, n, random));
        }
      }
    }
    sources.addAll(planted);
  }

  private static Source planted(Source clean, Run span, Planting planting, int n, Random random) {
    double share = 0.4 + 0.45 * random.nextDouble();
    long fromMs = span.fromMs() + Math.round(share * (span.toMs() - span.fromMs()));
    List<Label> labelled = new ArrayList<>(clean.labels());
    labelled.add(new Label(clean.name(), fromMs, span.toMs(), planting.leak().what()));
    return new Source(
        clean.name() + " with " + planting.size() + " planted, " + n,
        clean.file(),
        planting.size(),
        planting.leak(),
        fromMs,
        labelled);
  }

  /**
   * The sum of the scores of those with a leak of a size.
   *
   * @param byRun one for each recording, in the order of {@link #runs}
   */
  public Score ofPlanted(String size, List<Score> byRun) {
    Score sum = Score.NOTHING;
    for (int i = 0; i < sources.size(); i++) {
      sum = sources.get(i).planted().equals(size) ? sum.and(byRun.get(i)) : sum;
    }
    return sum;
  }

  /** Reads all of them once. */
  public List<Run> runs(Plan plan, RuleBook book) throws InterruptedException, ExecutionException {
    List<Future<Run>> reading = new ArrayList<>();
    for (Source source : sources) {
      reading.add(threads.submit(() -> run(plan, book, source)));
    }
    List<Run> runs = new ArrayList<>();
    for (Future<Run> f : reading) {
      runs.add(got(f));
      progress.read(runs.size(), sources.size());
    }
    return runs;
  }

  private Run run(Plan plan, RuleBook book, Source source) throws IOException {
    CapturedRun captured = new CapturedRun();
    try (TelemetrySource feed = open(plan, source)) {
      Replay.Result r = Replay.run(plan, book, feed, f -> {}, captured);
      return new Run(source.name(), captured, source.labels(), r.fromMs(), r.toMs());
    }
  }

  private TelemetrySource open(Plan plan, Source source) throws IOException {
    Problems problems = new Problems();
    TelemetrySource feed =
        OperationsFile.beside(
            PlannedRecording.open(source.file(), plan, problems),
            operations,
            plan.recordings(),
            problems);
    List<String> shutIn =
        plan.gauges().stream()
            .filter(g -> g.role() == GaugePlan.Role.SHUT_IN)
            .map(GaugePlan::id)
            .toList();
    RecordingWithLeak.Leak leak = source.leak();
    return leak == null ? feed : new RecordingWithLeak(feed, shutIn, leak, source.fromMs());
  }

  /** What the recommended limits score all together, by the whole watch and not by trials. */
  public Map<String, Score> inFull(Plan plan, RuleBook book, List<TuningResult> all)
      throws InterruptedException, ExecutionException {
    List<Future<Map<String, Score>>> replaying = new ArrayList<>();
    for (Source source : sources) {
      replaying.add(threads.submit(() -> inFull(plan, book, all, source)));
    }
    Map<String, Score> sum = new LinkedHashMap<>();
    for (Future<Map<String, Score>> f : replaying) {
      got(f).forEach((rule, score) -> sum.merge(rule, score, Score::and));
    }
    return sum;
  }

  private Map<String, Score> inFull(Plan plan, RuleBook book, List<TuningResult> all, Source source)
      throws IOException {
    List<Finding> raised = new ArrayList<>();
    try (TelemetrySource feed = open(plan, source)) {
      Replay.Result r = Replay.run(plan, book, feed, Replay.raisedInto(raised));
      Run run = new Run(source.name(), new CapturedRun(), source.labels(), r.fromMs(), r.toMs());
      Map<String, Score> scores = new LinkedHashMap<>();
      for (TuningResult t : all) {
        scores.put(t.rule().id(), Score.of(t.rule(), run, raises(raised, t.rule())));
      }
      return scores;
    }
  }

  private static List<Raise> raises(List<Finding> raised, RuleEntry rule) {
    return raised.stream()
        .filter(f -> f.rule().equals(rule.id()))
        .filter(f -> RuleTrials.counts(rule, f.priority()))
        .map(f -> new Raise("", f.onsetMs(), f.raisedMs()))
        .toList();
  }

  private static <T> T got(Future<T> future) throws InterruptedException, ExecutionException {
    try {
      return future.get();
    } catch (ExecutionException e) {
      if (e.getCause() instanceof RuntimeException cause) {
        throw cause;
      }
      throw e;
    }
  }
}
