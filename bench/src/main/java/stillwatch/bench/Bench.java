package stillwatch.bench;

import com.sun.management.ThreadMXBean;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.recording.PrefetchingSource;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.rules.engine.Engines;
import stillwatch.rules.engine.Rule;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.plan.RuleSetting;
import stillwatch.rules.replay.Replay;
import stillwatch.rules.service.RulesService;
import stillwatch.rules.signal.GaugeTrack;
import stillwatch.rules.signal.Pace;
import stillwatch.rules.signal.TrackSettings;
import stillwatch.rules.tune.Run;
import stillwatch.rules.tune.Tuning;
import stillwatch.rules.watch.CapturedRun;
import stillwatch.rules.watch.WellWatch;
import stillwatch.station.broker.EmbeddedBroker;

/**
 * One JSON line a figure. Each figure is the median of several runs after one that warms up, all in
 * this process on one recording; ratios are of those medians. The live figure is of one run.
 */
public final class Bench {
  private static final int RUNS = 5;
  private static final TrackSettings SETTINGS =
      new TrackSettings(Kind.PRESSURE, 5000, 103_500, 0.01, 40, new Pace(1000));

  private final Path folder;
  private final Path recording;
  private final Plan plan;
  private final RuleBook book;
  private long readings;

  private interface Work {
    void run() throws Exception;
  }

  private Bench(Path folder) throws IOException {
    this.folder = folder;
    Path planFile = Twenty.plan(folder);
    recording = Twenty.recording(folder, 48);
    book = RuleBook.forPlan(planFile);
    plan = PlanLoader.load(planFile, book.catalogue());
  }

  /** Measures everything; takes a few minutes. */
  public static void main(String[] args) throws Exception {
    Path folder = Files.createTempDirectory("stillwatch-bench");
    new Bench(folder).measure();
    System.exit(0); // the broker's threads would keep the process
  }

  private void measure() throws Exception {
    List<Frame> frames = frames();
    readings = (long) frames.size() * Twenty.GAUGES;
    say("recording", "readings", readings, "gauges", Twenty.GAUGES);
    double a = rate("a decoding alone (CSV.gz)", this::decode);
    rate("a2 decoding alone (log messages)", messages(frames));
    double b = rate("b hand-written loop on arrays", () -> byHand(frames));
    double c = rate("c tracks", () -> tracks(frames));
    allocated("c tracks", () -> tracks(frames));
    double d = rate("d full replay, whole rule book", this::replay);
    allocated("d watch without decoding", () -> watch(frames));
    wells(frames, 1);
    wells(frames, 100);
    tuning();
    frames.clear();
    double e = live();
    say("ratio d/b", "ratio", d / b);
    say("ratio d/a", "ratio", d / a);
    say("ratio c/b", "ratio", c / b);
    say("ratio e/d", "ratio", e / d);
    heap();
  }

  /** A thousand sets of limits of one rule over the recording, read once, on all cores. */
  private void tuning() throws Exception {
    Rule rule =
        book.rules().stream()
            .filter(r -> r.entry().id().equals("sudden-drop"))
            .findFirst()
            .orElseThrow();
    int sets = 1000;
    ExecutorService cores =
        Executors.newFixedThreadPool(Runtime.getRuntime().availableProcessors());
    long startNs = System.nanoTime();
    try {
      CapturedRun captured = new CapturedRun();
      Replay.Result read;
      try (PrefetchingSource source =
          new PrefetchingSource(RecordingFeed.open(recording, plan.recordings(), new Problems()))) {
        read = Replay.run(plan, book, source, f -> {}, captured);
      }
      Run run = new Run("bench", captured, List.of(), read.fromMs(), read.toMs());
      int tried =
          new Tuning(List.of(run), cores, () -> false)
              .tune(rule, RuleSetting.AS_CATALOGUED, sets)
              .tried();
      double s = (System.nanoTime() - startNs) / 1e9;
      say("tuning", "sets", tried, "seconds", s, "sets-times-readings/s", tried * readings / s);
    } finally {
      cores.shutdownNow();
    }
  }

  private static void say(String figure, Object... pairs) {
    StringBuilder line = new StringBuilder("{\"figure\":\"" + figure + "\"");
    for (int i = 0; i < pairs.length; i += 2) {
      Object value = pairs[i + 1];
      String number =
          value instanceof Double v ? String.format(Locale.ROOT, "%.4g", v) : String.valueOf(value);
      line.append(",\"").append(pairs[i]).append("\":").append(Double.valueOf(number));
    }
    System.out.println(line.append('}'));
  }

  private double rate(String figure, Work work) throws Exception {
    work.run();
    List<Double> rates = new ArrayList<>();
    for (int i = 0; i < RUNS; i++) {
      long startNs = System.nanoTime();
      work.run();
      rates.add(readings / ((System.nanoTime() - startNs) / 1e9));
    }
    rates.sort(null);
    double median = rates.get(RUNS / 2);
    say(figure, "readings_per_s", median, "lowest", rates.get(0), "highest", rates.get(RUNS - 1));
    return median;
  }

  private void allocated(String figure, Work work) throws Exception {
    if (ManagementFactory.getThreadMXBean() instanceof ThreadMXBean threads) {
      long before = threads.getCurrentThreadAllocatedBytes();
      work.run();
      double bytes = threads.getCurrentThreadAllocatedBytes() - before;
      say(figure + ", allocation", "bytes_per_reading", bytes / readings);
    }
  }

