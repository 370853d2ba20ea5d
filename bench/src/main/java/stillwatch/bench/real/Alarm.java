package stillwatch.bench.real;

import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Finding;

/**
 * A finding as it was raised.
 *
 * @param stands whether it stands at the end
 */
record Alarm(Finding finding, boolean stands) {
  /** An alarm about the well, of whatever priority. */
  boolean ofWell() {
    return finding.about() == RuleEntry.About.WELL && finding.priority() != Priority.INFORMATION;
  }

  /** An alarm about the well above LOW. */
  boolean ofWellAboveLow() {
    return ofWell() && finding.priority() != Priority.LOW;
  }

  String named() {
    return finding.rule() + " " + finding.priority().name().charAt(0);
  }
}
