package stillwatch.station.run;

import java.util.Map;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * One thread of the watch. When its work stops without having been asked to, that is told, and it
 * is started again after a moment: everything a stage does may be done again.
 *
 * @param <S> the work
 */
public final class Stage<S extends Runnable & AutoCloseable> implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Stage.class);
  private static final long AGAIN_MS = 2000;
  private static final long PATIENCE_MS = 1200;

  private final String name;
  private final Supplier<S> make;
  private final Listener listener;
  private final Thread thread;
  private volatile boolean closing;
  private volatile @Nullable S work;

  /** Told when a stage stops and when it runs. */
  public interface Listener {
    /** It stopped. */
    void stopped(String stage, String why);

    /** It runs again. */
    void running(String stage);

    /** Keeps which stages stopped, and why, in this map. */
    static Listener into(Map<String, String> broken) {
      return new Listener() {
        @Override
        public void stopped(String stage, String why) {
          broken.put(stage, why);
        }

        @Override
        public void running(String stage) {
          broken.remove(stage);
        }
      };
    }
  }

  private Stage(String name, Supplier<S> make, Listener listener) {
    this.name = name;
    this.make = make;
    this.listener = listener;
    thread = new Thread(this::run, name);
  }

  /**
   * Starts a stage.
   *
   * @param make makes the work, again each time that it starts
   */
  public static <S extends Runnable & AutoCloseable> Stage<S> start(
      String name, Supplier<S> make, Listener listener) {
    Stage<S> stage = new Stage<>(name, make, listener);
    stage.thread.start();
    return stage;
  }

  private void run() {
    while (!closing) {
      String why = "it ended by itself";
      try {
        S now = make.get();
        work = now;
        if (closing) {
          return;
        }
        now.run();
      } catch (RuntimeException | Error e) {
        why = e.getMessage() == null ? e.toString() : e.getMessage();
        LOG.debug("stage {} failed", name, e);
      }
      if (!closing) {
        LOG.error("the {} stopped: {}; it starts again", name, why);
        listener.stopped(name, why);
        pause();
        listener.running(name);
      }
    }
  }

  private void pause() {
    try {
      Thread.sleep(AGAIN_MS);
    } catch (InterruptedException e) {
      closing = true;
    }
  }

  /** Asks it to end. */
  void end() {
    closing = true;
    S now = work;
    if (now != null) {
      try {
        now.close();
      } catch (Exception e) {
        LOG.warn("the {} did not end cleanly: {}", name, e.toString());
      }
    }
  }

  @Override
  public void close() {
    end();
    try {
      thread.join(PATIENCE_MS);
      thread.interrupt();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
