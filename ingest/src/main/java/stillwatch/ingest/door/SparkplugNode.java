package stillwatch.ingest.door;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.function.Consumer;
import java.util.zip.DataFormatException;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.sparkplug.SparkplugMetric;
import stillwatch.ingest.sparkplug.SparkplugPayload;
import stillwatch.ingest.sparkplug.SparkplugTopic;

/**
 * What one edge node says (Eclipse Sparkplug 3.0, chapters 5 and 6). Its birth says what its
 * aliases stand for; where a message is lacking, or it was never born here, it is asked to be born
 * again, and until then only metrics with names are taken. A death is a bad reading of each of its
 * gauges. Metrics that the plan does not name are passed over. Safe from any thread.
 */
final class SparkplugNode {
  private static final long ASKS_EVERY_MS = 5000;
  private static final int SEQUENCE = 256;
  private static final int GOOD = 192;
  private static final int UNCERTAIN = 64;
  private static final int BEYOND = 256;

  private final MqttPlan.Topic plan;
  private final Inlet inlet;
  private final Map<Long, Known> byAlias = new HashMap<>();
  private final Map<String, Integer> datatypes = new HashMap<>();

  /** Why a gauge says nothing, of those that say nothing. */
  private final Map<String, String> silent = new TreeMap<>();

  private Consumer<byte[]> commands = command -> {};
  private boolean born;
  private int nextSeq;
  private OptionalLong birth = OptionalLong.empty();
  private long askedMs = Long.MIN_VALUE;

  private record Known(String key, int datatype) {}

  SparkplugNode(MqttPlan.Topic plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
    silence("", "the edge node has not said yet what it has; it was asked");
  }

  /**
   * There is a connection: what was said before it may have been missed.
   *
   * @param commands takes a command to the node
   */
  synchronized void connected(Consumer<byte[]> commands) {
    this.commands = commands;
    forget();
    askedMs = Long.MIN_VALUE;
    ask();
  }

  /** The gauges that say nothing, a sentence each. */
  synchronized List<String> lacks() {
    return silent.entrySet().stream().map(e -> e.getKey() + ": " + e.getValue()).toList();
  }

  /**
   * Takes a message.
   *
   * @return completes when the broker need not keep it any longer
   */
  synchronized CompletableFuture<Void> take(String topic, byte[] payload)
      throws UnreadableException {
    SparkplugTopic to =
        SparkplugTopic.of(topic)
            .orElseThrow(
                () ->
                    new UnreadableException(
                        Reason.BAD_VALUE, Messages.brief(topic) + " is no topic of Sparkplug B"));
    if (to.type().endsWith("CMD")) {
      return CompletableFuture.completedFuture(null); // to the node, as our own are
    }
    SparkplugPayload said = read(payload);
    return switch (to.type()) {
      case "NBIRTH", "DBIRTH" -> born(to, said);
      case "NDATA", "DDATA" -> {
        follow(said);
        yield metrics(to, said);
      }
      case "DDEATH" -> {
        follow(said);
        yield dead(
            to.device() + "/",
            "the edge node has said that its device " + to.device() + " is gone");
      }
      case "NDEATH" -> nodeDead(said);
      default ->
          throw new UnreadableException(
              Reason.BAD_VALUE, "nobody knows messages of the type " + Messages.brief(to.type()));
    };
  }

  private static SparkplugPayload read(byte[] payload) throws UnreadableException {
    try {
      return SparkplugPayload.read(payload);
    } catch (DataFormatException e) {
      throw new UnreadableException(
          Reason.BAD_VALUE, "what came is no payload of Sparkplug B: " + e.getMessage());
    }
  }

  private CompletableFuture<Void> born(SparkplugTopic to, SparkplugPayload said) {
    if (to.device().isEmpty()) {
      forget();
      born = true;
      askedMs = Long.MIN_VALUE;
      birth = said.birth();
      nextSeq = next(said);
      silence("", "the edge node has not said yet what this device of it has");
    } else {
      follow(said);
    }
    for (SparkplugMetric m : said.metrics()) {
      String key = key(to.device(), m.name());
      datatypes.put(key, m.datatype());
      m.alias().ifPresent(alias -> byAlias.put(alias, new Known(key, m.datatype())));
      Optional.ofNullable(plan.gauges().get(key)).ifPresent(silent::remove);
    }
    return metrics(to, said);
  }

