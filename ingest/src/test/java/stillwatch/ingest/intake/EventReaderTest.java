package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import stillwatch.ingest.telemetry.Attendance;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Explanation;
import stillwatch.ingest.telemetry.Observation;
import stillwatch.ingest.telemetry.Operation;
import stillwatch.ingest.telemetry.SurveyItem;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.telemetry.WeatherForecast;

/** Lines that tell what people did: whole as they were said, or refused with a sentence. */
class EventReaderTest {
  private static final String AT = "2026-03-01T00:00:00Z";
  private static final long AT_MS = Instant.parse(AT).toEpochMilli();
  private static final long RECEIVED_MS = AT_MS + 2500;

  private final LineReader reader = OneWell.reader();

  private static String line(String said) {
    return "{\"well\":\"w\",\"at\":\"" + AT + "\"," + said + "}";
  }

  private LineReader.Line read(String said) {
    return reader.read(line(said).getBytes(StandardCharsets.UTF_8), AT_MS, true);
  }

  private Telemetry taken(String said) {
    LineReader.Line read = read(said);
    assertThat(read.refused()).isEmpty();
    return Objects.requireNonNull(read.entry()).apply(RECEIVED_MS);
  }

  @Test
  void whatWasSaidIsLoggedWordForWordWithBothTimes() {
    assertThat(taken("\"operation\":\"valve\",\"text\":\" é “quoted” \",\"by\":\"Ada\""))
        .isEqualTo(
            new Operation(
                "w", AT_MS, RECEIVED_MS, Operation.What.VALVE, "", " é “quoted” ", "Ada"));
    assertThat(taken("\"operation\":\"gauge-zeroed\",\"gauge\":\"P\""))
        .isEqualTo(
            new Operation("w", AT_MS, RECEIVED_MS, Operation.What.GAUGE_ZEROED, "P", "", ""));
    assertThat(taken("\"observation\":\"adverse\",\"means\":\"camera\",\"text\":\"bubbles\""))
        .isEqualTo(
            new Observation(
                "w", AT_MS, RECEIVED_MS, "camera", Observation.Result.ADVERSE, "bubbles", ""));
    assertThat(taken("\"decision\":\"end\",\"by\":\"Ada\",\"why\":\"done\""))
        .isEqualTo(new Decision("w", AT_MS, RECEIVED_MS, Decision.Choice.END, "Ada", "done", 0));
    assertThat(
            taken(
                "\"explanation\":\"gauge\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"Ada\",\"why\":\"zeroed\""))
        .isEqualTo(
            new Explanation(
                "w", AT_MS, RECEIVED_MS, "0a1b2c3d4e5f", Explanation.Cause.GAUGE, "zeroed", "Ada"));
  }

  @Test
  void theNextReviewIsTheMomentThatWasSaidInWhateverOffset() {
    Decision decision =
        (Decision)
            taken(
                "\"decision\":\"continue\",\"by\":\"A\",\"why\":\"so\",\"next_review\":\"2026-03-01T08:00:00+02:00\"");
    assertThat(decision.nextReviewMs())
        .isEqualTo(Instant.parse("2026-03-01T06:00:00Z").toEpochMilli());
  }

