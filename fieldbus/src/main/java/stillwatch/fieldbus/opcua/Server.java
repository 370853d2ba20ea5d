package stillwatch.fieldbus.opcua;

import static org.eclipse.milo.opcua.stack.core.types.builtin.unsigned.Unsigned.uint;

import java.io.IOException;
import java.net.URI;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.stream.Collectors;
import org.eclipse.milo.opcua.sdk.client.DiscoveryClient;
import org.eclipse.milo.opcua.sdk.client.OpcUaClient;
import org.eclipse.milo.opcua.sdk.client.OpcUaClientConfigBuilder;
import org.eclipse.milo.opcua.sdk.client.SessionActivityListener;
import org.eclipse.milo.opcua.sdk.client.UaSession;
import org.eclipse.milo.opcua.stack.core.UaException;
import org.eclipse.milo.opcua.stack.core.security.SecurityPolicy;
import org.eclipse.milo.opcua.stack.core.types.builtin.LocalizedText;
import org.eclipse.milo.opcua.stack.core.types.enumerated.MessageSecurityMode;
import org.eclipse.milo.opcua.stack.core.types.structured.EndpointDescription;
import org.eclipse.milo.opcua.stack.core.util.EndpointUtil;
import org.jspecify.annotations.Nullable;

/** One session with a server. When it is lost, it is lost for good. Safe from any thread. */
final class Server implements AutoCloseable {
  private static final int PATIENCE_S = 10;
  static final int PORT = 4840; // IANA: opcua-tcp

  private final OpcUaClient client;
  private final CompletableFuture<String> lost = new CompletableFuture<>();

  private Server(OpcUaClient client) {
    this.client = client;
  }

  /**
   * Opens one.
   *
   * @throws IOException when there is none to be had, in a sentence
   */
  static Server open(OpcuaPlan plan) throws IOException {
    URI at = plan.server();
    Server server = null;
    try {
      EndpointDescription endpoint = endpoint(plan);
      ClientIdentity.check(endpoint, plan);
      OpcUaClientConfigBuilder config =
          new OpcUaClientConfigBuilder()
              .setApplicationName(LocalizedText.english("Stillwatch"))
              .setApplicationUri("urn:stillwatch")
              .setEndpoint(endpoint)
              .setRequestTimeout(uint(PATIENCE_S * 1000))
              .setKeepAliveInterval(uint(1000))
              .setKeepAliveTimeout(uint(5000))
              .setKeepAliveFailuresAllowed(uint(0));
      ClientIdentity.put(plan, config);
      server = new Server(OpcUaClient.create(config.build()));
      server.client.connectAsync().get(PATIENCE_S, TimeUnit.SECONDS);
      server.client.addSessionActivityListener(server.listening(at));
      return server;
    } catch (UaException | ExecutionException e) {
      end(server);
      throw new IOException(Words.noSession(at, e, plan), e);
    } catch (TimeoutException e) {
      end(server);
      throw new IOException("the server " + at + " did not answer in " + PATIENCE_S + " s", e);
    } catch (InterruptedException e) {
      end(server);
      Thread.currentThread().interrupt();
      throw new IOException("the source is ending", e);
    }
  }

  private static void end(@Nullable Server server) {
    if (server != null) {
      server.close();
    }
  }

  private SessionActivityListener listening(URI at) {
    return new SessionActivityListener() {
      @Override
      public void onSessionInactive(UaSession session) {
        lost.complete("the connection to " + at + " is lost");
      }
    };
  }

  /** The server's endpoint of the plan's security, at the address that the plan names. */
  private static EndpointDescription endpoint(OpcuaPlan plan)
      throws IOException, ExecutionException, InterruptedException, TimeoutException {
    URI at = plan.server();
    List<EndpointDescription> all =
        DiscoveryClient.getEndpoints(at.toString()).get(PATIENCE_S, TimeUnit.SECONDS);
    MessageSecurityMode mode =
        plan.security().equals(OpcuaPlan.OPEN)
            ? MessageSecurityMode.None
            : MessageSecurityMode.SignAndEncrypt;
    return all.stream()
        .filter(e -> policy(e).equals(plan.security()) && mode == e.getSecurityMode())
        .findFirst()
        .map(e -> EndpointUtil.updateUrl(e, at.getHost(), at.getPort() > 0 ? at.getPort() : PORT))
        .orElseThrow(
            () ->
                new IOException(
                    "the server %s does not offer the security %s but %s; correct 'security', or have it offer that"
                        .formatted(at, plan.security(), offered(all))));
  }

  private static String offered(List<EndpointDescription> all) {
    return all.stream().map(Server::policy).distinct().sorted().collect(Collectors.joining(", "));
  }

  private static String policy(EndpointDescription e) {
    return SecurityPolicy.fromUriSafe(e.getSecurityPolicyUri()).map(Enum::name).orElse("others");
  }

  OpcUaClient client() {
    return client;
  }

  /** Why the session is lost, once it is. */
  CompletableFuture<String> lost() {
    return lost;
  }

  @Override
  public void close() {
    try {
      client.disconnectAsync().get(1, TimeUnit.SECONDS);
    } catch (ExecutionException | TimeoutException e) {
      // it is lost already
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
