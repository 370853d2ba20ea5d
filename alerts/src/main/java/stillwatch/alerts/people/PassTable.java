package stillwatch.alerts.people;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import stillwatch.alerts.journal.Recorder;

/** Links and tokens as rows of the journal. */
final class PassTable {
  private static final String SELECT =
      "select digest, name, role, once, until_ms, made_by, made_ms from token";

  private PassTable() {}

  private static List<Pass> list(PreparedStatement s) throws SQLException {
    List<Pass> all = new ArrayList<>();
    try (ResultSet r = s.executeQuery()) {
      while (r.next()) {

        all.add(
            new Pass(
                r.getString(1),
                r.getString(2),
                Role.of(r.getString(3)).orElse(Role.LOOK),
                r.getBoolean(4),
                r.getObject(5, Long.class),
                r.getString(6),
                r.getLong(7)));
      }
    }
    return all;
  }

  /** Every one that was not used or ended, the oldest first. */
  static List<Pass> all(Connection c) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(SELECT + " order by made_ms, digest")) {
      return list(s);
    }
  }

  /** The one with this secret, when it holds. */
  static Optional<Pass> find(Connection c, String secret, long nowMs) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(SELECT + " where digest = ?")) {
      s.setString(1, Secrets.digest(secret));
      return list(s).stream().filter(p -> p.holds(nowMs)).findFirst();
    }
  }

  static void insert(Recorder record, Pass pass) throws SQLException {
    record.wrote("token", pass.digest());
    try (PreparedStatement s =
        record.statement(
            "insert into token (digest, name, role, once, until_ms, made_by, made_ms) values (?, ?, ?, ?, ?, ?, ?)")) {
      s.setString(1, pass.digest());
      s.setString(2, pass.name());
      s.setString(3, pass.role().wire());
      s.setBoolean(4, pass.once());
      s.setObject(5, pass.untilMs(), Types.BIGINT);
      s.setString(6, pass.madeBy());
      s.setLong(7, pass.madeMs());
      s.executeUpdate();
    }
  }

  static void delete(Recorder record, Pass pass) throws SQLException {
    record.wrote("token", pass.digest());
    try (PreparedStatement s = record.statement("delete from token where digest = ?")) {
      s.setString(1, pass.digest());
      s.executeUpdate();
    }
  }

  /** Ends a machine's tokens. Returns whether it had one. */
  static boolean deleteOf(Recorder record, String machine) throws SQLException {
    boolean any = false;
    for (Pass pass : all(record.connection())) {
      if (!pass.once() && pass.name().equals(machine)) {
        delete(record, pass);
        any = true;
      }
    }
    return any;
  }

  /** Ends the links that somebody made. */
  static void deleteLinksBy(Recorder record, String maker) throws SQLException {
    for (Pass pass : all(record.connection())) {
      if (pass.once() && pass.madeBy().equals(maker)) {
        delete(record, pass);
      }
    }
  }

  /** Ends what somebody made, and what machines made with that. */
  static void deleteMadeBy(Recorder record, String maker) throws SQLException {
    Deque<String> makers = new ArrayDeque<>(List.of(maker));
    while (!makers.isEmpty()) {
      String by = makers.removeFirst();
      for (Pass pass : all(record.connection())) {
        if (pass.madeBy().equals(by)) {
          delete(record, pass);
          if (!pass.once()) {
            makers.add(pass.name());
          }
        }
      }
    }
  }
}
