package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The report of a drill that people took part in. */
class ReportTest {
  private static final String PLAN = WatchProcess.LARKSPUR.resolve("plan.yaml").toString();

  @TempDir Path data;

  private int report(Path out) {
    return Main.run("report", "--plan", PLAN, "--data", data.toString(), "--out", out.toString());
  }

  private static String verified(Path data) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream before = System.out;
    System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
    try {
      assertThat(Main.run("journal", "verify", "--data", data.toString())).isZero();
    } finally {
      System.setOut(before);
    }
    return out.toString(StandardCharsets.UTF_8);
  }

  /** The time that the page shows. */
  private static Instant log(WatchProcess watch) throws Exception {
    return Instant.parse(watch.get("/api/state").path("log").asText());
  }

  /** When somebody did that last, as the shift's list tells it. */
  private static Instant toldAt(WatchProcess watch, String what) throws Exception {
    Instant at = Instant.MIN;
    for (JsonNode told : watch.get("/api/shift").path("told")) {
      at = told.path("what").asText().equals(what) ? Instant.parse(told.path("at").asText()) : at;
    }
    return at;
  }

  @Test
  @Timeout(300)
  void itTellsTheWholeStoryAndTheRecordsHash() throws Exception {
    try (WatchProcess watch =
        WatchProcess.drill(data, "leak.csv.gz", "3000", "--open", "--http", "0").listening()) {
      JsonNode state =
          watch.state(s -> s.path("alarms").findValuesAsText("rule").contains("sudden-drop"));
      String id = "";
      for (JsonNode a : state.path("alarms")) {
        id = a.path("rule").asText().equals("sudden-drop") ? a.path("id").asText() : id;
      }
      Instant before = log(watch);
      watch.act("/api/alarms/" + id + "/acknowledge", "{\"note\":\"camera is on its way\"}");
      assertThat(toldAt(watch, "acknowledged")).isBetween(before, log(watch));
      watch.act(
          "/api/decisions",
          "{\"choice\":\"reopen\",\"by\":\"the deciders\",\"why\":\"it leaks <& more>\"}");
      watch.act("/api/notes", "{\"text\":\"sheen seen from the deck\"}");
      watch.state(s -> s.path("mode").asText().endsWith("over") && s.path("decisions").size() > 0);
      assertThat(watch.text("/api/report")).contains("it leaks &lt;&amp; more&gt;");
      assertThat(watch.text("/metrics"))
          .contains("stillwatch_alarms_share{priority=\"high\"} 0.")
          .contains("stillwatch_alarms_floods 0.0")
          .containsPattern("stillwatch_alarms_most_in_ten_minutes [1-9]");
      watch.stop();
    }
    Path html = data.resolve("report.html");
    assertThat(report(html)).isZero();
    String text = Files.readString(html);
    Matcher hash = Pattern.compile("hash ([0-9a-f]{64})").matcher(verified(data));
    assertThat(hash.find()).isTrue();
    assertThat(text)
        .contains(
            hash.group(1),
            "EXERCISE: a recording fed the watch",
            "choke part-turn 6 of 6, shut",
            "anybody on this machine after",
            "by this machine's clock: camera",
            "camera is on its way",
            "it leaks &lt;&amp; more&gt;",
            "sheen seen from the deck",
            "pressure: level",
            "No alarm was suppressed by anybody.",
            "gauge-silent 4 min",
            "Outcome at ",
            "in the leak band; fell by",
            "Limits in force",
            "operates no valve")
        .doesNotContain("<script", "http-equiv", "src=");
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", false);
    assertThat(
            factory
                .newDocumentBuilder()
                .parse(Files.newInputStream(html))
                .getElementsByTagName("svg")
                .getLength())
        .as("plots, in a page that is well-formed XML")
        .isGreaterThanOrEqualTo(4);

    Matcher counted = Pattern.compile("(\\d+) not acknowledged").matcher(text);
    assertThat(counted.find()).isTrue();
    assertThat(text.split(">NOBODY<", -1)).hasSize(Integer.parseInt(counted.group(1)) + 1);
    assertThat(text).contains("<td class=\"one\">phase</td><td class=\"one\">watching</td>");
    aStretchTellsOfItselfOnly();

    Path pdf = data.resolve("report.pdf");
    assertThat(report(pdf)).isZero();
    try (PDDocument document = Loader.loadPDF(pdf.toFile())) {
      String said = new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
      assertThat(said)
          .contains(
              hash.group(1), "choke part-turn 6 of 6, shut", "the deciders", "operates no valve");
      assertThat(document.getNumberOfPages()).isBetween(3, 12);
    }
    assertThat(
            Main.run(
                "journal",
                "verify",
                "--data",
                data.toString(),
                "--expect",
                UUID.randomUUID().toString().replace("-", "")))
        .as("a hash from another record")
        .isEqualTo(1);
  }

  private void aStretchTellsOfItselfOnly() throws Exception {
    Path shift = data.resolve("shift.html");
    assertThat(
            Main.run(
                "report",
                "--plan",
                PLAN,
                "--data",
                data.toString(),
                "--out",
                shift.toString(),
                "--from",
                "2026-03-08T11:00:00Z",
                "--to",
                "2026-03-08T11:46:00Z"))
        .isZero();
    assertThat(Files.readString(shift).replaceAll("</?span[^>]*>", ""))
        .contains("For the stretch from 2026-03-08 11:00:00 UTC to 2026-03-08 11:46:00 UTC only")
        .contains("Outcome at 11:46:00 UTC", "sustained-drop", "1 unexplained, the oldest since")
        .doesNotContain("gauge-silent", "part-turn", "acoustic-rise");
  }

  @Test
  void aStretchThatEndsBeforeItBeginsIsRefused() {
    assertThat(
            Main.run(
                "report",
                "--plan",
                PLAN,
                "--out",
                data.resolve("r.html").toString(),
                "--from",
                "2026-03-08T12:00:00Z",
                "--to",
                "2026-03-08T11:00:00Z"))
        .isEqualTo(2);
  }

  @Test
  void whatCannotBeAReportIsRefused() {
    assertThat(report(data.resolve("report.txt"))).isEqualTo(2);
    assertThat(report(data.resolve("report.pdf"))).as("no watch was here").isEqualTo(2);
    assertThat(data.resolve("report.pdf")).doesNotExist();
    assertThat(Main.run("journal", "verify", "--data", data.toString())).isEqualTo(2);
  }
}
