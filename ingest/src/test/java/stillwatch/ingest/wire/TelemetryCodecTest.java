package stillwatch.ingest.wire;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.bus.Message;
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

/** Telemetry to bytes and back, in both forms. */
class TelemetryCodecTest {
  @Provide
  Arbitrary<Telemetry> entries() {
    Arbitrary<Long> at = Arbitraries.longs().between(0, 4_000_000_000_000L);
    Arbitrary<String> text = Arbitraries.strings().ofMaxLength(20);
    Arbitrary<String> said = text.filter(t -> !t.isBlank());
    Arbitrary<Double> value =
        Arbitraries.oneOf(
            Arbitraries.doubles(),
            Arbitraries.of(Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY));
    Arbitrary<Telemetry> frames =
        Combinators.combine(at, at, value.array(double[].class).ofMinSize(1).ofMaxSize(40))
            .as(
                (a, r, values) -> {
                  String[] ids = new String[values.length];
                  Arrays.setAll(ids, i -> "G-" + i);
                  byte[] qualities = new byte[values.length];
                  for (int i = 0; i < values.length; i++) {
                    qualities[i] = (byte) (i % 3);
                  }
                  return new Frame("w", a, r, GaugeSet.of(ids), values, qualities);
                });
    return Arbitraries.oneOf(
        frames,
        Combinators.combine(at, at).as((a, r) -> new Pulse("w", a, r)),
        Combinators.combine(at, at, Arbitraries.of(Operation.What.class), text, text)
            .as(
                (a, r, what, t, by) ->
                    new Operation("w", a, r, what, what.gaugeWork() ? "G-1" : "", t, by)),
        Combinators.combine(at, at, Arbitraries.of(Explanation.Cause.class), said, said)
            .as((a, r, cause, t, by) -> new Explanation("w", a, r, "0123456789ab", cause, t, by)),
        Combinators.combine(at, at, Arbitraries.of(Attendance.From.class), said, said)
            .as(
                (a, r, from, by, links) ->
                    new Attendance(
                        "w", a, r, from, by, from == Attendance.From.SHORE ? links : "")),
        Combinators.combine(at, at, Arbitraries.of(WeatherForecast.Certainty.class), at, said, text)
            .as(
                (a, r, certainty, from, by, t) ->
                    new WeatherForecast("w", a, r, certainty, from, from + 1 + r, by, t)),
        Combinators.combine(
                at, at, said, said, Arbitraries.of(SurveyItem.What.class), shapes(said), text, text)
            .as(
                (a, r, means, name, what, shape, t, by) ->
                    new SurveyItem(
                        "w",
                        a,
                        r,
                        means,
                        name,
                        what,
                        what == SurveyItem.What.NOTHING ? "" : name,
                        what == SurveyItem.What.SEEN ? Optional.of(shape) : Optional.empty(),
                        t,
                        by)),
        Combinators.combine(at, at, text, Arbitraries.of(Observation.Result.class), text, text)
            .as((a, r, means, result, t, by) -> new Observation("w", a, r, means, result, t, by)),
        Combinators.combine(at, at, Arbitraries.of(Decision.Choice.class), text, text, at)
            .as(
                (a, r, choice, by, why, next) ->
                    new Decision("w", a, r, choice, by, why, next, "as " + why)));
  }

  private static Arbitrary<SurveyItem.Shape> shapes(Arbitrary<String> said) {
    Arbitrary<Double> metres = Arbitraries.doubles().between(-10_000, 10_000);
    Arbitrary<Double> size = Arbitraries.doubles().between(0.01, 10_000).injectNull(0.3);
    return Combinators.combine(said, metres, metres, size, size)
        .as(
            (kind, east, north, s, u) ->
                new SurveyItem.Shape(
                    kind,
                    east,
                    north,
                    s == null ? Double.NaN : s,
                    s == null || u == null ? Double.NaN : u));
  }

  @Property
  void whatIsWrittenIsReadBackInBothForms(@ForAll("entries") Telemetry entry) {
    for (TelemetryCodec.Form form : TelemetryCodec.Form.values()) {
      Message message = new TelemetryCodec(form).encode(entry);
      assertThat(new TelemetryCodec().decode(message)).isEqualTo(entry);
    }
  }

  @Property
  void anyBytesAreAnEntryOrOneSortOfException(@ForAll byte[] bytes, @ForAll boolean json) {
    TelemetryCodec codec = new TelemetryCodec();
    Map<String, String> headers =
        Map.of(TelemetryCodec.HEADER, json ? "telemetry-json/1" : "telemetry-cbor/1");
    try {
      assertThat(codec.decode(Message.of("w", bytes, headers))).isNotNull();
    } catch (TelemetryFormatException e) {
      assertThat(e.getMessage()).isNotBlank();
    }
  }

  @Property
  void aMessageCutShortIsRefused(@ForAll("entries") Telemetry entry, @ForAll byte cut) {
    Message m = new TelemetryCodec().encode(entry);
    int length = Math.floorMod(cut, m.value().length);
    Message shorter = Message.of("w", Arrays.copyOf(m.value(), length), m.headers());
    assertThatThrownBy(() -> new TelemetryCodec().decode(shorter))
        .isInstanceOf(TelemetryFormatException.class);
  }

  @Test
  void aFormatOfALaterVersionIsRefusedByName() {
    Message later = Message.of("w", new byte[0], Map.of(TelemetryCodec.HEADER, "telemetry-json/2"));
    assertThatThrownBy(() -> new TelemetryCodec().decode(later))
        .isInstanceOf(TelemetryFormatException.class)
        .hasMessageContaining("telemetry-json/2");
  }

  @Test
  void aGaugeThatSaidNothingIsLeftOut() {
    Frame frame = Frame.good("w", 1, 2, GaugeSet.of("A", "B"), Double.NaN, 5);
    assertThat(new TelemetryCodec().decode(new TelemetryCodec().encode(frame)))
        .isEqualTo(Frame.good("w", 1, 2, GaugeSet.of(List.of("B")), 5));
  }
}
