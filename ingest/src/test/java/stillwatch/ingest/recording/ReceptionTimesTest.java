package stillwatch.ingest.recording;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.LongUnaryOperator;
import java.util.stream.LongStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import net.jqwik.api.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.recording.RecordingLayout.Column;
import stillwatch.ingest.recording.RecordingLayout.Shape;
import stillwatch.ingest.recording.RecordingLayout.TimeColumn;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.unit.Kind;

/** When rows that do not say it were received. Times are seconds here. */
class ReceptionTimesTest {
  private static final long HOUR_S = 3600;
  private static final long DAY_S = 86_400;

  @TempDir Path folder;
  private final Problems problems = new Problems();

  private static List<Column> columns() {
    return List.of(
        new Column("a", "A", Kind.PRESSURE, "kPa", null),
        new Column("b", "B", Kind.PRESSURE, "kPa", null));
  }

  private static RecordingLayout layout(Shape shape, boolean received) {
    TimeColumn time = new TimeColumn("time", TimeFormat.EPOCH_S, null, ZoneId.of("UTC"));
    return new RecordingLayout(
        "w",
        shape,
        time,
        received ? "received" : null,
        null,
        columns(),
        shape == Shape.LONG ? "gauge" : null,
        shape == Shape.LONG ? "value" : null,
        null);
  }

  private List<Telemetry> entries(String text, RecordingLayout layout) throws IOException {
    Path file = Files.writeString(folder.resolve("r.csv"), text);
    List<Telemetry> all = new ArrayList<>();
    try (RecordingFeed feed = RecordingFeed.open(file, layout, problems)) {
      for (@Nullable Telemetry e = feed.next(); e != null; e = feed.next()) {
        all.add(e);
      }
    }
    assertThat(all).extracting(Telemetry::receivedMs).isSorted();
    return all;
  }

  /** The seconds at which the frames of a wide recording with these stamps were received. */
  private long[] received(long... stamps) throws IOException {
    StringBuilder text = new StringBuilder("time,a,b\n");
    for (long s : stamps) {
      text.append(s).append(",1,2\n");
    }
    List<Frame> frames =
        entries(text.toString(), layout(Shape.WIDE, false)).stream()
            .filter(Frame.class::isInstance)
            .map(Frame.class::cast)
            .toList();
    assertThat(frames.stream().mapToLong(f -> f.atMs() / 1000)).containsExactly(box(stamps));
    return frames.stream().mapToLong(f -> f.receivedMs() / 1000).toArray();
  }

  private static Long[] box(long[] values) {
    return Arrays.stream(values).boxed().toArray(Long[]::new);
  }

  /** Stamps of rows 0, 1, 2 … so many, each moved from its true time as the function says. */
  private static long[] stamps(int rows, long periodS, LongUnaryOperator moved) {
    return LongStream.range(0, rows).map(i -> DAY_S + i * periodS + moved.applyAsLong(i)).toArray();
  }

  private static long[] truth(int rows, long periodS) {
    return stamps(rows, periodS, i -> 0);
  }

  @ParameterizedTest
  @CsvSource({"1, 86400", "1, 3600", "1, 90", "10, 86400", "60, 3600", "300, 3600", "300, 86400"})
  void oneRowStampedAheadMovesNothing(long periodS, long aheadS) throws IOException {
    assertThat(received(stamps(100, periodS, i -> i == 50 ? aheadS : 0)))
        .containsExactly(truth(100, periodS));
    assertThat(problems.count(Problems.Sort.STAMPED_AHEAD)).isEqualTo(1);
    assertThat(problems.report()).anyMatch(line -> line.contains("r.csv:52: "));
  }

  @Test
  void twoMinutesOfRowsStampedADayAheadMoveNothing() throws IOException {
    assertThat(received(stamps(600, 1, i -> i >= 200 && i < 320 ? DAY_S : 0)))
        .containsExactly(truth(600, 1));
    assertThat(problems.count(Problems.Sort.STAMPED_AHEAD)).isEqualTo(120);
  }

