package stillwatch.alerts.watchdog;

import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.alerts.series.WellPicture;
import stillwatch.ingest.bus.Message;
import stillwatch.rules.finding.FindingCodec;
import stillwatch.rules.finding.Progress;

/**
 * Judges whether the watch can see: readings come, the log moves, the rules keep up, every stage
 * runs and gives signs of life. Safe from any thread.
 */
public final class Watchdog {
  /** Readings older than this are not shown as if they were now. */
  public static final Duration STALE = Duration.ofSeconds(15);

  private static final Logger LOG = LoggerFactory.getLogger(Watchdog.class);
  private static final Duration QUIET = Duration.ofSeconds(15);
  private static final Duration RULES_BEHIND = Duration.ofSeconds(30);

  private final String well;
  private final WellPicture picture;
  private final Clock clock;
  private final double pace;
  private final long startedMs;
  private final Map<String, String> broken = new ConcurrentSkipListMap<>();
  private final Map<String, Long> signs = new ConcurrentSkipListMap<>();
  private final List<Supplier<Optional<String>>> others = new CopyOnWriteArrayList<>();
  private volatile @Nullable Progress progress;

  /**
   * A watchdog over one well's watch.
   *
   * @param pace seconds of log time per second of this machine's time: 1 when live
   */
  public Watchdog(String well, WellPicture picture, Clock clock, double pace) {
    this.well = well;
    this.picture = picture;
    this.clock = clock;
    this.pace = pace;
    startedMs = clock.millis();
  }

  /** Takes a message of the progress topic. */
  public void take(Message m) {
    if (m.key().equals(well)) {
      try {
        progress = FindingCodec.decodeProgress(m.value());
      } catch (IllegalArgumentException e) {
        LOG.warn("offset {} of the progress topic is not readable: {}", m.offset(), e.getMessage());
      }
    }
  }

  /** Notes that a stage of this process stopped, and why. */
  public void stopped(String stage, String why) {
    broken.put(stage, why);
  }

  /** Notes that it runs again. One that gives signs of life has to give one first. */
  public void running(String stage) {
    if (!signs.containsKey(stage)) {
      broken.remove(stage);
    }
  }

  /**
   * Expects signs of life of a stage of this process from now on.
   *
   * @return to be called several times a second while it works
   */
  public Runnable expects(String stage) {
    signs.putIfAbsent(stage, clock.millis());
    return () -> {
      signs.put(stage, clock.millis());
      broken.remove(stage);
    };
  }

  /**
   * Asks somebody else too.
   *
   * @param sentence why the watch cannot see, as far as that one knows; empty when it knows nothing
   */
  public void asks(Supplier<Optional<String>> sentence) {
    others.add(sentence);
  }

  /** Why the watch cannot see now, one sentence each; empty when it can. */
  public List<String> blind() {
    List<String> why = new ArrayList<>();
    others.forEach(other -> other.get().ifPresent(why::add));
    readings(why);
    rules(why);
    stages(why);
    return why;
  }

  private void readings(List<String> why) {
    Optional<Long> age = picture.frameAgeMs();
    if (age.isEmpty()) {
      why.add("No reading has come yet.");
    } else if (age.get() > STALE.toMillis()) {
      why.add("No reading has come for " + span(age.get()) + ".");
    }
    if (picture.entryAgeMs() > STALE.toMillis() && picture.logMs() > 0) {
      why.add(
          "The log has not moved for "
              + span(picture.entryAgeMs())
              + ": nothing feeds it, or the broker does not work.");
    }
  }

  private void rules(List<String> why) {
    Progress p = progress;
    long quietMs = clock.millis() - (p == null ? startedMs : Math.max(p.sentMs(), startedMs));
    if (quietMs > QUIET.toMillis()) {
      why.add(
          "The rules have given no sign of life for "
              + span(quietMs)
              + ": nobody judges the readings.");
    } else if (p != null) {
      long behindMs = (long) ((picture.logMs() - p.logMs()) / pace);
      if (behindMs > RULES_BEHIND.toMillis()) {
        why.add("The rules are " + span(behindMs) + " behind the log.");
      }
    }
  }

  private void stages(List<String> why) {
    signs.forEach(
        (stage, lastMs) -> {
          long silentMs = clock.millis() - lastMs;
          if (silentMs > QUIET.toMillis() && !broken.containsKey(stage)) {
            why.add("The " + stage + " has given no sign of life for " + span(silentMs) + ".");
          }
        });
    broken.forEach((stage, reason) -> why.add("The " + stage + " stopped: " + reason + "."));
  }

  /** A time in words: seconds, minutes, or hours and minutes. */
  public static String span(long ms) {
    long s = ms / 1000;
    return s < 120
        ? s + " s"
        : s < 7200 ? s / 60 + " min" : s / 3600 + " h " + s / 60 % 60 + " min";
  }
}
