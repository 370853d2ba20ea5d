package stillwatch.alerts.route;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import stillwatch.alerts.HandSetClock;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.RoutePlan;

/** Whether a digest that must arrive does. */
class DigestSenderTest {
  private static final Duration EVERY = Duration.ofMinutes(15);

  private final HandSetClock clock = new HandSetClock("2026-03-08T18:00:00Z");
  private final Shore shore = new Shore();

  /** A receiver that can be away. */
  private static final class Shore implements Route {
    private final List<String> heard = new ArrayList<>();
    private boolean away;

    @Override
    public RoutePlan plan() {
      return new RoutePlan(
          "shore",
          new RoutePlan.Syslog("127.0.0.1", 9, false),
          Priority.INFORMATION,
          null,
          null,
          EVERY);
    }

    @Override
    public void deliver(Delivery delivery) {
      throw new AssertionError("a digest is no alert");
    }

    @Override
    public void digest(String text) throws DeliveryException {
      if (away) {
        throw new DeliveryException("the receiver is away");
      }
      heard.add(text);
    }
  }

  /** A sender that sends once and ends. */
  private DigestSender sender() {
    DigestSender sender = new DigestSender(shore, EVERY, () -> "all well", clock);
    sender.close();
    return sender;
  }

  @Test
  void aDigestThatIsNotTakenIsLostUntilOneIs() {
    DigestSender sender = sender();
    shore.away = true;
    sender.run();
    assertThat(sender.lost()).hasValueSatisfying(why -> assertThat(why).startsWith("shore: "));
    shore.away = false;
    sender.run();
    assertThat(sender.lost()).isEmpty();
    assertThat(shore.heard).containsExactly("all well");
  }

  @Test
  void aSenderThatHangsIsNoticedByTheTimeWithoutADelivery() {
    DigestSender sender = sender();
    sender.run();
    clock.forward(Duration.ofMinutes(30));
    assertThat(sender.lost()).isEmpty();
    clock.forward(Duration.ofMinutes(1));
    assertThat(sender.lost()).contains("shore: none was delivered for 31 min.");
  }
}
