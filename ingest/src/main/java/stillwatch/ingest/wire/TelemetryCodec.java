package stillwatch.ingest.wire;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.dataformat.cbor.CBORFactory;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.telemetry.Frame;
import stillwatch.ingest.telemetry.GaugeSet;
import stillwatch.ingest.telemetry.Pulse;
import stillwatch.ingest.telemetry.Quality;
import stillwatch.ingest.telemetry.Telemetry;

/**
 * Telemetry to messages and back. The header {@code format} names the form and the version of its
 * schema; both forms, JSON and CBOR (RFC 8949), hold the same fields and both are always
 * understood. A gauge that said nothing is left out of a frame. Reading keeps the last list of
 * gauges, so that equal lists cost no look-up per reading. Not thread-safe.
 */
public final class TelemetryCodec {
  /** The header that names the form. */
  public static final String HEADER = "format";

  private static final Map<Form, JsonFactory> FACTORIES =
      Map.of(Form.JSON, new JsonFactory(), Form.CBOR, new CBORFactory());

  private final Form form;
  private final List<String> ids = new ArrayList<>();
  private GaugeSet lastSet = GaugeSet.of();
  private double[] values = new double[32];
  private byte[] qualities = new byte[32];

  /** The forms of a message. */
  public enum Form {
    JSON,
    CBOR;

    /** What the header says. */
    String header() {
      return "telemetry-" + name().toLowerCase(Locale.ROOT) + "/1";
    }
  }

  /** A codec that writes CBOR. */
  public TelemetryCodec() {
    this(Form.CBOR);
  }

  /** A codec that writes this form. */
  public TelemetryCodec(Form form) {
    this.form = form;
  }

  private static JsonFactory factory(Form form) {
    JsonFactory f = FACTORIES.get(form);
    if (f == null) {
      throw new IllegalStateException("no factory for " + form);
    }
    return f;
  }

  /** The entry as a message keyed by its well. */
  public Message encode(Telemetry entry) {
    ByteArrayOutputStream out = new ByteArrayOutputStream(256);
    try (JsonGenerator g = factory(form).createGenerator(out)) {
      g.writeStartObject();
      g.writeNumberField("at", entry.atMs());
      g.writeNumberField("received", entry.receivedMs());
      if (entry instanceof Frame f) {
        frame(f, g);
      }
      EventFields.write(entry, g);
      g.writeEndObject();
    } catch (IOException e) {
      throw new UncheckedIOException("cannot write to memory", e);
    }
    return Message.of(entry.well(), out.toByteArray(), Map.of(HEADER, form.header()));
  }

  private static void frame(Frame f, JsonGenerator g) throws IOException {
    boolean allGood = true;
    g.writeArrayFieldStart("gauges");
    for (int i = 0; i < f.values().length; i++) {
      if (says(f, i)) {
        g.writeString(f.gauges().ids().get(i));
        allGood &= f.qualities()[i] == 0;
      }
    }
    g.writeEndArray();
    g.writeArrayFieldStart("values");
    for (int i = 0; i < f.values().length; i++) {
      if (says(f, i)) {
        number(f.values()[i], g);
      }
    }
    g.writeEndArray();
    if (!allGood) {
      g.writeArrayFieldStart("qualities");
      for (int i = 0; i < f.values().length; i++) {
        if (says(f, i)) {
          g.writeNumber(f.qualities()[i]);
        }
      }
      g.writeEndArray();
    }
  }

  private static void number(double value, JsonGenerator g) throws IOException {
    if (Double.isFinite(value)) {
      g.writeNumber(value);
    } else {
      g.writeString(Double.toString(value)); // JSON has no number for these
    }
  }

  private static boolean says(Frame f, int i) {
    return !Double.isNaN(f.values()[i]) || f.qualities()[i] != 0;
  }

