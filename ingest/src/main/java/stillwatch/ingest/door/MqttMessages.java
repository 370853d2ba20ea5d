package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.hivemq.client.mqtt.datatypes.MqttTopic;
import com.hivemq.client.mqtt.datatypes.MqttTopicFilter;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;

/** Makes readings of an MQTT broker's messages, as the plan says. Safe from any thread. */
final class MqttMessages {
  private static final int LONGEST_NUMBER = 40;
  private static final int LONGEST_QUOTE = 60;
  private static final JsonMapper JSON =
      JsonMapper.builder(JsonFactory.builder().streamReadConstraints(Limits.USUAL.json()).build())
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private final Map<MqttTopicFilter, MqttPlan.Topic> topics = new LinkedHashMap<>();
  private final Inlet inlet;

  MqttMessages(List<MqttPlan.Topic> topics, Inlet inlet) {
    topics.forEach(t -> this.topics.putIfAbsent(MqttTopicFilter.of(t.filter()), t));
    this.inlet = inlet;
  }

  /** Why no reading can be made of a message. */
  private static final class UnreadableException extends Exception {
    private static final long serialVersionUID = 1L;
    private final transient Refusal refusal;

    UnreadableException(Reason reason, String why) {
      super(why);
      refusal = Refusal.ofLine(reason, why);
    }
  }

  /**
   * Takes a message.
   *
   * @param kept whether the broker kept it from before, for whoever comes
   * @return completes when the broker need not keep it any longer
   */
  CompletableFuture<Void> take(String topic, byte[] payload, boolean kept) {
    MqttPlan.Topic by = planned(topic);
    try {
      if (by == null) {
        throw new UnreadableException(
            Reason.UNKNOWN_GAUGE, "the plan says nothing of the topic " + brief(topic));
      }
      if (by.form() == MqttPlan.Form.LINES) {
        return inlet.lines(payload);
      }
      return inlet.take(reading(by, topic, payload, kept));
    } catch (UnreadableException e) {
      return inlet.refuse(payload, e.refusal);
    }
  }

  private MqttPlan.@Nullable Topic planned(String topic) {
    MqttTopic asked = MqttTopic.of(topic);
    for (Map.Entry<MqttTopicFilter, MqttPlan.Topic> t : topics.entrySet()) {
      if (t.getKey().matches(asked)) {
        return t.getValue();
      }
    }
    return null;
  }

  private Reading reading(MqttPlan.Topic by, String topic, byte[] payload, boolean kept)
      throws UnreadableException {
    String gauge =
        by.gaugeOf(topic)
            .orElseThrow(
                () ->
                    new UnreadableException(
                        Reason.UNKNOWN_GAUGE,
                        "the plan names no gauge for the topic " + brief(topic)));
    if (kept && by.time() == null) {
      throw new UnreadableException(
          Reason.BAD_TIME,
          gauge + ": the broker kept this from before, and it does not say of when it is");
    }
    if (by.form() == MqttPlan.Form.NUMBER) {
      return new Reading(gauge, inlet.nowMs(), number(payload), "good", by.unit());
    }
    JsonNode n = document(payload);
    JsonNode value = n.at(by.value());
    if (!value.isNumber()) {
      throw new UnreadableException(
          Reason.BAD_VALUE,
          gauge + ": there is no number at " + pointer(by.value()) + " in " + brief(payload));
    }
    JsonPointer time = by.time();
    JsonPointer quality = by.quality();
    return new Reading(
        gauge,
        time == null ? inlet.nowMs() : timeMs(n, time),
        value.doubleValue(),
        quality == null ? "good" : n.at(quality).asText(),
        by.unit());
  }

  private static double number(byte[] payload) throws UnreadableException {
    String text =
        new String(payload, 0, Math.min(payload.length, LONGEST_NUMBER + 1), StandardCharsets.UTF_8)
            .strip();
    if (payload.length <= LONGEST_NUMBER && text.matches("[-+]?[0-9.]+([eE][-+]?[0-9]+)?")) {
      try {
        return Double.parseDouble(text);
      } catch (NumberFormatException e) {
        // told below
      }
    }
    throw new UnreadableException(
        Reason.BAD_VALUE, brief(payload) + " is no decimal number; say in the plan what it is");
  }

  private static JsonNode document(byte[] payload) throws UnreadableException {
    try {
      JsonNode n = JSON.readTree(payload);
      if (n != null && n.isContainerNode()) {
        return n;
      }
    } catch (IOException e) {
      // told below
    }
    throw new UnreadableException(Reason.NOT_JSON, brief(payload) + " is no JSON document");
  }

  private static long timeMs(JsonNode n, JsonPointer pointer) throws UnreadableException {
    JsonNode time = n.at(pointer);
    if (time.isIntegralNumber() && time.canConvertToLong()) {
      return within(time.longValue());
    }
    if (time.isTextual()) {
      try {
        return within(Instant.parse(time.asText()).toEpochMilli());
      } catch (DateTimeException | ArithmeticException e) {
        // told below
      }
    }
    throw noTime(brief(time.toString()) + " at " + pointer(pointer));
  }

  private static long within(long ms) throws UnreadableException {
    if (ms < 0 || ms > 4_102_444_800_000L) {
      throw noTime(ms + " ms since 1970");
    }
    return ms;
  }

  private static UnreadableException noTime(String what) {
    return new UnreadableException(
        Reason.BAD_TIME,
        what + " is no time from 1970 to 2100: neither like 2026-03-01T12:00:00.000Z nor in ms");
  }

  private static String pointer(@Nullable JsonPointer p) {
    return "'" + p + "'";
  }

  private static String brief(byte[] payload) {
    return brief(
        new String(
            payload, 0, Math.min(payload.length, 4 * LONGEST_QUOTE), StandardCharsets.UTF_8));
  }

  private static String brief(String text) {
    return "'"
        + (text.length() <= LONGEST_QUOTE ? text : text.substring(0, LONGEST_QUOTE) + "...")
        + "'";
  }
}
