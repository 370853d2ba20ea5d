package stillwatch.alerts.people;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.journal.Journal;
import stillwatch.alerts.journal.Recorder;

/**
 * Who may do what. People enter by a link that works once, then by name and password; machines by
 * tokens. What was entered lasts for twelve hours and ends with the process. What somebody may do
 * is looked up whenever they ask, so that it ends the moment it is taken from them, with the links
 * and tokens they made. Safe from any thread.
 */
public final class People {
  /** Whoever uses a watch that needs no login; no person or machine has this name. */
  public static final Person ANYBODY = new Person("anybody on this machine", Role.ADMINISTER);

  private static final Duration LINK = Duration.ofHours(24);
  private static final Duration REMEMBERED = Duration.ofDays(2);
  private static final int LEAST_PASSWORD = 10;
  private static final int MOST_PASSWORD = 200;

  /**
   * What would make two names look alike or change the line they stand in: control characters, line
   * ends, blanks of no width, marks of the direction of writing. Joiners stay: some scripts need
   * them.
   */
  private static final Pattern UNSEEN =
      Pattern.compile(
          "[\\p{Cc}\\p{Zl}\\p{Zp}\\u061C\\u200B\\u200E\\u200F\\u202A-\\u202E\\u2060\\u2066-\\u2069\\uFEFF]");

  private final Journal journal;
  private final Clock clock;
  private final Sessions sessions;

  /** The people in a journal. */
  public People(Journal journal, Clock clock) {
    this.journal = journal;
    this.clock = clock;
    sessions = new Sessions(journal, clock);
  }

  /**
   * Somebody who entered.
   *
   * @param token what the browser keeps
   * @param guard what its page must send beside it, so that no other page can act for it
   * @param person who, with what they may do now
   */
  public record Session(String token, String guard, Person person, long untilMs) {}

