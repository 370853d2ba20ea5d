package stillwatch.bench.room;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import stillwatch.bench.Twenty;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.BusSettings;
import stillwatch.ingest.bus.KafkaBus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;
import stillwatch.ingest.recording.Problems;
import stillwatch.ingest.recording.RecordingFeed;
import stillwatch.ingest.telemetry.Telemetry;
import stillwatch.ingest.wire.TelemetryCodec;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.PlanLoader;
import stillwatch.station.broker.EmbeddedBroker;

/**
 * Puts alerts on the topic of a real broker and sees when a window of a real browser has painted
 * them, while nine more pages take their streams as from other machines; what ten thousand in a
 * minute do; and how quick the page is on two days of twenty gauges.
 */
public final class RoomBench {
  private static final int PAGES = 10;
  private static final int SINGLE = 55;
  private static final int MANY = 10_000;
  private static final HttpClient HTTP = HttpClient.newHttpClient();

  private RoomBench() {}

  /** Runs it; no arguments. */
  public static void main(String[] args) throws Exception {
    Path folder = Files.createTempDirectory("room-bench");
    int port;
    try (ServerSocket s = new ServerSocket(0)) {
      port = s.getLocalPort();
    }
    try (EmbeddedBroker broker = EmbeddedBroker.start(folder.resolve("broker")).join();
        Bus bus = KafkaBus.open(new BusSettings(broker.bootstrap(), Map.of()))) {
      bus.createTopics(1, 1);
      Process room =
          room(Path.of("demo-data/larkspur/plan.yaml"), folder, broker.bootstrap(), port);
      try (TopicWriter writer = bus.writer(Topics.ALERTS)) {
        String url = "http://127.0.0.1:" + port;
        waitFor(url);
        for (int i = 1; i < PAGES; i++) {
          elsewhere(url);
        }
        try (Window window = Window.open(url + "/")) {
          singly(window, writer);
          flood(url, window, writer);
        }
      } finally {
        room.destroy();
        room.waitFor(20, TimeUnit.SECONDS);
      }
      twoDays(Files.createDirectory(folder.resolve("twenty")), broker.bootstrap(), bus, port);
    }
  }

  /** How quick the page is on 48 h of twenty gauges, a reading a second each. */
  private static void twoDays(Path folder, String bootstrap, Bus bus, int port) throws Exception {
    Path planFile = Twenty.plan(folder);
    Plan plan = PlanLoader.load(planFile, Catalogue.shipped());
    long lastMs = 0;
    try (RecordingFeed feed =
            RecordingFeed.open(Twenty.recording(folder, 48), plan.recordings(), new Problems());
        TopicWriter writer = bus.writer(Topics.TELEMETRY)) {
      TelemetryCodec codec = new TelemetryCodec();
      for (Telemetry t = feed.next(); t != null; t = feed.next()) {
        var unused = writer.append(codec.encode(t));
        lastMs = t.receivedMs();
      }
      writer.flush();
    }
    Process room = room(planFile, folder, bootstrap, port);
    String url = "http://127.0.0.1:" + port;
    try {
      waitFor(url);
      String last = Instant.ofEpochMilli(lastMs).toString().substring(0, 19);
      for (int i = 0; !get(url + "/api/state").contains("\"log\":\"" + last); i++) {
        if (i == 300) {
          throw new IllegalStateException("the room has not read the 48 h within 5 min");
        }
        Thread.sleep(1000);
      }
      String all =
          IntStream.range(0, Twenty.GAUGES)
              .mapToObj(Twenty::gauge)
              .collect(Collectors.joining(","));
      List<Double> asked = new ArrayList<>();
      for (int i = 0; i < 50; i++) {
        asked.add(timed(() -> get(url + "/api/series?gauges=" + all + "&points=800&span_s=0")));
      }
      tell("48 h of twenty gauges in 800 columns are answered", asked, asked.size());
      try (Window window = Window.open(url + "/")) {
        for (int i = 0; i < 40; i++) {
          window.work(i);
          Thread.sleep(250);
        }
        System.out.printf(
            Locale.ROOT,
            "On 48 h of twenty gauges, a window shows what was clicked within %.0f ms%n",
            window.slowest());
      }
    } finally {
      room.destroy();
      room.waitFor(20, TimeUnit.SECONDS);
    }
  }

  private static void singly(Window window, TopicWriter writer) throws InterruptedException {
    Map<String, Long> sent = new HashMap<>();
    Thread.sleep(3000);
    for (int i = 0; i < SINGLE; i++) {
      sent.put("b" + i, System.currentTimeMillis());
      send(writer, i, Priority.HIGH);
      Thread.sleep(1000);
    }
    Thread.sleep(2000);
    List<Double> ms = new ArrayList<>();
    Map<String, Long> seen = window.seen();
    sent.forEach((id, at) -> ms.add((double) (seen.getOrDefault(id, Long.MAX_VALUE) - at)));
    tell("With ten pages open, from the topic to painted in one of them, one by one", ms, SINGLE);
  }

