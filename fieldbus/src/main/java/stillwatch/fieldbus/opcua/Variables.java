package stillwatch.fieldbus.opcua;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.stack.core.AttributeId;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExpandedNodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExtensionObject;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.QualifiedName;
import org.eclipse.milo.opcua.stack.core.types.enumerated.TimestampsToReturn;
import org.eclipse.milo.opcua.stack.core.types.structured.BrowsePath;
import org.eclipse.milo.opcua.stack.core.types.structured.BrowsePathResult;
import org.eclipse.milo.opcua.stack.core.types.structured.EUInformation;
import org.eclipse.milo.opcua.stack.core.types.structured.ReadValueId;
import org.eclipse.milo.opcua.stack.core.types.structured.RelativePath;
import org.eclipse.milo.opcua.stack.core.types.structured.RelativePathElement;
import stillwatch.ingest.unit.Kind;
import stillwatch.ingest.unit.UnitException;
import stillwatch.ingest.unit.Units;

/** Finds the plan's nodes on a server, and compares what both say of them. */
final class Variables {
  private static final int HISTORY_READ = 4;

  private final OpcUaClient client;
  private final List<String> lacks = new ArrayList<>();
  private final List<Variable> found = new ArrayList<>();

  /**
   * A node, or its unit, is not what the plan takes it for; the message says why and how to mend.
   */
  private static final class MismatchException extends Exception {
    private static final long serialVersionUID = 1L;

    MismatchException(String why) {
      super(why);
    }
  }

  private Variables(OpcUaClient client) {
    this.client = client;
  }

  /**
   * Those of these items.
   *
   * @throws UaException when the server does not answer
   */
  static Variables of(OpcUaClient client, List<Item> items) throws UaException {
    Variables all = new Variables(client);
    for (Item item : items) {
      try {
        all.found.add(all.find(item));
      } catch (MismatchException e) {
        all.lacks.add(item.place() + ": " + e.getMessage());
      }
    }
    return all;
  }

  /** Those that can be subscribed to. */
  List<Variable> found() {
    return found;
  }

  /** Why not the others, a sentence each. */
  List<String> lacks() {
    return lacks;
  }

  private Variable find(Item item) throws UaException, MismatchException {
    NodeId node =
        ExpandedNodeId.parse(item.node())
            .toNodeId(client.getNamespaceTable())
            .orElseThrow(
                () -> new MismatchException("the server has no such namespace; correct its URI"));
    DataValue said = client.readValue(0, TimestampsToReturn.Both, node);
    Object value = said.getValue().getValue();
    if (value == null && said.getStatusCode().isBad() && isAboutTheNode(said)) {
      throw new MismatchException(
          "the server says " + Words.name(said.getStatusCode()) + "; correct 'node' in the plan");
    }
    if (value != null && !(value instanceof Number)) {
      throw new MismatchException(
          "holds a " + value.getClass().getSimpleName() + " and no number; correct 'node'");
    }
    return new Variable(
        item,
        node,
        unit(item, node),
        history(node),
        Variable.atMs(said, System.currentTimeMillis()));
  }

  /** OPC 10000-3, 8.57: the bit HistoryRead of what this user may do. */
  private boolean history(NodeId node) throws UaException {
    ReadValueId asked =
        new ReadValueId(node, AttributeId.UserAccessLevel.uid(), null, QualifiedName.NULL_VALUE);
    DataValue[] said = client.read(0, TimestampsToReturn.Neither, List.of(asked)).getResults();
    return said != null
        && said.length == 1
        && said[0].getValue().getValue() instanceof Number level
        && (level.intValue() & HISTORY_READ) != 0;
  }

  /** Not of its value, which may be bad for a while. */
  private static boolean isAboutTheNode(DataValue said) {
    String name = Words.name(said.getStatusCode());
    return name.startsWith("Bad_NodeId")
        || name.equals("Bad_AttributeIdInvalid")
        || name.equals("Bad_NotReadable")
        || name.equals("Bad_UserAccessDenied");
  }

  /** The unit of its values, which both sides must mean. */
  private String unit(Item item, NodeId node) throws UaException, MismatchException {
    EUInformation said = engineeringUnits(client, node).orElse(null);
    if (said == null) {
      return item.unit();
    }
    String unit = Cefact.ucum(said.getUnitId()).orElse("");
    if (!Cefact.NAMESPACE.equals(said.getNamespaceUri()) || unit.isEmpty()) {
      if (!item.unit().isEmpty() || item.kind() == Kind.SOUND) {
        return item.unit(); // a unit that only people can read, or decibels without their reference
      }
      throw new MismatchException(
          "the server says the unit '%s', which is not known here; say 'unit' in the plan"
              .formatted(said.getDisplayName().getText()));
    }
    if (!item.unit().isEmpty() && !item.unit().equals(unit)) {
      throw new MismatchException(
          "the server says the unit %s, the plan %s; correct the one that is wrong"
              .formatted(unit, item.unit()));
    }
    try {
      var unused = Units.of(item.kind(), unit);
      return unit;
    } catch (UnitException e) {
      throw new MismatchException(
          "the server says the unit %s, and the gauge measures %s; correct 'node' or the gauge's kind"
              .formatted(unit, item.kind().wire()));
    }
  }

  /** What its property EngineeringUnits says (OPC 10000-8, 5.6.4.3); empty without one. */
  static Optional<EUInformation> engineeringUnits(OpcUaClient client, NodeId node)
      throws UaException {
    BrowsePath path =
        new BrowsePath(
            node,
            new RelativePath(
                new RelativePathElement[] {
                  new RelativePathElement(
                      NodeIds.HasProperty, false, true, new QualifiedName(0, "EngineeringUnits"))
                }));
    BrowsePathResult[] results = client.translateBrowsePaths(List.of(path)).getResults();
    if (results == null
        || results.length == 0
        || results[0].getTargets() == null
        || results[0].getTargets().length == 0) {
      return Optional.empty();
    }
    NodeId property =
        results[0].getTargets()[0].getTargetId().toNodeIdOrThrow(client.getNamespaceTable());
    Object value = client.readValue(0, TimestampsToReturn.Neither, property).getValue().getValue();
    return value instanceof ExtensionObject x
            && x.decode(client.getStaticEncodingContext()) instanceof EUInformation unit
        ? Optional.of(unit)
        : Optional.empty();
  }
}