  /**
   * The entry in a message.
   *
   * @throws TelemetryFormatException when it is none
   */
  public Telemetry decode(Message message) {
    String header = message.headers().getOrDefault(HEADER, "");
    Form of = null;
    for (Form f : Form.values()) {
      of = f.header().equals(header) ? f : of;
    }
    if (of == null) {
      throw new TelemetryFormatException(
          "unknown format '" + header + "'; known are telemetry-json/1 and telemetry-cbor/1");
    }
    try (JsonParser p = factory(of).createParser(message.value())) {
      return read(message.key(), p);
    } catch (IOException e) {
      throw new TelemetryFormatException("not readable as " + header, e);
    } catch (IllegalArgumentException e) {
      throw new TelemetryFormatException("not readable as " + header + ": " + e.getMessage(), e);
    }
  }

  private Telemetry read(String well, JsonParser p) throws IOException {
    if (p.nextToken() != JsonToken.START_OBJECT) {
      throw new TelemetryFormatException("a message must be one object");
    }
    long at = 0;
    long received = 0;
    boolean timed = false;
    int count = -1;
    Map<String, String> texts = null;
    GaugeSet gauges = null;
    boolean qualified = false;
    while (p.nextToken() == JsonToken.FIELD_NAME) {
      String field = p.currentName();
      JsonToken token = p.nextToken();
      switch (field) {
        case "at" -> {
          at = p.getLongValue();
          timed = true;
        }
        case "received" -> received = p.getLongValue();
        case "gauges" -> gauges = gauges(p);
        case "values" -> count = values(p);
        case "qualities" -> {
          qualities(p);
          qualified = true;
        }
        default -> {
          if (token == JsonToken.VALUE_STRING
              || token == JsonToken.VALUE_NUMBER_INT
              || token == JsonToken.VALUE_NUMBER_FLOAT) {
            texts = texts == null ? new HashMap<>() : texts;
            texts.put(field, p.getText());
          } else {
            p.skipChildren();
          }
        }
      }
    }
    if (!timed) {
      throw new TelemetryFormatException("the message has no time");
    }
    if (gauges != null) {
      return frame(well, at, received, gauges, count, qualified);
    }
    return texts == null
        ? new Pulse(well, at, received)
        : EventFields.read(well, at, received, texts);
  }

  private Frame frame(
      String well, long at, long received, GaugeSet gauges, int count, boolean qualified) {
    if (count != gauges.size()) {
      throw new TelemetryFormatException(
          "the frame has " + gauges.size() + " gauges and " + count + " values");
    }
    byte[] q = qualified ? Arrays.copyOf(qualities, count) : new byte[count];
    return new Frame(well, at, received, gauges, Arrays.copyOf(values, count), q);
  }

  private GaugeSet gauges(JsonParser p) throws IOException {
    List<String> known = lastSet.ids();
    int i = 0;
    boolean same = true;
    ids.clear();
    while (p.nextToken() == JsonToken.VALUE_STRING) {
      String id = p.getText();
      same &= i < known.size() && known.get(i).equals(id);
      ids.add(id);
      i++;
    }
    if (!same || i != known.size()) {
      lastSet = GaugeSet.of(ids);
    }
    return lastSet;
  }

  private int values(JsonParser p) throws IOException {
    int n = 0;
    for (JsonToken t = p.nextToken(); t != null && t != JsonToken.END_ARRAY; t = p.nextToken()) {
      room(n);
      values[n++] =
          t == JsonToken.VALUE_STRING ? Double.parseDouble(p.getText()) : p.getDoubleValue();
    }
    return n;
  }

  private void qualities(JsonParser p) throws IOException {
    int n = 0;
    for (JsonToken t = p.nextToken(); t != null && t != JsonToken.END_ARRAY; t = p.nextToken()) {
      room(n);
      qualities[n++] = Quality.of((byte) p.getIntValue()).code();
    }
  }

  private void room(int n) {
    if (n == values.length) {
      values = Arrays.copyOf(values, 2 * n);
      qualities = Arrays.copyOf(qualities, 2 * n);
    }
  }
}
