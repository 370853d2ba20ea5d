package stillwatch.rules.review;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.watch.BuildUpReview;
import stillwatch.rules.watch.WellWatch;
import stillwatch.rules.well.Expectation;
import stillwatch.rules.well.ExplanationFit;
import stillwatch.rules.well.WellFacts;

/**
 * Thinks the build-up of a well over on a thread of its own, so that no alert waits for it, and
 * rests after each review, so that it takes a fifth of a core at most however fast a drill is fed.
 * Of readings that come faster than it thinks, only the newest is taken.
 */
public final class Reviewer implements WellWatch.Tap, AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Reviewer.class);
  private static final ObjectMapper JSON = new ObjectMapper();

  /** Sooner after the shut-in there is nothing to compare, hours. */
  private static final double SOONEST = 1;

  /** It rests so many times as long as it thought. */
  private static final int REST = 4;

  private final Plan plan;
  private final Consumer<byte[]> sink;
  private final AtomicReference<@Nullable BuildUpReview> waiting = new AtomicReference<>();

  @SuppressWarnings("ThreadPriorityCheck") // no sum is right by it; the watch comes first
  private final ExecutorService thread =
      Executors.newSingleThreadExecutor(
          work -> {
            Thread t = new Thread(work, "review");
            t.setDaemon(true);
            t.setPriority(Thread.MIN_PRIORITY);
            return t;
          });

  private @Nullable Expectation expected;

  /**
   * A reviewer of one well.
   *
   * @param sink told what to say of each reading, as JSON, on the reviewer's thread
   */
  public Reviewer(Plan plan, Consumer<byte[]> sink) {
    this.plan = plan;
    this.sink = sink;
  }

  /** Takes a reading; returns at once. */
  @Override
  public void reviewed(BuildUpReview reviewed) {
    if (waiting.getAndSet(reviewed) == null) {
      thread.execute(this::thinkAndRest);
    }
  }

  private void thinkAndRest() {
    long beganNs = System.nanoTime();
    think();
    try {
      TimeUnit.NANOSECONDS.sleep(REST * (System.nanoTime() - beganNs));
    } catch (InterruptedException e) { // it is closed
      Thread.currentThread().interrupt();
    }
  }

  private void think() {
    BuildUpReview reviewed = waiting.getAndSet(null);
    WellFacts facts = plan.facts();
    if (reviewed == null || facts == null) {
      return;
    }
    try {
      ReviewWords words = new ReviewWords(plan);
      ObjectNode said = JSON.createObjectNode();
      words.leads(said, reviewed);
      if (reviewed.review().hours() >= SOONEST) {
        if (expected == null) {
          expected = Expectation.of(facts);
        }
        words.explained(
            said, ExplanationFit.of(reviewed.buildUp(), expected, reviewed.heard()), reviewed);
      }
      sink.accept(JSON.writeValueAsBytes(said));
    } catch (JsonProcessingException | RuntimeException e) { // the next reading is tried again
      if (!thread.isShutdown()) { // whoever closes it closes what it writes to as well
        LOG.error("the build-up could not be reviewed: {}", e.toString());
      }
    }
  }

  @Override
  public void close() {
    thread.shutdownNow();
  }
}
