package stillwatch.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.List;
import java.util.NoSuchElementException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import stillwatch.alerts.HandSetClock;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Databases;
import stillwatch.alerts.journal.Journal;

/** Who may enter, and who no longer may, on both databases. */
class PeopleTest {
  private static final String PASSWORD = "correct horse 12";

  private final HandSetClock clock = HandSetClock.ticking("2026-03-08T12:00:00Z");

  @TempDir Path folder;

  private interface With {
    void people(People people, Journal journal);
  }

  /** Ada and Bea administer; then. */
  private void administrators(Databases database, With then) {
    try (Journal journal = database.open(folder)) {
      People people = new People(journal, clock);
      people.enter(people.invite(Role.ADMINISTER, ""), "Ada", PASSWORD);
      people.enter(people.invite(Role.ADMINISTER, "Ada"), "Bea", PASSWORD);
      then.people(people, journal);
      assertThat(JournalCheck.of(journal, null).fault()).isNull();
    }
  }

  private static void shut(People people, String link) {
    assertThatThrownBy(() -> people.enter(link, "Eve", PASSWORD))
        .isInstanceOf(People.PeopleException.class)
        .hasMessageContaining("no longer good");
  }

  @ParameterizedTest
  @EnumSource
  void withWhoIsRemovedGoesWhatTheyMadeAndWhatThatMade(Databases database) {
    administrators(
        database,
        (people, journal) -> {
          String link = people.invite(Role.ADMINISTER, "Bea");
          String winch = people.machine("winch", Role.ADMINISTER, "Bea");
          String byWinch = people.invite(Role.ADMINISTER, "winch");
          String camera = people.machine("camera", Role.LOOK, "Ada");
          People.Session session = people.login("Bea", PASSWORD).orElseThrow();
          assertThat(people.session(session.token())).isPresent();
          assertThat(people.passes())
              .extracting(p -> p.name() + " " + p.role().wire() + " by " + p.madeBy())
              .containsExactly(
                  " administer by Bea",
                  "winch administer by Bea",
                  " administer by winch",
                  "camera look by Ada");
          people.remove("Bea", "Ada");
          assertThat(people.session(session.token())).isEmpty();
          assertThat(people.machine(winch)).isEmpty();
          assertThat(people.machine(camera)).as("of another").isPresent();
          shut(people, link);
          shut(people, byWinch);
          assertThat(people.passes()).extracting(Pass::name).containsExactly("camera");
          assertThatThrownBy(() -> people.invite(Role.ADMINISTER, "Bea"))
              .as("let through a moment before")
              .hasMessageContaining("no administrator any more");
        });
  }

  @ParameterizedTest
  @EnumSource
  void anotherOfTheSameNameIsNotWhoWasRemoved(Databases database) {
    administrators(
        database,
        (people, journal) -> {
          People elsewhere = new People(journal, clock);
          People.Session session = elsewhere.login("Bea", PASSWORD).orElseThrow();
          people.remove("Bea", "Ada");
          people.enter(people.invite(Role.ADMINISTER, "Ada"), "Bea", PASSWORD);
          assertThat(elsewhere.session(session.token()))
              .as("a session that another process holds")
              .isEmpty();
        });
  }

  @ParameterizedTest
  @EnumSource
  void whatSomebodyMayDoIsLookedUpEachTime(Databases database) {
    administrators(
        database,
        (people, journal) -> {
          String link = people.invite(Role.ADMINISTER, "Bea");
          People.Session session = people.login("Bea", PASSWORD).orElseThrow();
          people.role("Bea", Role.LOOK, "Ada");
          assertThat(people.session(session.token()))
              .hasValueSatisfying(s -> assertThat(s.person().role()).isEqualTo(Role.LOOK));
          shut(people, link);
          assertThatThrownBy(() -> people.role("Bea", Role.ADMINISTER, "Bea"))
              .hasMessageContaining("no administrator any more");
        });
  }

  @ParameterizedTest
  @EnumSource
  void theLastAdministratorStays(Databases database) {
    administrators(
        database,
        (people, journal) -> {
          people.machine("winch", Role.ADMINISTER, "Ada");
          people.remove("Bea", "Ada");
          assertThatThrownBy(() -> people.remove("Ada", "winch"))
              .isInstanceOf(People.PeopleException.class)
              .hasMessageContaining("Ada is the last administrator");
          assertThatThrownBy(() -> people.role("Ada", Role.OPERATE, "winch"))
              .hasMessageContaining("Ada is the last administrator");
          assertThat(people.all())
              .extracting(m -> m.person().name() + " " + m.person().role())
              .containsExactly("Ada ADMINISTER");
          assertThat(people.passes())
              .as("nothing was done")
              .extracting(Pass::name)
              .containsExactly("winch");
          assertThatThrownBy(() -> people.remove("Nemo", "Ada"))
              .isInstanceOf(NoSuchElementException.class);
        });
  }

  @ParameterizedTest
  @EnumSource
  void aLinkOfTheWatchItselfIsNoUseOnceSomebodyCameIn(Databases database) {
    try (Journal journal = database.open(folder)) {
      People people = new People(journal, clock);
      String first = people.invite(Role.ADMINISTER, "");
      String second = people.invite(Role.ADMINISTER, "");
      people.enter(second, "Ada", PASSWORD);
      shut(people, first);
    }
  }

  @ParameterizedTest
  @EnumSource
  void aPersonAndAMachineHaveDifferentNames(Databases database) {
    administrators(
        database,
        (people, journal) -> {
          assertThatThrownBy(() -> people.machine("Bea", Role.LOOK, "Ada"))
              .hasMessageContaining("a person has this name");
          String token = people.machine("winch", Role.LOOK, "Ada");
          String link = people.invite(Role.LOOK, "Ada");
          for (String taken : new String[] {"winch", "Bea", People.ANYBODY.name()}) {
            assertThatThrownBy(() -> people.enter(link, taken, PASSWORD))
                .hasMessageContaining("somebody has this name");
          }
          Pass pass = people.passes().get(0);
          people.revoke(pass.id(), "Ada");
          assertThat(people.machine(token)).isEmpty();
        });
  }

  /** The record names people: no two names in it may look alike to its reader. */
  @Test
  void nobodyEntersUnderANameThatPassesForAnother() {
    administrators(
        Databases.FILE,
        (people, journal) -> {
          assertThat(people.machine("winch", Role.LOOK, "Ada")).isNotEmpty();
          String link = people.invite(Role.LOOK, "Ada");
          for (String name :
              List.of("ADA", "WINCH", "Ada\u200b", "Ada\u202e", "Ada\nBea", "A\u0007")) {
            assertThatThrownBy(() -> people.enter(link, name, PASSWORD))
                .as(name)
                .isInstanceOf(People.PeopleException.class)
                .hasMessageMatching("somebody has this name.*|the name has a line end .*");
          }
          assertThat(people.enter(link, "Zo\u00eb O\u2019Brien", PASSWORD).person().role())
              .isEqualTo(Role.LOOK);
        });
  }
}
