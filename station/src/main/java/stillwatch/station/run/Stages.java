package stillwatch.station.run;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.Supplier;
import stillwatch.alerts.watchdog.Watchdog;

/** The stages of a watch; the watchdog hears of each that stops. */
final class Stages implements AutoCloseable, Stage.Listener {
  private final Watchdog watchdog;
  private final List<Stage<?>> stages = new ArrayList<>();

  Stages(Watchdog watchdog) {
    this.watchdog = watchdog;
  }

  /** Starts a stage. */
  <S extends Runnable & AutoCloseable> void start(String name, Supplier<S> make) {
    stages.add(Stage.start(name, make, this));
  }

  /** Starts a stage that gives signs of life. */
  <S extends Runnable & AutoCloseable> void startAlive(String name, Function<Runnable, S> make) {
    Runnable alive = watchdog.expects(name);
    start(name, () -> make.apply(alive));
  }

  @Override
  public void stopped(String stage, String why) {
    watchdog.stopped(stage, why);
  }

  @Override
  public void running(String stage) {
    watchdog.running(stage);
  }

  /** Asks all of them to end. */
  void end() {
    stages.forEach(Stage::end);
  }

  @Override
  public void close() {
    stages.forEach(Stage::close);
  }
}
