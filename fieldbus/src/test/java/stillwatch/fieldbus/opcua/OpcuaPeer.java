package stillwatch.fieldbus.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.ubyte;

import java.nio.charset.StandardCharsets;
import java.security.KeyPair;
import java.security.cert.X509Certificate;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.eclipse.milo.opcua.sdk.core.CefactEngineeringUnits;
import org.eclipse.milo.opcua.sdk.core.Reference;
import org.eclipse.milo.opcua.sdk.server.EndpointConfig;
import org.eclipse.milo.opcua.sdk.server.ManagedNamespaceWithLifecycle;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.OpcUaServerConfig;
import org.eclipse.milo.opcua.sdk.server.identity.AnonymousIdentityValidator;
import org.eclipse.milo.opcua.sdk.server.identity.CompositeValidator;
import org.eclipse.milo.opcua.sdk.server.identity.UsernameIdentityValidator;
import org.eclipse.milo.opcua.sdk.server.items.DataItem;
import org.eclipse.milo.opcua.sdk.server.items.MonitoredItem;
import org.eclipse.milo.opcua.sdk.server.model.variables.BaseAnalogType;
import org.eclipse.milo.opcua.sdk.server.nodes.UaVariableNode;
import org.eclipse.milo.opcua.stack.core.NodeIds;
import org.eclipse.milo.opcua.stack.core.StatusCodes;
import org.eclipse.milo.opcua.stack.core.security.DefaultApplicationGroup;
import org.eclipse.milo.opcua.stack.core.security.DefaultCertificateManager;
import org.eclipse.milo.opcua.stack.core.security.DefaultServerCertificateValidator;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateStore;
import org.eclipse.milo.opcua.stack.core.security.MemoryTrustListManager;
import org.eclipse.milo.opcua.stack.core.security.RsaSha256CertificateFactory;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.types.builtin.ByteString;
import org.eclipse.milo.opcua.stack.core.types.builtin.DataValue;
import org.eclipse.milo.opcua.stack.core.types.builtin.DateTime;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExtensionObject;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.builtin.NodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.StatusCode;
import org.eclipse.milo.opcua.stack.core.types.builtin.Variant;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.core.types.enumerated.TimestampsToReturn;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryData;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryReadDetails;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryReadResult;
import org.eclipse.milo.opcua.stack.core.types.structured.HistoryReadValueId;
import org.eclipse.milo.opcua.stack.core.types.structured.ReadRawModifiedDetails;
import org.eclipse.milo.opcua.stack.core.util.SelfSignedCertificateBuilder;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransport;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransportConfig;

/**
 * An OPC UA server on this machine, of Milo's own making: variables that say what a test has them
 * say, with a history. It offers None, and Basic256Sha256 with a user and a password.
 */
public final class OpcuaPeer implements AutoCloseable {
  /** Of all its variables. */
  public static final String NAMESPACE = "urn:example:cap";

  /** When a variable that has said nothing yet was 0. */
  static final Instant BEFORE = Instant.parse("2026-03-08T05:00:00Z");

  static final String USER = "watch";
  static final String PASSWORD = "of invented wells";

  final X509Certificate certificate;
  final MemoryTrustListManager trusts = new MemoryTrustListManager();
  private final OpcUaServer server;
  private final Cap cap;

