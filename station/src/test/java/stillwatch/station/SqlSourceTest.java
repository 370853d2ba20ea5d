package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
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

/** Rows of a real PostgreSQL, which come late, with equal times, spoilt, and while it is cut. */
@Timeout(300)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class SqlSourceTest {
  private static final int SPOILT = Integer.getInteger("stillwatch.spoilt", 3000);
  private static final int READINGS = Integer.getInteger("stillwatch.readings", 3000);
  private static final int CUTS = 10;
  private static final String PASSWORD = "a word for the test";
  private static final Instant FROM = Instant.parse("2026-03-08T06:00:00Z"); // of the example

  private final Path all;
  private final EmbeddedBroker kafka;
  private final EmbeddedPostgres postgres;
  private final Bus bus;
  private final FollowedLog log;
  private String table = "";
  private Instant first = FROM;
  private int days;
  private Path folder;

  SqlSourceTest(@TempDir Path all) throws Exception {
    this.all = all;
    folder = all;
    kafka = EmbeddedBroker.start(all.resolve("kafka")).get();
    Path who =
        Files.writeString(
            all.resolve("who.conf"),
            """
            host all postgres 127.0.0.1/32 trust
            host all postgres ::1/128 trust
            host all all 127.0.0.1/32 scram-sha-256
            """);
    postgres = EmbeddedPostgres.builder().setServerConfig("hba_file", who.toString()).start();
    bus = KafkaBus.open(new BusSettings(kafka.bootstrap(), Map.of()));
    log = FollowedLog.of(bus);
    sql("CREATE ROLE watch LOGIN PASSWORD '" + PASSWORD + "'");
  }

  @BeforeEach
  void anew(TestInfo test) throws Exception {
    table = test.getTestMethod().orElseThrow().getName().toLowerCase(Locale.ROOT);
    table = table.substring(0, Math.min(60, table.length()));
    folder = Files.createDirectories(all.resolve(table));
    Files.writeString(folder.resolve("secret"), PASSWORD + "\n");
    first = FROM.plus(Duration.ofDays(++days)); // the same readings twice are known again
    sql("CREATE TABLE " + table + " (at timestamptz, tag text, value text, status text)");
    sql("GRANT SELECT ON " + table + " TO watch");
  }

  @AfterAll
  void close() throws Exception {
    log.close();
    bus.close();
    postgres.close();
    kafka.close();
  }

  private void sql(String text) throws SQLException {
    try (Connection c = postgres.getPostgresDatabase().getConnection();
        Statement s = c.createStatement()) {
      s.execute(text);
    }
  }

  /** A row after so many ms. */
  private record Row(long afterMs, String tag, String value, @Nullable String status) {}

  private void insert(List<Row> rows) throws SQLException {
    try (Connection c = postgres.getPostgresDatabase().getConnection();
        PreparedStatement s = c.prepareStatement("INSERT INTO " + table + " VALUES (?, ?, ?, ?)")) {
      for (Row row : rows) {
        s.setObject(1, first.plusMillis(row.afterMs()).atOffset(ZoneOffset.UTC));
        s.setString(2, row.tag());
        s.setString(3, row.value());
        s.setString(4, row.status());
        s.addBatch();
      }
      s.executeBatch();
    }
  }

  private static Row row(long afterMs, double value) {
    return new Row(afterMs, "CAP.P1", String.valueOf(value), "good");
  }

  /** The example of the documents, at this test's table, asked more often. */
  private String example() throws Exception {
    String doc = Files.readString(Path.of("../docs/adapters.md"));
    int from = doc.indexOf("sources:\n  sql:");
    return doc.substring(from, doc.indexOf("```", from))
        .replace("jdbc:postgresql://historian.example/plant?sslmode=verify-full", url())
        .replace("/etc/stillwatch/historian.secret", folder.resolve("secret").toString())
        .replace("FROM readings", "FROM " + table)
        .replace("every: 2 s", "every: 0.1 s");
  }

  private String url() {
    return "jdbc:postgresql://127.0.0.1:" + postgres.getPort() + "/postgres";
  }

  private Intaking open(String sources) throws Exception {
    Plan plan = Intaking.plan(folder, sources);
    return Intaking.open(folder, plan, bus, Trust.usual());
  }

  /** What the log has of a gauge since the test began; times in ms after the first. */
  private List<String> says(String gauge, int before) {
    List<Frame> frames = log.now(gauge);
    return frames.subList(before, frames.size()).stream()
        .map(
            f ->
                (f.atMs() - first.toEpochMilli())
                    + " "
                    + Math.round(f.values()[0])
                    + " "
                    + f.qualities()[0])
        .toList();
  }

  private int before(String gauge) {
    return log.now(gauge).size();
  }

  @Test
  void theExampleOfTheDocuments() throws Exception {
    first = FROM;
    int one = before("PT-1");
    int two = before("PT-2");
    insert(
        List.of(
            new Row(-1, "CAP.P1", "40", "good"), // before 'from'
            new Row(0, "CAP.P1", "46.9", "good"),
            new Row(0, "CAP.P2", "46.89", "0x40000000"), // uncertain, by OPC 10000-4
            new Row(1000, "CAP.P1", "46.901", null)));
    try (Intaking intaking = open(example())) {
      Intaking.until("three are there", () -> says("PT-1", one).size() == 2);
      assertThat(says("PT-1", one)).containsExactly("0 46900 0", "1000 46901 0");
      assertThat(says("PT-2", two)).containsExactly("0 46890 1");
      assertThat(intaking.state().fault()).isEmpty();
      assertThat(intaking.state().refused()).isEmpty();
    }
  }

  @Test
  void rowsWithEqualTimesAndLateOnesAreTakenOnceWhateverIsRestarted() throws Exception {
    int before = before("PT-1");
    insert(List.of(row(0, 46.1), row(5000, 46.2), row(5000, 46.3)));
    try (Intaking intaking = open(example())) {
      Intaking.until("they are there", () -> says("PT-1", before).size() == 3);
      insert(List.of(row(5000, 46.4), row(2000, 46.5))); // the same time again, and a late one
      Intaking.until("these too", () -> says("PT-1", before).size() == 5);
    }
    insert(List.of(row(5000, 46.6), row(1000, 46.7)));
    try (Intaking intaking = open(example())) {
      Intaking.until("and these", () -> says("PT-1", before).size() == 7);
      insert(List.of(row(6_000_000, 46.8)));
      Intaking.until("and a much newer one", () -> says("PT-1", before).size() == 8);
      insert(List.of(row(5_000_000, 46.85), row(5_500_000, 46.9))); // before and in the look-back
      Intaking.until("and the last", () -> says("PT-1", before).size() == 9);
      assertThat(says("PT-1", before))
          .containsExactlyInAnyOrder(
              "0 46100 0",
              "5000 46200 0",
              "5000 46300 0",
              "5000 46400 0",
              "2000 46500 0",
              "5000 46600 0",
              "1000 46700 0",
              "6000000 46800 0",
              "5500000 46900 0");
      assertThat(intaking.state().again()).isZero();
    }
  }

  @Test
  void aRowThatIsAheadDoesNotHideWhatComesAfterIt() throws Exception {
    int before = before("PT-1");
    long aheadMs = Instant.now().toEpochMilli() - first.toEpochMilli() + 86_400_000;
    insert(List.of(row(0, 46.1), row(aheadMs, 46.2)));
    try (Intaking intaking = open(example())) {
      Intaking.until(
          "it is refused", () -> intaking.state().refused().containsKey("stamped-ahead"));
      insert(List.of(row(1000, 46.3)));
      Intaking.until("the next is there", () -> says("PT-1", before).contains("1000 46300 0"));
    }
  }

  @Test
  void aWideAnswerThatLacksAColumnTellsItsGaugeAndGivesTheOther() throws Exception {
    int before = before("PT-1");
    insert(List.of(row(0, 46.1)));
    String wide =
        """
        sources:
          sql:
            - name: historian
              url: "%s"
              user: watch
              password-file: %s
              query: SELECT extract(epoch from at) AS t, value AS p1 FROM %s WHERE extract(epoch from at) >= ? ORDER BY at
              from: "2026-03-08T06:00:00Z"
              layout:
                time: {column: t, format: epoch-s}
                columns: {PT-1: {column: p1, unit: MPa}, PT-2: {column: p2, unit: MPa}}
        """
            .formatted(url(), folder.resolve("secret"), table);
    try (Intaking intaking = open(wide)) {
      Intaking.until("it is there", () -> says("PT-1", before).contains("0 46100 0"));
      assertThat(intaking.state().connected()).isTrue();
      assertThat(intaking.state().fault()).contains("no column 'p2' of PT-2");
    }
  }

  @Test
  void whatIsWrongIsToldInOneSentence() throws Exception {
    tells(example().replace("FROM " + table, "FROM nowhere"), "\"nowhere\" does not exist");
    tells(example().replace("value, status", "valu, status"), "column \"valu\" does not exist");
    tells(example().replace("tag, value", "tag AS it, value"), "historian: has no column 'tag'");
    tells(example().replace("SELECT at,", "SELECT at AS t,"), "gives no column 'at'");
    tells(example().replace("SELECT at,", "SELECT at::text AS at,"), "is of type text");
    tells(example().replace("/postgres\"", "/elsewhere\""), "correct the name of the database");
    insert(List.of(row(0, 46.1), row(1000, 46.2)));
    tells(example().replace("ORDER BY at", "ORDER BY at DESC"), "in the order of their times");
    Files.writeString(folder.resolve("secret"), "another word");
    tells(example(), "nothing comes of PT-1, PT-2", "password-file");
    Files.delete(folder.resolve("secret"));
    tells(example(), "the password in");
  }

  private void tells(String sources, String... parts) throws Exception {
    try (Intaking intaking = open(sources)) {
      Intaking.until(
          "it says " + String.join(", ", parts) + " but says " + intaking.state().fault(),
          () -> List.of(parts).stream().allMatch(p -> intaking.state().fault().contains(p)));
      assertThat(intaking.state().connected()).isFalse();
      assertThat(intaking.state().fault()).doesNotContain("\n");
    }
  }

  @Test
  void eachReadingIsInTheLogOnceAndInOrderWhateverIsCutOrKilled() throws Exception {
    Files.writeString(
        folder.resolve("plan.yaml"),
        Files.readString(WatchProcess.LARKSPUR.resolve("plan.yaml")) + "\n" + example());
    List<String> gauges = List.of("PT-1");
    CompletableFuture<Void> writing = new CompletableFuture<>();
    int had = before("PT-1");
    WatchProcess watch = watch();
    try {
      for (int cut = 0; cut < CUTS; cut++) {
        int from = cut * READINGS / CUTS;
        int to = (cut + 1) * READINGS / CUTS;
        insertSteps(from, (from + to) / 2);
        Intaking.until("its connection is cut", this::cut);
        insertSteps((from + to) / 2, to);
        if (cut == CUTS / 2) {
          watch.kill();
          watch = watch();
        }
        log.has(had + (from + to) / 2, gauges, writing);
      }
      log.has(had + READINGS, gauges, writing);
    } finally {
      watch.stop();
    }
    List<Frame> frames = log.now("PT-1").subList(had, log.frames("PT-1").size());
    assertThat(frames).hasSize(READINGS);
    for (int i = 0; i < READINGS; i++) {
      assertThat(frames.get(i).atMs()).isEqualTo(first.toEpochMilli() + i / 3 * 1000L);
      assertThat(Math.round(frames.get(i).values()[0])).isEqualTo(40_000 + i);
    }
  }

  /** Ends the watch's connection; whether it had one. */
  private boolean cut() {
    try (Connection c = postgres.getPostgresDatabase().getConnection();
        Statement s = c.createStatement();
        ResultSet ended =
            s.executeQuery(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = 'watch'")) {
      return ended.next() && ended.getBoolean(1);
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  /** Three with each time. */
  private void insertSteps(int from, int to) throws SQLException {
    insert(IntStream.range(from, to).mapToObj(i -> row(i / 3 * 1000L, 40 + i / 1000.0)).toList());
  }

  private WatchProcess watch() throws Exception {
    return WatchProcess.at(kafka.bootstrap(), folder.resolve("plan.yaml"), folder.resolve("data"));
  }

  @Test
  void spoiltRowsAreRefusedWithAReasonAndNoneEndsTheSource() throws Exception {
    int before = before("PT-1");
    Random random = new Random(26);
    byte[] good = "CAP.P1|46.5|good".getBytes(StandardCharsets.UTF_8);
    List<Row> rows = new ArrayList<>();
    for (int i = 0; i < SPOILT; i++) {
      String spoilt =
          new String(MqttSourceTest.spoilt(good, random), StandardCharsets.ISO_8859_1)
              .replace("\0", "\\0");
      String[] cells = (spoilt + "||").split("\\|", -1);
      rows.add(new Row(1000L + i, cells[0], cells[1], cells[2]));
    }
    rows.add(row(10_000_000, 46.9));
    insert(rows);
    try (Intaking intaking = open(example())) {
      Intaking.until("the last is there", () -> says("PT-1", before).contains("10000000 46900 0"));
      SourceHealth.State state = intaking.state();
      long refused = state.refused().values().stream().mapToLong(Long::longValue).sum();
      assertThat(refused).isGreaterThan(SPOILT / 10);
      assertThat(state.refused().keySet()).contains("bad-value", "unknown-gauge");
      assertThat(state.reconnects()).isZero();
    }
  }
}
