package stillwatch.bench.fuzz;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.zip.GZIPInputStream;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingException;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.ingest.wire.TelemetryFormatException;
import stillwatch.rules.engine.RuleBook;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanException;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.rules.replay.Replay;

/**
 * Mutated plans, recordings, messages of the log and findings of the record, through the code that
 * reads them. Each must be taken or refused with the exception that says what is wrong with it.
 */
public final class FuzzBench {
  private static final Path PLAN = Path.of("demo-data/larkspur/plan.yaml");
  private static final Path RECORDING = Path.of("demo-data/larkspur/leak.csv.gz");
  private static final int LINES = 60;

  private final Random random;
  private final Path folder;
  private final RuleBook book;
  private final Plan plan;
  private final List<String> faults = new ArrayList<>();
  private final Set<String> seen = new HashSet<>();
  private Map<String, String> headers = Map.of();

  private FuzzBench(long seed, Path folder) throws IOException {
    random = new Random(seed);
    this.folder = folder;
    book = RuleBook.forPlan(PLAN);
    plan = PlanLoader.load(PLAN, book.catalogue());
  }

  /** Takes mutated bytes; false when it refuses them. */
  private interface Reading {
    boolean takes(byte[] bytes) throws IOException;
  }

  /** Runs it: {@code bench/fuzz [SEED [TIMES]]}; the exit code is 1 when anything else came out. */
  public static void main(String[] args) throws IOException {
    long seed = args.length > 0 ? Long.parseLong(args[0]) : 20_260_308;
    int times = args.length > 1 ? Integer.parseInt(args[1]) : 100_000;
    List<String> faults = run(seed, times, Files.createTempDirectory("fuzz-bench"));
    faults.forEach(System.out::println);
    System.exit(faults.isEmpty() ? 0 : 1);
  }

  /**
   * Mutates so often, plans and recordings a tenth as often.
   *
   * @return what ended in something else than a refusal, a line for each sort
   */
  static List<String> run(long seed, int times, Path folder) throws IOException {
    FuzzBench bench = new FuzzBench(seed, folder);
    bench.mutate("plans", List.of(Files.readAllBytes(PLAN)), times / 10, bench::plan);
    bench.mutate("recordings", List.of(recording()), times / 10, bench::recording);
    List<byte[]> findings = bench.findings();
    bench.mutate("findings of the record", findings, times, FuzzBench::finding);
    TelemetryCodec codec = new TelemetryCodec(TelemetryCodec.Form.JSON); // its mutants say more
    bench.headers = codec.encode(new Pulse(bench.plan.well(), 0, 0)).headers();
    bench.mutate("messages of the log", bench.messages(codec), times, b -> bench.message(b, codec));
    return bench.faults;
  }

  private void mutate(String what, List<byte[]> from, int times, Reading reading)
      throws IOException {
    long heapMb = heapMb();
    int taken = 0;
    for (int i = 0; i < times; i++) {
      byte[] bytes = Mutation.of(from.get(random.nextInt(from.size())), random);
      try {
        taken += reading.takes(bytes) ? 1 : 0;
      } catch (IOException | RuntimeException | StackOverflowError e) {
        if (seen.add(what + e.getClass() + e.getStackTrace()[0])) {
          Path kept = folder.resolve(what.replace(' ', '-') + "-" + i);
          Files.write(kept, bytes);
          String first = String.valueOf(e.getMessage()).lines().findFirst().orElse("");
          faults.add(
              what
                  + " "
                  + i
                  + ", kept in "
                  + kept
                  + ": "
                  + e.getClass().getName()
                  + ": "
                  + first
                  + " at "
                  + e.getStackTrace()[0]);
        }
      }
    }
    System.out.printf(
        Locale.ROOT,
        "%-24s %8d mutated, %8d taken, the others refused; heap %d MB before, %d MB after%n",
        what,
        times,
        taken,
        heapMb,
        heapMb());
  }

  private static long heapMb() {
    System.gc();
    Runtime r = Runtime.getRuntime();
    return (r.totalMemory() - r.freeMemory()) >> 20;
  }

  private boolean plan(byte[] bytes) throws IOException {
    Path file = Files.write(folder.resolve("plan.yaml"), bytes);
    try {
      PlanLoader.load(file, book.catalogue());
      return true;
    } catch (PlanException e) {
      return false;
    }
  }

  private static byte[] recording() throws IOException {
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(RECORDING)), StandardCharsets.UTF_8))) {
      return in.lines()
          .limit(LINES)
          .collect(Collectors.joining("\n"))
          .getBytes(StandardCharsets.UTF_8);
    }
  }

  private boolean recording(byte[] bytes) throws IOException {
    Path file = Files.write(folder.resolve("recording.csv"), bytes);
    Problems problems = new Problems();
    try (RecordingFeed feed = RecordingFeed.open(file, plan.recordings(), problems)) {
      Telemetry entry;
      do {
        entry = feed.next();
      } while (entry != null);
      return problems.report().isEmpty();
    } catch (RecordingException e) {
      return false;
    }
  }

  private List<byte[]> findings() throws IOException {
    List<Finding> found = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(RECORDING, plan.recordings(), new Problems())) {
      Replay.run(plan, book, feed, found::add);
    }
    return found.stream().map(FindingCodec::encode).toList();
  }

  private static boolean finding(byte[] bytes) {
    try {
      FindingCodec.decode(bytes);
      return true;
    } catch (IllegalArgumentException e) {
      return false;
    }
  }

  private List<byte[]> messages(TelemetryCodec codec) {
    long atMs = 1_772_967_905_000L;
    List<Telemetry> entries =
        List.of(
            Frame.good(plan.well(), atMs, atMs, GaugeSet.of("PT-1", "PT-2"), 46_900.5, 46_894.5),
            new Pulse(plan.well(), atMs, atMs));
    return entries.stream().map(t -> codec.encode(t).value()).toList();
  }

  private boolean message(byte[] bytes, TelemetryCodec codec) {
    try {
      codec.decode(Message.of(plan.well(), bytes, headers));
      return true;
    } catch (TelemetryFormatException e) {
      return false;
    }
  }
}
