package stillwatch.alerts.route;

import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.time.Duration;
import java.util.Base64;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import javax.net.ssl.SSLContext;
import stillwatch.rules.plan.RoutePlan;

/**
 * Posts alerts as CloudEvents. Where the plan names a secret, each is signed: the header {@code
 * webhook-signature} is {@code v1,} and the Base64 of the HMAC-SHA256 of id, time and body with
 * full stops between (Standard Webhooks 1.0.0, a public specification). A secret that begins with
 * {@code whsec_} is Base64, as that specification has it; of any other the key is its text in
 * UTF-8.
 */
final class WebhookRoute implements Route {
  private static final String BASE64 = "whsec_";
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final RoutePlan plan;
  private final RoutePlan.Webhook webhook;
  private final HttpClient client;

  WebhookRoute(RoutePlan plan, RoutePlan.Webhook webhook, SSLContext tls) {
    this.plan = plan;
    this.webhook = webhook;
    client =
        HttpClient.newBuilder()
            .sslContext(tls)
            .connectTimeout(PATIENCE)
            .followRedirects(HttpClient.Redirect.NEVER)
            .build();
  }

  @Override
  public RoutePlan plan() {
    return plan;
  }

  @Override
  public void deliver(Delivery delivery) throws DeliveryException, InterruptedException {
    post(delivery.id(), CloudEvent.of(delivery));
  }

  @Override
  public void digest(String text) throws DeliveryException, InterruptedException {
    long nowMs = System.currentTimeMillis();
    post("digest-" + nowMs, CloudEvent.digest(text, nowMs));
  }

  private void post(String id, byte[] body) throws DeliveryException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(webhook.url())
            .timeout(PATIENCE)
            .header("Content-Type", "application/cloudevents+json; charset=utf-8")
            .header("Idempotency-Key", id)
            .POST(HttpRequest.BodyPublishers.ofByteArray(body));
    sign(request, id, body);
    try {
      int status =
          client.send(request.build(), HttpResponse.BodyHandlers.discarding()).statusCode();
      if (status < 200 || status > 299) {
        throw new DeliveryException(webhook.url() + " answered " + status);
      }
    } catch (IOException e) {
      throw DeliveryException.because(webhook.url() + " cannot be reached", e);
    }
  }

  private void sign(HttpRequest.Builder request, String id, byte[] body) throws DeliveryException {
    Path secret = webhook.secret();
    if (secret != null) {
      String time = Long.toString(System.currentTimeMillis() / 1000);
      request.header("webhook-id", id).header("webhook-timestamp", time);
      request.header("webhook-signature", "v1," + signature(key(secret), id, time, body));
    }
  }

  private static byte[] key(Path file) throws DeliveryException {
    String secret = SecretFile.read(file);
    if (!secret.startsWith(BASE64)) {
      return secret.getBytes(StandardCharsets.UTF_8);
    }
    try {
      return Base64.getDecoder().decode(secret.substring(BASE64.length()));
    } catch (IllegalArgumentException e) {
      throw new DeliveryException(
          "the secret in "
              + file
              + " begins with "
              + BASE64
              + " and the rest is no Base64; copy it again from the receiver");
    }
  }

  private static String signature(byte[] key, String id, String time, byte[] body) {
    try {
      Mac mac = Mac.getInstance("HmacSHA256");
      mac.init(new SecretKeySpec(key, "HmacSHA256"));
      mac.update((id + "." + time + ".").getBytes(StandardCharsets.UTF_8));
      return Base64.getEncoder().encodeToString(mac.doFinal(body));
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("every Java has HmacSHA256 (javax.crypto.Mac)", e);
    }
  }
}
