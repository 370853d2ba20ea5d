package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.ingest.telemetry.Operation;

class SoundAndHeatTest {
  private static double after(int s, int from, double quiet, double loud) {
    return s < from ? quiet : loud;
  }

  @Test
  void twoHydrophonesWithoutAVesselAreEvidenceAndItReturns() {
    try (WellDriver well = new WellDriver()) {
      well.beside("HY-1", s -> s < 5400 ? after(s, 3600, 90, 102) : 90);
      well.beside("HY-2", s -> s < 5400 ? after(s, 3600, 91, 100) : 91);
      well.run(7200, s -> 45_000);
      assertThat(well.raisedAt("acoustic-rise")).isBetween(3600L + 120, 3600L + 300);
      assertThat(well.said("acoustic-rise"))
          .containsExactly("raised HY-1,HY-2", "returned HY-1,HY-2");
      assertThat(well.last("acoustic-rise").priority()).isEqualTo(Priority.MEDIUM);
    }
  }

  @Test
  void aLoggedVesselLowersTheConfidenceAndSilencesNothing() {
    try (WellDriver well = new WellDriver()) {
      well.beside("HY-1", s -> after(s, 3600, 90, 102))
          .beside("HY-2", s -> after(s, 3600, 91, 100));
      well.run(3500, s -> 45_000).logged(Operation.What.VESSEL).run(1500, s -> 45_000);
      assertThat(well.last("acoustic-rise").priority()).isEqualTo(Priority.LOW);
      assertThat(well.last("acoustic-rise").summary())
          .contains("Possibly from what is logged near the well: test.");
    }
  }

  /**
   * A hydrophone that reads every five minutes hears the vessel for two readings after it has left.
   */
  @Test
  void ofASlowHydrophoneTheVesselThatHasLeftIsRemembered(@TempDir Path folder) throws IOException {
    Path plan = folder.resolve("slow.yaml");
    String demo = Files.readString(Path.of("../demo-data/larkspur/plan.yaml"));
    Files.writeString(plan, demo.replace("period: 5 s", "period: 300 s"));
    try (WellDriver well = new WellDriver(plan)) {
      for (String hydrophone : List.of("HY-1", "HY-2")) {
        well.beside(hydrophone, s -> s % 300 != 7 ? Double.NaN : after(s, 9000, 90, 102));
      }
      well.run(8900, s -> 45_000).logged(Operation.What.VESSEL).run(1800, s -> 45_000);
      assertThat(well.last("acoustic-rise").priority()).isEqualTo(Priority.LOW);
      well.logged(Operation.What.VESSEL_LEFT).run(900, s -> 45_000);
      assertThat(well.last("acoustic-rise").priority()).isEqualTo(Priority.LOW);
      assertThat(well.last("acoustic-rise").returned()).isFalse();
      well.run(1800, s -> 45_000);
      assertThat(well.last("acoustic-rise").priority()).isEqualTo(Priority.MEDIUM);
    }
  }

  @Test
  void oneHydrophoneIsAHint() {
    try (WellDriver well = new WellDriver()) {
      well.beside("HY-1", s -> after(s, 3600, 90, 102)).beside("HY-2", s -> 91);
      well.run(5000, s -> 45_000);
      assertThat(well.last("acoustic-rise").priority()).isEqualTo(Priority.INFORMATION);
    }
  }

  @Test
  void aSoundThatComesAndGoesIsOneAlertOrNone() {
    try (WellDriver well = new WellDriver()) {
      well.beside("HY-1", s -> 90 + (s > 3600 && s / 30 % 2 == 0 ? 12 : 0));
      well.beside("HY-2", s -> 91 + (s > 3600 && s / 30 % 2 == 0 ? 12 : 0));
      well.run(7200, s -> 45_000);
      assertThat(well.said("acoustic-rise").size()).isLessThanOrEqualTo(1);
    }
  }

  @Test
  void warmthThatClimbsAboveAClosedBarrierIsRaisedOnceAndReturnsWhileCoolingIsQuiet() {
    try (WellDriver well = new WellDriver()) {
      well.beside("TT-1", s -> s < 3600 ? 50 - s / 400.0 : 41 + Math.min(s - 3600, 1800) * 0.002);
      well.run(3600, s -> 45_000);
      assertThat(well.said("heat-rise")).isEmpty();
      well.run(5400, s -> 45_000);
      assertThat(well.said("heat-rise")).containsExactly("raised TT-1", "returned TT-1");
    }
  }
}
