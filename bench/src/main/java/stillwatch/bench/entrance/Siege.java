package stillwatch.bench.entrance;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A crowd at the door of a watch, and what the watch does meanwhile: readings come every second,
 * things are seen at the seafloor, a page is open, another machine asks for the health.
 */
public final class Siege implements AutoCloseable {
  /** How long from the sending of what was seen until the open page had the alarm. */
  public static final String PAGE = "seen until it is on the open page";

  /** The same until the route's other side had it. */
  public static final String ROUTE = "seen until the route has delivered it";

  /** How long {@code /health} took. */
  public static final String HEALTH = "/health";

  private static final Pattern MARK = Pattern.compile("crowd-mark-([0-9]+)");
  private static final int LINES_A_BODY = 1000;
  private static final long PATIENCE_S = 60;
  private static final double NS_PER_MS = 1e6;

  private final Crowd crowd;
  private final Figures figures = new Figures();
  private final Map<Integer, Long> sentNs = new ConcurrentHashMap<>();
  private final CountDownLatch onPage;
  private final CountDownLatch onRoute;
  private final HttpServer receiver;
  private final Child watch;
  private final Visitor operator;
  private final Visitor adapter;
  private final List<Thread> threads = new ArrayList<>();
  private volatile boolean over;

  /** Something that goes on while the crowd is there. */
  private interface Doing {
    void once() throws IOException, InterruptedException;
  }

  /** A watch before the crowd comes. */
  public Siege(Crowd crowd, Path folder) throws IOException, InterruptedException {
    this.crowd = crowd;
    onPage = new CountDownLatch(crowd.alarms());
    onRoute = new CountDownLatch(crowd.alarms());
    receiver = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    Map<Integer, Boolean> delivered = new ConcurrentHashMap<>();
    receiver.createContext(
        "/",
        x -> {
          String body = new String(x.getRequestBody().readAllBytes(), StandardCharsets.UTF_8);
          marks(body, delivered, ROUTE, onRoute);
          x.sendResponseHeaders(204, -1);
          x.close();
        });
    receiver.start();
    watch = new Child(folder, receiver.getAddress().getPort());
    operator = new Visitor(watch.port());
    adapter = new Visitor(watch.port());
  }

  private void marks(
      String text, Map<Integer, Boolean> known, String figure, CountDownLatch latch) {
    for (Matcher m = MARK.matcher(text); m.find(); ) {
      int mark = Integer.parseInt(m.group(1));
      Long sent = sentNs.get(mark);
      if (sent != null && known.putIfAbsent(mark, true) == null) {
        figures.took(figure, (System.nanoTime() - sent) / NS_PER_MS);
        latch.countDown();
      }
    }
  }

  /**
   * Lets the crowd come.
   *
   * @return what was measured; {@code alive} of "the watch" says whether it still runs
   */
  public Figures run() throws IOException, InterruptedException {
    operator.enters(watch.link());
    Map<Integer, Boolean> seen = new ConcurrentHashMap<>();
    background("page", () -> operator.stream().forEach(line -> marks(line, seen, PAGE, onPage)));
    every("readings", 1000, () -> answered("readings", adapter.sends(readings())));
    every(
        "asking",
        200,
        () -> {
          long from = System.nanoTime();
          answered(HEALTH, new Visitor(watch.port()).get("/health"));
          figures.took(HEALTH, (System.nanoTime() - from) / NS_PER_MS);
        });
    every(
        "looking",
        500,
        () -> {
          long from = System.nanoTime();
          answered("/api/state", operator.get("/api/state"));
          figures.took("/api/state", (System.nanoTime() - from) / NS_PER_MS);
        });
    see(-1); // the rules have started once this has come
    awaitFirst(seen);
    comes();
    over = true;
    figures.answered("alarms on the page", "missing " + onPage.getCount());
    figures.answered("alarms by the route", "missing " + onRoute.getCount());
    memory();
    return figures;
  }

