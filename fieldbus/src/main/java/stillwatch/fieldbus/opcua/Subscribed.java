package stillwatch.fieldbus.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import org.eclipse.milo.opcua.sdk.client.subscriptions.MonitoredItemServiceOperationResult;
import org.eclipse.milo.opcua.sdk.client.subscriptions.OpcUaMonitoredItem;
import org.eclipse.milo.opcua.sdk.client.subscriptions.OpcUaSubscription;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.enumerated.DataChangeTrigger;
import org.eclipse.milo.opcua.stack.core.types.structured.DataChangeFilter;

/**
 * A subscription to variables; what the server says waits in a queue. A value that is sampled again
 * with a new time is said though it is the same, where the server can do that: a gauge that does
 * not move is not a silent one.
 */
final class Subscribed {
  /** So many values of one variable the server keeps between two answers. */
  private static final int QUEUE = 1000;

  /** So often a server with nothing to say says that it is there; it may be late by so much. */
  private static final double KEEP_ALIVE_MS = 5000;

  private static final double PATIENCE = 4;

  private final Server server;
  private final BlockingQueue<Said> said = new LinkedBlockingQueue<>();
  private final Map<OpcUaMonitoredItem, Variable> items = new HashMap<>();
  private final List<String> lacks = new ArrayList<>();

  /** What the server said of a variable. */
  record Said(Variable variable, DataValue value) {}

  private Subscribed(Server server) {
    this.server = server;
  }

  /**
   * Subscribes.
   *
   * @throws UaException when the server takes no subscription
   */
  static Subscribed to(Server server, List<Variable> variables, Duration every) throws UaException {
    Subscribed made = new Subscribed(server);
    OpcUaSubscription subscription =
        new OpcUaSubscription(server.client(), (double) every.toMillis());
    subscription.setSubscriptionListener(made.listening());
    subscription.setTargetKeepAliveInterval(KEEP_ALIVE_MS);
    subscription.setWatchdogMultiplier(PATIENCE);
    subscription.create();
    for (Variable v : variables) {
      OpcUaMonitoredItem item = OpcUaMonitoredItem.newDataItem(v.node());
      item.setSamplingInterval((double) every.toMillis());
      item.setQueueSize(uint(QUEUE));
      item.setDiscardOldest(true);
      item.setFilter(new DataChangeFilter(DataChangeTrigger.StatusValueTimestamp, uint(0), 0.0));
      made.items.put(item, v);
      subscription.addMonitoredItem(item);
    }
    made.create(subscription);
    return made;
  }

  private void create(OpcUaSubscription subscription) {
    boolean again = false;
    for (MonitoredItemServiceOperationResult r : subscription.createMonitoredItems()) {
      long status = status(r).getValue();
      if (status == StatusCodes.Bad_MonitoredItemFilterUnsupported
          || status == StatusCodes.Bad_FilterNotAllowed) {
        r.monitoredItem().setFilter(null);
        again = true;
      } else {
        tell(r);
      }
    }
    if (again) {
      subscription.createMonitoredItems().forEach(this::tell);
    }
  }

  private static StatusCode status(MonitoredItemServiceOperationResult r) {
    return r.operationResult().orElse(r.serviceResult());
  }

  private void tell(MonitoredItemServiceOperationResult r) {
    Variable v = items.get(r.monitoredItem());
    if (!r.isGood() && v != null) {
      lacks.add(
          v.item().place()
              + ": the server does not let it be subscribed to ("
              + Words.name(status(r))
              + "); correct 'node', or have it allow that");
    }
  }

  private OpcUaSubscription.SubscriptionListener listening() {
    return new OpcUaSubscription.SubscriptionListener() {
      @Override
      public void onDataReceived(
          OpcUaSubscription subscription, List<OpcUaMonitoredItem> of, List<DataValue> values) {
        for (int i = 0; i < of.size(); i++) {
          take(of.get(i), values.get(i));
        }
      }

      @Override
      public void onNotificationDataLost(OpcUaSubscription subscription) {
        server.lost().complete("messages of the subscription are lost");
      }

      @Override
      public void onWatchdogTimerElapsed(OpcUaSubscription subscription) {
        server.lost().complete("the server says nothing of the subscription any more");
      }

      @Override
      public void onStatusChanged(OpcUaSubscription subscription, StatusCode status) {
        server.lost().complete("the server has ended the subscription: " + Words.name(status));
      }
    };
  }

  private void take(OpcUaMonitoredItem item, DataValue value) {
    Variable v = items.get(item);
    if (v == null || server.lost().isDone()) {
      return;
    }
    if (v.history() && value.getStatusCode().isOverflowSet()) {
      server.lost().complete("the server's queue of " + v.item().gauge() + " ran over");
      return; // its history has what ran over, and this
    }
    said.add(new Said(v, value));
  }

  /** What the server has said and nobody has taken yet. */
  BlockingQueue<Said> said() {
    return said;
  }

  /** What could not be subscribed to, a sentence each. */
  List<String> lacks() {
    return lacks;
  }
}
