package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

/** Where the chart puts the names of its marks, asked of the page's own code in the browser. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class SeatsTest {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int WIDTH = 600;
  private static final int ROWS = 3;
  private static final List<String> URGENCY = List.of("high", "medium", "low", "information");

  private final Browser page = Browser.open();
  private String code = "";

  private record Mark(int x, int wide, String priority) {}

  /** The name of the mark with this number. */
  private record Seat(int mark, int x, int row, int from, int to) {
    /** Whether its line, which comes from below, runs through this name. */
    boolean crosses(Seat name) {
      return row > name.row && x > name.from && x < name.to;
    }

    boolean covers(Seat name) {
      return row == name.row && from < name.to && name.from < to;
    }
  }

  @BeforeAll
  void load() throws IOException {
    try (InputStream in = SeatsTest.class.getResourceAsStream("/stillwatch/room/page/seats.js")) {
      assertThat(in).isNotNull();
      code = in == null ? "" : Base64.getEncoder().encodeToString(in.readAllBytes());
    }
  }

  @AfterAll
  void close() {
    page.close();
  }

  private List<Seat> seats(List<Mark> marks) throws IOException {
    Object said =
        page.driver()
            .executeAsyncScript(
                """
                const [code, marks, width, rows, done] = arguments;
                const all = JSON.parse(marks);
                import(`data:text/javascript;base64,${code}`).then(
                  (m) => done(JSON.stringify([...m.seats(all, 0, width, rows)].map(([mark, s]) => ({at: all.indexOf(mark), ...s})))),
                  (e) => done(String(e)));""",
                code,
                JSON.writeValueAsString(marks),
                WIDTH,
                ROWS);
    List<Seat> seats = new ArrayList<>();
    for (JsonNode s : JSON.readTree(String.valueOf(said))) {
      int at = s.path("at").asInt();
      int from = s.path("from").asInt();
      seats.add(
          new Seat(at, marks.get(at).x, s.path("row").asInt(), from, from + marks.get(at).wide));
    }
    return seats;
  }

  @Test
  void noNameLiesOnAnotherAndNoLineRunsThroughOne() throws IOException {
    SplittableRandom random = new SplittableRandom(5);
    for (int run = 0; run < 60; run++) {
      List<Mark> marks = new ArrayList<>();
      for (int i = random.nextInt(1, 40); i > 0; i--) {
        marks.add(
            new Mark(
                random.nextInt(WIDTH), random.nextInt(40, 110), URGENCY.get(random.nextInt(4))));
      }
      List<Seat> seats = seats(marks);
      for (Seat a : seats) {
        assertThat(a.from).isBetween(0, WIDTH);
        assertThat(a.to).isBetween(0, WIDTH);
        assertThat(a.row).isBetween(0, ROWS - 1);
        for (Seat b : seats) {
          assertThat(a.mark != b.mark && (a.covers(b) || a.crosses(b))).as(a + " " + b).isFalse();
        }
      }
      Mark first =
          marks.stream()
              .min(
                  Comparator.<Mark>comparingInt(m -> URGENCY.indexOf(m.priority))
                      .thenComparing(m -> -m.x))
              .orElseThrow();
      assertThat(seats).as("the most urgent").anyMatch(s -> marks.get(s.mark).equals(first));
    }
  }

  @Test
  void whatHasRoomIsNamed() throws IOException {
    List<Mark> apart =
        List.of(new Mark(50, 80, "low"), new Mark(300, 80, "high"), new Mark(590, 80, "low"));
    assertThat(seats(apart)).extracting(Seat::mark).containsExactlyInAnyOrder(0, 1, 2);
    List<Mark> atOnce =
        List.of(new Mark(300, 80, "high"), new Mark(300, 80, "high"), new Mark(300, 80, "high"));
    assertThat(seats(atOnce)).hasSize(3);
  }
}
