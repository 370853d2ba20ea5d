package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** What a page shows and sounds while a leak runs, an hour a minute, until the watch is lost. */
@Timeout(300)
class LivePageTest extends PageOfOneWatch {
  private static final Path RECORDING = Path.of("../demo-data/larkspur/leak.csv.gz");
  private static final Pattern NOW = Pattern.compile("Now: ([0-9.]+) MPa, (.)");

  /** A page's own log time, its pressure, and all its live lines, at one moment, ten a second. */
  private static final String READ =
      """
      await new Promise((go) => setTimeout(go, 100));
      return JSON.stringify({
        log: document.querySelector('#log').textContent, pressure: document.querySelector('#pressure').textContent,
        live: [...document.querySelectorAll('#alarms .live')].map((e) => e.textContent).filter((t) => t.startsWith('Now: ')),
        dated: [...document.querySelectorAll('#alarms .sentence')].map((e) => e.textContent),
      });""";

  LivePageTest() {
    super("60", "2026-03-08T11:44:00Z");
  }

  /** The shut-in pressure as recorded, MPa, by the second. */
  private static NavigableMap<Instant, Double> recorded() throws IOException {
    NavigableMap<Instant, Double> values = new TreeMap<>();
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                new GZIPInputStream(Files.newInputStream(RECORDING)), StandardCharsets.UTF_8))) {
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        String[] cells = line.split(",", -1);
        if (!cells[0].equals("time") && !cells[2].isEmpty()) {
          values.put(Instant.parse(cells[0]), Double.parseDouble(cells[2]) / 1000);
        }
      }
    }
    return values;
  }

  /** An hour of the leak: every figure that is labelled live is that of the newest minute. */
  @Test
  @Order(1)
  void noLiveFigureContradictsTheLog() throws Exception {
    NavigableMap<Instant, Double> recorded = recorded();
    page.seen("#alarms > li[data-rule=sudden-drop]");
    int lines = 0;
    Instant log = at(read());
    for (Instant end = log.plusSeconds(1800); log.isBefore(end); ) {
      JsonNode read = read();
      log = at(read);
      Map<Instant, Double> near =
          recorded.subMap(log.minusSeconds(90), true, log.plusSeconds(5), true);
      figure(read.path("pressure").asText(), near, log);
      for (JsonNode live : read.path("live")) {
        Matcher m = NOW.matcher(live.asText());
        assertThat(m.find()).as(live.asText()).isTrue();
        figure(m.group(1), near, log);
        assertThat(m.group(2)).as("it falls by 1.8 MPa an hour: " + live).isEqualTo("−");
        lines++;
      }
      assertThat(read.path("dated"))
          .extracting(JsonNode::asText)
          .allMatch(t -> t.startsWith("At 2026-03-08 ") && !t.matches("(?i).*\\bnow\\b.*"));
    }
    assertThat(lines).isGreaterThan(20);
  }

  private JsonNode read() throws IOException {
    return new ObjectMapper().readTree(String.valueOf(page.run(READ)));
  }

  private static Instant at(JsonNode read) {
    return Instant.parse(read.path("log").asText().replace(" UTC", "Z").replace(' ', 'T'));
  }

  private static void figure(String shown, Map<Instant, Double> near, Instant log) {
    assertThat(near.values())
        .as("%s MPa at %s", shown, log)
        .anyMatch(v -> Math.abs(v - Double.parseDouble(shown)) < 0.006);
  }

  /**
   * A HIGH alarm sounds again and again until it is acknowledged; the loss of the watch sounds
   * otherwise, from the page alone. The tones are those the browser's own synthesiser is given.
   */
  @Test
  @Order(2)
  void anAlarmSoundsUntilAcknowledgedAndTheLossOfTheWatchByItself() throws Exception {
    page.driver()
        .executeCdpCommand(
            "Page.addScriptToEvaluateOnNewDocument",
            Map.of(
                "source",
                """
                window.tones = [];
                const start = OscillatorNode.prototype.start;
                OscillatorNode.prototype.start = function (at) { window.tones.push(this.frequency.value); return start.call(this, at); };
                const set = AudioParam.prototype.setValueAtTime;
                AudioParam.prototype.setValueAtTime = function (v, at) { if (v > 20) window.tones.push(v); return set.call(this, v, at); };"""));
    page.run(
        "localStorage.setItem('sound', JSON.stringify({every: 5, from: '00:00', to: '23:59'}))");
    page.get(watch.url("/"));
    page.seen("#alarms > li[data-priority=high][data-asks=yes]");
    page.says("#sound", "Sound OFF");
    page.click("#sound");
    page.says("#sound", "Sound on");
    page.run("window.tones.length = 0");
    String high = "window.tones.filter((f) => f === 784).length";
    page.waitFor("it sounds again, quiet hours or not", "return " + high + " >= 4");
    page.waitFor(
        "all are acknowledged",
        """
        document.querySelectorAll('#alarms > li[data-asks=yes] form.acknowledge').forEach((f) => f.requestSubmit());
        document.querySelectorAll('#alarms .behind button').forEach((b) => b.click());
        return !document.querySelector('#counts [data-any=yes][data-priority=high]')
          && !document.querySelector('#counts [data-any=yes][data-priority=medium]');""");
    page.run("window.tones.length = 0; window.since = Date.now()");
    page.waitFor("two intervals later", "return Date.now() - window.since > 11000");
    assertThat(
            page.run(
                "return document.querySelector('#counts [data-any=yes][data-priority=high]') === null ? "
                    + high
                    + " : 0"))
        .as("nothing is unacknowledged, nothing sounds")
        .isEqualTo(0L);
    watch.kill();
    page.waitFor("the loss sounds", "return window.tones.includes(660)");
    page.says("#sight", "CONNECTION TO THE WATCH LOST");
    assertThat(page.run("return document.title")).isEqualTo("LOST · Stillwatch");
  }
}
