package stillwatch.alerts.people;

import java.time.Clock;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import stillwatch.alerts.journal.Journal;

/**
 * Who entered. Sessions last twelve hours and end with the process; who somebody is and what they
 * may do is not kept here but looked up each time. Safe from any thread.
 */
final class Sessions {
  private static final Duration LASTS = Duration.ofHours(12);

  private final Journal journal;
  private final Clock clock;
  private final Map<String, Held> held = new ConcurrentHashMap<>();

  Sessions(Journal journal, Clock clock) {
    this.journal = journal;
    this.clock = clock;
  }

  /** A session as it was opened, by the one of this name who came in at that time. */
  private record Held(String guard, String name, long sinceMs, long untilMs) {}

  People.Session open(Member member) {
    long nowMs = clock.millis();
    held.values().removeIf(s -> s.untilMs() < nowMs);
    String token = Secrets.token();
    Held session =
        new Held(
            Secrets.token(), member.person().name(), member.sinceMs(), nowMs + LASTS.toMillis());
    held.put(Secrets.digest(token), session);
    return new People.Session(token, session.guard(), member.person(), session.untilMs());
  }

  Optional<People.Session> find(String token) {
    String digest = Secrets.digest(token);
    Held session = held.get(digest);
    if (session == null || session.untilMs() < clock.millis()) {
      return Optional.empty();
    }
    Optional<Member> member =
        journal
            .transaction(c -> PersonTable.find(c, session.name()))
            .map(PersonTable.Row::member)
            .filter(m -> m.sinceMs() == session.sinceMs()); // another may have the name by now
    if (member.isEmpty()) {
      held.remove(digest);
    }
    return member.map(
        m -> new People.Session(token, session.guard(), m.person(), session.untilMs()));
  }

  void end(String token) {
    held.remove(Secrets.digest(token));
  }
}
