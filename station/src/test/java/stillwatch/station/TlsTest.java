package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.security.cert.X509Certificate;
import java.time.Duration;
import java.time.Instant;
import java.util.regex.Pattern;
import javax.net.ssl.SSLHandshakeException;
import nl.altindag.ssl.SSLFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The room by HTTPS, from PEM files as a certificate authority hands them out. */
@Timeout(120)
class TlsTest {
  private static final Pattern LINK = Pattern.compile("#enter=([A-Za-z0-9_-]+)");

  @TempDir Path folder;

  private X509Certificate make(String name, Instant until) throws Exception {
    return Pem.make(folder, name, until);
  }

  private String[] watch(String certificate, String key) {
    return new String[] {
      "watch",
      "--plan",
      WatchProcess.LARKSPUR.resolve("plan.yaml").toString(),
      "--data",
      folder.resolve("data").toString(),
      "--http",
      "0",
      "--tls-cert",
      folder.resolve(certificate).toString(),
      "--tls-key",
      folder.resolve(key).toString()
    };
  }

  @Test
  void theRoomSpeaksHttpsAndNothingElse() throws Exception {
    X509Certificate known = make("room", Instant.now().plus(Duration.ofDays(30)));
    HttpClient trusting =
        HttpClient.newBuilder()
            .sslContext(SSLFactory.builder().withTrustMaterial(known).build().getSslContext())
            .build();
    try (WatchProcess watch = WatchProcess.start(watch("room.crt", "room.key")).listening()) {
      String url = watch.url("/").replace("http:", "https:");
      HttpResponse<String> page =
          trusting.send(
              HttpRequest.newBuilder(URI.create(url)).build(),
              HttpResponse.BodyHandlers.ofString());
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(page.headers().firstValue("Strict-Transport-Security")).isPresent();
      HttpResponse<String> entered =
          trusting.send(
              HttpRequest.newBuilder(URI.create(url + "api/enter"))
                  .header("Content-Type", "application/json")
                  .POST(
                      HttpRequest.BodyPublishers.ofString(
                          "{\"name\":\"Ada Berg\",\"password\":\"correct horse 12\",\"link\":\""
                              + watch.says(LINK)
                              + "\"}"))
                  .build(),
              HttpResponse.BodyHandlers.ofString());
      assertThat(entered.statusCode()).isEqualTo(200);
      assertThat(entered.headers().firstValue("Set-Cookie").orElse(""))
          .contains("Secure")
          .contains("HttpOnly");
      assertThat(plain(watch.url("/"))).isNotEqualTo(200);
      assertThat(refusesWhoIsNotTrusted(url)).isTrue();
    }
  }

  /** What a request without TLS gets; 0 when nothing. */
  private static int plain(String url) throws InterruptedException {
    try {
      return HttpClient.newHttpClient()
          .send(
              HttpRequest.newBuilder(URI.create(url)).build(),
              HttpResponse.BodyHandlers.discarding())
          .statusCode();
    } catch (IOException e) {
      return 0;
    }
  }

  private static boolean refusesWhoIsNotTrusted(String url)
      throws IOException, InterruptedException {
    try {
      HttpClient.newHttpClient()
          .send(
              HttpRequest.newBuilder(URI.create(url)).build(),
              HttpResponse.BodyHandlers.discarding());
      return false;
    } catch (SSLHandshakeException e) {
      return true;
    }
  }

  @Test
  void whatIsNoCertificateOfTodayWithItsKeyIsRefusedInOneSentence() throws Exception {
    make("room", Instant.now().plus(Duration.ofDays(30)));
    make("other", Instant.now().plus(Duration.ofDays(30)));
    make("old", Instant.now().minus(Duration.ofDays(1)));
    assertThat(Outcome.refused(watch("room.crt", "other.key"))).contains("is not the key of");
    assertThat(refused(watch("old.crt", "old.key"))).contains("give one that is valid now");
    assertThat(refused(watch("room.key", "room.key"))).contains("holds no certificate");
    assertThat(refused(watch("room.crt", "room.crt"))).contains("holds no private key");
    assertThat(refused(watch("none.crt", "room.key"))).contains("cannot be read");
    assertThat(refused("watch", "--demo", "--tls-cert", folder.resolve("room.crt").toString()))
        .contains("go together");
    assertThat(refused("watch", "--demo", "--trust", folder.resolve("room.key").toString()))
        .contains("room.key holds no certificate");
    assertThat(folder.resolve("data")).doesNotExist();
  }

  private static String refused(String... arguments) {
    return Outcome.inside(arguments).refusal();
  }
}
