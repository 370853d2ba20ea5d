package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Optional;
import org.junit.jupiter.api.Test;

class OnThisMachineTest {
  private static final Senders KNOWN =
      (authorization, address) ->
          authorization.equals("Bearer abc")
              ? Optional.of(new Sender("winch", true))
              : Optional.empty();
  private static final Senders SENDERS = new OnThisMachine(KNOWN);

  @Test
  void readingsFromThisMachineNeedNoTokenAndNothingElseIsTaken() {
    assertThat(SENDERS.nameless("", "127.0.0.1")).contains(new Sender("127.0.0.1", false));
    assertThat(SENDERS.nameless("", "[::1]")).contains(new Sender("[::1]", false));
    assertThat(SENDERS.nameless("", "10.0.0.9")).isEmpty();
  }

  @Test
  void whoShowsAWrongTokenIsNotNameless() {
    assertThat(SENDERS.nameless("Bearer wrong", "127.0.0.1")).isEmpty();
  }

  @Test
  void whoIsKnownTellsAsEver() {
    assertThat(SENDERS.of("Bearer abc", "10.0.0.9")).contains(new Sender("winch", true));
    assertThat(SENDERS.of("", "127.0.0.1")).isEmpty();
  }

  @Test
  void withoutThePlansWordNobodyIsNameless() {
    assertThat(KNOWN.nameless("", "127.0.0.1")).isEmpty();
  }
}
