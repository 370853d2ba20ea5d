package stillwatch.rules.engine;

import java.util.List;
import stillwatch.rules.book.CatalogueException;
import stillwatch.rules.indicator.BuildUpIndicator;
import stillwatch.rules.indicator.ChangeIndicator;
import stillwatch.rules.indicator.CollectedIndicator;
import stillwatch.rules.indicator.DepartureIndicator;
import stillwatch.rules.indicator.GaugeIndicator;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.LateIndicator;
import stillwatch.rules.indicator.PairIndicator;
import stillwatch.rules.indicator.PassIndicator;
import stillwatch.rules.indicator.PresenceIndicator;
import stillwatch.rules.indicator.SeabedIndicator;
import stillwatch.rules.indicator.SoloIndicator;
import stillwatch.rules.indicator.StepIndicator;
import stillwatch.rules.indicator.TwinsIndicator;
import stillwatch.rules.indicator.UnitIndicator;
import stillwatch.rules.indicator.WellIndicator;

/** The rules of one well at work, on log time. Not thread-safe: one thread owns it. */
public final class WellEngine implements AutoCloseable {
  private final List<DeployedRule> rules;
  private final RuleRuntime runtime;
  private final Runnable atClose;

  /**
   * An engine that nobody shares.
   *
   * @throws CatalogueException when a rule asks for a limit the catalogue does not name or lacks a
   *     column
   */
  public WellEngine(List<DeployedRule> rules) {
    this.rules = List.copyOf(rules);
    runtime = new RuleRuntime(this.rules);
    atClose = runtime::destroy;
  }

  WellEngine(List<DeployedRule> rules, RuleRuntime runtime, Runnable atClose) {
    this.rules = List.copyOf(rules);
    this.runtime = runtime;
    this.atClose = atClose;
  }

  /**
   * Moves log time to the indicator's, which never goes back, and lets rules about gauges see it:
   * each gauge, each pair, then the whole.
   */
  public void send(GaugesIndicator indicator) {
    runtime.turnOf(rules);
    runtime.advance(indicator.nowMs());
    runtime.send(GaugeIndicator.class, indicator.gauges());
    runtime.send(PairIndicator.class, indicator.pairs());
    runtime.send(GaugesIndicator.class, List.of(indicator));
    runtime.rethrow();
  }

  /**
   * Lets rules about the well see an indicator of the moment of the gauges' last reading: each
   * group of twins, each gauge beside the others, each change and whatever else it holds, then the
   * whole.
   */
  public void send(WellIndicator indicator) {
    runtime.turnOf(rules);
    runtime.send(TwinsIndicator.class, indicator.twins());
    runtime.send(SoloIndicator.class, indicator.solos());
    runtime.send(LateIndicator.class, indicator.seenLate());
    runtime.send(ChangeIndicator.class, indicator.changes());
    runtime.send(StepIndicator.class, indicator.steps());
    runtime.send(BuildUpIndicator.class, indicator.buildUps());
    runtime.send(PassIndicator.class, indicator.passes());
    runtime.send(DepartureIndicator.class, indicator.departures());
    runtime.send(SeabedIndicator.class, indicator.seabed());
    runtime.send(UnitIndicator.class, indicator.units());
    runtime.send(CollectedIndicator.class, indicator.collected());
    runtime.send(PresenceIndicator.class, indicator.test().near());
    runtime.send(WellIndicator.class, List.of(indicator));
    runtime.rethrow();
  }

  /** Lets rules about changes see them as they are now, at the same moment again. */
  public void send(List<ChangeIndicator> changes) {
    runtime.turnOf(rules);
    runtime.send(ChangeIndicator.class, changes);
    runtime.rethrow();
  }

  @Override
  public void close() {
    runtime.turnOf(List.of());
    atClose.run();
  }
}
