package stillwatch.rules.plan;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.rules.book.Catalogue;

/** How soon a rule can see at best, by hand. */
class BestDelaysTest {
  @TempDir Path folder;

  private BestDelays delays(String period, String rules) throws IOException {
    Path file =
        Files.writeString(
            folder.resolve("plan.yaml"),
            Files.readString(Path.of("../demo-data/larkspur/plan.yaml"))
                .replace("period: 1 s", "period: " + period)
                .replace("  sudden-drop:\n", rules + "  sudden-drop:\n"));
    return BestDelays.of(PlanLoader.load(file, Catalogue.shipped()), Catalogue.shipped());
  }

  @Test
  void theDelayIsReadingsTimesPeriodAndHold() throws IOException {
    BestDelays demo = delays("1 s", "");
    assertThat(demo.lines())
        .contains(
            "sudden-drop: after 12 to 17 s (PT-1, PT-2 every 1 s)",
            "sustained-drop: after 52 to 62 s (PT-1, PT-2 every 1 s)",
            "heat-rise: after 5 min 10 s to 5 min 20 s (TT-1 every 10 s)");
    assertThat(demo.warnings()).isEmpty();
  }

  @Test
  void aSlowPeriodThatBreaksAPromiseIsWarnedOf() throws IOException {
    BestDelays slow = delays("60 s", "");
    assertThat(slow.lines()).contains("sudden-drop: after 1 to 2 min (PT-1, PT-2 every 60 s)");
    assertThat(slow.warnings())
        .contains(
            "sudden-drop promises 30 s and cannot keep it: at best after 1 to 2 min (PT-1, PT-2 every 60 s)")
        .anyMatch(w -> w.startsWith("gauge-silent promises 60 s"))
        .noneMatch(w -> w.contains("TI-1"));
    assertThat(slow.all())
        .as("a gauge beside the shut-in pressure is told, not warned of")
        .anyMatch(d -> d.gauges().contains("TI-1") && d.broken() && !d.ofWell());
  }

  @Test
  void aRuleSwitchedOffPromisesNothing() throws IOException {
    assertThat(delays("60 s", "  heat-rise: {off: no warmth is measured}\n").lines())
        .noneMatch(line -> line.startsWith("heat-rise"));
  }
}
