package stillwatch.alerts.route;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/**
 * Alerts as CloudEvents 1.0 in the structured JSON form (CloudEvents spec.md and JSON event format,
 * v1.0.2). The pair of {@code source} and {@code id} is the same in every attempt, so that the
 * receiver can tell a repetition; the extension attribute {@code attempt} counts from 1; {@code
 * record} is the hash of the record's newest entry; {@code exercise} is there, and true, when a
 * recording feeds the watch. The data are the finding and, as {@code cautions}, what must stand
 * beside it.
 */
final class CloudEvent {
  private static final ObjectMapper JSON = new ObjectMapper();

  private CloudEvent() {}

  /** The event's bytes. */
  static byte[] of(Delivery delivery) {
    Finding f = delivery.finding();
    Long returned = f.returnedMs();
    ObjectNode event = JSON.createObjectNode();
    event.put("specversion", "1.0");
    event.put("id", delivery.id());
    event.put("source", "/stillwatch/wells/" + f.well());
    event.put("type", returned == null ? "stillwatch.alert.raised" : "stillwatch.alert.returned");
    event.put(
        "time",
        DateTimeFormatter.ISO_INSTANT.format(
            Instant.ofEpochMilli(returned == null ? f.raisedMs() : returned)));
    event.put("subject", f.rule());
    event.put("datacontenttype", "application/json");
    event.put("attempt", delivery.attempt());
    event.put("record", delivery.record());
    if (delivery.exercise()) {
      event.put("exercise", true);
    }
    try {
      ObjectNode data = event.putObject("data");
      data.setAll((ObjectNode) JSON.readTree(FindingCodec.encode(f)));
      data.put("cautions", ShortCaution.TEXT);
      return JSON.writeValueAsBytes(event);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("our own finding is no JSON", e);
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }

  /** A digest's bytes. */
  static byte[] digest(String text, long atMs) {
    ObjectNode event = JSON.createObjectNode();
    event.put("specversion", "1.0").put("id", "digest-" + atMs).put("source", "/stillwatch");
    event.put("type", "stillwatch.digest").put("time", Instant.ofEpochMilli(atMs).toString());
    event.put("datacontenttype", "text/plain").put("data", text);
    try {
      return JSON.writeValueAsBytes(event);
    } catch (JsonProcessingException e) {
      throw new UncheckedIOException("cannot write JSON to memory", e);
    }
  }
}