  /** What is no text would otherwise be taken with nothing said, and nobody would hear of it. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "\"operation\":\"valve\",\"text\":{\"note\":\"choke shut\"}",
        "\"operation\":\"valve\",\"text\":[\"choke shut\"]",
        "\"operation\":\"valve\",\"text\":null",
        "\"operation\":\"valve\",\"text\":5",
        "\"operation\":\"valve\",\"by\":{\"name\":\"Ada\"}",
        "\"observation\":\"adverse\",\"means\":7",
        "\"observation\":\"adverse\",\"means\":\"camera\",\"text\":[\"bubbles\"]",
        "\"decision\":\"continue\",\"by\":true,\"why\":\"so\"",
        "\"decision\":\"continue\",\"by\":\"A\",\"why\":12",
        "\"decision\":\"continue\",\"by\":\"A\",\"why\":\"so\",\"next_review\":null",
        "\"decision\":\"continue\",\"by\":\"A\",\"why\":\"so\",\"next_review\":\"tomorrow\"",
        "\"explanation\":\"gauge\",\"change\":100000000000,\"by\":\"A\",\"why\":\"so\"",
        "\"explanation\":\"gauge\",\"change\":\"0a1b2c3d4e5f\",\"by\":\"A\",\"why\":3"
      })
  void whatIsNoTextIsRefusedWithASentenceAsTheSchemaHasIt(String said) {
    LineReader.Line read = read(said);
    assertThat(read.entry()).as("taken with what was said left out").isNull();
    assertThat(read.refused()).singleElement().satisfies(r -> assertThat(r.why()).isNotBlank());
  }

  /** A unit that is not where it belongs must not make 460 bar of 460 kPa, nor bad good. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "\"values\":{\"P\":460},\"units\":\"bar\"",
        "\"values\":{\"P\":460},\"units\":[\"bar\"]",
        "\"values\":{\"P\":460},\"units\":null",
        "\"values\":{\"P\":460},\"qualities\":\"bad\"",
        "\"values\":{\"P\":460},\"qualities\":[\"bad\"]"
      })
  void unitsAndQualitiesThatAreNoObjectAreRefused(String said) {
    assertThat(OneWell.SCHEMA.validate(line(said), InputFormat.JSON)).isNotEmpty();
    LineReader.Line read = read(said);
    assertThat(read.entry()).isNull();
    assertThat(read.refused()).singleElement().satisfies(r -> assertThat(r.why()).isNotBlank());
  }

  @Test
  void everyOperationTheLogKnowsCanBeSaid() {
    for (Operation.What what : Operation.What.values()) {
      String gauge = what.gaugeWork() ? ",\"gauge\":\"P\"" : "";
      String said = "\"operation\":\"" + what.wire() + "\"" + gauge;
      assertThat(OneWell.SCHEMA.validate(line(said), InputFormat.JSON)).as(said).isEmpty();
      assertThat(taken(said))
          .isInstanceOfSatisfying(Operation.class, o -> assertThat(o.what()).isEqualTo(what));
    }
  }

  @Test
  void everyDecisionCanBeSaidAndOnlyAnotherCycleSaysWhatChanges() {
    for (Decision.Choice choice : Decision.Choice.values()) {
      String plain = "\"decision\":\"" + choice.wire() + "\",\"by\":\"A\",\"why\":\"so\"";
      String changed = plain + ",\"changes\":\"smaller turns\"";
      boolean cycle = choice == Decision.Choice.CYCLE;
      String right = cycle ? changed : plain;
      String wrong = cycle ? plain : changed;
      assertThat(OneWell.SCHEMA.validate(line(right), InputFormat.JSON)).as(right).isEmpty();
      assertThat(OneWell.SCHEMA.validate(line(wrong), InputFormat.JSON)).as(wrong).isNotEmpty();
      assertThat(taken(right))
          .isEqualTo(
              new Decision(
                  "w", AT_MS, RECEIVED_MS, choice, "A", "so", 0, cycle ? "smaller turns" : ""));
      assertThat(only(wrong)).contains("'changes' says what another cycle does otherwise");
    }
  }

  @Test
  void whoWatchesFromShoreAndTheWeatherAreTakenAsTheSchemaHasThem() {
    String shore = "\"attendance\":\"shore\",\"by\":\"Ada\",\"links\":\"radio\"";
    String site = "\"attendance\":\"site\",\"by\":\"Ada\"";
    String weather =
        "\"weather\":\"likely\",\"by\":\"Ada\",\"text\":\"gale\",\"from\":\"2026-03-01T06:00:00Z\",\"to\":\"2026-03-01T08:00:00Z\"";
    for (String said : List.of(shore, site, weather)) {
      assertThat(OneWell.SCHEMA.validate(line(said), InputFormat.JSON)).as(said).isEmpty();
    }
    assertThat(taken(shore))
        .isEqualTo(new Attendance("w", AT_MS, RECEIVED_MS, Attendance.From.SHORE, "Ada", "radio"));
    assertThat(taken(site))
        .isEqualTo(new Attendance("w", AT_MS, RECEIVED_MS, Attendance.From.SITE, "Ada", ""));
    assertThat(taken(weather))
        .isEqualTo(
            new WeatherForecast(
                "w",
                AT_MS,
                RECEIVED_MS,
                WeatherForecast.Certainty.LIKELY,
                AT_MS + 6 * 3_600_000,
                AT_MS + 8 * 3_600_000,
                "Ada",
                "gale"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "\"attendance\":\"shore\",\"by\":\"Ada\"",
        "\"attendance\":\"shore\",\"by\":\"Ada\",\"links\":\" \"",
        "\"attendance\":\"site\",\"by\":\"Ada\",\"links\":\"radio\"",
        "\"attendance\":\"site\",\"by\":\" \"",
        "\"attendance\":\"home\",\"by\":\"Ada\",\"links\":\"radio\"",
        "\"weather\":\"sure\",\"by\":\"Ada\",\"from\":\"2026-03-01T06:00:00Z\",\"to\":\"2026-03-01T08:00:00Z\"",
        "\"weather\":\"likely\",\"by\":\"Ada\",\"from\":\"2026-03-01T06:00:00Z\"",
        "\"weather\":\"likely\",\"from\":\"2026-03-01T06:00:00Z\",\"to\":\"2026-03-01T08:00:00Z\""
      })
  void anAttendanceOrWeatherThatSaysTooLittleIsRefusedAsTheSchemaHasIt(String said) {
    assertThat(OneWell.SCHEMA.validate(line(said), InputFormat.JSON)).isNotEmpty();
    assertThat(only(said)).isNotBlank();
  }

  @Test
  void whatAPassSawIsTakenAsTheSchemaHasIt() {
    String seen =
        "\"survey\":\"seen\",\"means\":\"camera\",\"pass\":\"dive 12\",\"name\":\"seep 2\",\"kind\":\"bubbles\",\"east\":12.5,\"north\":-3,\"size\":0.4,\"uncertainty\":0.1,\"text\":\"thin\",\"by\":\"Ada\"";
    String gone =
        "\"survey\":\"gone\",\"means\":\"camera\",\"pass\":\"dive 12\",\"name\":\"mound\"";
    String nothing = "\"survey\":\"nothing\",\"means\":\"sonar\",\"pass\":\"line 4\"";
    for (String said : List.of(seen, gone, nothing)) {
      assertThat(OneWell.SCHEMA.validate(line(said), InputFormat.JSON)).as(said).isEmpty();
    }
    assertThat(taken(seen))
        .isEqualTo(
            new SurveyItem(
                "w",
                AT_MS,
                RECEIVED_MS,
                "camera",
                "dive 12",
                SurveyItem.What.SEEN,
                "seep 2",
                Optional.of(new SurveyItem.Shape("bubbles", 12.5, -3, 0.4, 0.1)),
                "thin",
                "Ada"));
    assertThat(taken(gone))
        .isInstanceOfSatisfying(
            SurveyItem.class, s -> assertThat(s.what()).isEqualTo(SurveyItem.What.GONE));
    assertThat(taken(nothing))
        .isInstanceOfSatisfying(SurveyItem.class, s -> assertThat(s.name()).isEmpty());
  }

  private static final String PASS = "\"means\":\"camera\",\"pass\":\"dive 12\",";
  private static final String NAMED = PASS + "\"survey\":\"seen\",\"name\":\"seep 2\",";

  static List<String> hostile() {
    String place = "\"kind\":\"bubbles\",\"east\":1,\"north\":2";
    return List.of(
        PASS + "\"survey\":\"perhaps\",\"name\":\"seep 2\"",
        "\"survey\":\"nothing\",\"means\":\" \",\"pass\":\"4\"",
        "\"survey\":\"nothing\",\"means\":\"camera\"",
        PASS + "\"survey\":\"nothing\",\"name\":\"seep 2\"",
        PASS + "\"survey\":\"gone\"",
        PASS + "\"survey\":\"gone\",\"name\":\"seep 2\"," + place,
        PASS + "\"survey\":\"seen\"," + place,
        PASS + "\"survey\":\"seen\",\"name\":\"" + "x".repeat(101) + "\"," + place,
        NAMED + "\"kind\":\"bubbles\",\"east\":1",
        NAMED + "\"east\":1,\"north\":2",
        NAMED + "\"kind\":\"bubbles\",\"east\":\"1\",\"north\":2",
        NAMED + "\"kind\":\"bubbles\",\"east\":1e9,\"north\":2",
        NAMED + "\"kind\":\"bubbles\",\"east\":1e999,\"north\":2",
        NAMED + place + ",\"size\":0",
        NAMED + place + ",\"size\":null",
        NAMED + place + ",\"uncertainty\":0.1",
        NAMED + place + ",\"size\":1,\"uncertainty\":-0.1",
        NAMED + place + ",\"depth\":3");
  }

  @ParameterizedTest
  @MethodSource("hostile")
  void aLineOfASurveyThatCannotBeIsRefusedAsTheSchemaHasIt(String said) {
    assertThat(OneWell.SCHEMA.validate(line(said), InputFormat.JSON)).isNotEmpty();
    assertThat(only(said)).isNotBlank();
  }

  @Test
  void weatherThatEndsBeforeItBeginsIsRefused() {
    assertThat(
            only(
                "\"weather\":\"likely\",\"by\":\"Ada\",\"from\":\"2026-03-01T08:00:00Z\",\"to\":\"2026-03-01T08:00:00Z\""))
        .isEqualTo("the weather must end later than it begins");
  }

  @Test
  void aRefusalNamesWhatWouldBeTaken() {
    assertThat(only("\"operation\":\"dance\"")).contains("dance", "closure-step");
    assertThat(only("\"observation\":\"fine\",\"means\":\"camera\""))
        .contains("fine", "clear, adverse or inconclusive");
    assertThat(only("\"observation\":\"clear\"")).contains("means", "camera");
    assertThat(only("\"operation\":\"gauge-zeroed\",\"gauge\":\"Q\"")).contains("Q");
    assertThat(only("\"text\":\"hello\"")).contains("operation", "observation", "decision");
  }

  private String only(String said) {
    List<Refusal> refused = read(said).refused();
    assertThat(refused).hasSize(1);
    return refused.get(0).why();
  }
}
