package stillwatch.ingest.intake;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
import stillwatch.ingest.entrance.Limits;
import stillwatch.ingest.intake.Refusal.Reason;

/**
 * Takes telemetry lines (NDJSON) from whatever door they come by, and says what became of them once
 * the log has acknowledged them: the broker, or this machine's disk where the intake keeps a spool.
 * Safe from any thread.
 */
public final class Reception {
  private static final ObjectMapper JSON = new ObjectMapper();
  private static final int LONGEST_LINE = Limits.USUAL.lineBytes();
  private static final int REFUSALS_TOLD = 1000;
  private static final long PATIENCE_S = 20;

  /** The name under which everybody is counted who sends bodies of lines. */
  public static final String SOURCE = "POST /telemetry";

  private final Intake intake;
  private final SourceHealth health;
  private final Senders senders;
  private final Supplier<Optional<String>> full;

  /**
   * What became of a body of lines.
   *
   * @param status an HTTP status: 200 when all is acknowledged (refused lines too), 400 when no
   *     line could be taken, 503 when the log did not acknowledge or the disk is full: give the
   *     same body again
   * @param json {@code taken}: how many lines are in the log; {@code refused}: line, reason, gauge,
   *     why
   */
  public record Answer(int status, byte[] json) {}

  /** A reception in front of this intake, for these senders. */
  public Reception(Intake intake, Senders senders) {
    this(intake, senders, Optional::empty);
  }

  /**
   * A reception in front of this intake that takes nothing while the disk is full.
   *
   * @param full why nothing can be kept now, in a sentence; empty while it can
   */
  public Reception(Intake intake, Senders senders, Supplier<Optional<String>> full) {
    this.intake = intake;
    this.senders = senders;
    this.full = full;
    health = new SourceHealth(SOURCE, intake::nowMs);
  }

  /** Who may send. */
  public Senders senders() {
    return senders;
  }

  /**
   * How the source is that all bodies of lines come from: connected while the last body was kept.
   * Empty while nobody has sent one, for not every well gets readings this way.
   */
  public Optional<SourceHealth.State> state() {
    return Optional.of(health.state()).filter(s -> s.lastMs() > 0);
  }

  /** The JSON Schema of a line. */
  public static byte[] schema() {
    try (InputStream in =
        Reception.class.getResourceAsStream("/stillwatch/intake/telemetry-line.schema.json")) {
      if (in == null) {
        throw new IllegalStateException(
            "the schema of telemetry lines is missing from the program; build it again");
      }
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException("cannot read the schema of telemetry lines", e);
    }
  }

  /**
   * Takes every line of a body, waiting until the log has acknowledged them. Blank lines count as
   * none. A line that is refused does not keep the others out.
   *
   * @param sender who sends; the name goes with what is refused
   * @throws IOException when the body cannot be read to its end; lines before that may be in the
   *     log
   */
  public Answer take(InputStream body, Sender sender) throws IOException {
    health.came();
    ObjectNode answer = JSON.createObjectNode();
    Optional<String> why = full.get();
    if (why.isPresent()) {
      health.lost(why.get());
      answer.put("fault", why.get() + " Nothing of this body was taken; send it again later.");
      return new Answer(503, JSON.writeValueAsBytes(answer));
    }
    ArrayNode refused = JSON.createArrayNode();
    List<CompletableFuture<Void>> acknowledged = new ArrayList<>();
    Lines lines = new Lines(body);
    long taken = 0;
    long refusals = 0;
    for (byte[] line = lines.next(); line.length > 0 || !lines.over; line = lines.next()) {
      if (isBlank(line)) {
        continue;
      }
      Intake.Outcome outcome = lines.tooLong ? tooLong(line, sender) : intake.take(line, sender);
      health.became(outcome);
      acknowledged.add(outcome.acknowledged());
      taken += outcome.taken() ? 1 : 0;
      for (Refusal r : outcome.refused()) {
        if (++refusals <= REFUSALS_TOLD) {
          ObjectNode n =
              refused.addObject().put("line", lines.number).put("reason", r.reason().wire());
          if (!r.gauge().isEmpty()) {
            n.put("gauge", r.gauge());
          }
          n.put("why", r.why());
        }
      }
    }
    String fault = wait(acknowledged);
    if (!fault.isEmpty()) {
      health.lost(fault);
      answer.put("fault", fault);
      return new Answer(503, JSON.writeValueAsBytes(answer));
    }
    health.connected();
    answer.put("taken", taken);
    answer.set("refused", refused);
    if (refusals > REFUSALS_TOLD) {
      answer.put("refused_not_listed", refusals - REFUSALS_TOLD);
    }
    return new Answer(taken == 0 && refusals > 0 ? 400 : 200, JSON.writeValueAsBytes(answer));
  }