  private static Process room(Path plan, Path folder, String bootstrap, int port)
      throws IOException {
    return new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-Xmx1g",
            "-cp",
            System.getProperty("java.class.path"),
            "stillwatch.station.Main",
            "alerts",
            "--open",
            "--plan",
            plan.toString(),
            "--broker",
            bootstrap,
            "--data",
            folder.resolve("alerts").toString(),
            "--http",
            Integer.toString(port))
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve("alerts.log").toFile())
        .start();
  }

  /** A page that is open on another machine: it takes its stream and is drawn there. */
  private static void elsewhere(String url) {
    Thread t =
        new Thread(
            () -> {
              try (InputStream in =
                  HTTP.send(
                          HttpRequest.newBuilder(URI.create(url + "/api/events")).build(),
                          HttpResponse.BodyHandlers.ofInputStream())
                      .body()) {
                in.transferTo(OutputStream.nullOutputStream());
              } catch (IOException e) {
                // the room has closed
              } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
              }
            },
            "page");
    t.setDaemon(true);
    t.start();
  }

  private static String get(String url) throws IOException, InterruptedException {
    return HTTP.send(
            HttpRequest.newBuilder(URI.create(url)).build(), HttpResponse.BodyHandlers.ofString())
        .body();
  }

  private static void waitFor(String url) throws InterruptedException {
    for (int i = 0; i < 300; i++) {
      try {
        String unused = get(url + "/health");
        return;
      } catch (IOException e) {
        Thread.sleep(200);
      }
    }
    throw new IllegalStateException("the room does not open");
  }

  private static void send(TopicWriter writer, int i, Priority priority) {
    long now = System.currentTimeMillis();
    Finding f =
        new Finding(
            "b" + i,
            "gauge-noisy",
            RuleMeaning.on(RuleEntry.About.GAUGE),
            "G" + i,
            null,
            "0",
            "Bench",
            priority,
            "larkspur-2",
            List.of("G" + i),
            now - i * 300_000L, // apart in time, so that none explains another
            now,
            null,
            "It is so.",
            Map.of(),
            new Evidence(Map.of(), List.of()),
            "watching",
            "Call.",
            "A3",
            "0");
    var unused = writer.append(Message.of("larkspur-2", FindingCodec.encode(f), Map.of()));
  }

  private static void tell(String what, List<Double> ms, int expected) {
    List<Double> sorted = new ArrayList<>(ms);
    Collections.sort(sorted);
    System.out.printf(
        Locale.ROOT,
        "%s: %d of %d seen, median %.0f ms, 99 %% %.0f ms, worst %.0f ms%n",
        what,
        sorted.size(),
        expected,
        sorted.get(sorted.size() / 2),
        sorted.get((int) (sorted.size() * 0.99)),
        sorted.get(sorted.size() - 1));
  }

  /** Ten thousand in a minute; meanwhile somebody adds notes and looks. */
  private static void flood(String url, Window window, TopicWriter writer) throws Exception {
    List<Double> actions = new ArrayList<>();
    List<Double> looks = new ArrayList<>();
    long startNs = System.nanoTime();
    for (int i = 0; i < MANY; i++) {
      send(writer, SINGLE + i, i % 20 == 0 ? Priority.HIGH : Priority.LOW);
      if (i % 500 == 0) {
        actions.add(timed(() -> act(url + "/api/notes", "{\"text\":\"still here\"}")));
        looks.add(timed(() -> get(url + "/api/state")));
        window.work(i / 500);
      }
      long dueNs = startNs + (long) (i * 60e9 / MANY);
      long waitMs = (dueNs - System.nanoTime()) / 1_000_000;
      if (waitMs > 0) {
        Thread.sleep(waitMs);
      }
    }
    writer.flush();
    tell("In a flood, an action is answered", actions, actions.size());
    System.out.printf(
        Locale.ROOT,
        "In a flood, a window shows what was clicked within %.0f ms%n",
        window.slowest());
    tell("In a flood, the state is answered", looks, looks.size());
    for (int i = 0; i < 300 && asking(url) < SINGLE + MANY; i++) {
      Thread.sleep(1000);
    }
    System.out.println(
        "Flood named: "
            + get(url + "/api/state").contains("\"flood\":{")
            + "; "
            + asking(url)
            + " alarms ask, "
            + (SINGLE + MANY)
            + " sent, and the watch's own that no readings come; "
            + get(url + "/api/journal/check"));
  }

  private static long asking(String url) throws IOException, InterruptedException {
    Matcher m =
        Pattern.compile("(?m)^stillwatch_alarms_open ([0-9]+)").matcher(get(url + "/metrics"));
    return m.find() ? Long.parseLong(m.group(1)) : 0;
  }

  private interface Doing {
    Object once() throws Exception;
  }

  private static double timed(Doing doing) throws Exception {
    long startNs = System.nanoTime();
    Object unused = doing.once();
    return (System.nanoTime() - startNs) / 1e6;
  }

  private static String act(String url, String body) throws IOException, InterruptedException {
    return HTTP.send(
            HttpRequest.newBuilder(URI.create(url))
                .header("Content-Type", "application/json")
                .header("Idempotency-Key", "bench-" + System.nanoTime())
                .POST(HttpRequest.BodyPublishers.ofString(body))
                .build(),
            HttpResponse.BodyHandlers.ofString())
        .body();
  }
}
