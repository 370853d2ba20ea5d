package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Refusal.Reason;

/** Reads what a message says, as its form has it. */
final class Messages {
  /** 2100-01-01: later is a broken clock. */
  static final long LATEST_MS = 4_102_444_800_000L;

  private static final int LONGEST_NUMBER = 40;
  private static final int LONGEST_QUOTE = 60;
  private static final JsonMapper JSON =
      JsonMapper.builder(JsonFactory.builder().streamReadConstraints(Limits.USUAL.json()).build())
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private Messages() {}

  /**
   * A number, or a JSON document's.
   *
   * @param otherwiseMs its time where it does not say, ms since 1970 UTC
   */
  static Reading reading(MessageForm form, String gauge, byte[] payload, long otherwiseMs)
      throws UnreadableException {
    return form.kind() == MessageForm.Kind.NUMBER
        ? new Reading(gauge, otherwiseMs, number(payload), "good", form.unit())
        : reading(form, gauge, document(payload), otherwiseMs);
  }

  /** A JSON document's. */
  static Reading reading(MessageForm form, String gauge, JsonNode n, long otherwiseMs)
      throws UnreadableException {
    JsonNode value = n.at(form.value());
    if (!value.isNumber()) {
      throw new UnreadableException(
          Reason.BAD_VALUE,
          gauge
              + ": there is no number at "
              + pointer(form.value())
              + " in "
              + brief(n.toString()));
    }
    JsonPointer time = form.time();
    JsonPointer quality = form.quality();
    return new Reading(
        gauge,
        time == null ? otherwiseMs : timeMs(n, time),
        value.doubleValue(),
        quality == null ? "good" : n.at(quality).asText(),
        form.unit());
  }

  static double number(byte[] payload) throws UnreadableException {
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

  static JsonNode document(byte[] payload) throws UnreadableException {
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

  static long timeMs(JsonNode n, JsonPointer pointer) throws UnreadableException {
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

  static long within(long ms) throws UnreadableException {
    if (ms < 0 || ms > LATEST_MS) {
      throw noTime(ms + " ms since 1970");
    }
    return ms;
  }

  private static UnreadableException noTime(String what) {
    return new UnreadableException(
        Reason.BAD_TIME,
        what + " is no time from 1970 to 2100: neither like 2026-03-01T12:00:00.000Z nor in ms");
  }

  static String pointer(@Nullable JsonPointer p) {
    return "'" + p + "'";
  }

  static String brief(byte[] payload) {
    return brief(
        new String(
            payload, 0, Math.min(payload.length, 4 * LONGEST_QUOTE), StandardCharsets.UTF_8));
  }

  static String brief(String text) {
    return "'"
        + (text.length() <= LONGEST_QUOTE ? text : text.substring(0, LONGEST_QUOTE) + "...")
        + "'";
  }
}
