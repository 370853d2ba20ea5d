package stillwatch.alerts.desk;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.bus.Message;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Priority;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.book.RuleMeaning;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.FindingCodec;

/** Invented findings for tests. */
public final class Findings {
  private static final Catalogue CATALOGUE = Catalogue.shipped();

  private Findings() {}

  /** A finding that lasts. */
  public static Finding raised(String id, Priority priority) {
    return finding(id, priority, null);
  }

  /** The same, over. */
  public static Finding returned(String id, Priority priority) {
    return finding(id, priority, 1_772_970_000_000L);
  }

  private static Finding finding(String id, Priority priority, @Nullable Long returnedMs) {
    return new Finding(
        id,
        "sudden-drop",
        meaning("sudden-drop"),
        "PT",
        null,
        "0a1b2c3d",
        "Pressure falls suddenly",
        priority,
        "larkspur-2",
        List.of("PT-1", "PT-2"),
        1_772_967_902_000L,
        1_772_967_905_000L,
        returnedMs,
        returnedMs == null ? "It fell." : "It is steady.",
        Map.of("fall", "0.03 MPa"),
        new Evidence(Map.of("fall", 31.5), List.of()),
        "watching",
        "Call.",
        "A3 0",
        "0");
  }

  private static RuleMeaning meaning(String rule) {
    return CATALOGUE
        .rule(rule)
        .map(RuleEntry::meaning)
        .orElseGet(() -> RuleMeaning.on(RuleEntry.About.WELL));
  }

  /** One that lasts, with the course of its gauge. */
  public static Finding withTrail(String id, Priority priority) {
    Finding f = finding(id, priority, null);
    long from = f.onsetMs() - 60_000;
    Evidence evidence =
        new Evidence(
            Map.of("fall", 31.5),
            List.of(
                new Evidence.Trail(
                    "PT-1",
                    "kPa",
                    List.of(from, from + 60_000, from + 120_000),
                    List.of(46_900.0, 46_900.5, 46_860.0))));
    return with(f, f.well(), evidence);
  }

  /** A finding of a rule about a gauge, or about none where that is empty. */
  public static Finding at(String rule, String gauge, Priority priority, long ms) {
    return new Finding(
        rule + gauge + ms,
        rule,
        meaning(rule),
        gauge.isEmpty() ? "larkspur-2" : gauge,
        null,
        "0a1b2c3d",
        rule,
        priority,
        "larkspur-2",
        gauge.isEmpty() ? List.of() : List.of(gauge),
        ms,
        ms,
        null,
        "It is so.",
        Map.of(),
        new Evidence(Map.of(), List.of()),
        "watching",
        "Call.",
        "A3 0",
        "0");
  }

  /** The same of another well. */
  public static Finding of(String well, Finding f) {
    return with(f, well, f.evidence());
  }

  private static Finding with(Finding f, String well, Evidence evidence) {
    return new Finding(
        f.id(),
        f.rule(),
        f.meaning(),
        f.subject(),
        f.change(),
        f.ruleRevision(),
        f.title(),
        f.priority(),
        well,
        f.gauges(),
        f.onsetMs(),
        f.raisedMs(),
        f.returnedMs(),
        f.summary(),
        f.limits(),
        evidence,
        f.phase(),
        f.advice(),
        f.planRevision(),
        f.bookRevision());
  }

  /** A message of the alerts topic. */
  public static Message message(long offset, Finding finding) {
    return new Message(0, offset, finding.well(), FindingCodec.encode(finding), Map.of());
  }
}