  private void awaitFirst(Map<Integer, Boolean> seen) throws InterruptedException {
    long until = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_S);
    while (!operatorSaw() && System.nanoTime() < until) {
      TimeUnit.MILLISECONDS.sleep(200);
    }
    seen.clear();
  }

  private boolean operatorSaw() {
    try {
      return operator.get("/api/state").body().contains("before the crowd");
    } catch (IOException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return true;
    }
  }

  private void comes() throws IOException, InterruptedException {
    SlowClients slow = new SlowClients(watch.port(), crowd.slow(), figures);
    background("slow", slow::run);
    Visitor stranger = new Visitor(watch.port());
    int[] tries = new int[1];
    every(
        "logins",
        100,
        () -> {
          for (int i = 0; i < crowd.loginsPerS() / 10; i++) {
            var unused =
                stranger
                    .triesToEnter("nobody " + tries[0]++ % 500)
                    .whenComplete(
                        (answer, fault) ->
                            figures.answered(
                                "logins",
                                fault == null ? "" + answer.statusCode() : fault.toString()));
          }
        });
    Thread bad =
        background(
            "bad lines",
            () -> {
              String body = "{\"well\":\"larkspur-2\",\"at\":\"no time\"}\n".repeat(LINES_A_BODY);
              for (int i = 0; i < crowd.badLines() / LINES_A_BODY; i++) {
                answered("bodies of bad lines", adapter.sends(body));
              }
            });
    long everyMs = crowd.seconds() * 1000L / crowd.alarms();
    for (int i = 0; i < crowd.alarms(); i++) {
      TimeUnit.MILLISECONDS.sleep(everyMs);
      see(i);
    }
    bad.join(TimeUnit.SECONDS.toMillis(10 * PATIENCE_S));
    boolean page = onPage.await(PATIENCE_S, TimeUnit.SECONDS);
    boolean route = onRoute.await(PATIENCE_S, TimeUnit.SECONDS);
    figures.answered("all alarms", "page " + page + ", route " + route);
    slow.end(PATIENCE_S);
  }

  private void see(int mark) throws IOException, InterruptedException {
    String text = mark < 0 ? "before the crowd" : "crowd-mark-" + mark;
    String line =
        String.format(
            Locale.ROOT,
            "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"observation\":\"adverse\",\"means\":\"camera %d\",\"text\":\"bubbles, %s\",\"by\":\"crew\"}",
            Instant.now(),
            mark + 2,
            text);
    sentNs.put(mark, System.nanoTime());
    answered("what was seen", adapter.sends(line));
  }

  private static String readings() {
    return String.format(
        Locale.ROOT,
        "{\"well\":\"larkspur-2\",\"at\":\"%s\",\"values\":{\"PT-1\":46.9,\"PT-2\":46.89},\"units\":{\"PT-1\":\"MPa\",\"PT-2\":\"MPa\"}}",
        Instant.now());
  }

  private void answered(String what, HttpResponse<String> answer) {
    figures.answered(what, Integer.toString(answer.statusCode()));
  }

  private void memory() throws IOException, InterruptedException {
    figures.answered("the watch", watch.alive() ? "alive" : "dead");
    for (String line : operator.get("/metrics").body().lines().toList()) {
      if (line.matches("(jvm_memory_used_bytes\\{area=.heap.*|stillwatch_intake_rej.*)")) {
        figures.answered("metrics after it", line);
      }
    }
  }

  private Thread every(String name, long ms, Doing doing) {
    return background(
        name,
        () -> {
          while (!over) {
            try {
              doing.once();
            } catch (IOException e) {
              figures.answered(name, e.toString());
            }
            TimeUnit.MILLISECONDS.sleep(ms);
          }
        });
  }

  private Thread background(String name, Doing doing) {
    Thread thread =
        new Thread(
            () -> {
              try {
                doing.once();
              } catch (IOException | RuntimeException e) {
                figures.answered(name, e.toString());
              } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
              }
            },
            name);
    thread.setDaemon(true);
    threads.add(thread);
    thread.start();
    return thread;
  }

  @Override
  public void close() {
    over = true;
    threads.forEach(Thread::interrupt);
    watch.close();
    receiver.stop(0);
  }
}
