package stillwatch.alerts.route;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.util.Properties;

/** What real peers on this machine need. */
final class Peers {
  private Peers() {}

  static int freePort() throws Exception {
    try (ServerSocket s = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return s.getLocalPort();
    }
  }

  /** An MQTT broker on this port that keeps nothing and lets everybody in. */
  static Properties mqtt(int port) {
    Properties settings = new Properties();
    settings.put("host", "127.0.0.1");
    settings.put("port", Integer.toString(port));
    settings.put("persistence_enabled", "false");
    settings.put("telemetry_enabled", "false");
    settings.put("allow_anonymous", "true");
    return settings;
  }
}
