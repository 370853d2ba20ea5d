package stillwatch.alerts.people;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Journal;

/**
 * Who may do what. People enter by a link that works once, then by name and password; machines by
 * tokens. What was entered lasts for twelve hours and ends with the process. Safe from any thread.
 */
public final class People {
  private static final Duration SESSION = Duration.ofHours(12);
  private static final Duration LINK = Duration.ofHours(24);
  private static final Duration REMEMBERED = Duration.ofHours(48);
  private static final int LEAST_PASSWORD = 10;
  private static final int MOST_PASSWORD = 200;

  private final Journal journal;
  private final Clock clock;
  private final Map<String, Session> sessions = new ConcurrentHashMap<>();

  /** The people in a journal. */
  public People(Journal journal, Clock clock) {
    this.journal = journal;
    this.clock = clock;
  }

  /**
   * Somebody who entered.
   *
   * @param token what the browser keeps
   * @param guard what its page must send beside it, so that no other page can act for it
   */
  public record Session(String token, String guard, Person person, long untilMs) {}

  /** What was asked cannot be done; the message says why and how to mend it. */
  public static final class PeopleException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** With one sentence. */
    public PeopleException(String message) {
      super(message);
    }
  }

  /** Whether nobody can enter yet. */
  public boolean nobody() {
    return all().isEmpty();
  }

  /** Everybody, by name. */
  public List<Person> all() {
    return journal.transaction(
        c -> {
          try (PreparedStatement s =
                  c.prepareStatement("select name, role from person order by name");
              ResultSet r = s.executeQuery()) {
            List<Person> all = new ArrayList<>();
            while (r.next()) {
              all.add(person(r.getString(1), r.getString(2)));
            }
            return all;
          }
        });
  }

  private static Person person(String name, String role) {
    return new Person(name, Role.of(role).orElse(Role.LOOK));
  }

  /** A link's secret by which somebody may enter once, within a day, with this role. */
  public String invite(Role role, String by) {
    return token("", role, true, clock.millis() + LINK.toMillis(), by);
  }

  /** A machine's token. */
  public String machine(String name, Role role, String by) {
    return token(name, role, false, null, by);
  }

  private String token(String name, Role role, boolean once, @Nullable Long untilMs, String by) {
    String token = Secrets.token();
    return journal.write(
        record -> {
          try (PreparedStatement s =
              record
                  .connection()
                  .prepareStatement(
                      "insert into token (digest, name, role, once, until_ms) values (?, ?, ?, ?, ?)")) {
            s.setString(1, Secrets.digest(token));
            s.setString(2, name);
            s.setString(3, role.wire());
            s.setBoolean(4, once);
            if (untilMs == null) {
              s.setNull(5, Types.BIGINT);
            } else {
              s.setLong(5, untilMs);
            }
            s.executeUpdate();
          }
          record.enter(clock.millis(), "", once ? "invited" : "token-made", name, by, role.wire());
          return token;
        });
  }

  /**
   * Enters by a link, under a name that nobody has: whoever has a link must not become another.
   *
   * @throws PeopleException when the link does not hold, or name or password will not do
   */
  public Session enter(String link, String name, String password) {
    if (name.isBlank() || name.length() > 200) {
      throw new PeopleException("give the name that is to stand in the record, up to 200 letters");
    }
    if (password.length() < LEAST_PASSWORD || password.length() > MOST_PASSWORD) {
      throw new PeopleException(
          "a password has " + LEAST_PASSWORD + " to " + MOST_PASSWORD + " characters");
    }
    String hash = Secrets.hash(password);
    Person person =
        journal.write(
            record -> {
              Connection c = record.connection();
              Row row = row(c, link, true).orElse(null);
              if (row == null) {
                throw new PeopleException(
                    "this link has been used, or is no longer good; ask for another");
              }
              if (known(c, name)) {
                throw new PeopleException(
                    "somebody has this name; choose another, or have an administrator remove it first");
              }
              delete(c, "delete from token where digest = ?", Secrets.digest(link));
              try (PreparedStatement s =
                  c.prepareStatement(
                      "insert into person (name, role, password) values (?, ?, ?)")) {
                s.setString(1, name);
                s.setString(2, row.role());
                s.setString(3, hash);
                s.executeUpdate();
              }
              record.enter(clock.millis(), "", "entered", name, name, row.role());
              return person(name, row.role());
            });
    return open(person);
  }

  private static boolean known(Connection c, String name) throws SQLException {
    try (PreparedStatement s = c.prepareStatement("select 1 from person where name = ?")) {
      s.setString(1, name);
      try (ResultSet r = s.executeQuery()) {
        return r.next();
      }
    }
  }

  private record Row(String name, String role) {}

  private Optional<Row> row(Connection c, String token, boolean once) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement(
            "select name, role, until_ms from token where digest = ? and once = ?")) {
      s.setString(1, Secrets.digest(token));
      s.setBoolean(2, once);
      try (ResultSet r = s.executeQuery()) {
        if (!r.next()) {
          return Optional.empty();
        }
        long until = r.getLong(3);
        boolean over = !r.wasNull() && until < clock.millis();
        return over ? Optional.empty() : Optional.of(new Row(r.getString(1), r.getString(2)));
      }
    }
  }

  private static void delete(Connection c, String sql, String key) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(sql)) {
      s.setString(1, key);
      s.executeUpdate();
    }
  }

  /** Enters by name and password; empty when they do not belong together. */
  public Optional<Session> login(String name, String password) {
    String[] known =
        journal.transaction(
            c -> {
              try (PreparedStatement s =
                  c.prepareStatement("select role, password from person where name = ?")) {
                s.setString(1, name);
                try (ResultSet r = s.executeQuery()) {
                  return r.next() ? new String[] {r.getString(1), r.getString(2)} : new String[0];
                }
              }
            });
    if (password.length() > MOST_PASSWORD) {
      return Optional.empty();
    }
    // a name nobody has takes as long as one somebody has, so that names cannot be found by time
    boolean right = Secrets.matches(password, known.length == 0 ? Secrets.nobodys() : known[1]);
    return right && known.length > 0 ? Optional.of(open(person(name, known[0]))) : Optional.empty();
  }

  private Session open(Person person) {
    sessions.values().removeIf(s -> s.untilMs() < clock.millis());
    Session session =
        new Session(Secrets.token(), Secrets.token(), person, clock.millis() + SESSION.toMillis());
    sessions.put(Secrets.digest(session.token()), session);
    return session;
  }

  /** The session of this token; empty when there is none, or none any more. */
  public Optional<Session> session(String token) {
    return Optional.ofNullable(sessions.get(Secrets.digest(token)))
        .filter(s -> s.untilMs() >= clock.millis());
  }

  /** Ends a session. */
  public void leave(String token) {
    sessions.remove(Secrets.digest(token));
  }

  /** The machine of this token; empty when there is none. */
  public Optional<Person> machine(String token) {
    return journal
        .transaction(c -> row(c, token, false))
        .map(row -> person(row.name(), row.role()));
  }

  /** Somebody, or a machine, may no longer enter. */
  public void remove(String name, String by) {
    Boolean unused =
        journal.write(
            record -> {
              delete(record.connection(), "delete from person where name = ?", name);
              delete(record.connection(), "delete from token where name = ?", name);
              record.enter(clock.millis(), "", "removed", name, by, "");
              return true;
            });
    end(name);
  }

  private void end(String name) {
    sessions.values().removeIf(s -> s.person().name().equals(name));
  }

  /** Whether a request of this id is the first; it is remembered for two days. */
  public boolean first(String request) {
    long nowMs = clock.millis();
    return journal.transaction(
        c -> {
          try (PreparedStatement s = c.prepareStatement("delete from request where at_ms < ?")) {
            s.setLong(1, nowMs - REMEMBERED.toMillis());
            s.executeUpdate();
          }
          try (PreparedStatement s = c.prepareStatement("select 1 from request where id = ?")) {
            s.setString(1, request);
            try (ResultSet r = s.executeQuery()) {
              if (r.next()) {
                return false;
              }
            }
          }
          try (PreparedStatement s =
              c.prepareStatement("insert into request (id, at_ms) values (?, ?)")) {
            s.setString(1, request);
            s.setLong(2, nowMs);
            s.executeUpdate();
          }
          return true;
        });
  }
}
