package stillwatch.station;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import stillwatch.station.broker.EmbeddedBroker;

/**
 * Tests that share one open watch of a drill, one after the other in their order: what one enters,
 * the next one finds. Each has a new page of it.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
abstract class PageOfOneWatch {
  /** The sheets of the page, in their order. */
  static final List<String> SHEETS =
      List.of(
          "well",
          "evidence",
          "enter",
          "buildup",
          "shift",
          "figures",
          "readiness",
          "closing",
          "end",
          "weather",
          "seabed");

  final String speed;
  final String from;

  Path folder = Path.of("");
  WatchProcess watch;
  Browser page;

  /** Where the watch's own would be, and here: it starts sooner, and stays when the watch ends. */
  private EmbeddedBroker broker;

  /** A drill of the leak so many times faster than life, from this moment on. */
  PageOfOneWatch(String speed, String from) {
    this.speed = speed;
    this.from = from;
  }

  @BeforeAll
  void start(@TempDir Path data) throws Exception {
    folder = data;
    broker = EmbeddedBroker.start(data.resolve("broker")).get();
    watch = begun(data).listening();
  }

  /** Starts the watch. */
  WatchProcess begun(Path data) throws IOException {
    return WatchProcess.drill(data, "leak.csv.gz", speed, options(from));
  }

  /** Of a drill from this moment on. */
  String[] options(String at) {
    return new String[] {"--open", "--from", at, "--http", "0", "--broker", broker.bootstrap()};
  }

  /** Stops the watch and its broker; what they have kept stays in the folder. */
  void stopAll() throws InterruptedException {
    watch.stop();
    broker.close();
  }

  @AfterAll
  void end() {
    watch.close();
    broker.close();
  }

  public Browser page() {
    return page;
  }

  public WatchProcess watch() {
    return watch;
  }

  @BeforeEach
  void enter() {
    page = Browser.open();
    page.get(watch.url("/"));
  }

  /** Goes to a sheet of the page. */
  void sheet(String name) {
    page.click("[data-sheet=" + name + "]");
  }

  /** Fills in a form by which somebody decides. */
  void decide(String form, String choice, String why) {
    page.click(form + " [value=" + choice + "]");
    page.type(form, "by", "the deciders");
    page.type(form, "why", why);
  }

  /** Asks for the record; the page shows once more what it would be. */
  void record(String form) {
    page.click(form + " button");
    page.seen("#last-look[open]");
  }

  /** Says yes to that. */
  void yes(String form) {
    page.click("#last-look [value=yes]");
    page.says(form + " output", "of the record");
  }

  @AfterEach
  void leave() {
    page.close();
  }
}
