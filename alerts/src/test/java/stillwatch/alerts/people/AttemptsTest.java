package stillwatch.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;
import stillwatch.alerts.HandSetClock;

/** So many attempts within so long, against a count of all that were made. */
class AttemptsTest {
  @Property(seed = "20260308")
  void oneMoreIsAllowedWhileFewerWereMadeLately(
      @ForAll @Size(max = 60) List<@IntRange(min = 0, max = 40) Integer> pauses) {
    HandSetClock clock = new HandSetClock("2026-03-01T00:00:00Z");
    Attempts attempts = new Attempts(3, 60, clock);
    List<Long> made = new ArrayList<>();
    for (int pause : pauses) {
      clock.forward(Duration.ofMillis(pause));
      long now = clock.millis();
      boolean allowed = made.stream().filter(at -> at > now - 60).count() < 3;
      assertThat(attempts.allowed("ada")).isEqualTo(allowed);
      assertThat(attempts.allowed("ada")).as("asking is no attempt").isEqualTo(allowed);
      assertThat(attempts.allowed("bo")).as("nobody else's").isTrue();
      if (allowed) {
        attempts.count("ada");
        made.add(now);
      }
    }
  }
}