  private OpcuaPeer(int port, KeyPair keys, X509Certificate certificate) throws Exception {
    this.certificate = certificate;
    DefaultApplicationGroup group =
        DefaultApplicationGroup.createAndInitialize(
            trusts,
            new MemoryCertificateStore(),
            new RsaSha256CertificateFactory() {
              @Override
              protected KeyPair createRsaSha256KeyPair() {
                return keys;
              }

              @Override
              protected X509Certificate[] createRsaSha256CertificateChain(KeyPair pair) {
                return new X509Certificate[] {certificate};
              }
            },
            new DefaultServerCertificateValidator(
                trusts, Set.of(), new MemoryCertificateQuarantine()));
    server =
        new OpcUaServer(
            OpcUaServerConfig.builder()
                .setApplicationUri("urn:example:server")
                .setApplicationName(LocalizedText.english("the cap"))
                .setProductUri("urn:example:product")
                .setEndpoints(endpoints(port))
                .setCertificateManager(
                    new DefaultCertificateManager(new MemoryCertificateQuarantine(), group))
                .setIdentityValidator(
                    new CompositeValidator(
                        AnonymousIdentityValidator.INSTANCE,
                        new UsernameIdentityValidator(
                            c -> c.getUsername().equals(USER) && c.getPassword().equals(PASSWORD))))
                .build(),
            profile -> new OpcTcpServerTransport(OpcTcpServerTransportConfig.newBuilder().build()));
    cap = new Cap(server);
    cap.startup();
    server.startup().get(60, TimeUnit.SECONDS);
  }

  /** A certificate of its own with this application URI. */
  static X509Certificate certificate(KeyPair keys, String uri) throws Exception {
    return new SelfSignedCertificateBuilder(keys)
        .setCommonName(uri)
        .setApplicationUri(uri)
        .addIpAddress("127.0.0.1")
        .build();
  }

  /** Starts one, with keys for its certificate. */
  public static OpcuaPeer listening(int port, KeyPair keys) throws Exception {
    return new OpcuaPeer(port, keys, certificate(keys, "urn:example:server"));
  }

  private Set<EndpointConfig> endpoints(int port) {
    EndpointConfig.Builder open =
        EndpointConfig.newBuilder()
            .setBindAddress("127.0.0.1")
            .setHostname("cap.example") // as servers do: a name that only they know
            .setBindPort(port)
            .setCertificate(certificate)
            .setSecurityPolicy(SecurityPolicy.None)
            .setSecurityMode(MessageSecurityMode.None)
            .addTokenPolicies(OpcUaServerConfig.USER_TOKEN_POLICY_ANONYMOUS);
    Set<EndpointConfig> all = new LinkedHashSet<>();
    all.add(open.build());
    all.add(
        open.copy()
            .setSecurityPolicy(SecurityPolicy.Basic256Sha256)
            .setSecurityMode(MessageSecurityMode.SignAndEncrypt)
            .addTokenPolicies(OpcUaServerConfig.USER_TOKEN_POLICY_USERNAME)
            .build());
    return all;
  }

  /** A variable of this name, with a unit of Recommendation 20; 0 for one without. */
  public OpcuaPeer variable(String name, int unitId, boolean history) {
    cap.variable(name, unitId, history);
    return this;
  }

  /** The variable says this, good, at that time. */
  void says(String name, double value, Instant at) {
    says(name, new Variant(value), StatusCode.GOOD, at);
  }

  /** The variable says this at that time. */
  public void says(String name, Variant value, StatusCode status, Instant at) {
    cap.says(name, new DataValue(value, status, new DateTime(at), new DateTime(at)));
  }

  /** How often history was asked for. */
  int historyReads() {
    return cap.reads;
  }

  /** How many variables are subscribed to now. */
  int subscribed() {
    return cap.items.size();
  }

  /** No variable answers within an answer of history more than so many. */
  public void page(int values) {
    cap.page = values;
  }

  @Override
  public void close() throws Exception {
    cap.shutdown();
    server.shutdown().get(20, TimeUnit.SECONDS);
  }

  /** The namespace of the variables. */
  private static final class Cap extends ManagedNamespaceWithLifecycle {
    private final Map<NodeId, List<DataValue>> history = new HashMap<>();
    private final List<DataItem> items = new ArrayList<>();
    private int page = 1000;
    private int reads;

    Cap(OpcUaServer server) {
      super(server, NAMESPACE);
    }