  private List<Frame> frames() throws IOException {
    List<Frame> frames = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(recording, plan.recordings(), new Problems())) {
      for (Telemetry e = feed.next(); e != null; e = feed.next()) {
        if (e instanceof Frame f) {
          frames.add(f);
        }
      }
    }
    return frames;
  }

  private void decode() throws IOException {
    try (RecordingFeed feed = RecordingFeed.open(recording, plan.recordings(), new Problems())) {
      while (feed.next() != null) {
        // read and let go
      }
    }
  }

  private static Work messages(List<Frame> frames) {
    TelemetryCodec codec = new TelemetryCodec();
    List<Message> encoded = new ArrayList<>();
    frames.forEach(f -> encoded.add(codec.encode(f)));
    return () -> encoded.forEach(codec::decode);
  }

  private static void byHand(List<Frame> frames) {
    HandLoop loop = new HandLoop(Twenty.GAUGES);
    for (Frame f : frames) {
      loop.frame(f.atMs(), f.values());
    }
    if (loop.beyond < 0) {
      throw new IllegalStateException("cannot be, but keeps the loop from being thrown away");
    }
  }

  private static void tracks(List<Frame> frames) {
    GaugeTrack[] tracks = new GaugeTrack[Twenty.GAUGES];
    for (int g = 0; g < tracks.length; g++) {
      tracks[g] = new GaugeTrack(SETTINGS);
    }
    for (Frame f : frames) {
      for (int g = 0; g < tracks.length; g++) {
        tracks[g].accept(f.atMs(), f.receivedMs(), f.values()[g], f.qualities()[g]);
      }
    }
  }

  private void watch(List<Frame> frames) {
    try (var watch = new WellWatch(plan, book, f -> {})) {
      frames.forEach(watch::accept);
    }
  }

  /** The second of two hours of so many wells under one plan, which one thread watches. */
  private void wells(List<Frame> frames, int count) {
    Engines engines = new Engines();
    List<WellWatch> watches = new ArrayList<>();
    long classes = ManagementFactory.getClassLoadingMXBean().getTotalLoadedClassCount();
    for (int i = 0; i < count; i++) {
      watches.add(new WellWatch(plan, book, f -> {}, WellWatch.NOBODY, engines));
    }
    frames.subList(0, 3600).forEach(f -> watches.forEach(w -> w.accept(f)));
    long startNs = System.nanoTime();
    frames.subList(3600, 7200).forEach(f -> watches.forEach(w -> w.accept(f)));
    double ns = System.nanoTime() - startNs;
    classes = ManagementFactory.getClassLoadingMXBean().getTotalLoadedClassCount() - classes;
    watches.forEach(WellWatch::close);
    say(
        count + " wells",
        "ns_per_reading",
        ns / (3600.0 * Twenty.GAUGES * count),
        "classes_per_well",
        (double) classes / count);
  }

  private void replay() throws IOException {
    try (PrefetchingSource source =
        new PrefetchingSource(RecordingFeed.open(recording, plan.recordings(), new Problems()))) {
      Replay.run(plan, book, source, f -> {});
    }
  }

  /** From the first entry sent to the rules' word that they have read the last. */
  private double live() throws Exception {
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).get();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(1, 1);
      RulesService rules =
          new RulesService(
              bus,
              List.of(new RulesService.WatchedWell(plan, book)),
              Clock.systemUTC(),
              new SimpleMeterRegistry());
      Thread thread = new Thread(rules, "rules");
      thread.start();
      long startNs = System.nanoTime();
      long endMs = send(bus);
      try (TopicReader progress = bus.readerOfAll(Topics.PROGRESS, Assignment.FROM_THE_START)) {
        boolean through = false;
        while (!through) {
          through =
              progress.poll(Duration.ofMillis(50)).stream()
                  .anyMatch(m -> FindingCodec.decodeProgress(m.value()).logMs() >= endMs);
        }
      }
      double rate = readings / ((System.nanoTime() - startNs) / 1e9);
      say(
          "e live through the embedded broker (progress is told every 2 s)",
          "readings_per_s",
          rate);
      rules.close();
      thread.join();
      return rate;
    }
  }

  private long send(Bus bus) throws IOException {
    TelemetryCodec codec = new TelemetryCodec();
    long lastMs = 0;
    try (TopicWriter writer = bus.writer(Topics.TELEMETRY);
        RecordingFeed feed = RecordingFeed.open(recording, plan.recordings(), new Problems())) {
      for (Telemetry e = feed.next(); e != null; e = feed.next()) {
        var unused = writer.append(codec.encode(e));
        lastMs = e.receivedMs();
      }
      writer.flush();
    }
    return lastMs;
  }

  private static void heap() {
    Runtime runtime = Runtime.getRuntime();
    System.gc();
    long before = runtime.totalMemory() - runtime.freeMemory();
    GaugeTrack[] tracks = new GaugeTrack[1000];
    for (int g = 0; g < tracks.length; g++) {
      tracks[g] = new GaugeTrack(SETTINGS);
    }
    Random random = new Random(1);
    for (long second = 0; second < 6 * 3600; second++) {
      long atMs = 1_772_431_200_000L + second * 1000;
      double value = 46_900 + random.nextDouble();
      for (GaugeTrack track : tracks) {
        track.accept(atMs, atMs, value, (byte) 0);
      }
    }
    System.gc();
    double bytes = runtime.totalMemory() - runtime.freeMemory() - before;
    say("heap after 1000 gauges x 6 h", "bytes", bytes, "bytes_per_gauge", bytes / tracks.length);
    if (tracks[0].acceptedCount() == 0) {
      throw new IllegalStateException("the tracks took nothing");
    }
  }
}
