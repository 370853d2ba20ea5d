package stillwatch.station.run;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.ipc.http.HttpSender;
import io.micrometer.registry.otlp.OtlpConfig;
import io.micrometer.registry.otlp.OtlpHttpMetricsSender;
import io.micrometer.registry.otlp.OtlpMeterRegistry;
import io.micrometer.registry.otlp.OtlpMetricsSender;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.entrance.Trust;

/** Sends metrics to a receiver of OTLP over HTTP. Safe from any thread. */
final class OtlpSender implements OtlpMetricsSender, HttpSender {
  private static final Logger LOG = LoggerFactory.getLogger(OtlpSender.class);
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final HttpClient client;
  private final OtlpMetricsSender sender = new OtlpHttpMetricsSender(this);

  private OtlpSender(Trust trust) {
    client = HttpClient.newBuilder().sslContext(trust.context()).connectTimeout(PATIENCE).build();
  }

  /** A registry that is sent there. What OpenTelemetry's environment variables say goes for it. */
  static MeterRegistry to(URI receiver, Trust trust) {
    return OtlpMeterRegistry.builder(new Receiver(receiver))
        .metricsSender(new OtlpSender(trust))
        .build();
  }

  /** Where it is sent, and as whose. */
  private record Receiver(URI at) implements OtlpConfig {
    private static final String SERVICE = "service.name";

    @Override
    public @Nullable String get(String key) {
      return null;
    }

    @Override
    public String url() {
      return at.toString();
    }

    @Override
    public Map<String, String> resourceAttributes() {
      Map<String, String> stated = OtlpConfig.super.resourceAttributes();
      stated.putIfAbsent(SERVICE, "stillwatch");
      return stated;
    }
  }

  @Override
  public void send(OtlpMetricsSender.Request request) {
    try {
      sender.send(request);
    } catch (Exception e) { // a library that throws anything
      Throwable cause = e.getCause() == null ? e : e.getCause();
      LOG.warn("metrics did not reach {}: {}", request.getAddress(), cause.toString());
    }
  }

  @Override
  public HttpSender.Response send(HttpSender.Request request)
      throws IOException, InterruptedException {
    HttpRequest.Builder out =
        HttpRequest.newBuilder(URI.create(request.getUrl().toString()))
            .timeout(PATIENCE)
            .method(
                request.getMethod().name(),
                HttpRequest.BodyPublishers.ofByteArray(request.getEntity()));
    request.getRequestHeaders().forEach(out::header);
    HttpResponse<String> in = client.send(out.build(), HttpResponse.BodyHandlers.ofString());
    return new HttpSender.Response(in.statusCode(), in.body());
  }
}
