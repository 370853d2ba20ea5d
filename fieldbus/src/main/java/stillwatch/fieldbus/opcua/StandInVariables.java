package stillwatch.fieldbus.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ubyte;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.eclipse.milo.opcua.sdk.core.Reference;
import org.eclipse.milo.opcua.sdk.server.ManagedNamespaceWithLifecycle;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.items.DataItem;
import org.eclipse.milo.opcua.sdk.server.items.MonitoredItem;
import org.eclipse.milo.opcua.sdk.server.nodes.UaVariableNode;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExpandedNodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import stillwatch.ingest.telemetry.Quality;

/**
 * The variables of a stand-in, a gauge each. Whoever subscribes hears every value. Safe from any
 * thread.
 */
final class StandInVariables extends ManagedNamespaceWithLifecycle {
  private static final int READ = 1;

  private final Map<String, UaVariableNode> nodes = new HashMap<>();
  private final List<DataItem> items = new ArrayList<>();

  StandInVariables(OpcUaServer server, String namespace) {
    super(server, namespace);
  }

  /** Adds one, which has said nothing yet. */
  synchronized void add(String gauge, ExpandedNodeId id) {
    UaVariableNode node =
        new UaVariableNode.UaVariableNodeBuilder(getNodeContext())
            .setNodeId(id.toNodeId(getServer().getNamespaceTable()).orElseThrow())
            .setBrowseName(newQualifiedName(gauge))
            .setDisplayName(LocalizedText.english(gauge))
            .setDataType(NodeIds.Double)
            .setTypeDefinition(NodeIds.BaseDataVariableType)
            .setAccessLevel(ubyte(READ))
            .setUserAccessLevel(ubyte(READ))
            .setValue(value(Double.NaN, new StatusCode(StatusCodes.Bad_WaitingForInitialData)))
            .build();
    getNodeManager().addNode(node);
    node.addReference(
        new Reference(
            node.getNodeId(), NodeIds.Organizes, NodeIds.ObjectsFolder.expanded(), false));
    nodes.put(gauge, node);
  }

  /** From now on the gauge says this. */
  synchronized void says(String gauge, double value, Quality quality) {
    UaVariableNode node = nodes.get(gauge);
    if (node == null) {
      return;
    }
    DataValue said = value(value, status(quality));
    node.setValue(said);
    for (DataItem item : items) {
      if (item.getReadValueId().getNodeId().equals(node.getNodeId())) {
        item.setValue(said);
      }
    }
  }

  private static StatusCode status(Quality quality) {
    return switch (quality) {
      case GOOD -> StatusCode.GOOD;
      case UNCERTAIN -> StatusCode.UNCERTAIN;
      case BAD -> StatusCode.BAD;
    };
  }

  private static DataValue value(double value, StatusCode status) {
    DateTime now = DateTime.now();
    return new DataValue(new Variant(value), status, now, now);
  }

  @Override
  public synchronized void onDataItemsCreated(List<DataItem> created) {
    items.addAll(created);
    for (DataItem item : created) {
      for (UaVariableNode node : nodes.values()) {
        if (node.getNodeId().equals(item.getReadValueId().getNodeId())) {
          item.setValue(node.getValue());
        }
      }
    }
  }

  @Override
  public void onDataItemsModified(List<DataItem> modified) {}

  @Override
  public synchronized void onDataItemsDeleted(List<DataItem> deleted) {
    items.removeAll(List.copyOf(deleted));
  }

  @Override
  public void onMonitoringModeChanged(List<MonitoredItem> changed) {}
}
