package stillwatch.ingest.door;

import com.hivemq.client.mqtt.mqtt3.exceptions.Mqtt3ConnAckException;
import com.hivemq.client.mqtt.mqtt5.exceptions.Mqtt5ConnAckException;
import java.net.URI;
import java.security.GeneralSecurityException;
import javax.net.ssl.SSLException;

/** Why an MQTT broker cannot be reached, in one sentence. */
final class MqttFault {
  private static final String ALERT = "Received fatal alert: ";

  private MqttFault() {}

  /** The innermost reason, and how to mend it where that is known. */
  static String why(Throwable fault, URI server) {
    String says = fault.getClass().getSimpleName();
    String named = "";
    for (Throwable t = fault; t != null; t = t.getCause()) {
      says = t.getMessage() == null ? says : t.getMessage();
      String more = named(t, server);
      named = more.isEmpty() ? named : more;
    }
    return named.isEmpty() ? says : named;
  }

  private static String named(Throwable t, URI server) {
    String says = String.valueOf(t.getMessage());
    if (t instanceof Mqtt3ConnAckException e) {
      return notTaken(server, e.getMqttMessage().getReturnCode().name());
    }
    if (t instanceof Mqtt5ConnAckException e) {
      return notTaken(server, e.getMqttMessage().getReasonCode().name());
    }
    if (t instanceof GeneralSecurityException) {
      return "the certificate of "
          + server
          + " is not trusted here ("
          + says
          + "); give that of its authority with --trust, or correct the certificate";
    }
    return t instanceof SSLException && says.startsWith(ALERT)
        ? "the broker "
            + server
            + " ends the TLS handshake ("
            + says.substring(ALERT.length())
            + "); have it trust what certificate-file holds, or give one that it trusts"
        : "";
  }

  private static String notTaken(URI server, String code) {
    return "the broker "
        + server
        + " takes no connection ("
        + code
        + "); correct user, password, certificate or client, or have it allow them";
  }
}