    private synchronized void variable(String name, int unitId, boolean keeps) {
      UaVariableNode node =
          new UaVariableNode.UaVariableNodeBuilder(getNodeContext())
              .setNodeId(newNodeId(name))
              .setBrowseName(newQualifiedName(name))
              .setDisplayName(LocalizedText.english(name))
              .setDataType(NodeIds.Double)
              .setTypeDefinition(NodeIds.AnalogUnitType)
              .setAccessLevel(ubyte(keeps ? 5 : 1))
              .setUserAccessLevel(ubyte(keeps ? 5 : 1))
              .setValue(new DataValue(new Variant(0.0), StatusCode.GOOD, new DateTime(BEFORE)))
              .build();
      getNodeManager().addNode(node);
      node.addReference(
          new Reference(
              node.getNodeId(), NodeIds.Organizes, NodeIds.ObjectsFolder.expanded(), false));
      if (unitId != 0) {
        node.setProperty(
            BaseAnalogType.ENGINEERING_UNITS, CefactEngineeringUnits.getByUnitId(unitId));
      }
      kept(node.getNodeId()).add(node.getValue());
    }

    private synchronized void says(String name, DataValue value) {
      NodeId id = newNodeId(name);
      getNodeManager().getNode(id).map(UaVariableNode.class::cast).orElseThrow().setValue(value);
      kept(id).add(value);
      for (DataItem item : items) {
        if (item.getReadValueId().getNodeId().equals(id)) {
          item.setValue(value);
        }
      }
    }

    @Override
    public synchronized List<HistoryReadResult> historyRead(
        HistoryReadContext context,
        HistoryReadDetails details,
        TimestampsToReturn timestamps,
        List<HistoryReadValueId> of) {
      reads++;
      List<HistoryReadResult> results = new ArrayList<>();
      ReadRawModifiedDetails asked = (ReadRawModifiedDetails) details;
      for (HistoryReadValueId id : of) {
        results.add(read(asked, id));
      }
      return results;
    }

    private List<DataValue> kept(NodeId id) {
      return history.computeIfAbsent(id, i -> new ArrayList<>());
    }

    private static long time(DataValue value) {
      return Objects.requireNonNull(value.getSourceTime()).getUtcTime();
    }

    private HistoryReadResult read(ReadRawModifiedDetails asked, HistoryReadValueId id) {
      List<DataValue> within =
          kept(id.getNodeId()).stream()
              .filter(
                  v ->
                      time(v) >= asked.getStartTime().getUtcTime()
                          && time(v) < asked.getEndTime().getUtcTime())
              .toList();
      ByteString more = id.getContinuationPoint();
      int from =
          more == null || more.isNull()
              ? 0
              : Integer.parseInt(new String(more.bytesOrEmpty(), StandardCharsets.US_ASCII));
      int to = Math.min(within.size(), from + page);
      return new HistoryReadResult(
          new StatusCode(within.isEmpty() ? StatusCodes.Good_NoData : 0),
          to < within.size()
              ? ByteString.of(String.valueOf(to).getBytes(StandardCharsets.US_ASCII))
              : ByteString.NULL_VALUE,
          ExtensionObject.encode(
              getServer().getStaticEncodingContext(),
              new HistoryData(within.subList(from, to).toArray(DataValue[]::new))));
    }

    @Override
    public synchronized void onDataItemsCreated(List<DataItem> created) {
      items.addAll(created);
      for (DataItem item : created) {
        getNodeManager()
            .getNode(item.getReadValueId().getNodeId())
            .ifPresent(n -> item.setValue(((UaVariableNode) n).getValue()));
      }
    }

    @Override
    public void onDataItemsModified(List<DataItem> modified) {}

    @Override
    public synchronized void onDataItemsDeleted(List<DataItem> deleted) {
      items.removeAll((Collection<DataItem>) deleted);
    }

    @Override
    public void onMonitoringModeChanged(List<MonitoredItem> changed) {}
  }
}
