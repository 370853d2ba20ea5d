package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;
import stillwatch.ingest.unit.Kind;

/** Entries of a log, written as lines and read again. */
class LogLineTest {
  private static final String WELL = "larkspur-2";
  private static final IntakeWell KNOWN =
      new IntakeWell(
          WELL,
          Map.of(
              "PT-1", new IntakeWell.Gauge(Kind.PRESSURE, "bar"),
              "TT-1", new IntakeWell.Gauge(Kind.TEMPERATURE, "[degF]")),
          Duration.ofMinutes(2));
  private static final long AT_MS = 1_772_949_600_123L;

  @TempDir Path folder;

  private List<Telemetry> read(List<String> lines, Problems problems) throws IOException {
    Path file = Files.write(folder.resolve("log.ndjson"), lines);
    List<Telemetry> all = new ArrayList<>();
    try (LinesRecording recording = LinesRecording.open(file, KNOWN, problems)) {
      for (Telemetry e = recording.next(); e != null; e = recording.next()) {
        all.add(e);
      }
    }
    return all;
  }

  @Test
  void whatIsWrittenIsReadAgainAsItWas() throws IOException {
    GaugeSet both = GaugeSet.of("PT-1", "TT-1");
    long came = AT_MS + 437; // by another clock than the readings'
    List<Telemetry> log =
        List.of(
            new Pulse(WELL, came, came),
            new Frame(WELL, AT_MS, came, both, new double[] {46_900.1, 4.3}, new byte[] {0, 1}),
            new Frame(
                WELL,
                AT_MS - 9_000,
                came,
                both,
                new double[] {Double.NaN, 0.1 + 0.2},
                new byte[] {2, 0}),
            new Operation(
                WELL,
                AT_MS,
                came + 1,
                Operation.What.GAUGE_ZEROED,
                "PT-1",
                "a \"text\"",
                "A. Berg"),
            new Observation(
                WELL, AT_MS, came + 1, "camera", Observation.Result.CLEAR, "no bubbles", "crew"),
            new Decision(
                WELL,
                AT_MS,
                came + 2,
                Decision.Choice.CONTINUE,
                "the deciders",
                "as expected",
                AT_MS + 6_000),
            new Decision(
                WELL,
                AT_MS,
                came + 2,
                Decision.Choice.CYCLE,
                "the deciders",
                "a slower closing",
                0,
                "ten part-turns"),
            new Explanation(
                WELL,
                AT_MS,
                came + 2,
                "0a1b2c3d4e5f",
                Explanation.Cause.of("gauge"),
                "zeroed",
                "A. Berg"),
            new WeatherForecast(
                WELL,
                AT_MS,
                came + 3,
                WeatherForecast.Certainty.LIKELY,
                AT_MS + 3_600_000,
                AT_MS + 7_200_000,
                "N. Berg",
                "gale"),
            new Attendance(
                WELL, AT_MS, came + 4, Attendance.From.SHORE, "N. Berg", "satellite mail, radio"),
            new Attendance(WELL, AT_MS, came + 5, Attendance.From.SITE, "A. Berg", ""),
            new SurveyItem(
                WELL,
                AT_MS,
                came + 6,
                "camera",
                "dive 12",
                SurveyItem.What.SEEN,
                "seep 2",
                Optional.of(new SurveyItem.Shape("bubbles", 12.5, -3, 0.4, 0.1)),
                "a thin line",
                "crew"),
            new SurveyItem(
                WELL,
                AT_MS,
                came + 7,
                "camera",
                "dive 12",
                SurveyItem.What.SEEN,
                "crack",
                Optional.of(new SurveyItem.Shape("crack", 1, 2, Double.NaN, Double.NaN)),
                "",
                ""),
            new SurveyItem(
                WELL,
                AT_MS,
                came + 8,
                "camera",
                "dive 12",
                SurveyItem.What.GONE,
                "mound",
                Optional.empty(),
                "",
                "crew"),
            new SurveyItem(
                WELL,
                AT_MS,
                came + 9,
                "sonar",
                "line 4",
                SurveyItem.What.NOTHING,
                "",
                Optional.empty(),
                "",
                "crew"),
            new Pulse(WELL, came + 1000, came + 1000));
    Problems problems = new Problems();

    assertThat(read(log.stream().map(e -> LogLine.of(e, KNOWN)).toList(), problems)).isEqualTo(log);
    assertThat(problems.report()).isEmpty();
  }

  @Test
  void linesThatDoNotSayWhenTheyWereReceivedWereWhenTheyAreStamped() throws IOException {
    String line =
        "{\"well\":\"larkspur-2\",\"at\":\"2026-03-08T06:00:0%s\",\"gauge\":\"PT-1\",\"value\":469}";
    Problems problems = new Problems();
    List<Telemetry> log =
        read(
            List.of(
                line.formatted("0.500Z"),
                "",
                line.formatted("2.500Z"),
                line.formatted("2Z"),
                "no line"),
            problems);

    assertThat(log)
        .extracting(e -> e.receivedMs() % 60_000)
        .containsExactly(500L, 1000L, 2000L, 2500L, 2500L);
    assertThat(((Frame) log.get(0)).values()).containsExactly(46_900);
    assertThat(problems.count(Problems.Sort.REFUSED)).isEqualTo(1);
  }
}
