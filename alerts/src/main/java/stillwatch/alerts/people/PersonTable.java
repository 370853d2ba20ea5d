package stillwatch.alerts.people;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.journal.Recorder;

/** People as rows of the journal. */
final class PersonTable {
  private static final String SELECT =
      "select name, role, invited_by, since_ms, password from person";

  private PersonTable() {}

  /** Somebody with the hash of their password. */
  record Row(Member member, String password) {}

  private static List<Row> list(PreparedStatement s) throws SQLException {
    List<Row> all = new ArrayList<>();
    try (ResultSet r = s.executeQuery()) {
      while (r.next()) {
        Person person = new Person(r.getString(1), Role.of(r.getString(2)).orElse(Role.LOOK));
        all.add(new Row(new Member(person, r.getString(3), r.getLong(4)), r.getString(5)));
      }
    }
    return all;
  }

  static List<Member> all(Connection c) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(SELECT + " order by name")) {
      return list(s).stream().map(Row::member).toList();
    }
  }

  static Optional<Row> find(Connection c, String name) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(SELECT + " where name = ?")) {
      s.setString(1, name);
      return list(s).stream().findFirst();
    }
  }

  static void insert(Recorder record, Member member, String password) throws SQLException {
    record.wrote("person", member.person().name());
    try (PreparedStatement s =
        record.statement(
            "insert into person (name, role, password, invited_by, since_ms) values (?, ?, ?, ?, ?)")) {
      s.setString(1, member.person().name());
      s.setString(2, member.person().role().wire());
      s.setString(3, password);
      s.setString(4, member.invitedBy());
      s.setLong(5, member.sinceMs());
      s.executeUpdate();
    }
  }

  static void role(Recorder record, String name, Role role) throws SQLException {
    record.wrote("person", name);
    try (PreparedStatement s = record.statement("update person set role = ? where name = ?")) {
      s.setString(1, role.wire());
      s.setString(2, name);
      s.executeUpdate();
    }
  }

  /** Returns whether there was one. */
  static boolean delete(Recorder record, String name) throws SQLException {
    record.wrote("person", name);
    try (PreparedStatement s = record.statement("delete from person where name = ?")) {
      s.setString(1, name);
      return s.executeUpdate() > 0;
    }
  }
}
