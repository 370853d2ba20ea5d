package stillwatch.fieldbus.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.ByteString;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.enumerated.BrowseDirection;
import org.eclipse.milo.opcua.stack.core.types.enumerated.BrowseResultMask;
import org.eclipse.milo.opcua.stack.core.types.enumerated.NodeClass;
import org.eclipse.milo.opcua.stack.core.types.enumerated.TimestampsToReturn;
import org.eclipse.milo.opcua.stack.core.types.structured.BrowseDescription;
import org.eclipse.milo.opcua.stack.core.types.structured.BrowseResult;
import org.eclipse.milo.opcua.stack.core.types.structured.ReferenceDescription;

/** The variables of a server that hold numbers, so that a plan can name them. */
final class Offers {
  private static final int MOST = 1000;
  private static final int DEEPEST = 12;

  private final OpcUaClient client;
  private final List<String> lines = new ArrayList<>();
  private final Set<NodeId> seen = new HashSet<>(Set.of(NodeIds.Server));

  Offers(OpcUaClient client) {
    this.client = client;
  }

  /**
   * A line each: the node's id as the plan takes it, the type and unit of its value, and the names
   * above it; at most {@value #MOST}.
   */
  List<String> lines() throws IOException {
    try {
      look(NodeIds.ObjectsFolder, "", 0);
    } catch (UaException e) {
      throw new IOException(
          "the server does not let itself be browsed (" + Words.name(e.getStatusCode()) + ")", e);
    }
    return lines;
  }

  private void look(NodeId at, String above, int depth) throws UaException {
    for (ReferenceDescription r : below(at)) {
      NodeId node = r.getNodeId().toNodeId(client.getNamespaceTable()).orElse(NodeId.NULL_VALUE);
      if (lines.size() >= MOST || depth >= DEEPEST || node.isNull() || !seen.add(node)) {
        continue;
      }
      String path = above + "/" + r.getBrowseName().name();
      if (r.getNodeClass() == NodeClass.Variable) {
        variable(node, path);
      }
      look(node, path, depth + 1);
    }
  }

  private void variable(NodeId node, String path) throws UaException {
    DataValue said = client.readValue(0, TimestampsToReturn.Neither, node);
    if (said.getValue().getValue() instanceof Number value) {
      String unit =
          Variables.engineeringUnits(client, node)
              .map(
                  u -> Cefact.ucum(u.getUnitId()).orElse(String.valueOf(u.getDisplayName().text())))
              .orElse("no unit");
      lines.add(
          node.expanded(client.getNamespaceTable()).toParseableString()
              + "  "
              + value.getClass().getSimpleName()
              + "  "
              + unit
              + "  "
              + path);
    }
  }

  private List<ReferenceDescription> below(NodeId at) throws UaException {
    List<ReferenceDescription> all = new ArrayList<>();
    BrowseResult result =
        client.browse(
            new BrowseDescription(
                at,
                BrowseDirection.Forward,
                NodeIds.HierarchicalReferences,
                true,
                uint(NodeClass.Object.getValue() | NodeClass.Variable.getValue()),
                uint(BrowseResultMask.All.getValue())));
    while (true) {
      if (result.getReferences() != null) {
        all.addAll(List.of(result.getReferences()));
      }
      ByteString more = result.getContinuationPoint();
      if (more == null || more.isNull()) {
        return all;
      }
      BrowseResult[] next = client.browseNext(false, List.of(more)).getResults();
      if (next == null || next.length == 0) {
        return all;
      }
      result = next[0];
    }
  }
}
