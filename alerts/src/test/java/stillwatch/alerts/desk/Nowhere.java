package stillwatch.alerts.desk;

import stillwatch.alerts.route.Delivery;
import stillwatch.alerts.route.Route;
import stillwatch.rules.book.Priority;
import stillwatch.rules.plan.RoutePlan;

/** A way out that wants everything and whose outbox nobody empties. */
final class Nowhere implements Route {
  @Override
  public RoutePlan plan() {
    return new RoutePlan(
        "out", new RoutePlan.Syslog("127.0.0.1", 9, false), Priority.INFORMATION, null, null, null);
  }

  @Override
  public void deliver(Delivery delivery) {
    // nobody empties this outbox
  }

  @Override
  public void digest(String text) {
    // nobody asks for one
  }
}
