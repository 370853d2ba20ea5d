package stillwatch.fieldbus.opcua;

import java.io.IOException;
import java.net.URI;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.eclipse.milo.opcua.sdk.server.EndpointConfig;
import org.eclipse.milo.opcua.sdk.server.OpcUaServer;
import org.eclipse.milo.opcua.sdk.server.OpcUaServerConfig;
import org.eclipse.milo.opcua.sdk.server.identity.AnonymousIdentityValidator;
import org.eclipse.milo.opcua.stack.core.security.DefaultCertificateManager;
import org.eclipse.milo.opcua.stack.core.security.MemoryCertificateQuarantine;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.types.builtin.ExpandedNodeId;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransport;
import org.eclipse.milo.opcua.stack.transport.server.tcp.OpcTcpServerTransportConfig;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.door.StandIn;
import stillwatch.ingest.telemetry.Quality;

/**
 * An OPC UA server with the variables that a plan names, without security and without a history.
 * The source's time of a value is the moment at which it was said.
 */
final class OpcuaStandIn implements StandIn {
  private static final Logger LOG = LoggerFactory.getLogger(OpcuaStandIn.class);
  private static final int PATIENCE_S = 20;

  private final Map<String, Item> items = new HashMap<>();
  private final OpcUaServer server;
  private final StandInVariables variables;

  private OpcuaStandIn(OpcuaPlan plan, String namespace) {
    URI at = plan.server();
    EndpointConfig endpoint =
        EndpointConfig.newBuilder()
            .setBindAddress(at.getHost())
            .setHostname(at.getHost())
            .setBindPort(at.getPort() > 0 ? at.getPort() : Server.PORT)
            .setSecurityPolicy(SecurityPolicy.None)
            .setSecurityMode(MessageSecurityMode.None)
            .addTokenPolicies(OpcUaServerConfig.USER_TOKEN_POLICY_ANONYMOUS)
            .build();
    server =
        new OpcUaServer(
            OpcUaServerConfig.builder()
                .setApplicationUri("urn:stillwatch:stand-in")
                .setApplicationName(LocalizedText.english("Stillwatch stand-in"))
                .setProductUri("urn:stillwatch:stand-in")
                .setEndpoints(Set.of(endpoint))
                .setCertificateManager(
                    new DefaultCertificateManager(new MemoryCertificateQuarantine()))
                .setIdentityValidator(AnonymousIdentityValidator.INSTANCE)
                .build(),
            profile -> new OpcTcpServerTransport(OpcTcpServerTransportConfig.newBuilder().build()));
    variables = new StandInVariables(server, namespace);
    variables.startup();
    for (Item item : plan.items()) {
      items.put(item.gauge(), item);
      variables.add(item.gauge(), id(item));
    }
  }

  /**
   * Opens one.
   *
   * @throws IOException when it cannot listen, or cannot have the plan's nodes, in a sentence
   */
  static OpcuaStandIn open(OpcuaPlan plan) throws IOException {
    String namespace = namespace(plan);
    OpcuaStandIn made = new OpcuaStandIn(plan, namespace);
    try {
      var unused = made.server.startup().get(PATIENCE_S, TimeUnit.SECONDS);
      return made;
    } catch (ExecutionException | TimeoutException e) {
      made.close();
      throw new IOException(
          "nothing can listen at %s (%s); end what does, or give 'server' another port"
              .formatted(
                  plan.server(), e.getCause() == null ? e.toString() : e.getCause().getMessage()),
          e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted while " + plan.server() + " was opened", e);
    }
  }

  private static ExpandedNodeId id(Item item) {
    return ExpandedNodeId.parse(item.node());
  }

  /** The one namespace of all nodes; a stand-in has no other. */
  private static String namespace(OpcuaPlan plan) throws IOException {
    String one = id(plan.items().get(0)).getNamespaceUri();
    for (Item item : plan.items()) {
      String uri = id(item).getNamespaceUri();
      if (uri == null || !uri.equals(one)) {
        throw new IOException(
            "%s: a stand-in wants all nodes in one namespace that is named by its URI, like nsu=urn:example:cap;s=port.pressure"
                .formatted(item.place()));
      }
    }
    return String.valueOf(one);
  }

  @Override
  public Optional<String> unit(String gauge) {
    return Optional.ofNullable(items.get(gauge)).map(Item::unit);
  }

  @Override
  public void says(String gauge, double value, Quality quality) {
    variables.says(gauge, value, quality);
  }

  @Override
  public void close() {
    try {
      variables.shutdown();
      var unused = server.shutdown().get(PATIENCE_S, TimeUnit.SECONDS);
    } catch (ExecutionException | TimeoutException e) {
      LOG.warn("the stand-in for OPC UA did not end cleanly: {}", e.toString());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
