package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.List;
import java.util.Objects;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Quality;

/** Lines of telemetry: the reader and the published schema must say the same. */
class LineReaderTest {
  /** 2026-03-01T00:00:00Z, the time of most lines here. */
  private static final long NOW_MS = 1_772_323_200_000L;

  private final LineReader reader = OneWell.reader();

  private LineReader.Line read(String line) {
    return reader.read(line.getBytes(StandardCharsets.UTF_8), NOW_MS, true);
  }

  private boolean taken(String line) {
    LineReader.Line read = read(line);
    assertThat(read.refused()).allMatch(r -> !r.why().isBlank());
    return read.taken() && read.refused().isEmpty();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"values\":{\"P\":1}}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00.123+01:00\",\"values\":{\"P\":1},\"units\":{\"P\":\"bar\"},\"qualities\":{\"P\":\"bad\"}}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"gauge\":\"P\",\"value\":1.5e3,\"unit\":\"[psi]\",\"quality\":\"uncertain\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"gauge\":\"P\",\"value\":null,\"quality\":\"bad\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"closure-step\",\"text\":\"t\",\"by\":\"b\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"observation\":\"clear\",\"means\":\"camera\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"decision\":\"continue\",\"by\":\"A\",\"why\":\"so\",\"next_review\":\"2026-03-01T06:00:00Z\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"pumping-ended\",\"text\":\"t\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"line-up\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"gauge-zeroed\",\"gauge\":\"P\",\"text\":\"t\",\"by\":\"b\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"surroundings\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"A\",\"why\":\"tide\"}"
      })
  void whatTheSchemaAllowsIsTaken(String line) {
    assertThat(OneWell.SCHEMA.validate(line, InputFormat.JSON)).isEmpty();
    assertThat(taken(line)).isTrue();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{}",
        "[]",
        "7",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\"}",
        "{\"at\":\"2026-03-01T00:00:00Z\",\"values\":{\"P\":1}}",
        "{\"well\":\"w\",\"values\":{\"P\":1}}",
        "{\"well\":\"w\",\"at\":1772323200,\"values\":{\"P\":1}}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"values\":{}}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"values\":{\"P\":\"1\"}}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"values\":{\"P\":1},\"extra\":1}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"gauge\":\"P\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"gauge\":\"P\",\"value\":1,\"quality\":\"fine\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"dance\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"observation\":\"clear\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"decision\":\"continue\",\"by\":\"A\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"decision\":\"perhaps\",\"by\":\"A\",\"why\":\"so\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"gauge-zeroed\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"gauge-zeroed\",\"gauge\":\" \"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"vessel\",\"gauge\":\"P\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"vessel\",\"gauge\":\"\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"gauge-zeroed\",\"gauge\":\"P\",\"value\":1}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"tide\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"A\",\"why\":\"tide\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"well\",\"change\":\"0A1B2C3D4E5F\",\"by\":\"A\",\"why\":\"so\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"well\",\"change\":\"0a1b2c3d4e5f\",\"why\":\"so\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"well\",\"change\":\"0a1b2c3d4e5f\",\"by\":\" \",\"why\":\"so\"}",
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"well\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"A\",\"why\":\"\"}"
      })
  void whatTheSchemaForbidsIsRefusedWithASentence(String line) {
    assertThat(OneWell.SCHEMA.validate(line, InputFormat.JSON)).isNotEmpty();
    assertThat(taken(line)).isFalse();
  }

  @Property
  void whateverComesIsAVerdictNeverAnException(@ForAll byte[] line) {
    LineReader.Line read = reader.read(line, NOW_MS, true);
    assertThat(read.entry() == null).isEqualTo(!read.refused().isEmpty());
  }

  @Property
  void unitsAreConvertedExactlyAsTheirDefinitionsSay(@ForAll short bar) {
    String line =
        "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"gauge\":\"P\",\"value\":%d,\"unit\":\"bar\"}"
            .formatted(bar);
    var entry =
        Objects.requireNonNull(
            reader.read(line.getBytes(StandardCharsets.UTF_8), NOW_MS, true).entry());
    var frame = (Frame) entry.apply(5);
    assertThat(frame.values()).containsExactly(bar * 100.0); // 1 bar is 100 kPa by definition
    assertThat(frame.receivedMs()).isEqualTo(5);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "\"values\":{\"P\":45000}",
        "\"operation\":\"vessel\"",
        "\"observation\":\"clear\",\"means\":\"camera\"",
        "\"decision\":\"continue\",\"by\":\"A\",\"why\":\"so\"",
        "\"explanation\":\"well\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"A\",\"why\":\"so\""
      })
  void whatIsStampedFurtherAheadThanThePlanAllowsIsRefusedWithASentence(String said) {
    assertThat(taken("{\"well\":\"w\",\"at\":\"2026-03-01T00:02:00Z\"," + said + "}")).isTrue();

    LineReader.Line read =
        read("{\"well\":\"w\",\"at\":\"2026-03-01T00:02:00.001Z\"," + said + "}");
    assertThat(read.taken()).isFalse();
    assertThat(read.refused())
        .singleElement()
        .satisfies(
            r -> {
              assertThat(r.reason()).isEqualTo(Refusal.Reason.STAMPED_AHEAD);
              assertThat(r.why())
                  .contains("stamped 2 min ahead")
                  .contains("says 2026-03-01T00:00:00Z")
                  .contains("at most 2 min");
            });
  }

  @Test
  void theLogHearsOfReadingsThatAreRefusedForTheirTimeButNotWhatTheySay() {
    LineReader.Line read =
        read("{\"well\":\"w\",\"at\":\"2026-03-02T00:00:00Z\",\"values\":{\"P\":45000,\"Q\":1}}");
    assertThat(read.refused())
        .extracting(Refusal::reason)
        .containsExactly(Refusal.Reason.UNKNOWN_GAUGE, Refusal.Reason.STAMPED_AHEAD);
    assertThat(Objects.requireNonNull(read.entry()).apply(NOW_MS))
        .isEqualTo(
            new Frame(
                "w",
                NOW_MS + 86_400_000,
                NOW_MS,
                GaugeSet.of("P"),
                new double[] {Double.NaN},
                new byte[] {Quality.BAD.code()}));
  }

  private static String operation(String text) {
    return "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"operation\":\"valve\",\"text\":\""
        + text
        + "\"}";
  }

  private static Refusal.Reason only(LineReader.Line read) {
    assertThat(read.entry()).isNull();
    assertThat(read.refused()).hasSize(1);
    return read.refused().get(0).reason();
  }

  @Test
  void halfOfASurrogatePairIsRefusedWhereverItStands() {
    assertThat(taken(operation("\\ud83d\\ude00 is a whole one"))).isTrue();
    for (String half : List.of("\\ud800", "\\udc00", "\\udc00\\ud800", "\\ud800 x", "\\u0000")) {
      assertThat(only(read(operation(half)))).as(half).isEqualTo(Refusal.Reason.NOT_TEXT);
      assertThat(
              only(
                  read(
                      "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"values\":{\"P\":1,\""
                          + half
                          + "\":1}}")))
          .as("%s as a gauge", half)
          .isIn(Refusal.Reason.NOT_TEXT, Refusal.Reason.NOT_JSON);
    }
  }

  @Test
  void whatIsNotUtf8IsRefused() {
    byte[] line = operation("?").getBytes(StandardCharsets.UTF_8);
    for (String wrong : List.of("ff", "c080", "eda080", "f4908080", "e28")) {
      byte[] bytes = HexFormat.of().parseHex(wrong.length() % 2 == 0 ? wrong : wrong + "0");
      ByteArrayOutputStream bad = new ByteArrayOutputStream();
      bad.write(line, 0, line.length - 3);
      bad.writeBytes(bytes);
      bad.write(line, line.length - 2, 2);
      assertThat(only(reader.read(bad.toByteArray(), NOW_MS, true)))
          .as(wrong)
          .isEqualTo(Refusal.Reason.NOT_TEXT);
    }
  }

  @Test
  void whatIsTooDeepOrTooLongIsRefused() {
    assertThat(only(read("{\"well\":" + "[".repeat(8) + "]".repeat(8) + "}")))
        .isEqualTo(Refusal.Reason.TOO_DEEP);
    assertThat(taken(operation("x".repeat(5000)))).isTrue();
    assertThat(only(read(operation("x".repeat(5001))))).isEqualTo(Refusal.Reason.TOO_LONG);
  }

  @Test
  void whoMayOnlyFeedTellsNothing() {
    for (String line :
        List.of(
            operation("choke"),
            "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"decision\":\"reopen\",\"by\":\"A\",\"why\":\"so\"}",
            "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"observation\":\"clear\",\"means\":\"camera\"}",
            "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"explanation\":\"gauge\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"A\",\"why\":\"so\"}")) {
      assertThat(taken(line)).as(line).isTrue();
      assertThat(only(reader.read(line.getBytes(StandardCharsets.UTF_8), NOW_MS, false)))
          .as(line)
          .isEqualTo(Refusal.Reason.NOT_ALLOWED);
    }
    String reading = "{\"well\":\"w\",\"at\":\"2026-03-01T00:00:00Z\",\"gauge\":\"P\",\"value\":1}";
    assertThat(reader.read(reading.getBytes(StandardCharsets.UTF_8), NOW_MS, false).taken())
        .isTrue();
  }
}
