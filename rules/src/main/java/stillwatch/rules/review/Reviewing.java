package stillwatch.rules.review;

import stillwatch.rules.indicator.GaugesIndicator;
import stillwatch.rules.indicator.WellIndicator;
import stillwatch.rules.watch.Reviewed;
import stillwatch.rules.watch.WellWatch;

/** Hands what a watch reads of the build-up to a reviewer; the first group of gauges speaks. */
public final class Reviewing implements WellWatch.Tap {
  private final Reviewer reviewer;
  private String twin = "";

  /** For this reviewer. */
  public Reviewing(Reviewer reviewer) {
    this.reviewer = reviewer;
  }

  @Override
  public void said(GaugesIndicator indicator) {
    // the rules hear it
  }

  @Override
  public void said(WellIndicator indicator) {
    // the rules hear it
  }

  @Override
  public void reviewed(Reviewed reviewed) {
    twin = twin.isEmpty() ? reviewed.twin() : twin;
    if (twin.equals(reviewed.twin())) {
      reviewer.take(reviewed);
    }
  }
}
