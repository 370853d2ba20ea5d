package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayOutputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.entrance.Trust;
import stillwatch.ingest.intake.SourceHealth;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.rules.plan.Plan;
import stillwatch.station.broker.EmbeddedBroker;

/** Files that a logger drops, appends to, renames and packs. */
@Timeout(300)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class FilesSourceTest {
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000);
  private static final int ROUNDS = Integer.getInteger("stillwatch.rounds", 1);
  private static final long FIRST_MS = Instant.parse("2026-03-08T06:00:00Z").toEpochMilli();
  private static final String HEADER = "time,P1,Q1,P2\n";

  private final Path all;
  private final EmbeddedBroker kafka;
  private final Bus bus;
  private final FollowedLog log;
  private Path folder;
  private Path data;

  FilesSourceTest(@TempDir Path all) throws Exception {
    this.all = all;
    folder = all;
    data = all;
    kafka = EmbeddedBroker.start(all.resolve("kafka")).get();
    bus = KafkaBus.open(new BusSettings(kafka.bootstrap(), Map.of()));
    log = FollowedLog.of(bus);
  }

  @BeforeEach
  void anew(TestInfo test) throws Exception {
    String name = test.getTestMethod().orElseThrow().getName();
    data = Files.createDirectories(all.resolve(name));
    folder = Files.createDirectories(data.resolve("logger"));
  }

  @AfterAll
  void close() throws Exception {
    log.close();
    bus.close();
    kafka.close();
  }

  /** The example of the documents, with the folder of this test and this day's rows. */
  private Plan plan() throws Exception {
    return Intaking.plan(
        data,
        example("yaml")
            .replace("/var/lib/logger/larkspur", folder.toString())
            .replace("every: 1 s", "every: 0.1 s"));
  }

  private static String example(String language) throws Exception {
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int files = doc.indexOf("**Files**");
    String fence = "```" + language + "\n";
    int from = doc.indexOf(fence, files) + fence.length();
    return doc.substring(from, doc.indexOf("```", from));
  }

  private Path append(String name, String text) throws Exception {
    return Files.writeString(
        folder.resolve(name), text, StandardOpenOption.CREATE, StandardOpenOption.APPEND);
  }

  private static String row(int day, int i) {
    return "%s,%s,%s,%s\n"
        .formatted(
            Instant.ofEpochMilli(FIRST_MS + day * 86_400_000L + i * 1000L),
            46 + i / 1000.0,
            i % 7 == 3 ? "uncertain" : "good",
            45 + i / 1000.0);
  }

  private List<Frame> frames(int day) {
    long fromMs = FIRST_MS + day * 86_400_000L;
    return log.now().stream()
        .filter(f -> f.atMs() >= fromMs && f.atMs() < fromMs + 86_400_000L)
        .toList();
  }

  private void has(int day, int rows) {
    Intaking.until("the log has " + rows, () -> frames(day).size() >= rows);
  }

  /** The log has the first rows of that day, each once and in order. */
  private void hasJust(int day, int rows) {
    has(day, rows);
    justThese(frames(day), day, rows);
  }

  private static void justThese(List<Frame> log, int day, int rows) {
    for (int i = 0; i < rows; i++) {
      Frame f = log.get(i);
      assertThat(f.atMs()).as("row " + i).isEqualTo(FIRST_MS + day * 86_400_000L + i * 1000L);
      assertThat(f.values()).containsExactly(new double[] {46_000 + i, 45_000 + i}, within(1e-6));
      assertThat(f.qualities()).containsExactly((byte) (i % 7 == 3 ? 1 : 0), (byte) 0);
    }
    assertThat(log).hasSize(rows);
  }

  @Test
  void theExampleOfTheDocuments() throws Exception {
    append("cap-0308.csv", example("csv").stripTrailing());
    try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
      has(0, 2);
      append("cap-0308.csv", "02,good,46.892\n");
      has(0, 3);
      assertThat(frames(0))
          .extracting(f -> f.gauges().ids() + " " + f.qualities()[0] + " " + f.values()[0])
          .containsExactly(
              "[PT-1, PT-2] 0 46900.0", "[PT-1, PT-2] 1 46901.0", "[PT-1, PT-2] 0 46902.0");
      assertThat(intaking.state().refused()).isEmpty();
    }
  }

  @Test
  void halfALineIsWaitedForWhateverIsRestartedRenamedOrPacked() throws Exception {
    String next = row(1, 2);
    append("cap-a.csv", HEADER + row(1, 0) + row(1, 1) + next.substring(0, 30));
    try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
      has(1, 2);
      assertThat(intaking.state().connected()).isTrue();
    }
    append("cap-a.csv", next.substring(30) + row(1, 3)); // nobody is there
    Files.move(folder.resolve("cap-a.csv"), folder.resolve("cap-a.csv.1"));
    append("cap-a.csv", HEADER + row(1, 4));
    try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
      has(1, 5);
      append("cap-a.csv.1", "");
      try (OutputStream out =
          new GZIPOutputStream(Files.newOutputStream(folder.resolve("cap-0.csv.gz")))) {
        out.write(Files.readAllBytes(folder.resolve("cap-a.csv.1")));
      }
      Files.delete(folder.resolve("cap-a.csv.1"));
      append("cap-a.csv", row(1, 5));
      hasJust(1, 6);
      assertThat(intaking.state().again()).isZero();
      assertThat(intaking.state().refused()).isEmpty();
    }
  }

  @Test
  void aPackedFileIsReadAsFarAsItIsThereAndToItsEndOnceItIsWhole() throws Exception {
    byte[] text =
        (HEADER + row(2, 0) + row(2, 1) + row(2, 2).strip()).getBytes(StandardCharsets.UTF_8);
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (GZIPOutputStream out = new GZIPOutputStream(packed, 512, true)) {
      out.write(text, 0, text.length / 2);
      out.flush();
      Files.write(folder.resolve("cap-b.csv.gz"), packed.toByteArray());
      try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
        has(2, 1);
        out.write(text, text.length / 2, text.length - text.length / 2);
        out.close();
        Files.write(folder.resolve("cap-b.csv.gz"), packed.toByteArray());
        hasJust(2, 3);
        assertThat(intaking.state().refused()).isEmpty();
      }
    }
  }

  @Test
  void whatIsWrongIsToldWithItsGaugeOrLineAndTheRestIsRead() throws Exception {
    append("cap-junk.csv", "nothing,of,use\n1,2,3\n");
    append(
        "cap-c.csv",
        """
        time,P1,Q1
        2026-03-11T06:00:00Z,46.9,good
        2026-03-11T06:00:01Z,46.9
        2026-03-11T06:00:02Z,46.902026-03-11T06:00:03Z,46.9,good
        noon,46.9,good
        2026-03-11T06:00:04Z,46.904,fine
        2026-03-11T06:00:05Z,much,good
        2026-03-11T06:00:06Z,46.906,good
        """);
    try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
      has(3, 3);
      assertThat(frames(3))
          .extracting(f -> f.atMs() % 60_000 + " " + f.qualities()[0])
          .containsExactly("0 0", "4000 2", "6000 0");
      SourceHealth.State state = intaking.state();
      assertThat(state.connected()).isTrue();
      assertThat(state.fault()).contains("cap-c.csv has no column 'P2' of PT-2");
      assertThat(state.refused())
          .isEqualTo(Map.of("incomplete", 3L, "bad-time", 1L, "bad-value", 2L));
    }
  }

  @Test
  void aFolderThatIsNotThereIsToldAndReadOnceItIs() throws Exception {
    Files.delete(folder);
    try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
      Intaking.until("it says so", () -> intaking.state().fault().contains("there is no folder"));
      Files.createDirectories(folder);
      append("cap-d.csv", HEADER + row(4, 0));
      hasJust(4, 1);
      assertThat(intaking.state().fault()).isEmpty();
    }
  }

  @Test
  void rowsOfALoggerThatWritesAnyhowAreInTheLogOnceAndInOrderWhateverIsRenamedOrKilled()
      throws Exception {
    assertThat(plan().sources()).hasSize(1); // and it is written
    Random random = new Random(18);
    List<String> gauges = List.of("PT-1 PT-2");
    CompletableFuture<Void> writing = new CompletableFuture<>();
    int had = log.now(gauges.get(0)).size();
    WatchProcess watch = watch();
    try {
      int rows = READINGS / ROUNDS;
      for (int round = 0; round < ROUNDS; round++) {
        int from = round * rows;
        write(from, from + rows / 2, random);
        log.has(had + from + rows / 4, gauges, writing);
        watch.kill();
        write(from + rows / 2, from + rows, random);
        rename("cap-f.csv", round);
        watch = watch();
      }
      log.has(had + ROUNDS * rows, gauges, writing);
    } finally {
      watch.stop();
    }
    List<Frame> all = log.now(gauges.get(0));
    justThese(all.subList(had, all.size()), 20, ROUNDS * (READINGS / ROUNDS));
    assertThat(log.others()).isEmpty();
  }

  private WatchProcess watch() throws Exception {
    return WatchProcess.at(kafka.bootstrap(), data.resolve("plan.yaml"), data.resolve("data"));
  }

  /** Writes rows in parts that begin and end anywhere. */
  private void write(int from, int to, Random random) throws Exception {
    StringBuilder text = new StringBuilder();
    for (int i = from; i < to; i++) {
      text.append(row(20, i));
    }
    boolean begun = Files.exists(folder.resolve("cap-f.csv"));
    String all = begun ? text.toString() : HEADER + text;
    for (int at = 0, next; at < all.length(); at = next) {
      next = Math.min(all.length(), at + 1 + random.nextInt(5000));
      append("cap-f.csv", all.substring(at, next));
    }
  }

  private void rename(String name, int round) throws Exception {
    Path old = Files.move(folder.resolve(name), folder.resolve(name + "." + round));
    if (round % 2 == 1) {
      try (OutputStream out =
          new GZIPOutputStream(Files.newOutputStream(folder.resolve(name + "." + round + ".gz")))) {
        out.write(Files.readAllBytes(old));
      }
      Files.delete(old);
    }
  }

  @Test
  void spoiltRowsAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    Random random = new Random(18);
    byte[] good = row(5, 0).strip().getBytes(StandardCharsets.UTF_8);
    try (OutputStream out = Files.newOutputStream(folder.resolve("cap-e.csv"))) {
      out.write((HEADER + row(5, 0)).getBytes(StandardCharsets.UTF_8));
      for (int i = 0; i < SPOILT; i++) {
        byte[] spoilt = MqttSourceTest.spoilt(good, random);
        if (Arrays.equals(spoilt, good)) {
          continue;
        }
        out.write(spoilt);
        out.write('\n');
      }
      out.write(row(6, 1).getBytes(StandardCharsets.UTF_8));
    }
    try (Intaking intaking = Intaking.open(data, plan(), bus, Trust.usual())) {
      long lastMs = FIRST_MS + 6 * 86_400_000L + 1000;
      Intaking.until(
          "the last is in the log", () -> frames(6).stream().anyMatch(f -> f.atMs() == lastMs));
      SourceHealth.State state = intaking.state();
      long refused = state.refused().values().stream().mapToLong(Long::longValue).sum();
      assertThat(refused + state.taken() + state.again()).isGreaterThanOrEqualTo(SPOILT);
      assertThat(state.refused().keySet()).contains("bad-time", "bad-value", "incomplete");
      assertThat(state.reconnects()).isZero();
    }
  }
}
