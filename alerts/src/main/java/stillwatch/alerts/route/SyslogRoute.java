package stillwatch.alerts.route;

import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLParameters;
import javax.net.ssl.SSLSocket;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.plan.RoutePlan;

/**
 * Sends alerts as syslog messages (RFC 5424), each with its length before it (RFC 6587, 3.4.1; RFC
 * 5425 over TLS). Syslog does not answer: what the network took counts as delivered. Facility is
 * local0; severity is alert, warning, notice or informational.
 */
final class SyslogRoute implements Route {
  private static final int PATIENCE_MS = 10_000;
  private static final int LOCAL0 = 16;

  /** The number RFC 5612 reserves for examples: Stillwatch has none of its own. */
  private static final String ENTERPRISE = "32473";

  private final RoutePlan plan;
  private final RoutePlan.Syslog syslog;
  private final SSLContext tls;

  SyslogRoute(RoutePlan plan, RoutePlan.Syslog syslog, SSLContext tls) {
    this.tls = tls;
    this.plan = plan;
    this.syslog = syslog;
  }

  @Override
  public RoutePlan plan() {
    return plan;
  }

  @Override
  public void deliver(Delivery d) throws DeliveryException {
    Finding f = d.finding();
    send(
        severity(f.returned() ? Priority.INFORMATION : f.priority()),
        f.returned() ? "returned" : "raised",
        data(d),
        AlertText.line(d) + ": " + f.summary() + " " + ShortCaution.TEXT);
  }

  private static String data(Delivery d) {
    return "[stillwatch@%s id=\"%s\" rule=\"%s\" well=\"%s\" attempt=\"%s\" record=\"%s\"]"
        .formatted(
            ENTERPRISE,
            value(d.id()),
            value(d.finding().rule()),
            value(d.finding().well()),
            d.attempt(),
            d.shortRecord());
  }

  @Override
  public void digest(String text) throws DeliveryException {
    send(severity(Priority.INFORMATION), "digest", "-", text.replace('\n', ' '));
  }

  private static String value(String text) {
    return text.replace("\\", "\\\\").replace("\"", "\\\"").replace("]", "\\]");
  }

  private static int severity(Priority p) {
    return switch (p) {
      case HIGH -> 1;
      case MEDIUM -> 4;
      case LOW -> 5;
      case INFORMATION -> 6;
    };
  }

  private static String host() {
    try {
      return InetAddress.getLocalHost().getHostName();
    } catch (UnknownHostException e) {
      return "-";
    }
  }

  private void send(int severity, String kind, String data, String text) throws DeliveryException {
    byte[] bytes = message(severity, kind, data, text);
    try (Socket plain = new Socket();
        Socket socket = connected(plain)) {
      OutputStream out = socket.getOutputStream();
      out.write((bytes.length + " ").getBytes(StandardCharsets.US_ASCII));
      out.write(bytes);
      out.flush();
    } catch (IOException e) {
      throw DeliveryException.because(
          "the syslog receiver " + syslog.host() + ":" + syslog.port() + " cannot be reached", e);
    }
  }

  private static byte[] message(int severity, String kind, String data, String text) {
    String line =
        "<%d>1 %s %s stillwatch %d %s %s \uFEFF%s"
            .formatted(
                LOCAL0 * 8 + severity,
                Instant.now().truncatedTo(ChronoUnit.MICROS), // RFC 5424, 6.2.3: six digits
                host(),
                ProcessHandle.current().pid(),
                kind,
                data,
                text);
    return line.getBytes(StandardCharsets.UTF_8);
  }

  private Socket connected(Socket plain) throws IOException {
    plain.connect(new InetSocketAddress(syslog.host(), syslog.port()), PATIENCE_MS);
    plain.setSoTimeout(PATIENCE_MS);
    if (!syslog.tls()) {
      return plain;
    }
    SSLSocket socket =
        (SSLSocket) tls.getSocketFactory().createSocket(plain, syslog.host(), syslog.port(), true);
    SSLParameters parameters = socket.getSSLParameters();
    parameters.setEndpointIdentificationAlgorithm("HTTPS");
    socket.setSSLParameters(parameters);
    socket.startHandshake();
    return socket;
  }
}
