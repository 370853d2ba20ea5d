package stillwatch.bench.entrance;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A small crowd at the door of a real watch; the whole one is {@code bench/entrance}. */
@Timeout(400)
class SiegeTest {
  @TempDir Path folder;

  @Test
  void whatIsSeenReachesPageAndRouteAndTheHealthIsAnsweredWhateverComes() throws Exception {
    try (Siege siege = new Siege(Crowd.SMALL, folder)) {
      Figures figures = siege.run();
      String all = figures.toString();
      assertThat(figures.answers("the watch")).as(all).containsOnlyKeys("alive");
      assertThat(figures.count(Siege.PAGE)).as(all).isEqualTo(Crowd.SMALL.alarms());
      assertThat(figures.count(Siege.ROUTE)).as(all).isEqualTo(Crowd.SMALL.alarms());
      assertThat(figures.answers(Siege.HEALTH)).as(all).isNotEmpty();
      assertThat(figures.answers(Siege.HEALTH).keySet()).as(all).isSubsetOf("200", "503");
      assertThat(figures.answers("asking")).as("nobody who asked was left without").isEmpty();
      assertThat(figures.answers("/api/state")).as(all).containsOnlyKeys("200");
      assertThat(figures.answers("readings")).as(all).containsOnlyKeys("200");
      assertThat(figures.answers("bodies of bad lines")).as(all).containsOnlyKeys("400");
      Map<String, Integer> logins = figures.answers("logins");
      assertThat(logins.keySet()).as(all).isSubsetOf("401", "429").contains("429");
      assertThat(figures.answers("slow clients").keySet()).as(all).contains("408");
    }
  }
}
