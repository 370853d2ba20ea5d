package stillwatch.alerts.desk;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.junit.jupiter.api.Test;
import stillwatch.alerts.journal.Entry;
import stillwatch.rules.book.Priority;

/** Grouping hides no alarm and tells none twice. */
class AlarmGroupTest {
  private static final long START = 1_772_967_600_000L;

  /** An alarm of a rule at so many seconds. */
  private record Said(String rule, int gauge, Priority priority, int second) {}

  private static DeskAlarm alarm(Said said, int seq) {
    String gauge = said.gauge() == 0 ? "" : "G" + said.gauge();
    long ms = START + said.second() * 1000L;
    return DeskAlarm.raised(
        new Entry(
            seq,
            ms,
            "larkspur-2",
            "raised",
            "",
            "",
            DeskAlarm.raising(Findings.at(said.rule(), gauge, said.priority(), ms), false, 1),
            null,
            ""));
  }

  private static List<DeskAlarm> alarms(List<Said> said) {
    List<DeskAlarm> alarms = new ArrayList<>();
    said.forEach(s -> alarms.add(alarm(s, alarms.size() + 1)));
    return alarms;
  }

  /** Rules of the book that explain each other's alarms, close enough in time to do so. */
  @Provide
  Arbitrary<List<Said>> said() {
    return Combinators.combine(
            Arbitraries.of(
                "watch-lost",
                "feed-silent",
                "gauge-silent",
                "pressure-unwatched",
                "leak-evidence",
                "slow-fall",
                "acoustic-rise"),
            Arbitraries.integers().between(0, 4),
            Arbitraries.of(Priority.class),
            Arbitraries.integers().between(0, 600))
        .as(Said::new)
        .list()
        .ofMaxSize(25)
        .uniqueElements(s -> s.rule() + s.gauge() + s.second());
  }

  @Property(seed = "20260308", tries = 300)
  void everyAlarmStandsInExactlyOnePlace(@ForAll("said") List<Said> said) {
    List<DeskAlarm> alarms = alarms(said);
    List<DeskAlarm> shown = new ArrayList<>();
    for (AlarmGroup group : AlarmGroup.of(alarms)) {
      shown.add(group.lead());
      shown.addAll(group.members());
    }
    assertThat(shown)
        .extracting(DeskAlarm::seq)
        .containsExactlyInAnyOrderElementsOf(alarms.stream().map(DeskAlarm::seq).toList());
  }

  /** Who reads the lines alone misses nothing urgent. */
  @Property(seed = "20260308", tries = 300)
  void nothingStandsBehindWhatIsLessUrgent(@ForAll("said") List<Said> said) {
    for (AlarmGroup group : AlarmGroup.of(alarms(said))) {
      assertThat(group.members())
          .filteredOn(m -> m.finding().priority().compareTo(group.lead().finding().priority()) > 0)
          .isEmpty();
    }
  }

  @Test
  void ofManyOfOneRuleTheMostUrgentIsTheLine() {
    List<Said> said =
        List.of(
            new Said("slow-fall", 1, Priority.LOW, 0),
            new Said("slow-fall", 2, Priority.LOW, 10),
            new Said("slow-fall", 3, Priority.HIGH, 20),
            new Said("slow-fall", 4, Priority.HIGH, 30));
    assertThat(AlarmGroup.of(alarms(said)))
        .singleElement()
        .satisfies(
            g -> {
              assertThat(g.lead().seq()).as("of those as urgent the first").isEqualTo(3);
              assertThat(g.members()).hasSize(3);
            });
  }
}
