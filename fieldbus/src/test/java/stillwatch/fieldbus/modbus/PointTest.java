package stillwatch.fieldbus.modbus;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HexFormat;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.ingest.door.Reading;

/** What registers say, and which are read together. */
class PointTest {
  private static final List<NumberForm> FORMS = List.of(NumberForm.values());

  private static Point point(
      NumberForm form, boolean lowWordFirst, boolean lowByteFirst, OptionalDouble notAValue) {
    return new Point("PT-1", 1, false, 0, form, lowWordFirst, lowByteFirst, 1, 0, notAValue, "");
  }

  private static Reading reading(Point p, String hex) {
    return p.reading(HexFormat.of().parseHex(hex), 0, 0);
  }

  /**
   * The bit patterns of floats are those of RFC 8949 (CBOR), appendix A, table 6; those of integers
   * are two's complement.
   */
  @ParameterizedTest
  @CsvSource({
    "FLOAT32, 47c35000, 100000.0",
    "FLOAT32, 7f7fffff, 3.4028234663852886e+38",
    "FLOAT64, 3ff199999999999a, 1.1",
    "FLOAT64, c010666666666666, -4.1",
    "FLOAT64, 7e37e43c8800759c, 1.0e+300",
    "INT16, ffff, -1",
    "INT16, 8000, -32768",
    "UINT16, ffff, 65535",
    "INT32, fffffffe, -2",
    "UINT32, fffffffe, 4294967294",
    "UINT32, 000f4240, 1000000"
  })
  void aNumberIsTheSameInAnyOrderOfItsRegistersAndBytes(NumberForm form, String hex, double is) {
    List<String> words =
        List.of(hex.split("(?<=\\G.{4})", -1)).stream().filter(w -> !w.isEmpty()).toList();
    for (int order = 0; order < 4; order++) {
      boolean lowWordFirst = (order & 1) != 0;
      boolean lowByteFirst = (order & 2) != 0;
      StringBuilder sent = new StringBuilder();
      for (int i = 0; i < words.size(); i++) {
        String word = words.get(lowWordFirst ? words.size() - 1 - i : i);
        sent.append(lowByteFirst ? word.substring(2) + word.substring(0, 2) : word);
      }
      Point p = point(form, lowWordFirst, lowByteFirst, OptionalDouble.empty());
      assertThat(reading(p, sent.toString())).isEqualTo(new Reading("PT-1", 0, is));
      assertThat(p.registers(is)).as("stand-in").isEqualTo(HexFormat.of().parseHex(sent));
    }
  }

  /** NaN and the infinities are those of RFC 8949, appendix A, table 6. */
  @ParameterizedTest
  @CsvSource({
    "FLOAT32, 7fc00000",
    "FLOAT32, 7f800000",
    "FLOAT32, ff800000",
    "FLOAT64, 7ff8000000000000",
    "FLOAT64, fff0000000000000",
    "INT16, 8000"
  })
  void whatIsNoValueIsBadAndNotZero(NumberForm form, String hex) {
    Reading said = reading(point(form, false, false, OptionalDouble.of(-32_768)), hex);
    assertThat(said.value()).isNaN();
    assertThat(said.quality()).isEqualTo("bad");
  }

  @Test
  void theNumberIsScaledAndThenMovedOnceItIsAValue() {
    Point p =
        new Point(
            "TT-1",
            1,
            true,
            0,
            NumberForm.INT16,
            false,
            false,
            0.1,
            -40,
            OptionalDouble.of(0),
            "Cel");
    assertThat(reading(p, "01f4")).isEqualTo(new Reading("TT-1", 0, 10, "good", "Cel"));
    assertThat(reading(p, "0000").quality()).isEqualTo("bad");
  }

  /** 125: MODBUS Application Protocol Specification V1.1b3, 6.3. */
  @Property(tries = 300)
  void everyPointIsInOneBlockAndNoBlockIsTooLong(
      @ForAll @Size(min = 1, max = 150) List<@IntRange(max = 300) Integer> registers) {
    List<Point> points =
        registers.stream()
            .map(
                r ->
                    new Point(
                        "P",
                        r % 50 == 0 ? 2 : 1,
                        r % 70 == 0,
                        r,
                        FORMS.get(r % FORMS.size()),
                        false,
                        false,
                        1,
                        0,
                        OptionalDouble.empty(),
                        ""))
            .toList();
    List<Block> blocks = Block.of(points);
    assertThat(blocks.stream().flatMap(b -> b.points().stream()).collect(Collectors.toList()))
        .containsExactlyInAnyOrderElementsOf(points);
    for (Block b : blocks) {
      assertThat(b.size()).isLessThanOrEqualTo(125);
      assertThat(b.points())
          .allMatch(p -> p.unitId() == b.unitId() && p.input() == b.input())
          .allMatch(p -> p.register() >= b.first() && p.end() <= b.first() + b.size());
    }
  }
}
