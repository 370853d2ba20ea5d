package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Decision;
import stillwatch.ingest.telemetry.Observation;

/**
 * A unit lost in the reopening. What is left is the plan's: without the western vessel the eastern
 * one takes 4800 to 5200 m³/d and the shuttle 3000 to 3400, of 7000 to 8400 that would flow.
 */
class UnitLostTest {
  private static final String WEST = "Collection vessel west: the hose has parted";

  @Test
  void aUnitLostIsAnAlarmWhileTheWellIsOpenedAndSaysWhatIsLeft() {
    try (WellDriver well = new WellDriver()) {
      well.run(60, s -> 45_000).observed("collection", Observation.Result.ADVERSE, WEST);
      well.run(120, s -> 45_000);
      assertThat(well.said("unit-lost")).as("nothing is collected from a well shut in").isEmpty();

      well.decided(Decision.Choice.REOPEN).run(30, s -> 45_000);
      assertThat(well.said("unit-lost")).containsExactly("raised ");
      assertThat(well.first("unit-lost").summary())
          .startsWith("'collection vessel west' does not collect since")
          .contains(
              "What collects now could take 7800 to 8600 m³/d, and 7000 to 8400 m³/d would flow:"
                  + " up to 600 m³/d might not be collected.");

      well.observed("collection", Observation.Result.CLEAR, "collection vessel west");
      well.run(30, s -> 45_000);
      assertThat(well.said("unit-lost")).containsExactly("raised ", "returned ");
      assertThat(well.said("sighting")).as("it is no look at the well").isEmpty();
    }
  }

  @Test
  void aUnitThatThePlanDoesNotNameIsNotLostSilently() {
    try (WellDriver well = new WellDriver()) {
      well.run(60, s -> 45_000).observed("collection", Observation.Result.ADVERSE, "vessel nine");
      well.run(60, s -> 45_000);
      assertThat(well.said("sighting")).contains("raised ");
    }
  }
}