  @Test
  void aFirstRowStampedAheadDoesNotStartTheTime() throws IOException {
    long[] received = received(stamps(100, 1, i -> i == 0 ? DAY_S : 0));
    assertThat(received[0]).isEqualTo(DAY_S + 1);
    assertThat(Arrays.copyOfRange(received, 1, 100))
        .containsExactly(Arrays.copyOfRange(truth(100, 1), 1, 100));
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 10, 60, 300})
  void whereTheClockIsSetBackAnHourForGoodReceptionGoesOn(long periodS) throws IOException {
    assertThat(received(stamps(200, periodS, i -> i >= 50 ? -HOUR_S : 0)))
        .containsExactly(truth(200, periodS));
    assertThat(problems.count(Problems.Sort.SET_BACK)).isEqualTo(1);
  }

  @Test
  void aClockSetBackAndRightAgainLeavesNoGap() throws IOException {
    assertThat(received(stamps(3000, 1, i -> i >= 500 && i < 2000 ? -HOUR_S : 0)))
        .containsExactly(truth(3000, 1));
  }

  @Test
  void aPulseIsHeardInEverySecondWhateverTheStampsSay() throws IOException {
    StringBuilder text = new StringBuilder("time,a,b\n");
    for (long s : stamps(300, 1, i -> i == 100 ? DAY_S : i >= 200 ? -HOUR_S : 0)) {
      text.append(s).append(",1,2\n");
    }
    assertThat(entries(text.toString(), layout(Shape.WIDE, false)))
        .filteredOn(Pulse.class::isInstance)
        .extracting(p -> p.receivedMs() / 1000)
        .containsExactly(box(Arrays.copyOfRange(truth(300, 1), 1, 300)));
  }

  @ParameterizedTest
  @ValueSource(longs = {61, HOUR_S, 2 * DAY_S})
  void anOutageIsAGapAsLongAsTheStampsSay(long lengthS) throws IOException {
    long[] stamps = stamps(100, 1, i -> i >= 50 ? lengthS : 0);
    assertThat(received(stamps)).containsExactly(stamps);
    assertThat(problems.count(Problems.Sort.STAMPED_AHEAD)).isZero();
  }

  @Test
  void aGapBeforeTheLastRowIsAGap() throws IOException {
    assertThat(received(0, 1, 2, 3, DAY_S)).containsExactly(0, 1, 2, 3, DAY_S);
  }

  @Test
  void lateAndDoubledRowsLeaveReceptionWhereItIs() throws IOException {
    assertThat(received(100, 101, 101, 102, 72, 103, 103, 102, 104))
        .containsExactly(100, 101, 101, 102, 102, 103, 103, 103, 104);
    long[] oneAnHourLate = stamps(100, 1, i -> i == 50 ? -HOUR_S : 0);
    long[] expected = truth(100, 1);
    expected[50] = expected[49];
    assertThat(received(oneAnHourLate)).containsExactly(expected);
  }

  @Test
  void aBacklogThatFillsAnOutageComesAtOnce() throws IOException {
    // a hundred seconds, an hour of silence, a hundred seconds, the hour, and on
    long[] stamps =
        LongStream.concat(
                LongStream.concat(
                    LongStream.range(0, 100), LongStream.range(HOUR_S + 100, HOUR_S + 200)),
                LongStream.concat(
                    LongStream.range(100, HOUR_S + 100),
                    LongStream.range(HOUR_S + 200, HOUR_S + 300)))
            .toArray();
    long newest = 0;
    long[] expected = new long[stamps.length];
    for (int i = 0; i < stamps.length; i++) {
      newest = Math.max(newest, stamps[i]);
      expected[i] = newest;
    }
    assertThat(received(stamps)).containsExactly(expected);
  }

  @Property(tries = 300)
  void rowsInOrderAreReceivedWhenTheyAreStamped(
      @ForAll @Size(min = 1, max = 200) List<@LongRange(max = 3000) Long> steps)
      throws IOException {
    folder = Files.createTempDirectory("reception");
    long[] stamps = new long[steps.size()];
    long s = DAY_S;
    for (int i = 0; i < stamps.length; i++) {
      long step = steps.get(i);
      s += step < 2000 ? 1 : step < 2700 ? step % 5 : step < 2950 ? step - 2600 : step * 40;
      stamps[i] = s;
    }
    assertThat(received(stamps)).containsExactly(stamps);
    Files.deleteIfExists(folder.resolve("r.csv"));
    Files.deleteIfExists(folder);
  }

  /** Two gauges with a reading a row, the second's clock so far off. */
  @ParameterizedTest
  @ValueSource(longs = {-HOUR_S, -90, -5, 5})
  void aGaugeWithAClockOfItsOwnDoesNotMoveTheTimeOfTheOthers(long offS) throws IOException {
    StringBuilder text = new StringBuilder("time,gauge,value\n");
    for (long s = DAY_S; s < DAY_S + 200; s++) {
      text.append(s).append(",a,1\n").append(s + offS).append(",b,2\n");
    }
    assertThat(entries(text.toString(), layout(Shape.LONG, false)))
        .filteredOn(Frame.class::isInstance)
        .allSatisfy(
            e -> {
              Frame f = (Frame) e;
              long trueMs = Double.isNaN(f.values()[0]) ? f.atMs() - offS * 1000 : f.atMs();
              assertThat(f.receivedMs()).isBetween(trueMs - 1000, trueMs + 5000);
            });
    assertThat(problems.count(Problems.Sort.SET_BACK)).isZero();
    assertThat(problems.count(Problems.Sort.STAMPED_AHEAD)).isZero();
  }

  @Test
  void whatARecordingSaysOfReceptionIsBelieved() throws IOException {
    String text =
        """
        time,received,a,b
        100,,1,2
        101,,1,2
        90000,102,1,2
        103,,1,2
        104,9000,1,2
        105,9000,1,2
        9001,,1,2
        """;
    assertThat(entries(text, layout(Shape.WIDE, true)))
        .filteredOn(Frame.class::isInstance)
        .extracting(e -> e.receivedMs() / 1000)
        .containsExactly(100L, 101L, 102L, 103L, 9000L, 9000L, 9001L);
    assertThat(problems.count(Problems.Sort.STAMPED_AHEAD)).isZero();
  }
}