  /** What was asked cannot be done; the message says why and how to mend it. */
  public static class PeopleException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** A fault told in one sentence. */
    public PeopleException(String message) {
      super(message);
    }
  }

  /** A link was used before, has ended, or went with whoever made it. */
  public static final class DeadLinkException extends PeopleException {
    private static final long serialVersionUID = 1L;

    DeadLinkException() {
      super("this link has been used, or is no longer good; ask for another");
    }
  }

  /** Whether nobody can enter yet. */
  public boolean nobody() {
    return all().isEmpty();
  }

  /** Everybody, by name. */
  public List<Member> all() {
    return journal.transaction(PersonTable::all);
  }

  /** Every link and token that holds, the oldest first. */
  public List<Pass> passes() {
    long nowMs = clock.millis();
    return journal.transaction(c -> PassTable.all(c).stream().filter(p -> p.holds(nowMs)).toList());
  }

  /**
   * A link's secret by which somebody may enter once, within a day, with this role.
   *
   * @param by who makes it; empty for the watch itself
   */
  public String invite(Role role, String by) {
    return pass("", role, LINK, by);
  }

  /**
   * A machine's token.
   *
   * @throws PeopleException when a person has this name, or it will not do
   */
  public String machine(String name, Role role, String by) {
    plain(name);
    return pass(name, role, null, by);
  }

  private String pass(String name, Role role, @Nullable Duration lasts, String by) {
    String secret = Secrets.token();
    boolean once = lasts != null;
    return journal.write(
        clock.millis(),
        record -> {
          Administrators.must(record.connection(), by);
          if (!once && personOrAnybody(record.connection(), name)) {
            throw new PeopleException("a person has this name; give the machine another");
          }
          Long untilMs = lasts == null ? null : Long.valueOf(record.nowMs() + lasts.toMillis());
          PassTable.insert(
              record,
              new Pass(Secrets.digest(secret), name, role, once, untilMs, by, record.nowMs()));
          record.enter("", once ? "invited" : "token-made", name, by, role.wire());
          return secret;
        });
  }

  private static void plain(String name) {
    if (UNSEEN.matcher(name).find()) {
      throw new PeopleException(
          "the name has a line end or a character that nobody sees; write it without");
    }
  }

  private static boolean personOrAnybody(Connection c, String name) throws SQLException {
    return name.equalsIgnoreCase(ANYBODY.name())
        || PersonTable.all(c).stream().anyMatch(m -> name.equalsIgnoreCase(m.person().name()));
  }

  /**
   * Enters by a link, under a name that nobody has: whoever has a link must not become another.
   *
   * @throws DeadLinkException when the link does not hold
   * @throws PeopleException when name or password will not do
   */
  public Session enter(String link, String name, String password) {
    if (name.isBlank() || name.length() > 200) {
      throw new PeopleException("give the name that is to stand in the record, up to 200 letters");
    }
    plain(name);
    if (password.length() < LEAST_PASSWORD || password.length() > MOST_PASSWORD) {
      throw new PeopleException(
          "a password has " + LEAST_PASSWORD + " to " + MOST_PASSWORD + " characters");
    }
    Pass unused = journal.transaction(c -> linked(c, link, clock.millis())); // before any hashing
    String hash = Secrets.hash(password);
    return sessions.open(journal.write(clock.millis(), record -> enter(record, link, name, hash)));
  }

  private static Pass linked(Connection c, String link, long nowMs) throws SQLException {
    return PassTable.find(c, link, nowMs).filter(Pass::once).orElseThrow(DeadLinkException::new);
  }

  private static Member enter(Recorder record, String link, String name, String hash)
      throws SQLException {
    Connection c = record.connection();
    Pass pass = linked(c, link, record.nowMs());
    boolean machine =
        PassTable.all(c).stream().anyMatch(p -> !p.once() && p.name().equalsIgnoreCase(name));
    if (machine || personOrAnybody(c, name)) {
      throw new PeopleException(
          "somebody has this name; choose another, or have an administrator remove it first");
    }
    PassTable.delete(record, pass);
    PassTable.deleteLinksBy(record, Administrators.WATCH); // each start with nobody in made one
    Member member = new Member(new Person(name, pass.role()), pass.madeBy(), record.nowMs());
    PersonTable.insert(record, member, hash);
    record.enter("", "entered", name, name, pass.role().wire());
    return member;
  }

  /** Enters by name and password; empty when either is wrong. */
  public Optional<Session> login(String name, String password) {
    Optional<PersonTable.Row> known = journal.transaction(c -> PersonTable.find(c, name));
    if (password.length() > MOST_PASSWORD) {
      return Optional.empty();
    }
    // a name nobody has takes as long as one somebody has, so that names cannot be found by time
    boolean right =
        Secrets.matches(password, known.map(PersonTable.Row::password).orElse(Secrets.nobodys()));
    return known.filter(k -> right).map(k -> sessions.open(k.member()));
  }

  /** The session of this token; empty when there is none, or its person was removed. */
  public Optional<Session> session(String token) {
    return sessions.find(token);
  }

  /** Ends a session. */
  public void leave(String token) {
    sessions.end(token);
  }

  /** The machine of this token; empty when there is none. */
  public Optional<Person> machine(String token) {
    long nowMs = clock.millis();
    return journal
        .transaction(c -> PassTable.find(c, token, nowMs))
        .filter(p -> !p.once())
        .map(p -> new Person(p.name(), p.role()));
  }

  /**
   * Somebody, or a machine, may no longer enter; nor may anybody by a link or token they made.
   *
   * @throws NoSuchElementException when nobody has this name
   * @throws PeopleException when it is the last administrator
   */
  public void remove(String name, String by) {
    change(
        name,
        by,
        record -> {
          boolean person = PersonTable.delete(record, name);
          if (!PassTable.deleteOf(record, name) && !person) {
            throw nobody(name);
          }
          PassTable.deleteMadeBy(record, name);
          return record.enter("", "removed", name, by, "");
        });
  }

  /**
   * Somebody may do something else from now on. Who no longer administers has no links or tokens.
   *
   * @throws NoSuchElementException when nobody has this name
   * @throws PeopleException when it is the last administrator
   */
  public void role(String name, Role role, String by) {
    change(
        name,
        by,
        record -> {
          if (PersonTable.find(record.connection(), name).isEmpty()) {
            throw nobody(name);
          }
          PersonTable.role(record, name, role);
          if (role != Role.ADMINISTER) {
            PassTable.deleteMadeBy(record, name);
          }
          return record.enter("", "role-changed", name, by, role.wire());
        });
  }

  /** Changes somebody, when an administrator asks and one is left afterwards. */
  private void change(String name, String by, Journal.Writing<?> change) {
    Boolean unused =
        journal.write(
            clock.millis(),
            record -> {
              Administrators.must(record.connection(), by);
              boolean before = Administrators.any(record.connection());
              change.with(record);
              if (before && !Administrators.any(record.connection())) {
                throw new PeopleException(
                    name + " is the last administrator; make another one first");
              }
              return true;
            });
  }

  private static NoSuchElementException nobody(String name) {
    return new NoSuchElementException("nobody has the name '" + name + "'; look at the list again");
  }

  /**
   * A link or token no longer holds.
   *
   * @param id as {@link Pass#id} gives it
   * @throws NoSuchElementException when there is none
   */
  public void revoke(String id, String by) {
    Boolean unused =
        journal.write(
            clock.millis(),
            record -> {
              Administrators.must(record.connection(), by);
              Pass pass = pass(record, id);
              PassTable.delete(record, pass);
              if (!pass.once()) {
                PassTable.deleteMadeBy(record, pass.name());
              }
              record.enter("", "revoked", pass.name(), by, id);
              return true;
            });
  }

  private static Pass pass(Recorder record, String id) throws SQLException {
    return PassTable.all(record.connection()).stream()
        .filter(p -> p.id().equals(id))
        .findFirst()
        .orElseThrow(
            () ->
                new NoSuchElementException(
                    "no link or token is called '" + id + "'; look at the list again"));
  }

  /** Whether a request of this id is the first; it is remembered for two days. */
  public boolean first(String request) {
    long nowMs = clock.millis();
    return journal.write(
        nowMs, record -> RequestTable.first(record, request, nowMs - REMEMBERED.toMillis()));
  }
}
