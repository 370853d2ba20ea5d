package stillwatch.station.command;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.alerts.journal.Entry;
import stillwatch.alerts.journal.Journal;
import stillwatch.station.option.JournalOption;
import stillwatch.station.output.Cautions;

/** Writes the record out. */
@Command(
    name = "export",
    mixinStandardHelpOptions = true,
    description =
        "Writes every entry of the record, oldest first. A journal in a file: stop its watch first.",
    footer = {"", Cautions.TEXT})
final class JournalExportCommand implements Callable<Integer> {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** How entries are written. */
  private enum Form {
    NDJSON,
    CSV
  }

  @Mixin private JournalOption journal = new JournalOption();

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "The folder that holds the journal. Default: stillwatch-data.")
  private Path data = Path.of("stillwatch-data");

  @Option(
      names = "--format",
      paramLabel = "FORMAT",
      description = "${COMPLETION-CANDIDATES}. Default: ${DEFAULT-VALUE}.")
  private Form form = Form.NDJSON;

  @Option(names = "--out", paramLabel = "FILE", description = "Where to. Default: standard output.")
  private @Nullable Path out;

  @Override
  public Integer call() throws IOException {
    try (Journal open = journal.existing(data)) {
      if (out == null) {
        write(open, new OutputStreamWriter(System.out, StandardCharsets.UTF_8));
      } else {
        try (Writer writer = Files.newBufferedWriter(out)) {
          write(open, writer);
        }
      }
    }
    return 0;
  }

  private void write(Journal open, Writer writer) throws IOException {
    if (form == Form.CSV) {
      writer.write("seq,written,well,what,subject,by,body,hash,log\r\n");
    }
    open.entries(entry -> write(writer, form == Form.CSV ? csv(entry) : ndjson(entry)));
    writer.flush();
  }

  private static void write(Writer writer, String text) {
    try {
      writer.write(text);
    } catch (IOException e) {
      throw new UncheckedIOException("the record cannot be written out", e);
    }
  }

  private static String ndjson(Entry e) {
    ObjectNode n = JSON.createObjectNode().put("seq", e.seq());
    n.put("written", Instant.ofEpochMilli(e.writtenMs()).toString()).put("well", e.well());
    n.put("what", e.what()).put("subject", e.subject()).put("by", e.by());
    n.put("body", e.body()).put("hash", e.hash());
    if (e.logMs() != null) {
      n.put("log", log(e));
    }
    try {
      return JSON.writeValueAsString(n) + "\n";
    } catch (JsonProcessingException x) {
      throw new UncheckedIOException("cannot write JSON to memory", x);
    }
  }

  /** When it was by the log of an exercise; empty elsewhere. */
  private static String log(Entry e) {
    Long ms = e.logMs();
    return ms == null ? "" : Instant.ofEpochMilli(ms).toString();
  }

  /** RFC 4180. */
  private static String csv(Entry e) {
    StringBuilder row = new StringBuilder(Long.toString(e.seq()));
    for (String cell :
        new String[] {
          Instant.ofEpochMilli(e.writtenMs()).toString(),
          e.well(),
          e.what(),
          e.subject(),
          e.by(),
          e.body(),
          e.hash(),
          log(e)
        }) {
      row.append(",\"").append(cell.replace("\"", "\"\"")).append('"');
    }
    return row.append("\r\n").toString();
  }
}
