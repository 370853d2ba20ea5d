package stillwatch.alerts.route;

import java.io.StringWriter;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;
import stillwatch.ingest.entrance.Texts;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;

/**
 * An alert in the Common Alerting Protocol (OASIS CAP 1.2, 2010), restricted to those it is sent
 * to. An alert that is over updates the one it was raised with; that is no all-clear.
 */
final class CommonAlert {
  private static final String SPACE = "urn:oasis:names:tc:emergency:cap:1.2";

  /** CAP wants an offset and takes no Z for it (3.3.2). */
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH:mm:ss'-00:00'", Locale.ROOT)
          .withZone(ZoneOffset.UTC);

  private CommonAlert() {}

  private static String time(long ms) {
    return TIME.format(Instant.ofEpochMilli(ms));
  }

  /** The message. */
  static String of(Delivery d, String sender) {
    Finding f = d.finding();
    Long over = f.returnedMs();
    StringWriter out = new StringWriter();
    try {
      XMLStreamWriter x = XMLOutputFactory.newFactory().createXMLStreamWriter(out);
      x.writeStartDocument("UTF-8", "1.0");
      x.writeStartElement("alert");
      x.writeDefaultNamespace(SPACE);
      text(x, "identifier", d.id());
      text(x, "sender", sender);
      text(x, "sent", time(over == null ? f.raisedMs() : over));
      text(x, "status", d.exercise() ? "Exercise" : "Actual");
      text(x, "msgType", over == null ? "Alert" : "Update");
      text(x, "scope", "Restricted");
      text(x, "restriction", "For those who watch well " + f.well() + ".");
      if (d.exercise()) {
        text(x, "note", AlertText.EXERCISE);
      }
      if (over != null) {
        text(x, "references", sender + "," + f.id() + "-raised," + time(f.raisedMs()));
      }
      x.writeStartElement("info");
      text(x, "language", "en");
      text(x, "category", "Safety");
      text(x, "event", f.title());
      text(x, "responseType", over == null ? "Assess" : "Monitor");
      text(x, "urgency", over != null ? "Past" : urgency(f.priority()));
      text(x, "severity", severity(f.priority()));
      text(x, "certainty", "Possible");
      text(x, "onset", time(f.onsetMs()));
      text(x, "headline", AlertText.line(d));
      text(x, "description", f.summary() + "\n" + ShortCaution.TEXT);
      if (over == null) {
        text(x, "instruction", f.advice());
      }
      parameter(x, "rule", f.rule());
      parameter(x, "record", d.record());
      x.writeStartElement("area");
      text(x, "areaDesc", "Well " + f.well());
      x.writeEndElement();
      x.writeEndElement();
      x.writeEndElement();
      x.writeEndDocument();
      x.close();
    } catch (XMLStreamException e) {
      throw new IllegalStateException("cannot write XML to memory", e);
    }
    return out.toString();
  }

  private static void text(XMLStreamWriter x, String name, String text) throws XMLStreamException {
    x.writeStartElement(name);
    x.writeCharacters(Texts.forXml(text));
    x.writeEndElement();
  }

  private static void parameter(XMLStreamWriter x, String name, String value)
      throws XMLStreamException {
    x.writeStartElement("parameter");
    text(x, "valueName", name);
    text(x, "value", value);
    x.writeEndElement();
  }

  private static String urgency(Priority p) {
    return switch (p) {
      case HIGH -> "Immediate";
      case MEDIUM -> "Expected";
      default -> "Future";
    };
  }

  private static String severity(Priority p) {
    return switch (p) {
      case HIGH -> "Severe";
      case MEDIUM -> "Moderate";
      default -> "Minor";
    };
  }
}
