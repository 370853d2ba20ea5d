package stillwatch.rules.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;

/** Findings as JSON. */
class FindingCodecTest {
  /** A line as the version before wrote it. */
  private static final String BEFORE =
      """
      {"event":"raised","id":"a","rule":"RULE","title":"t","priority":"high","well":"w","gauges":["PT-1"],\
      "onset":"2026-03-08T12:00:00.000Z","raised":"2026-03-08T12:00:03.000Z","summary":"It is so.","limits":{},\
      "evidence":{"indicator":{},"trails":[]},"phase":"watching","advice":"Call.","rule_revision":"0",\
      "plan_revision":"A3 0","book_revision":"0"}""";

  private static Finding finding(RuleMeaning meaning, @Nullable String change) {
    return new Finding(
        "a",
        "own",
        meaning,
        "PT-1/PT-2",
        change,
        "0",
        "Own",
        Priority.LOW,
        "w",
        List.of("PT-1", "PT-2"),
        1_000,
        2_000,
        null,
        "It is so.",
        Map.of("fall", "1 kPa"),
        new Evidence(Map.of("level", 1.5), List.of()),
        "watching",
        "Call.",
        "A3 0",
        "0");
  }

  private static String text(byte[] bytes) {
    return new String(bytes, StandardCharsets.UTF_8);
  }

  private static Finding before(String rule) {
    return FindingCodec.decode(BEFORE.replace("RULE", rule).getBytes(StandardCharsets.UTF_8));
  }

  @Test
  void whatTheCatalogueKnowsTravelsWithTheFinding() {
    Finding full =
        finding(
            new RuleMeaning(RuleEntry.About.GAUGE, "heat", true, true, List.of("b", "c")), "ch-1");
    assertThat(text(FindingCodec.encode(full)))
        .contains(
            "\"about\":\"gauge\",\"subject\":\"PT-1/PT-2\",\"change\":\"ch-1\",\"sense\":\"heat\","
                + "\"excludes\":true,\"blinds\":true,\"explains\":[\"b\",\"c\"]");
    assertThat(FindingCodec.decode(FindingCodec.encode(full))).isEqualTo(full);
    Finding plain = finding(RuleMeaning.on(RuleEntry.About.PAIR), null);
    assertThat(text(FindingCodec.encode(plain)))
        .contains("\"about\":\"pair\",\"subject\"")
        .doesNotContain("change", "sense", "excludes", "blinds", "explains", "recording");
    assertThat(FindingCodec.decode(FindingCodec.encode(plain))).isEqualTo(plain);
  }

  @Test
  void whatSpeaksForAndAgainstEachExplanationTravelsToo() {
    Finding weighed =
        finding(RuleMeaning.on(RuleEntry.About.WELL), null)
            .of(
                "ch-1",
                List.of(
                    new Hypothesis(
                        Hypothesis.Cause.WELL, List.of("seen by PT-1"), List.of("not by PT-2")),
                    new Hypothesis(Hypothesis.Cause.SURROUNDINGS, List.of(), List.of())));
    assertThat(text(FindingCodec.encode(weighed)))
        .contains(
            "\"hypotheses\":{\"well\":{\"for\":[\"seen by PT-1\"],\"against\":[\"not by PT-2\"]},"
                + "\"surroundings\":{\"for\":[],\"against\":[]}}");
    assertThat(FindingCodec.decode(FindingCodec.encode(weighed))).isEqualTo(weighed);
  }

  @Test
  void aReplayNamesTheRecording() {
    Finding f = finding(RuleMeaning.on(RuleEntry.About.WELL), null);
    assertThat(text(FindingCodec.encode(f, "leak.csv.gz")))
        .contains("\"recording\":\"leak.csv.gz\"");
    assertThat(FindingCodec.decode(FindingCodec.encode(f, "leak.csv.gz"))).isEqualTo(f);
  }

  @Test
  void aLineOfAnEarlierVersionMeansWhatTheCatalogueSaysOfItsRule() {
    assertThat(before("gauge-frozen").excludes("PT-1")).isTrue();
    assertThat(before("gauge-frozen").subject()).isEqualTo("PT-1");
    assertThat(before("feed-silent").explains()).contains("gauge-silent");
    assertThat(before("gone").about()).isEqualTo(RuleEntry.About.WELL);
    assertThat(before("gone").change()).isNull();
  }

  @Test
  void whatItIsAboutMustBeOneOfOurWords() {
    String odd = BEFORE.replace("\"title\"", "\"about\":\"weather\",\"title\"");
    assertThatThrownBy(() -> FindingCodec.decode(odd.getBytes(StandardCharsets.UTF_8)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("about is none of ours: 'weather'");
  }
}
