package stillwatch.alerts.journal;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collections;
import java.util.List;
import java.util.function.Consumer;

/** The chain as a transaction sees it. */
public final class EntryTable {
  private static final String SELECT =
      "select seq, written_ms, well, what, subject, by_whom, body, log_ms, hash from entry";

  private EntryTable() {}

  /** Tells every entry, oldest first. */
  public static void all(Connection c, Consumer<Entry> each) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(SELECT + " order by seq")) {
      tell(s, each);
    }
  }

  /** Tells the entries of a well that say one of these, oldest first. */
  static void of(Connection c, String well, List<String> what, Consumer<Entry> each)
      throws SQLException {
    String places = String.join(", ", Collections.nCopies(what.size(), "?"));
    try (PreparedStatement s =
        c.prepareStatement(SELECT + " where well = ? and what in (" + places + ") order by seq")) {
      s.setString(1, well);
      for (int i = 0; i < what.size(); i++) {
        s.setString(2 + i, what.get(i));
      }
      tell(s, each);
    }
  }

  private static void tell(PreparedStatement s, Consumer<Entry> each) throws SQLException {
    s.setFetchSize(500);
    try (ResultSet r = s.executeQuery()) {
      while (r.next()) {
        each.accept(
            new Entry(
                r.getLong(1),
                r.getLong(2),
                r.getString(3),
                r.getString(4),
                r.getString(5),
                r.getString(6),
                r.getString(7),
                r.getObject(8, Long.class),
                r.getString(9)));
      }
    }
  }

  /** Whether there is an entry about no well that says this of this subject. */
  static boolean has(Connection c, String what, String subject) throws SQLException {
    try (PreparedStatement s =
        c.prepareStatement("select 1 from entry where well = '' and what = ? and subject = ?")) {
      s.setString(1, what);
      s.setString(2, subject);
      try (ResultSet r = s.executeQuery()) {
        return r.next();
      }
    }
  }

  /** The record's end as the journal knows it; number -1 where it does not know exactly one. */
  public static Journal.Head head(Connection c) throws SQLException {
    Journal.Head none = new Journal.Head(-1, "");
    try (PreparedStatement s = c.prepareStatement("select seq, hash, id from head");
        ResultSet r = s.executeQuery()) {
      if (!r.next() || r.getInt(3) != 1) {
        return none;
      }
      Journal.Head head = new Journal.Head(r.getLong(1), r.getString(2));
      return r.next() ? none : head;
    }
  }
}
