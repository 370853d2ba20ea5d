package stillwatch.ingest.spool;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.bus.Bus;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicWriter;
import stillwatch.ingest.bus.Topics;

/**
 * Keeps messages of a topic on disk until the broker has them, and sends them in the order in which
 * they came. What is appended counts as acknowledged when the disk has it. Each message carries its
 * number, so that after a crash, or when the broker was lost in the middle, none is sent that the
 * topic already has. Safe from any thread.
 */
public final class Spool implements TopicWriter {
  private static final Logger LOG = LoggerFactory.getLogger(Spool.class);
  private static final String ID = "spool";
  private static final String NUMBER = "spool-entry";
  private static final int BATCH = 2000;
  private static final long AGAIN_MS = 1000;
  private static final long COMPLAIN_AFTER_S = 10;
  private static final long LEAVE_WITHIN_MS = 1000;

  private final SpoolFolder folder;
  private final Bus bus;
  private final String topic;
  private final long renewBytes;
  private final Thread syncing;
  private final Thread sending;
  private List<CompletableFuture<Void>> unsynced = new ArrayList<>();
  private SpoolFile file;
  private @Nullable Message newest;
  private long next;
  private long syncedEnd;
  private long sentEnd;
  private long sentNumber;
  private boolean writing;
  private boolean failing; // of the sending thread only
  private boolean closing;

  private Spool(SpoolFolder folder, Bus bus, String topic, long renewBytes) throws IOException {
    this.folder = folder;
    this.bus = bus;
    this.topic = topic;
    this.renewBytes = renewBytes;
    file = SpoolFile.open(folder.current());
    syncedEnd = file.end();
    sentNumber = folder.first();
    next = sentNumber + 1;
    for (SpoolFile.Entry k = file.read(0); k != null; k = file.read(k.end())) {
      newest = k.message();
      next = k.number() + 1;
    }
    syncing = new Thread(this::sync, "spool-disk " + topic);
    sending = new Thread(this::send, "spool-broker " + topic);
    syncing.setDaemon(true);
    sending.setDaemon(true);
  }

  /**
   * Opens a spool and begins to send what it holds.
   *
   * @param folder its own; made where there is none
   * @param renewBytes a file of this size is left for a new one when all of it is sent
   * @throws IOException when the folder cannot be used
   */
  public static Spool open(Path folder, Bus bus, String topic, long renewBytes) throws IOException {
    Spool spool = new Spool(SpoolFolder.open(folder), bus, topic, renewBytes);
    spool.syncing.start();
    spool.sending.start();
    return spool;
  }

  /** The newest message kept here; empty when there was never any. */
  public synchronized Optional<Message> newest() {
    return Optional.ofNullable(newest);
  }

  /** How many messages the broker does not have yet. */
  public synchronized long waiting() {
    return next - 1 - sentNumber;
  }

  /** Appends one message; completes when the disk has it, exceptionally when it cannot be kept. */
  @Override
  public synchronized CompletableFuture<Void> append(Message message) {
    CompletableFuture<Void> kept = new CompletableFuture<>();
    if (closing) {
      kept.completeExceptionally(new IOException("the spool in " + folder + " is closed"));
      return kept;
    }
    try {
      file.append(next, message);
      next++;
      newest = message;
      unsynced.add(kept);
      notifyAll();
    } catch (IOException e) {
      kept.completeExceptionally(unusable(e));
    }
    return kept;
  }

  private IOException unusable(IOException e) {
    return new IOException("the spool in " + folder + " cannot be written: " + e.getMessage(), e);
  }

