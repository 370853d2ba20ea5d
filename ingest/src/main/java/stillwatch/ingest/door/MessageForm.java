package stillwatch.ingest.door;

import com.fasterxml.jackson.core.JsonPointer;
import org.jspecify.annotations.Nullable;

/**
 * How a broker's messages say their readings.
 *
 * @param value where the value stands in a JSON document (RFC 6901)
 * @param time where its time stands: a text as RFC 3339 has it, or ms since 1970 UTC; null where
 *     the message itself says when, or the reading counts as made when it came
 * @param quality where good, uncertain or bad stands; null where all are good
 * @param unit the UCUM code of the values; empty for the gauge's own
 */
public record MessageForm(
    Kind kind,
    JsonPointer value,
    @Nullable JsonPointer time,
    @Nullable JsonPointer quality,
    String unit) {
  /** What a message is. */
  public enum Kind {
    /** A plain decimal number. */
    NUMBER,
    /** A JSON document, its parts found by pointers (RFC 6901). */
    JSON,
    /** Lines as {@code POST /telemetry} takes them. */
    LINES,
    /** Payload B of Eclipse Sparkplug; by MQTT only. */
    SPARKPLUG
  }
}
