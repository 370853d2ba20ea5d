package stillwatch.rules.watch;

import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.WellIndicator;

/**
 * Every indicator of one run, kept, so that a rule can be tried on them again and again without
 * reading or tracking anything twice. About half a kilobyte a gauge for ten seconds. Filled by one
 * thread, then read by any.
 */
public final class CapturedRun implements WellWatch.Tap {
  private final List<GaugesIndicator> gauges = new ArrayList<>();
  private final List<WellIndicator> wells = new ArrayList<>();

  @Override
  public void said(GaugesIndicator indicator) {
    gauges.add(indicator);
  }

  @Override
  public void said(WellIndicator indicator) {
    wells.add(indicator);
  }

  /** What the gauges said, in order. */
  public List<GaugesIndicator> gauges() {
    return gauges;
  }

  /** What the well said, in order. */
  public List<WellIndicator> wells() {
    return wells;
  }
}