  private void sync() {
    try {
      while (true) {
        List<CompletableFuture<Void>> asked;
        SpoolFile current;
        long end;
        synchronized (this) {
          while (unsynced.isEmpty()) {
            if (closing) {
              return;
            }
            wait();
          }
          asked = unsynced;
          unsynced = new ArrayList<>();
          writing = true;
          current = file;
          end = file.end();
        }
        try {
          current.force();
          synchronized (this) {
            syncedEnd = end;
            notifyAll();
          }
          asked.forEach(k -> k.complete(null));
        } catch (IOException e) {
          asked.forEach(k -> k.completeExceptionally(unusable(e)));
        }
        synchronized (this) {
          writing = false;
          notifyAll();
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void send() {
    while (!Thread.currentThread().isInterrupted()) {
      try (TopicWriter to = bus.patientWriter(topic)) {
        Map<String, Long> has = new HashMap<>();
        sendAgain(has, to);
        while (true) {
          List<SpoolFile.Entry> batch = batch();
          transmit(batch, has, to);
          sent(batch.get(batch.size() - 1));
        }
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      } catch (ExecutionException | IOException | RuntimeException e) {
        complain(String.valueOf(e.getMessage()));
        pause();
      }
    }
  }

  /**
   * Sends what the topic has lost of the file before: a broker may acknowledge what a power cut
   * then takes from it. That file is kept for this, until there is one more after it.
   */
  private void sendAgain(Map<String, Long> has, TopicWriter to)
      throws InterruptedException, ExecutionException, IOException {
    Optional<Path> old;
    synchronized (this) {
      old = folder.before();
    }
    if (old.isEmpty() || !topic.equals(Topics.TELEMETRY)) {
      return;
    }
    try (SpoolFile sent = SpoolFile.open(old.get())) {
      List<SpoolFile.Entry> batch = new ArrayList<>();
      for (SpoolFile.Entry k = sent.read(0); k != null; k = sent.read(k.end())) {
        batch.add(k);
        if (batch.size() == BATCH) {
          transmit(batch, has, to);
          batch.clear();
        }
      }
      transmit(batch, has, to);
    }
  }

  /**
   * Returns when the topic has them all. After one that failed none is sent: they stay in order.
   */
  private void transmit(List<SpoolFile.Entry> batch, Map<String, Long> has, TopicWriter to)
      throws InterruptedException, ExecutionException {
    CompletableFuture<Void> all = appended(batch, has, to);
    while (!all.isDone()) {
      try {
        all.get(COMPLAIN_AFTER_S, TimeUnit.SECONDS);
      } catch (TimeoutException e) {
        complain("it has not acknowledged for " + COMPLAIN_AFTER_S + " s");
      }
    }
    all.get();
    if (failing) {
      LOG.info("the broker takes {} again; {} wait", topic, waiting());
      failing = false;
    }
  }

  /** Gives the topic those of the batch that it lacks; done when it has taken them all. */
  private CompletableFuture<Void> appended(
      List<SpoolFile.Entry> batch, Map<String, Long> has, TopicWriter to) {
    List<CompletableFuture<Void>> taken = new ArrayList<>();
    for (SpoolFile.Entry k : batch) {
      if (k.number() > has.computeIfAbsent(k.message().key(), this::numberInTopic)) {
        CompletableFuture<Void> one = to.append(marked(k));
        taken.add(one);
        if (one.isCompletedExceptionally()) {
          break;
        }
      }
    }
    return CompletableFuture.allOf(taken.toArray(CompletableFuture[]::new));
  }

  private void complain(String why) {
    if (!failing) {
      LOG.warn("{} is kept in {} until the broker takes it: {}", topic, folder, why);
      failing = true;
    }
  }

  private static void pause() {
    try {
      Thread.sleep(AGAIN_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** The number of the newest message of this spool that the topic has of a well; -1 for none. */
  private long numberInTopic(String well) {
    return topic.equals(Topics.TELEMETRY)
        ? bus.last(topic, m -> m.key().equals(well) && folder.id().equals(m.headers().get(ID)))
            .map(m -> Long.parseLong(m.headers().getOrDefault(NUMBER, "-1")))
            .orElse(-1L)
        : -1L; // a refusal told twice does no harm, and is not worth looking for
  }

  private Message marked(SpoolFile.Entry kept) {
    Map<String, String> headers = new HashMap<>(kept.message().headers());
    headers.put(ID, folder.id());
    headers.put(NUMBER, Long.toString(kept.number()));
    return Message.of(kept.message().key(), kept.message().value(), headers);
  }

  /** The next messages that the disk has and the broker has not; waits for at least one. */
  private synchronized List<SpoolFile.Entry> batch() throws InterruptedException, IOException {
    while (sentEnd >= syncedEnd) {
      wait();
    }
    List<SpoolFile.Entry> batch = new ArrayList<>();
    long at = sentEnd;
    while (at < syncedEnd && batch.size() < BATCH) {
      SpoolFile.Entry k = file.read(at);
      if (k == null) {
        throw new IOException(
            "the spool file " + folder.current() + " cannot be read at byte " + at);
      }
      batch.add(k);
      at = k.end();
    }
    return batch;
  }

  /** Notes what the broker has; when that is all of a long file, begins a new one. */
  private synchronized void sent(SpoolFile.Entry last) throws IOException {
    sentEnd = last.end();
    sentNumber = last.number();
    notifyAll();
    if (sentEnd < renewBytes || sentEnd < file.end() || sentNumber == folder.first()) {
      return;
    }
    SpoolFile begun = folder.begin(last);
    file.close();
    file = begun;
    syncedEnd = file.end();
    sentEnd = file.end();
  }

  @Override
  public synchronized void flush() {
    try {
      while (writing || !unsynced.isEmpty()) {
        wait();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Gives the broker a second to take what waits; the rest is sent when it is opened again. */
  @Override
  public void close() {
    try {
      synchronized (this) {
        if (closing) {
          return;
        }
        closing = true;
        notifyAll();
      }
      syncing.join(LEAVE_WITHIN_MS);
      long untilNs = System.nanoTime() + LEAVE_WITHIN_MS * 1_000_000;
      while (waiting() > 0 && System.nanoTime() < untilNs) {
        Thread.sleep(20);
      }
      sending.interrupt();
      sending.join(LEAVE_WITHIN_MS);
      file.close();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } catch (IOException e) {
      throw new UncheckedIOException("the spool in " + folder + " did not close", e);
    }
  }
}
