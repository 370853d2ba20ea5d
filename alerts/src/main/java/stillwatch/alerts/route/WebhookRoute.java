package stillwatch.alerts.route;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Webhook;

/**
 * Posts alerts as CloudEvents 1.0 in the structured JSON form (CloudEvents spec.md and JSON event
 * format, v1.0.2). The pair of {@code source} and {@code id} is the same in every attempt, so that
 * the receiver can tell a repetition; the extension attribute {@code attempt} counts from 1.
 */
public final class WebhookRoute implements Route {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final Webhook webhook;
  private final HttpClient client =
      HttpClient.newBuilder()
          .connectTimeout(PATIENCE)
          .followRedirects(HttpClient.Redirect.NEVER)
          .build();

  /** The route a plan describes. */
  public WebhookRoute(Webhook webhook) {
    this.webhook = webhook;
  }

  @Override
  public String name() {
    return webhook.name();
  }

  @Override
  public boolean wants(Finding finding) {
    return finding.priority().compareTo(webhook.from()) >= 0;
  }

  @Override
  public void deliver(Delivery delivery) throws DeliveryException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(webhook.url())
            .timeout(PATIENCE)
            .header("Content-Type", "application/cloudevents+json; charset=utf-8")
            .POST(HttpRequest.BodyPublishers.ofByteArray(event(delivery)))
            .build();
    try {
      int status = client.send(request, HttpResponse.BodyHandlers.discarding()).statusCode();
      if (status < 200 || status > 299) {
        throw new DeliveryException(webhook.url() + " answered " + status);
      }
    } catch (IOException e) {
      throw new DeliveryException(
          webhook.url()
              + " cannot be reached: "
              + (e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage()));
    }
  }

  /** The event's bytes. */
  static byte[] event(Delivery delivery) {
    Finding f = delivery.finding();
    Long returned = f.returnedMs();
    ObjectNode event = JSON.createObjectNode();
    event.put("specversion", "1.0");
    event.put("id", f.id() + (returned == null ? "-raised" : "-returned"));
    event.put("source", "/stillwatch/wells/" + f.well());
    event.put("type", returned == null ? "stillwatch.alert.raised" : "stillwatch.alert.returned");
    event.put(
        "time",
        DateTimeFormatter.ISO_INSTANT.format(
            Instant.ofEpochMilli(returned == null ? f.raisedMs() : returned)));
    event.put("subject", f.rule());
    event.put("datacontenttype", "application/json");
    event.put("attempt", delivery.attempt());
    try {
      event.set("data", JSON.readTree(FindingCodec.encode(f)));
      return JSON.writeValueAsBytes(event);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("our own finding is no JSON", e);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }
}
