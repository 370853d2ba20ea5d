package stillwatch.rules.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.indicator.EvidenceIndicator;

/**
 * Which senses speak for a leak: two rules of one sense are one, a doubtful sound alone is none.
 */
class EvidenceBoardTest {
  private static final long NONE = -1;
  private static final long NOW = 1_772_967_600_000L;
  private static final List<RuleEntry> RULES = Catalogue.shipped().rules();

  private final EvidenceBoard board = new EvidenceBoard();

  /** A rule of the book that speaks for this sense; null for one that speaks for none. */
  private static RuleEntry rule(String sense) {
    return RULES.stream()
        .filter(r -> sense.equals(r.sense() == null ? "none" : r.sense()))
        .findFirst()
        .orElseThrow();
  }

  private static Finding finding(String id, RuleEntry rule, Priority priority, int onsetS) {
    return new Finding(
        id,
        rule.id(),
        rule.meaning(),
        "subject",
        null,
        "0",
        rule.title(),
        priority,
        "larkspur-2",
        List.of(),
        NOW + onsetS * 1000L,
        NOW,
        null,
        "",
        Map.of(),
        new Evidence(Map.of(), List.of()),
        "",
        "",
        "",
        "");
  }

  private Finding raised(String id, String sense, Priority priority, int onsetS) {
    Finding finding = finding(id, rule(sense), priority, onsetS);
    board.raised(rule(sense), finding);
    return finding;
  }

  private List<String> senses(long pressureSinceMs) {
    return board.now(NOW, pressureSinceMs).stream().map(EvidenceIndicator::sense).toList();
  }

  @Test
  void eachSenseSpeaksOnceInTheOrderTheyBegan() {
    raised("a", "sound", Priority.MEDIUM, -300);
    raised("b", "pressure", Priority.HIGH, -400);
    raised("c", "pressure", Priority.HIGH, -100);
    raised("d", "heat", Priority.MEDIUM, -200);
    assertThat(senses(NONE)).containsExactly("pressure", "sound", "heat");
    assertThat(board.now(NOW, NONE))
        .extracting(EvidenceIndicator::sinceS)
        .containsExactly(400.0, 300.0, 200.0);
  }

  @Test
  void anOpenChangeOfThePressureSpeaksHoweverOldAndWithoutAnyFinding() {
    assertThat(senses(NONE)).isEmpty();
    long dayAgo = NOW - 86_400_000L;
    assertThat(senses(dayAgo)).containsExactly("pressure");
    raised("b", "pressure", Priority.HIGH, -10);
    assertThat(board.now(NOW, dayAgo))
        .singleElement()
        .satisfies(e -> assertThat(e.sinceMs()).isEqualTo(dayAgo));
  }

  /** A vessel explains a sound, and never a loss of pressure. */
  @Test
  void aDoubtfulSoundCountsOnlyBesideALossOfPressure() {
    raised("a", "sound", Priority.LOW, -300);
    assertThat(senses(NONE)).isEmpty();
    assertThat(senses(NOW - 1000)).containsExactly("sound", "pressure");
    raised("d", "heat", Priority.HIGH, -200);
    assertThat(senses(NONE)).as("heat is no pressure").containsExactly("heat");
    Finding drop = raised("b", "pressure", Priority.MEDIUM, -100);
    assertThat(senses(NONE)).containsExactly("sound", "heat", "pressure");
    board.returned(drop);
    assertThat(senses(NONE)).containsExactly("heat");
  }

  @Test
  void aDoubtfulLossOfPressureVouchesForNothingNotEvenItself() {
    raised("b", "pressure", Priority.LOW, -100);
    raised("a", "sound", Priority.LOW, -300);
    assertThat(senses(NONE)).isEmpty();
  }

  @Test
  void aRuleWithoutASenseAndAnAdviceAreNoEvidence() {
    raised("g", "none", Priority.HIGH, -100);
    raised("a", "sound", Priority.INFORMATION, -100);
    assertThat(senses(NOW)).containsExactly("pressure");
  }
}
