package stillwatch.bench.faults;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import stillwatch.bench.faults.Evidence.Reading;

/** What a run leaves, tampered with: whatever a fault may do to it is noticed and named. */
class EvidenceTest {
  private static final List<String> SAID = List.of("a raised", "a returned", "b raised");

  private static Evidence of(
      List<String> topic,
      List<String> desk,
      Map<String, Integer> delivered,
      Reading reading,
      @Nullable String journal) {
    return new Evidence(
        SAID.subList(0, 2),
        SAID,
        topic,
        desk,
        Set.of("a-raised", "a-returned"),
        delivered,
        List.of(reading),
        journal,
        List.of());
  }

  private static Evidence readings(int sent, int accepted, int logged) {
    Map<String, Integer> delivered = Map.of("a-raised", 1, "a-returned", 3);
    return of(SAID, SAID, delivered, new Reading("PT-1", sent, accepted, logged), null);
  }

  @Test
  void whatWasRepeatedOnTheWayAndKeptAsOftenAsAcceptedIsAsPromised() {
    assertThat(readings(3, 1, 2).failures()).isEmpty();
  }

  /** What the rules found in the last entries may be on the topic already, or not yet. */
  @Test
  void theLastAlertMayStillBeOnItsWay() {
    List<String> two = SAID.subList(0, 2);
    Evidence left =
        of(two, two, Map.of("a-raised", 1, "a-returned", 1), new Reading("PT-1", 1, 1, 1), null);
    assertThat(left.failures()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1, 0, 1 x accepted reading missing in the log",
    "2, 2, 1, 1 x accepted reading missing in the log",
    "1, 1, 2, 1 x reading in the log more often than sent",
    "0, 0, 1, 1 x reading in the log more often than sent"
  })
  void aReadingLostOrMadeUpIsNamed(int sent, int accepted, int logged, String named) {
    assertThat(readings(sent, accepted, logged).failures())
        .singleElement()
        .asString()
        .startsWith(named);
  }

  @ParameterizedTest
  @CsvSource({
    "a raised,                       alert missing on the topic: a returned",
    "a raised|a returned|a returned, alert twice on the topic: a returned",
    "a raised|a returned|c raised,   alert on the topic that no replay raises: c raised"
  })
  void anAlertOnTheTopicThatIsNotAsAReplayHasItIsNamed(String topic, String named) {
    List<String> there = List.of(topic.split("\\|"));
    Map<String, Integer> delivered = Map.of("a-raised", 1, "a-returned", 1);
    Evidence left = of(there, there, delivered, new Reading("PT-1", 1, 1, 1), null);
    assertThat(left.failures()).anySatisfy(f -> assertThat(f).isEqualTo("1 x " + named));
  }

  @ParameterizedTest
  @CsvSource({
    "a raised|a returned,                    alert missing at the desk: b raised",
    "a raised|a returned|b raised|b raised,  alert twice at the desk: b raised",
    "a raised|a returned|b raised|c raised,  alert at the desk that is not on the topic: c raised"
  })
  void aDeskThatHasNotWhatIsOnTheTopicIsNamed(String desk, String named) {
    Map<String, Integer> delivered = Map.of("a-raised", 1, "a-returned", 1);
    List<String> there = List.of(desk.split("\\|"));
    Evidence left = of(SAID, there, delivered, new Reading("PT-1", 1, 1, 1), null);
    assertThat(left.failures()).containsExactly("1 x " + named);
  }

  @Test
  void aMessageThatThePeerNeverGotIsNamed() {
    Evidence left = of(SAID, SAID, Map.of("a-raised", 2), new Reading("PT-1", 1, 1, 1), null);
    assertThat(left.failures())
        .containsExactly("1 x message missing at the route's peer: a-returned");
  }

  @Test
  void aJournalThatIsNotWholeIsNamed() {
    Map<String, Integer> delivered = Map.of("a-raised", 1, "a-returned", 1);
    Evidence left = of(SAID, SAID, delivered, new Reading("PT-1", 1, 1, 1), "entry 7 was changed");
    assertThat(left.failures()).containsExactly("journal not whole: entry 7 was changed");
  }
}
