package stillwatch.alerts.room;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.javalin.http.Context;
import java.io.IOException;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.entrance.Texts;

/** The body of a request: one JSON object with named texts. */
record RequestBody(JsonNode body) {
  private static final ObjectMapper JSON =
      new ObjectMapper(JsonFactory.builder().streamReadConstraints(Limits.USUAL.json()).build());

  static RequestBody of(Context c) {
    String type = c.contentType();
    if (type == null || !type.startsWith("application/json")) {
      throw new RequestException(415, "send the body as application/json");
    }
    try {
      JsonNode body = JSON.readTree(c.bodyInputStream()); // the gate has measured it
      if (body != null && body.isObject()) {
        return new RequestBody(body);
      }
    } catch (IOException e) {
      // told below
    }
    throw new RequestException(400, "the body is no JSON object");
  }

  /** A text that may be left out. */
  String text(String name, int most) {
    JsonNode n = body.path(name);
    if (n.isMissingNode() || n.isNull()) {
      return "";
    }
    if (!n.isTextual() || n.asText().length() > most || !Texts.sound(n.asText())) {
      throw new RequestException(
          400, "'" + name + "' must be a text of at most " + most + " characters");
    }
    return Texts.closed(n.asText().strip());
  }

  /** A text that must be there. */
  String needed(String name, int most) {
    String text = text(name, most);
    if (text.isEmpty()) {
      throw new RequestException(
          400, "'" + name + "' is missing: say it in at most " + most + " characters");
    }
    return text;
  }

  /** A whole number between two. */
  int whole(String name, int least, int most) {
    JsonNode n = body.path(name);
    if (!n.isIntegralNumber() || n.asLong() < least || n.asLong() > most) {
      throw new RequestException(
          400, "'" + name + "' must be a whole number from " + least + " to " + most);
    }
    return n.asInt();
  }

  /** One of these, by its wire name. */
  <E extends Enum<E>> E one(String name, E[] all, Function<E, String> wire) {
    String text = text(name, 100);
    return Arrays.stream(all)
        .filter(e -> wire.apply(e).equals(text))
        .findFirst()
        .orElseThrow(
            () ->
                new RequestException(
                    400,
                    "'"
                        + name
                        + "' must be one of "
                        + Stream.of(all).map(wire).collect(Collectors.joining(", "))));
  }

  /** A time, RFC 3339, that may be left out. */
  Optional<Long> time(String name) {
    String text = text(name, 40);
    if (text.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(Instant.parse(text).toEpochMilli());
    } catch (DateTimeException | ArithmeticException e) {
      throw new RequestException(400, "'" + name + "' must be a time like 2026-03-08T12:00:00Z");
    }
  }
}
