package stillwatch.ingest.spool;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.stream.Stream;
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
  private static final String SUFFIX = ".messages";
  private static final int BATCH = 2000;
  private static final long AGAIN_MS = 1000;
  private static final long COMPLAIN_AFTER_S = 10;
  private static final long LEAVE_WITHIN_MS = 1000;

  private final Path folder;
  private final String id;
  private final Bus bus;
  private final String topic;
  private final long renewBytes;
  private final Thread syncing;
  private final Thread sending;
  private List<CompletableFuture<Void>> unsynced = new ArrayList<>();
  private SpoolFile file;
  private Path path;
  private @Nullable Message newest;
  private long next;
  private long syncedEnd;
  private long sentEnd;
  private long sentNumber;
  private boolean writing;
  private boolean failing; // of the sending thread only
  private boolean closing;

  private Spool(Path folder, String id, Bus bus, String topic, long renewBytes, Path path)
      throws IOException {
    this.folder = folder;
    this.id = id;
    this.bus = bus;
    this.topic = topic;
    this.renewBytes = renewBytes;
    this.path = path;
    file = SpoolFile.open(path);
    syncedEnd = file.end();
    sentNumber = first(path);
    next = sentNumber + 1;
    for (SpoolFile.Kept k = file.read(0); k != null; k = file.read(k.end())) {
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
    Files.createDirectories(folder);
    Path id = folder.resolve("id");
    if (!Files.exists(id)) {
      Files.writeString(id, UUID.randomUUID().toString());
    }
    Spool spool =
        new Spool(folder, Files.readString(id).strip(), bus, topic, renewBytes, newestFile(folder));
    spool.syncing.start();
    spool.sending.start();
    return spool;
  }

  /** The number of the message before those that were appended to this file. */
  private static long first(Path file) {
    String name = String.valueOf(file.getFileName());
    return Long.parseLong(name.substring(0, name.length() - SUFFIX.length()));
  }

  private static Path named(Path folder, long first) {
    return folder.resolve("%019d%s".formatted(first, SUFFIX));
  }

  /** The newest file that holds something; those before it were sent. */
  private static Path newestFile(Path folder) throws IOException {
    List<Path> files;
    try (Stream<Path> all = Files.list(folder)) {
      files = all.filter(f -> f.toString().endsWith(SUFFIX)).sorted().toList();
    }
    Path found = files.isEmpty() ? named(folder, 0) : files.get(0);
    for (Path f : files) {
      found = Files.size(f) > 0 ? f : found;
    }
    for (Path f : files) {
      if (!f.equals(found)) {
        Files.delete(f);
      }
    }
    return found;
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
        while (true) {
          send(batch(), has, to);
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
   * Returns when the topic has them all. After one that failed none is sent: they stay in order.
   */
  private void send(List<SpoolFile.Kept> batch, Map<String, Long> has, TopicWriter to)
      throws InterruptedException, ExecutionException, IOException {
    List<CompletableFuture<Void>> taken = new ArrayList<>();
    for (SpoolFile.Kept k : batch) {
      if (k.number() > has.computeIfAbsent(k.message().key(), this::numberInTopic)) {
        CompletableFuture<Void> one = to.append(marked(k));
        taken.add(one);
        if (one.isCompletedExceptionally()) {
          break;
        }
      }
    }
    CompletableFuture<Void> all = CompletableFuture.allOf(taken.toArray(CompletableFuture[]::new));
    while (!all.isDone()) {
      try {
        all.get(COMPLAIN_AFTER_S, TimeUnit.SECONDS);
      } catch (TimeoutException e) {
        complain("it has not acknowledged for " + COMPLAIN_AFTER_S + " s");
      }
    }
    all.get();
    sent(batch.get(batch.size() - 1));
    if (failing) {
      LOG.info("the broker takes {} again; {} wait", topic, waiting());
      failing = false;
    }
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
        ? bus.last(topic, m -> m.key().equals(well) && id.equals(m.headers().get(ID)))
            .map(m -> Long.parseLong(m.headers().getOrDefault(NUMBER, "-1")))
            .orElse(-1L)
        : -1L; // a refusal told twice does no harm, and is not worth looking for
  }

  private Message marked(SpoolFile.Kept kept) {
    Map<String, String> headers = new HashMap<>(kept.message().headers());
    headers.put(ID, id);
    headers.put(NUMBER, Long.toString(kept.number()));
    return Message.of(kept.message().key(), kept.message().value(), headers);
  }

  /** The next messages that the disk has and the broker has not; waits for at least one. */
  private synchronized List<SpoolFile.Kept> batch() throws InterruptedException, IOException {
    while (sentEnd >= syncedEnd) {
      wait();
    }
    List<SpoolFile.Kept> batch = new ArrayList<>();
    long at = sentEnd;
    while (at < syncedEnd && batch.size() < BATCH) {
      SpoolFile.Kept k = file.read(at);
      if (k == null) {
        throw new IOException("the spool file " + path + " cannot be read at byte " + at);
      }
      batch.add(k);
      at = k.end();
    }
    return batch;
  }

  /** Notes what the broker has; when that is all of a long file, begins a new one. */
  private synchronized void sent(SpoolFile.Kept last) throws IOException {
    sentEnd = last.end();
    sentNumber = last.number();
    notifyAll();
    if (sentEnd < renewBytes || sentEnd < file.end() || sentNumber == first(path)) {
      return;
    }
    Path fresh = named(folder, last.number());
    SpoolFile begun = SpoolFile.open(fresh);
    begun.append(last.number(), last.message()); // so that the number and the time go on
    begun.force();
    file.close();
    Files.delete(path);
    file = begun;
    path = fresh;
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
