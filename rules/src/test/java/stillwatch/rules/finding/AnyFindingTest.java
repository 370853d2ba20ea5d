package stillwatch.rules.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;

/** Any finding is read back as it was written, to the last sign and bit, and as the same bytes. */
class AnyFindingTest {
  private static final long YEAR_2100_MS = 4_102_444_800_000L;

  @Provide
  Arbitrary<String> texts() {
    // every character there is but halves of surrogate pairs, which no text that is let in holds
    return Arbitraries.strings().all().ofMaxLength(20).map(AnyFindingTest::whole);
  }

  private static String whole(String text) {
    StringBuilder whole = new StringBuilder();
    text.codePoints().filter(c -> c < 0xD800 || c > 0xDFFF).forEach(whole::appendCodePoint);
    return whole.toString();
  }

  private static Arbitrary<Long> times() {
    return Arbitraries.longs().between(0, YEAR_2100_MS);
  }

  private Arbitrary<Evidence> evidence() {
    Arbitrary<Double> numbers =
        Arbitraries.oneOf(
            Arbitraries.doubles(),
            Arbitraries.of(Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, -0.0));
    Arbitrary<Map<String, Double>> indicator =
        Arbitraries.maps(texts(), numbers).ofMaxSize(5).map(LinkedHashMap::new);
    Arbitrary<Evidence.Trail> trail =
        Combinators.combine(
                texts(), texts(), times().list().ofMaxSize(5), numbers.list().ofMinSize(5))
            .as(
                (gauge, unit, atMs, level) ->
                    new Evidence.Trail(gauge, unit, atMs, level.subList(0, atMs.size())));
    Arbitrary<List<Hypothesis>> hypotheses =
        Combinators.combine(texts().list().ofMaxSize(3), Arbitraries.of(true, false))
            .as(AnyFindingTest::hypotheses);
    return Combinators.combine(indicator, trail.list().ofMaxSize(3), hypotheses).as(Evidence::new);
  }

  private static List<Hypothesis> hypotheses(List<String> words, boolean any) {
    List<Hypothesis> all = new ArrayList<>();
    for (Hypothesis.Cause cause : Hypothesis.Cause.values()) {
      if (any) {
        all.add(new Hypothesis(cause, words, List.of(cause.wire())));
      }
    }
    return all;
  }

  private Arbitrary<RuleMeaning> meanings() {
    return Combinators.combine(
            Arbitraries.of(RuleEntry.About.class),
            texts().injectNull(0.3),
            Arbitraries.of(true, false),
            Arbitraries.of(true, false),
            texts().list().ofMaxSize(3))
        .as(RuleMeaning::new);
  }

  @Provide
  Arbitrary<Finding> findings() {
    Arbitrary<List<String>> words = texts().list().ofSize(12);
    Arbitrary<Map<String, String>> limits =
        Arbitraries.maps(texts(), texts()).ofMaxSize(4).map(LinkedHashMap::new);
    return Combinators.combine(
            words,
            meanings(),
            Arbitraries.of(Priority.class),
            texts().list().ofMaxSize(3),
            times().list().ofSize(2),
            times().injectNull(0.5),
            limits,
            evidence())
        .as(
            (w, meaning, priority, gauges, at, returned, limit, evidence) ->
                new Finding(
                    w.get(0),
                    w.get(1),
                    meaning,
                    w.get(2),
                    w.get(3).isEmpty() ? null : w.get(3),
                    w.get(4),
                    w.get(5),
                    priority,
                    w.get(6),
                    gauges,
                    at.get(0),
                    at.get(1),
                    returned,
                    w.get(7),
                    limit,
                    evidence,
                    w.get(8),
                    w.get(9),
                    w.get(10),
                    w.get(11)));
  }

  @Property(seed = "20260308", tries = 150, edgeCases = EdgeCasesMode.NONE)
  void whatIsReadIsWhatWasWritten(@ForAll("findings") Finding finding) {
    byte[] bytes = FindingCodec.encode(finding);
    Finding read = FindingCodec.decode(bytes);
    assertThat(read).isEqualTo(finding);
    assertThat(FindingCodec.encode(read)).isEqualTo(bytes);
    assertThat(bytes).as("one line").doesNotContain((byte) '\n', (byte) '\r');
  }
}
