package stillwatch.bench.faults;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.desk.Desk;
import stillwatch.alerts.desk.FromTheInbox;
import stillwatch.alerts.desk.JournalCheck;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.route.Outbox;
import stillwatch.ingest.bus.Assignment;
import stillwatch.ingest.bus.Message;
import stillwatch.ingest.bus.TopicReader;
import stillwatch.ingest.bus.Topics;
import stillwatch.rules.plan.DeskPlan;

/**
 * A desk that takes the alerts of a simulated broker into a real journal, killed and told again.
 */
final class SimulatedDesk {
  private static final String TOLD =
      "select what, subject from entry where what in ('raised', 'returned') and subject in"
          + " (select id from alarm where rule not in ('watch-lost', 'route-failing', 'disk-low')) order by seq";

  private static final Duration HOUR = Duration.ofHours(1);

  private SimulatedDesk() {}

  /**
   * What a desk took in.
   *
   * @param names the alerts
   * @param wanted the messages that its route must have delivered
   * @param delivered how often its route delivered each
   * @param fault why its journal is not whole; null when it is
   */
  record Told(
      List<String> names,
      Set<String> wanted,
      Map<String, Integer> delivered,
      @Nullable String fault) {}

  /** Everything that a desk said, as the route's messages are called. */
  static Set<String> wanted(Journal journal) {
    Set<String> wanted = new HashSet<>();
    journal.entries(
        e -> {
          if (e.what().equals("raised") || e.what().equals("returned")) {
            wanted.add(e.subject() + "-" + e.what());
          }
        });
    return wanted;
  }

  /** The names of the rules' alerts that a journal has. */
  static List<String> names(Journal journal) {
    return journal.transaction(
        c -> {
          List<String> names = new ArrayList<>();
          try (PreparedStatement s = c.prepareStatement(TOLD);
              ResultSet r = s.executeQuery()) {
            while (r.next()) {
              names.add(r.getString(2) + " " + r.getString(1));
            }
          }
          return names;
        });
  }

  /** Lets a desk take in everything on the alerts topic. */
  static Told take(String well, MemoryBus bus, Random random, Tally tally) {
    String name = "jdbc:h2:mem:faults-" + System.nanoTime() + ";DB_CLOSE_DELAY=0";
    SteppedClock clock = new SteppedClock();
    SimulatedRoute route = new SimulatedRoute();
    try (Journal journal = Journal.open(name, "stillwatch", "")) {
      Outbox outbox = new Outbox(well, journal, List.of(route));
      for (boolean through = false; !through; ) {
        Desk desk = new Desk(well, DeskPlan.USUAL, journal, outbox, clock);
        tally.broke(Kind.DESK_CLOCK);
        clock.step(random.nextBoolean() ? HOUR : HOUR.negated());
        boolean again = random.nextInt(4) == 0;
        if (again) {
          tally.broke(Kind.DESK_TOLD_AGAIN);
        }
        Assignment from =
            again ? Assignment.FROM_THE_START : new FromTheInbox(journal, well, Topics.ALERTS);
        through = take(desk, bus.readerOfAll(Topics.ALERTS, from), random, tally);
      }
      tally.broke(Kind.DESK_CLOCK);
      clock.step(HOUR.negated());
      Set<String> wanted = wanted(journal);
      route.empty(outbox, clock, wanted.size());
      return new Told(
          names(journal), wanted, route.delivered(), JournalCheck.of(journal, null).fault());
    }
  }

  /** False when it was killed before it had all. */
  private static boolean take(Desk desk, TopicReader reader, Random random, Tally tally) {
    Map<Integer, Long> ends = reader.endOffsets();
    while (!reader.passed(ends)) {
      List<Message> messages = reader.poll(Duration.ZERO);
      List<Message> first = messages.subList(0, random.nextInt(messages.size() + 1));
      if (first.size() < messages.size()) {
        tally.broke(Kind.DESK_KILLED);
        if (!first.isEmpty()) {
          desk.take(Topics.ALERTS, first);
        }
        return false;
      }
      desk.take(Topics.ALERTS, messages);
    }
    return true;
  }
}