  /** A death that was put down at the broker before the latest birth is of a connection before. */
  private CompletableFuture<Void> nodeDead(SparkplugPayload said) {
    if (birth.isPresent() && said.birth().isPresent() && !birth.equals(said.birth())) {
      return CompletableFuture.completedFuture(null);
    }
    forget();
    return dead("", "the edge node is gone");
  }

  private CompletableFuture<Void> dead(String prefix, String why) {
    List<CompletableFuture<Void>> kept = new ArrayList<>();
    for (String gauge : silence(prefix, why)) {
      kept.add(
          inlet.take(new Reading(gauge, inlet.nowMs(), Double.NaN, "bad", plan.form().unit())));
    }
    return all(kept);
  }

  /** The gauges of keys that begin so say nothing, for this reason; which they are. */
  private List<String> silence(String prefix, String why) {
    List<String> found = new ArrayList<>();
    plan.gauges()
        .forEach(
            (key, gauge) -> {
              if (key.startsWith(prefix)) {
                silent.put(gauge, why);
                found.add(gauge);
              }
            });
    return found;
  }

  private CompletableFuture<Void> metrics(SparkplugTopic to, SparkplugPayload said) {
    List<CompletableFuture<Void>> kept = new ArrayList<>();
    for (SparkplugMetric m : said.metrics()) {
      Known known = known(to, m);
      String gauge = plan.gauges().get(known.key());
      try {
        if (known.key().isEmpty()) {
          throw new UnreadableException(
              Reason.INCOMPLETE,
              "a metric came by an alias before a birth said what it stands for; the node was asked");
        }
        if (gauge != null) {
          kept.add(inlet.take(reading(gauge, m, known.datatype(), said)));
        }
      } catch (UnreadableException e) {
        kept.add(inlet.refuse(new byte[0], e.refusal()));
      }
    }
    return all(kept);
  }

  /** Which metric it is; without a key where nobody knows. */
  private Known known(SparkplugTopic to, SparkplugMetric m) {
    if (m.name().isEmpty()) {
      return m.alias().isPresent()
          ? byAlias.getOrDefault(m.alias().getAsLong(), new Known("", 0))
          : new Known("", 0);
    }
    String key = key(to.device(), m.name());
    return new Known(key, datatypes.getOrDefault(key, 0));
  }

  private Reading reading(String gauge, SparkplugMetric m, int datatype, SparkplugPayload said)
      throws UnreadableException {
    OptionalLong at = m.atMs().isPresent() ? m.atMs() : said.atMs();
    long atMs = Messages.within(at.orElse(inlet.nowMs()));
    OptionalDouble number = m.number(datatype);
    if (!m.none() && number.isEmpty()) {
      throw new UnreadableException(
          Reason.BAD_VALUE, gauge + ": its metric is no number; correct 'gauges'");
    }
    String quality = m.none() ? "bad" : quality(m);
    boolean says = !quality.equals("bad") && Double.isFinite(number.orElse(Double.NaN));
    return new Reading(
        gauge,
        atMs,
        says ? number.orElse(Double.NaN) : Double.NaN,
        says ? quality : "bad",
        plan.form().unit());
  }

  /**
   * 192 is good and 0 bad, 500 stale (6.4.12); between 64 and 191 other systems put the uncertain.
   */
  private static String quality(SparkplugMetric m) {
    int code = m.quality().orElse(GOOD);
    if (code >= GOOD && code < BEYOND) {
      return "good";
    }
    return code >= UNCERTAIN && code < GOOD ? "uncertain" : "bad";
  }

  private static String key(String device, String metric) {
    return device.isEmpty() ? metric : device + "/" + metric;
  }

  /** Sees whether a message is lacking before this one. */
  private void follow(SparkplugPayload said) {
    if (born && said.seq().isPresent() && said.seq().getAsInt() != nextSeq) {
      forget();
    }
    nextSeq = next(said);
    if (!born) {
      ask();
    }
  }

  private static int next(SparkplugPayload said) {
    return (said.seq().orElse(0) + 1) % SEQUENCE;
  }

  private void forget() {
    born = false;
    byAlias.clear();
    datatypes.clear();
  }

  private void ask() {
    long nowMs = inlet.nowMs();
    if (nowMs - ASKS_EVERY_MS >= askedMs) {
      askedMs = nowMs;
      commands.accept(SparkplugPayload.askForRebirth(nowMs));
    }
  }

  private static CompletableFuture<Void> all(List<CompletableFuture<Void>> kept) {
    return CompletableFuture.allOf(kept.toArray(CompletableFuture[]::new));
  }
}
