package stillwatch.bench.faults;

import java.io.Closeable;
import java.io.IOException;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;

/** The other sides of a watch's routes, a webhook's, a mail's and an MQTT route's. */
final class RoutePeers implements Closeable {
  /** The names of the routes in the plan. */
  static final String WEBHOOK = "duty";

  static final String MAIL = "lead";
  static final String MQTT = "site";

  /** All of them, in a fixed order. */
  static final List<String> NAMES = List.of(WEBHOOK, MAIL, MQTT);

  private final WebhookPeer webhook = new WebhookPeer();
  private final Map<String, RoutePeer> peers = new TreeMap<>();
  private final Map<String, Wire> wires = new TreeMap<>();

  RoutePeers() throws IOException {
    peers.put(WEBHOOK, webhook);
    peers.put(MAIL, new MailPeer());
    peers.put(MQTT, new MqttPeer());
    for (String route : NAMES) {
      wires.put(route, new Wire(peer(route).port()));
    }
  }

  private RoutePeer peer(String route) {
    return known(peers, route);
  }

  private static <T> T known(Map<String, T> all, String route) {
    T one = all.get(route);
    if (one == null) {
      throw new IllegalArgumentException("there is no route " + route);
    }
    return one;
  }

  /** The wire to the peer of this route. */
  Wire wire(String route) {
    return known(wires, route);
  }

  /** The webhook's peer answers so from now on. */
  void answer(int status) {
    webhook.answer(status);
  }

  /** The routes, as a plan says them. */
  String plan() {
    return """

        routes:
          webhooks: [{name: %s, url: "http://127.0.0.1:%d/", from: information}]
          mail: [{name: %s, server: "127.0.0.1:%d", sender: watch@example, to: [lead@example], from: information}]
          mqtt: [{name: %s, server: "tcp://127.0.0.1:%d", topic: stillwatch, from: information}]
        """
        .formatted(WEBHOOK, wire(WEBHOOK).port(), MAIL, wire(MAIL).port(), MQTT, wire(MQTT).port());
  }

  /** Every route's name before each of these messages. */
  static Set<String> each(Set<String> messages) {
    Set<String> all = new HashSet<>();
    NAMES.forEach(route -> messages.forEach(m -> all.add(route + " " + m)));
    return all;
  }

  /** How often each message came to each peer, named by its route. */
  Map<String, Integer> delivered() {
    Map<String, Integer> all = new TreeMap<>();
    NAMES.forEach(
        route ->
            peer(route)
                .received()
                .delivered()
                .forEach((id, times) -> all.put(route + " " + id, times)));
    return all;
  }

  /** The routes by which a message came again as if for the first time, a sentence each. */
  List<String> unmarked() {
    return NAMES.stream()
        .filter(route -> peer(route).received().unmarked() > 0)
        .map(
            route ->
                peer(route).received().unmarked()
                    + " x message came again to the peer of "
                    + route
                    + " and did not say so")
        .toList();
  }

  @Override
  public void close() throws IOException {
    for (Wire wire : wires.values()) {
      wire.close();
    }
    for (RoutePeer peer : peers.values()) {
      peer.close();
    }
  }
}
