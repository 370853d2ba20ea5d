package stillwatch.bench.faults;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * A source that posts a reading of both gauges every second of this machine's time, keeps what was
 * not answered with 200 and sends it again, and does by seed what sources do wrong. One thread runs
 * it.
 */
final class Feeder implements Runnable, AutoCloseable {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final long EVERY_MS = 400;
  private static final int MOST_AT_ONCE = 300;
  private static final long HOUR_MS = Duration.ofHours(1).toMillis();
  private static final Duration PATIENCE = Duration.ofSeconds(10);

  private final Part door;
  private final String well;
  private final Course course;
  private final Ledger ledger;
  private final Tally tally;
  private final Random random;
  private final List<String> wrong = Collections.synchronizedList(new ArrayList<>());
  private final CountDownLatch closing = new CountDownLatch(1);
  private final HttpClient client =
      HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(2)).build();
  private final long beginMs = System.currentTimeMillis() / 1000 * 1000 - Course.QUIET * 1000L;
  private List<Line> waiting = new ArrayList<>();
  private List<Line> late = new ArrayList<>();
  private int second;
  private int holdFor;
  private boolean shuffled;
  private int offSeconds;
  private long offMs;
  private volatile boolean disturbed = true;
  private volatile long acceptedSinceMs;
  private volatile long refusedMs;
  private volatile boolean through;
  private int made; // read when its thread has ended

  /** A line to be sent; {@code ahead} says that it must be refused. */
  private record Line(Ledger.Key key, String text, boolean ahead) {}

  Feeder(Part door, String well, Course course, Ledger ledger, Tally tally, long seed) {
    this.door = door;
    this.well = well;
    this.course = course;
    this.ledger = ledger;
    this.tally = tally;
    random = new Random(seed);
  }

  /** Everything answered that should not have been. */
  List<String> wrong() {
    return List.copyOf(wrong);
  }

  /** When the last body that was accepted was begun, ms since 1970 UTC; 0 for none. */
  long acceptedSinceMs() {
    return acceptedSinceMs;
  }

  /** When a body was last answered 503, ms since 1970 UTC; 0 for never. */
  long refusedMs() {
    return refusedMs;
  }

  /** How many readings were to be accepted. */
  int made() {
    return made;
  }

  /** Does nothing wrong any more. */
  void behave() {
    disturbed = false;
  }

  @Override
  public void run() {
    try {
      while (!closing.await(EVERY_MS, TimeUnit.MILLISECONDS)) {
        gather();
        if (waiting.size() >= holdFor || !disturbed) {
          post();
        }
        through = waiting.isEmpty() && late.isEmpty();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void gather() {
    long nowMs = System.currentTimeMillis();
    if (!disturbed) {
      waiting.addAll(late);
      late.clear();
    }
    while (beginMs + second * 1000L <= nowMs) {
      long off = offSeconds > 0 && disturbed ? offMs : 0;
      offSeconds--;
      double[] both = course.at(second);
      Ledger.Key key = new Ledger.Key(beginMs + second * 1000L + off, both[0]);
      String text =
          String.format(
              Locale.ROOT,
              "{\"well\":\"%s\",\"at\":\"%s\",\"values\":{\"PT-1\":%.2f,\"PT-2\":%.2f}}",
              well,
              Instant.ofEpochMilli(key.atMs()),
              both[0],
              both[1]);
      waiting.add(new Line(key, text, off > 0));
      made += off > 0 ? 0 : 1;
      second++;
    }
  }

  private void post() throws InterruptedException {
    holdFor = 0;
    if (shuffled) {
      Collections.shuffle(waiting, random);
      shuffled = false;
    }
    List<Line> now = new ArrayList<>(waiting.subList(0, Math.min(MOST_AT_ONCE, waiting.size())));
    if (now.isEmpty()) {
      return;
    }
    int mishap = disturbed ? random.nextInt(20) : 20;
    switch (mishap) {
      case 0 -> twice(now);
      case 1 -> lateOnes();
      case 2 -> together(Kind.LINES_REORDERED);
      case 3 -> send(now, junk());
      case 4 -> cut(now);
      case 5 -> offBy(Kind.CLOCK_AHEAD, HOUR_MS);
      case 6 -> offBy(Kind.CLOCK_BACK, -HOUR_MS);
      default -> send(now, List.of());
    }
  }

  private void twice(List<Line> now) throws InterruptedException {
    tally.broke(Kind.LINES_TWICE);
    send(now, List.of());
    send(now, List.of());
  }

  /** What was suppressed goes with the next body; what waits now is suppressed. */
  private void lateOnes() {
    tally.broke(Kind.LINES_LATE);
    List<Line> before = late;
    late = waiting;
    waiting = before;
    holdFor = waiting.size() + 3;
  }

  private void together(Kind kind) {
    tally.broke(kind);
    holdFor = 4 + random.nextInt(6);
    shuffled = true;
  }

  private void offBy(Kind kind, long ms) {
    tally.broke(kind);
    offMs = ms;
    offSeconds = 1 + random.nextInt(6);
  }

  /** Lines that are no telemetry, whatever one makes of them. */
  private List<byte[]> junk() {
    tally.broke(Kind.WRONG_BYTES);
    List<byte[]> junk = new ArrayList<>();
    for (int n = 1 + random.nextInt(5); n > 0; n--) {
      byte[] line = waiting.get(0).text().getBytes(StandardCharsets.UTF_8);
      int at = 1 + random.nextInt(line.length - 2);
      junk.add(
          switch (random.nextInt(3)) {
            case 0 -> java.util.Arrays.copyOf(line, at);
            case 1 -> {
              line[at] = (byte) (1 + random.nextInt(8)); // a control character, never JSON
              yield line;
            }
            default -> "{\"well\":\"\\ud800\",\"at\":[[[[]]]]}".getBytes(StandardCharsets.UTF_8);
          });
    }
    return junk;
  }

  private byte[] body(List<Line> lines, List<byte[]> junk) {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    for (Line line : lines) {
      body.writeBytes((line.text() + "\n").getBytes(StandardCharsets.UTF_8));
      ledger.sent(line.key());
    }
    for (byte[] line : junk) {
      body.writeBytes(line);
      body.write('\n');
    }
    return body.toByteArray();
  }

  private void send(List<Line> lines, List<byte[]> junk) throws InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(door.uri("/telemetry"))
            .timeout(PATIENCE)
            .header("Content-Type", "application/x-ndjson")
            .POST(HttpRequest.BodyPublishers.ofByteArray(body(lines, junk)))
            .build();
    long begunMs = System.currentTimeMillis();
    try {
      HttpResponse<byte[]> answer = client.send(request, HttpResponse.BodyHandlers.ofByteArray());
      int status = answer.statusCode();
      if (status == 200 || status == 400) {
        answered(lines, junk, JSON.readTree(answer.body()));
        acceptedSinceMs = status == 200 ? begunMs : acceptedSinceMs;
      } else if (status == 503) {
        refusedMs = begunMs;
      } else {
        wrong.add(
            "a body was answered "
                + status
                + ": "
                + new String(answer.body(), StandardCharsets.UTF_8));
      }
    } catch (IOException e) {
      return; // what was not answered is sent again
    }
  }

  private void answered(List<Line> lines, List<byte[]> junk, JsonNode said) {
    Set<Integer> refused = new HashSet<>();
    said.path("refused").forEach(r -> refused.add(r.path("line").asInt()));
    for (int i = 0; i < lines.size(); i++) {
      Line line = lines.get(i);
      boolean taken = !refused.contains(i + 1);
      if (taken) {
        ledger.accepted(line.key());
      }
      if (taken == line.ahead()) {
        wrong.add((taken ? "taken: " : "refused: ") + line.text() + " by " + said);
      }
    }
    for (int i = 0; i < junk.size(); i++) {
      if (!refused.contains(lines.size() + i + 1)) {
        wrong.add("wrong bytes were not refused: " + said);
      }
    }
    waiting.removeAll(lines);
  }

  /** Half of the body, and the connection ends; all of it is sent again. */
  private void cut(List<Line> lines) {
    tally.broke(Kind.CUT);
    byte[] body = body(lines, List.of());
    String head =
        "POST /telemetry HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/x-ndjson\r\nContent-Length: "
            + body.length
            + "\r\n\r\n";
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), door.port())) {
      socket.getOutputStream().write(head.getBytes(StandardCharsets.US_ASCII));
      socket.getOutputStream().write(body, 0, random.nextInt(body.length));
      socket.setSoLinger(true, 0);
    } catch (IOException e) {
      return; // the watch is away: the same to a source
    }
  }

  /** Whether nothing waited to be sent when it looked last. */
  boolean through() {
    return through;
  }

  @Override
  public void close() {
    closing.countDown();
  }
}
