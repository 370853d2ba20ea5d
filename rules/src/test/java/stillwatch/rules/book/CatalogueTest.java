package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** What a catalogue says and what it may not say. */
class CatalogueTest {
  private static Catalogue read(String more) {
    String entry =
        """
        - id: own
          title: Own
          grade: slight
          parameters: []
          sentence: "It is so."
          returned: "It is not."
          cause: c
          consequence: c
          response: r
          respond-within: 1 h
          fooled-by: f
        """;
    return Catalogue.read(
        new ByteArrayInputStream((entry + more).getBytes(StandardCharsets.UTF_8)), "own.yaml");
  }

  @Test
  void theRulesThatLeaveAGaugeOutAreThoseThatDoubtIt() {
    assertThat(Catalogue.shipped().rules().stream().filter(RuleEntry::excludes))
        .extracting(RuleEntry::id)
        .containsExactlyInAnyOrder(
            "gauge-drifting",
            "gauge-frozen",
            "gauge-noisy",
            "gauge-silent",
            "gauge-out-of-range",
            "unit-suspect",
            "below-sea");
    assertThat(Catalogue.shipped().rule("gauge-divergence").orElseThrow().about())
        .isEqualTo(RuleEntry.About.PAIR);
  }

  @Test
  void onlyARuleAboutAGaugeMayLeaveOneOut() {
    assertThat(read("  about: gauge\n  excludes: true\n").rules().get(0).excludes()).isTrue();
    assertThatThrownBy(() -> read("  about: pair\n  excludes: true\n"))
        .hasMessage(
            "own.yaml: rule own: excludes a gauge but is about the pair; write 'about: gauge', or leave out 'excludes'");
  }

  @Test
  void whatARuleExplainsMustBeARule() {
    Catalogue good = read("  about: well\n  explains: [slow-fall, own]\n");
    assertThat(Catalogue.shipped().and(good).rule("own").orElseThrow().explains())
        .containsExactly("slow-fall", "own");
    Catalogue bad = read("  about: well\n  explains: [slow-fal]\n");
    assertThatThrownBy(() -> Catalogue.shipped().and(bad))
        .hasMessage(
            "rule 'own' explains 'slow-fal', which no catalogue has; write the id of a rule, or leave it out");
  }
}
