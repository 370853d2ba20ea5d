package stillwatch.station;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import io.opentelemetry.proto.collector.metrics.v1.ExportMetricsServiceRequest;
import io.opentelemetry.proto.collector.metrics.v1.ExportMetricsServiceResponse;
import io.opentelemetry.proto.metrics.v1.ResourceMetrics;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.Map;
import java.util.Queue;
import java.util.Set;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.stream.Collectors;

/**
 * A receiver of metrics by OTLP over HTTP, which reads them by the classes that the protocol's own
 * definition makes.
 */
final class OtlpReceiver implements AutoCloseable {
  private final Queue<ResourceMetrics> told = new ConcurrentLinkedQueue<>();
  private final HttpServer server;

  OtlpReceiver() throws IOException {
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext("/v1/metrics", this::take);
    server.start();
  }

  private void take(HttpExchange exchange) throws IOException {
    told.addAll(
        ExportMetricsServiceRequest.parseFrom(exchange.getRequestBody()).getResourceMetricsList());
    byte[] answer = ExportMetricsServiceResponse.getDefaultInstance().toByteArray();
    exchange.getResponseHeaders().set("Content-Type", "application/x-protobuf");
    exchange.sendResponseHeaders(200, answer.length == 0 ? -1 : answer.length);
    exchange.close();
  }

  String url() {
    return "http://127.0.0.1:" + server.getAddress().getPort();
  }

  /**
   * The names of the metrics that a resource of this attribute has told, with the underscores of
   * Prometheus in place of dots.
   */
  Set<String> metrics(String attribute, String value) {
    return told.stream()
        .filter(
            r ->
                r.getResource().getAttributesList().stream()
                    .map(a -> Map.entry(a.getKey(), a.getValue().getStringValue()))
                    .anyMatch(Map.entry(attribute, value)::equals))
        .flatMap(r -> r.getScopeMetricsList().stream())
        .flatMap(s -> s.getMetricsList().stream())
        .map(m -> m.getName().replace('.', '_'))
        .collect(Collectors.toSet());
  }

  @Override
  public void close() {
    server.stop(0);
  }
}
