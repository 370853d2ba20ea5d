package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;

/** What a source gives again. */
class ResentTest {
  private static Frame frame(long atMs, double value, long receivedMs) {
    return Frame.good("larkspur-2", atMs, receivedMs, GaugeSet.of("PT-1"), value);
  }

  @Test
  void whatTheLogHasOfBeforeIsKnownWheneverItWasReceived() {
    Resent resent = new Resent(() -> List.of(frame(1000, 46_900, 5000)));
    assertThat(resent.of(frame(1000, 46_900, 0))).isPresent();
    assertThat(resent.of(frame(1000, 46_901, 0))).isEmpty();
    assertThat(resent.of(frame(2000, 46_900, 0))).isEmpty();
  }

  @Test
  void whatIsGivenAgainWaitsForWhatWasGivenFirstAndIsForgottenWhenThatIsNotKept() {
    Resent resent = new Resent(List::of);
    CompletableFuture<Void> kept = new CompletableFuture<>();
    resent.remember(frame(1000, 46_900, 0), kept);
    assertThat(resent.of(frame(1000, 46_900, 0))).containsSame(kept);
    kept.completeExceptionally(new IOException("the disk is full"));
    assertThat(resent.of(frame(1000, 46_900, 0))).isEmpty();
  }
}
