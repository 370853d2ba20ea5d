package stillwatch.alerts.room;

import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import stillwatch.alerts.desk.DeskAlarm;
import stillwatch.alerts.route.ShortCaution;
import stillwatch.alerts.series.Columns;
import stillwatch.alerts.series.LastWord;
import stillwatch.alerts.watchdog.Watchdog;
import stillwatch.ingest.unit.Kind;
import stillwatch.rules.book.Priority;
import stillwatch.rules.finding.Finding;
import stillwatch.rules.finding.OpenChange;
import stillwatch.rules.leaving.LeavingWords;
import stillwatch.rules.plan.GaugePlan;
import stillwatch.rules.plan.Pressures;

/** The state of the watch in less than 1 kB, for a thin link. Safe from any thread. */
public final class Digest {
  /** No digest is longer, bytes. */
  public static final int MOST = 1000;

  private static final int NEWEST = 4;
  private static final int LOOKED_AT = 400;
  private static final int OPEN_SHOWN = 2;
  private static final long HOUR_MS = 3_600_000;

  private final RoomParts parts;
  private final Clock clock;

  /**
   * Digests of this room.
   *
   * @param clock this machine's, by which the next one is due
   */
  public Digest(RoomParts parts, Clock clock) {
    this.parts = parts;
    this.clock = clock;
  }

  /**
   * The digest as of now.
   *
   * @param every when the next one is due
   */
  public String text(Duration every) {
    StringBuilder t = new StringBuilder();
    List<String> blind = parts.watchdog().blind();
    long logMs = parts.picture().logMs();
    t.append(parts.exercise() ? "EXERCISE, from a recording. " : "");
    t.append(parts.plan().name()).append(' ').append(time(logMs)).append(" UTC: ");
    t.append(blind.isEmpty() ? "the watch sees" : "THE WATCH IS BLIND: " + blind.get(0))
        .append('\n');
    ashore(t);
    t.append("Phase ").append(parts.picture().phase());
    parts
        .picture()
        .shutInMs()
        .ifPresent(ms -> t.append(", shut in for ").append(Watchdog.span(logMs - ms)));
    parts
        .picture()
        .holdPointMs()
        .ifPresent(
            ms ->
                t.append(ms < logMs ? ", hold point OVERDUE by " : ", hold point in ")
                    .append(Watchdog.span(Math.abs(ms - logMs))));
    t.append('\n');
    pressure(t);
    parts
        .picture()
        .frameAgeMs()
        .ifPresent(age -> t.append("Readings ").append(Watchdog.span(age)).append(" old\n"));
    changes(t);
    alarms(t);
    String end =
        "Record "
            + parts.journal().head().hash().substring(0, 16)
            + "\n"
            + next(every)
            + ShortCaution.TEXT
            + "\n";
    return cut(t.toString(), MOST - end.length()) + end; // whatever is cut, not the caution
  }

  /** Who watches from shore; nothing while people are with the watch. */
  private void ashore(StringBuilder t) {
    parts
        .picture()
        .absence()
        .ifPresent(
            a ->
                t.append("WATCHED FROM SHORE: ")
                    .append(LeavingWords.of(a.newest()))
                    .append(" since ")
                    .append(LeavingWords.minute(a.fromMs()))
                    .append(", confirmed ")
                    .append(LeavingWords.minute(a.confirmedMs()))
                    .append('\n'));
  }

  private String next(Duration every) {
    String due = "Next one due by " + time(clock.millis() + every.toMillis()) + " UTC. ";
    return due
        + (parts.picture().absence().isEmpty()
            ? "If the next one does not come, call the room.\n"
            : "Its absence is an ALARM: the well is unwatched. Confirm this one by any link.\n");
  }

  private static String time(long ms) {
    return Instant.ofEpochMilli(ms).toString().substring(0, 16).replace('T', ' ');
  }

  /** The live pressure; then each shut-in gauge, and how it went over the last hour. */
  private void pressure(StringBuilder t) {
    Pressures unit = Pressures.of(parts.plan());
    List<DeskAlarm> all = new ArrayList<>(parts.board().open(LOOKED_AT));
    all.addAll(parts.board().heldOrAgainstGauges(LOOKED_AT));
    t.append("Pressure ")
        .append(
            LivePressure.of(parts, all)
                .map(LivePressure::text)
                .orElse("no information: no shut-in gauge can be trusted"))
        .append('\n');
    for (GaugePlan g : parts.plan().gauges()) {
      if (g.role() != GaugePlan.Role.SHUT_IN || g.kind() != Kind.PRESSURE) {
        continue;
      }
      LastWord word = parts.picture().lastWord(g.id()).orElse(null);
      if (word == null || !Double.isFinite(word.value())) {
        t.append(g.id()).append(" no value\n");
        continue;
      }
      t.append(g.id()).append(' ').append(unit.fine(word.value())).append(' ').append(unit.sign());
      t.append(sinceAnHour(g, word, unit)).append('\n');
    }
  }

  private String sinceAnHour(GaugePlan g, LastWord word, Pressures unit) {
    Columns hour = parts.picture().columns(List.of(g.id()), HOUR_MS, 60);
    double[] low = hour.lows().getOrDefault(g.id(), new double[0]);
    if (low.length <= 1 || !Double.isFinite(low[0])) {
      return "";
    }
    double change = word.value() - low[0];
    return (change < 0 ? ", down " : ", up ")
        + unit.difference(Math.abs(change))
        + " in "
        + Watchdog.span(word.atMs() - hour.fromMs());
  }

  /** The changes that nobody has explained, the oldest first. */
  private void changes(StringBuilder t) {
    List<OpenChange> open = DeskAlarm.openChanges(parts.board().open());
    if (open.isEmpty()) {
      return;
    }
    t.append("OPEN CHANGES: ").append(open.size()).append('\n');
    open.stream().limit(OPEN_SHOWN).forEach(c -> t.append(c.inShort()).append('\n'));
  }

  private void alarms(StringBuilder t) {
    List<DeskAlarm> asking =
        parts.board().open(1000).stream().filter(a -> a.state().asks()).toList();
    t.append(asking.size())
        .append(asking.size() == 1 ? " unacknowledged alarm" : " unacknowledged alarms");
    for (Priority p : List.of(Priority.HIGH, Priority.MEDIUM, Priority.LOW)) {
      long count = asking.stream().filter(a -> a.finding().priority() == p).count();
      t.append(count > 0 ? ", " + count + " " + p.wire() : "");
    }
    t.append('\n');
    parts.board().newest(NEWEST).forEach(a -> t.append(line(a.finding())));
  }

  private static String line(Finding f) {
    String priority = f.priority().wire().toUpperCase(Locale.ROOT);
    String raised = time(f.raisedMs()).substring(5);
    return priority + " " + raised + " " + f.title() + (f.returned() ? " (over)\n" : "\n");
  }

  /** The first lines of a text, as many whole ones as fit into this many bytes. */
  private static String cut(String text, int most) {
    String t = text;
    while (t.getBytes(StandardCharsets.UTF_8).length > most) {
      t = t.substring(0, t.lastIndexOf('\n', t.length() - 2) + 1);
    }
    return t;
  }
}
