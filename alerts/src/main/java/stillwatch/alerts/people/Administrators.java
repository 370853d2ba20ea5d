package stillwatch.alerts.people;

import java.sql.Connection;
import java.sql.SQLException;

/** Who administers, as a transaction sees it. */
final class Administrators {
  /** The name under which the watch itself makes links. */
  static final String WATCH = "";

  private Administrators() {}

  /** Whether there is a person who administers; machines do not count. */
  static boolean any(Connection c) throws SQLException {
    return PersonTable.all(c).stream().anyMatch(m -> m.person().role() == Role.ADMINISTER);
  }

  /**
   * Refuses whoever does not administer any more: they were let through a moment ago, and may have
   * been removed since.
   *
   * @throws People.PeopleException when they do not
   */
  static void must(Connection c, String by) throws SQLException {
    boolean person =
        PersonTable.all(c).stream()
            .map(Member::person)
            .anyMatch(p -> p.name().equals(by) && p.role() == Role.ADMINISTER);
    boolean machine =
        PassTable.all(c).stream()
            .anyMatch(p -> !p.once() && p.name().equals(by) && p.role() == Role.ADMINISTER);
    if (!person && !machine && !by.equals(WATCH) && !by.equals(People.ANYBODY.name())) {
      throw new People.PeopleException(by + " is no administrator any more; nothing was done");
    }
  }
}
