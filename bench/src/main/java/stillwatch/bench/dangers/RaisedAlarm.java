package stillwatch.bench.dangers;

import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Finding;

/**
 * Something a rule said.
 *
 * @param finding as it was raised
 * @param about what the rule is about
 * @param raisedS when, seconds since the log's start
 * @param returnedS when it was over; infinite where it stands to the end
 */
record RaisedAlarm(Finding finding, RuleEntry.About about, double raisedS, double returnedS) {
  boolean aboutWell() {
    return about == RuleEntry.About.WELL;
  }

  boolean high() {
    return finding.priority() == Priority.HIGH;
  }

  boolean aboveLow() {
    return finding.priority().compareTo(Priority.LOW) > 0;
  }

  boolean alarm() {
    return finding.priority() != Priority.INFORMATION;
  }

  boolean stands() {
    return Double.isInfinite(returnedS);
  }

  boolean names(String gauge) {
    return finding.gauges().contains(gauge);
  }

  boolean between(double fromS, double toS) {
    return raisedS >= fromS && raisedS <= toS;
  }
}
