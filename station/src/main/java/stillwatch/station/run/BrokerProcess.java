package stillwatch.station.run;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.station.broker.EmbeddedBroker.Ports;

/**
 * The watch's own broker in a process beside it, which is started again whenever it ends: on a full
 * disk a broker halts its whole process, and the desk, the page and the routes must outlive that.
 * It keeps its address for as long as this lives, and ends when the watch does, killed or not.
 */
public final class BrokerProcess implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(BrokerProcess.class);
  private static final long AGAIN_MS = 1000;
  private static final long PATIENCE_MS = 2000;

  private final Path folder;
  private final Ports ports;
  private final BooleanSupplier roomy;
  private final Thread keeper = new Thread(this::keep, "broker");
  private final CompletableFuture<String> first = new CompletableFuture<>();
  private final CountDownLatch closing = new CountDownLatch(1);
  private volatile Optional<String> fault = Optional.of("it has not started yet");
  private volatile @Nullable Process process;

  /** Started before anything was known of its folder; taken once. */
  private @Nullable Process ahead;

  /** A process that loads what a broker needs and waits for its folder; it ends with this one. */
  public record Ahead(Process process, Ports ports) implements AutoCloseable {
    @Override
    public void close() {
      process.destroy();
    }
  }

  private BrokerProcess(Path folder, BooleanSupplier roomy, Ahead ahead) {
    this.ahead = ahead.process();
    this.folder = folder;
    ports = ahead.ports();
    this.roomy = roomy;
  }

  /** Starts a process before anything is known of its folder. */
  public static Ahead ahead() throws IOException {
    Ports ports = Ports.free();
    return new Ahead(launched(ports), ports);
  }

  private static Process launched(Ports ports) throws IOException {
    return new ProcessBuilder(line(ports)).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  /**
   * Begins to start it; returns at once.
   *
   * @param folder the folder of its log
   * @param roomy whether there is room for it: one that ended is not started again before
   * @param ahead the process that {@link #ahead} has started
   */
  public static BrokerProcess start(Path folder, BooleanSupplier roomy, Ahead ahead) {
    BrokerProcess broker = new BrokerProcess(folder, roomy, ahead);
    broker.keeper.setDaemon(true);
    broker.keeper.start();
    return broker;
  }

  /**
   * Waits until it can be used for the first time, and gives its address.
   *
   * @throws IllegalStateException when it could not start
   */
  public String address() {
    try {
      return first.join();
    } catch (CompletionException e) {
      throw e.getCause() instanceof RuntimeException cause ? cause : e;
    }
  }

  /** Why it cannot be used now; empty while it can. */
  Optional<String> fault() {
    return fault.map(why -> "The broker does not work: " + why + ".");
  }

  private void keep() {
    try {
      do {
        try {
          run();
        } catch (IOException e) {
          ended(String.valueOf(e.getMessage()));
        }
      } while (!closing.await(AGAIN_MS, TimeUnit.MILLISECONDS) && waitForRoom());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Runs it to its end. */
  private void run() throws IOException, InterruptedException {
    Process now = ahead == null ? launched(ports) : ahead;
    ahead = null;
    process = now;
    say(now, folder + "\n");
    if (closing.getCount() == 0) {
      now.destroyForcibly();
    }
    try (BufferedReader out = now.inputReader()) {
      String address = out.readLine();
      if (address != null) {
        if (first.isDone()) {
          LOG.info("the broker works again");
        }
        fault = Optional.empty();
        first.complete(address);
      }
      ended("it ended by itself, exit " + now.waitFor() + ", and is started again");
    }
  }

  private void ended(String why) {
    if (closing.getCount() > 0) {
      fault = Optional.of(why);
      LOG.error("the broker in {} does not work: {}", folder, why);
      first.completeExceptionally(
          new IllegalStateException("the broker could not start in " + folder + ": " + why));
    }
  }

  /** False when it is closed meanwhile. */
  private boolean waitForRoom() throws InterruptedException {
    while (!roomy.getAsBoolean()) {
      fault = Optional.of("the disk is full; it is started again when there is room");
      if (closing.await(AGAIN_MS, TimeUnit.MILLISECONDS)) {
        return false;
      }
    }
    return true;
  }

  private static void say(Process to, String line) throws IOException {
    OutputStream in = to.getOutputStream();
    in.write(line.getBytes(StandardCharsets.UTF_8));
    in.flush();
  }

  private static List<String> line(Ports ports) {
    List<String> options = new ArrayList<>(ClassArchive.options());
    options.add("-Xmx256m");
    options.add("-Dstillwatch.log=" + System.getProperty("stillwatch.log", "INFO"));
    return OwnJava.line(
        options,
        BrokerMain.class.getName(),
        List.of(Integer.toString(ports.broker()), Integer.toString(ports.controller())));
  }

  @Override
  public void close() throws InterruptedException {
    closing.countDown();
    Process now = process;
    if (now == null) {
      return;
    }
    try {
      say(now, "end\n");
    } catch (IOException e) {
      LOG.debug("the broker has ended already", e);
    }
    if (!now.waitFor(PATIENCE_MS, TimeUnit.MILLISECONDS)) {
      now.destroyForcibly().waitFor(PATIENCE_MS, TimeUnit.MILLISECONDS); // its folder is free then
    }
  }
}
