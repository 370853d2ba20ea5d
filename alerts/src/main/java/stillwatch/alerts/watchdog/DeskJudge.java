package stillwatch.alerts.watchdog;

import java.time.Clock;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.journal.JournalException;
import stillwatch.ingest.unit.Dimension;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.Parameter;
import stillwatch.rules.book.RuleEntry;
import stillwatch.rules.finding.Evidence;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.Hashes;
import stillwatch.rules.plan.Plan;
import stillwatch.rules.plan.RuleSetting;

/**
 * Raises an alarm at the desk by the desk's own clock while something is wrong with the watch
 * itself, and returns it when it is well again. It asks neither the broker nor the rules for
 * anything: they may be what is lost. One thread runs it.
 */
public final class DeskJudge implements Runnable, AutoCloseable {
  /** The watch is blind. */
  public static final String WATCH_LOST = "watch-lost";

  /** Alerts do not get out. */
  public static final String ROUTE_FAILING = "route-failing";

  /** The well is watched from shore, and no digest gets there. */
  public static final String SHORE_UNREACHED = "shore-unreached";

  /** The disk runs full. */
  public static final String DISK_LOW = "disk-low";

  private static final Logger LOG = LoggerFactory.getLogger(DeskJudge.class);
  private static final long EVERY_MS = 500;

  private final String rule;
  private final Desk desk;
  private final Plan plan;
  private final RuleEntry entry;
  private final RuleSetting setting;
  private final Map<String, Double> limits;
  private final Supplier<List<String>> blind;
  private final BooleanSupplier wanted;
  private final LongSupplier logMs;
  private final Clock clock;
  private final CountDownLatch closing = new CountDownLatch(1);
  private @Nullable Finding standing;
  private @Nullable Long otherSinceMs;
  private final Deque<Finding> unsaid = new ArrayDeque<>();

  /**
   * A judge of one well's watch.
   *
   * @param rule which of the catalogue's rules about the desk
   * @param blind what is wrong now, one sentence each; empty when nothing is
   * @param wanted whether it is meant to be well: not after a drill's end
   * @param logMs the time to put on findings, ms since 1970 UTC: the log's in a drill
   * @param clock this machine's, for the delays
   */
  public DeskJudge(
      String rule,
      Desk desk,
      Plan plan,
      Supplier<List<String>> blind,
      BooleanSupplier wanted,
      LongSupplier logMs,
      Clock clock) {
    this.rule = rule;
    this.desk = desk;
    this.plan = plan;
    this.blind = blind;
    this.wanted = wanted;
    this.logMs = logMs;
    this.clock = clock;
    entry = Catalogue.shipped().rule(rule).orElseThrow();
    setting = plan.setting(rule);
    limits = setting.limits(entry);
  }

  @Override
  public void run() {
    standing = lastSaid();
    try {
      while (!closing.await(EVERY_MS, TimeUnit.MILLISECONDS)) {
        judge();
        say();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** What an earlier run of this program raised and did not see returned. */
  private @Nullable Finding lastSaid() {
    Optional<Finding> left =
        desk.open().stream()
            .map(DeskAlarm::finding)
            .filter(f -> f.rule().equals(rule) && !f.returned())
            .findFirst();
    return left.orElse(null);
  }

  /** Looks once. */
  void judge() {
    List<String> why = wanted.getAsBoolean() && setting.off() == null ? blind.get() : List.of();
    boolean lost = !why.isEmpty();
    if (lost == (standing != null)) {
      otherSinceMs = null;
      return;
    }
    long nowMs = clock.millis();
    if (otherSinceMs == null) {
      otherSinceMs = nowMs;
    }
    double limit = limits.getOrDefault(lost ? "hold" : "release", 0.0);
    if (nowMs - otherSinceMs >= limit * 1000) {
      turn(why);
      otherSinceMs = null;
    }
  }

  private void turn(List<String> why) {
    Finding before = standing;
    Finding said = before == null ? raised(String.join(" ", why)) : over(before);
    unsaid.add(said);
    standing = before == null ? said : null;
  }

  /** Tells the desk; while the journal is what is lost, later. */
  void say() {
    try {
      for (Finding f = unsaid.peek(); f != null; f = unsaid.peek()) {
        desk.say(f);
        unsaid.remove();
      }
    } catch (JournalException e) {
      LOG.error("the desk cannot be told of {}: {}", rule, e.getMessage());
    }
  }

  private Finding raised(String why) {
    long atMs = logMs.getAsLong();
    Map<String, String> shown = new LinkedHashMap<>();
    for (Parameter p : entry.parameters()) {
      double limit = limits.getOrDefault(p.name(), p.standard());
      shown.put(
          p.name(),
          p.dimension() == Dimension.DURATION ? Math.round(limit) + " s" : Double.toString(limit));
    }
    return new Finding(
        Hashes.hex(24, plan.well(), rule, Long.toString(clock.millis())),
        rule,
        entry.meaning(),
        plan.well(),
        null,
        Hashes.hex(8, entry.toString(), limits.toString()),
        entry.title(),
        entry.priority(),
        plan.well(),
        List.of(),
        atMs,
        atMs,
        null,
        entry.sentence().replace("{why}", why),
        shown,
        new Evidence(Map.of(), List.of()),
        "",
        setting.advice() == null ? entry.response() : setting.advice(),
        plan.revision() + " " + plan.fingerprint(),
        "desk");
  }

  private Finding over(Finding f) {
    return f.over(Math.max(f.raisedMs(), logMs.getAsLong()), entry.returned(), f.phase());
  }

  @Override
  public void close() {
    closing.countDown();
  }
}
