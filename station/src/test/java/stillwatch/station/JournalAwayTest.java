package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A watch whose database server stands still, as one that is cut off does: it answers nothing. */
class JournalAwayTest {
  /** Somewhat longer than watch-lost is held before it is raised. */
  private static final long HOLD_MS = 20_000;

  @TempDir Path data;

  /** The server, which answers again when this is closed. */
  private record Standing(List<Long> processes) implements AutoCloseable {
    static Standing still(EmbeddedPostgres postgres) throws Exception {
      ProcessHandle server;
      try (Connection c = postgres.getPostgresDatabase().getConnection();
          Statement s = c.createStatement();
          ResultSet r = s.executeQuery("select pg_backend_pid()")) {
        assertThat(r.next()).isTrue();
        server = ProcessHandle.of(r.getLong(1)).flatMap(ProcessHandle::parent).orElseThrow();
      }
      Standing all =
          new Standing(
              Stream.concat(Stream.of(server), server.children()).map(ProcessHandle::pid).toList());
      all.signal("-STOP");
      return all;
    }

    private void signal(String which) throws IOException, InterruptedException {
      for (long pid : processes) {
        new ProcessBuilder("kill", which, Long.toString(pid)).start().waitFor();
      }
    }

    @Override
    public void close() throws IOException, InterruptedException {
      signal("-CONT");
    }
  }

  private static boolean wasLost(JsonNode state) {
    for (JsonNode alarm : state.path("alarms").findParents("rule")) {
      if (alarm.path("rule").asText().equals("watch-lost") && alarm.has("returned")) {
        return alarm.path("raised_summary").asText().contains("desk clock");
      }
    }
    return false;
  }

  @Test
  @Timeout(300)
  void theWatchIsBlindSaysWhyAndLosesNothing() throws Exception {
    try (EmbeddedPostgres postgres = EmbeddedPostgres.start();
        Browser page = Browser.open();
        WatchProcess watch =
            WatchProcess.drill(
                    data,
                    Map.of("STILLWATCH_JOURNAL_USER", "postgres"),
                    "leak.csv.gz",
                    "60",
                    "--open",
                    "--from",
                    "2026-03-08T11:30:00Z",
                    "--journal",
                    postgres.getJdbcUrl("postgres", "postgres"),
                    "--http",
                    "0")
                .listening()) {
      page.get(watch.url("/"));
      page.waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
      try (Standing still = Standing.still(postgres)) {
        page.says("#sight", "THE WATCH CANNOT REPORT ITS STATE");
        page.says("#sight", "the journal's database does not answer. Everything below is old");
        page.picture("journal-away.png");
        String health = watch.text("/health");
        while (!health.contains("desk clock") || health.contains("The rules")) {
          assertThat(watch.endsWithin(500)).isFalse();
          health = watch.text("/health");
        }
        assertThat(health).contains("\"watching\":false");
        assertThat(watch.endsWithin(HOLD_MS)).isFalse();
      }
      page.waitFor("the page sees again", "return document.body.dataset.sight === 'sees'");
      page.seen("#alarms > li[data-rule=sudden-drop]");
      watch.state(JournalAwayTest::wasLost);
      assertThat(watch.get("/api/journal/check").path("whole").asBoolean()).isTrue();
    }
  }
}