  /**
   * Takes one line from a source inside the process.
   *
   * @param resent what that source gave lately
   */
  public Intake.Outcome take(byte[] line, Sender sender, Resent resent) {
    Optional<String> why = full.get();
    if (why.isPresent()) {
      return new Intake.Outcome(
          CompletableFuture.failedFuture(new IOException(why.get())), false, false, List.of());
    }
    return line.length > LONGEST_LINE
        ? tooLong(Arrays.copyOf(line, LONGEST_LINE), sender)
        : intake.take(line, sender, resent);
  }

  /**
   * Puts something among the rejects that is no line.
   *
   * @param source who sent it
   * @return completes when it is kept
   */
  public CompletableFuture<Void> refuse(byte[] raw, String source, List<Refusal> why) {
    return intake.reject(
        "", raw.length > LONGEST_LINE ? Arrays.copyOf(raw, LONGEST_LINE) : raw, source, why);
  }

  /** Now, as the log stamps what comes; ms since 1970 UTC. */
  public long nowMs() {
    return intake.nowMs();
  }

  private Intake.Outcome tooLong(byte[] start, Sender sender) {
    List<Refusal> why =
        List.of(
            Refusal.ofLine(
                Reason.TOO_LONG,
                "the line is longer than " + LONGEST_LINE + " bytes; send fewer gauges a line"));
    return new Intake.Outcome(intake.reject("", start, sender.name(), why), false, false, why);
  }

  /** Whether a line says nothing. */
  public static boolean isBlank(byte[] line) {
    for (byte b : line) {
      if (b != ' ' && b != '\t' && b != '\r') {
        return false;
      }
    }
    return true;
  }

  private static String wait(List<CompletableFuture<Void>> acknowledged) {
    try {
      CompletableFuture.allOf(acknowledged.toArray(CompletableFuture[]::new))
          .get(PATIENCE_S, TimeUnit.SECONDS);
      return "";
    } catch (ExecutionException e) {
      return "not all of it could be kept: "
          + e.getMessage()
          + "; send the body again, readings that are kept are not doubled";
    } catch (TimeoutException e) {
      return "the log has not acknowledged it within "
          + PATIENCE_S
          + " s; send the body again, readings that are kept are not doubled";
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return "the intake is stopping; send the body again";
    }
  }

  /** Cuts a body into lines; of a line that is too long only the start is kept. */
  private static final class Lines {
    private final InputStream in;
    private final byte[] buffer = new byte[16 * 1024];
    private int at;
    private int end;
    private boolean over;
    private boolean tooLong;
    private long number;

    Lines(InputStream in) {
      this.in = in;
    }

    byte[] next() throws IOException {
      ByteArrayOutputStream line = new ByteArrayOutputStream(256);
      tooLong = false;
      number++;
      while (true) {
        if (at == end) {
          end = in.read(buffer);
          at = 0;
          if (end <= 0) {
            end = 0;
            over = true;
            return line.toByteArray();
          }
        }
        int from = at;
        while (at < end && buffer[at] != '\n') {
          at++;
        }
        int keep = Math.min(at - from, LONGEST_LINE - line.size());
        tooLong |= keep < at - from;
        line.write(Arrays.copyOfRange(buffer, from, from + keep), 0, keep);
        if (at < end) {
          at++;
          return line.toByteArray();
        }
      }
    }
  }
}
