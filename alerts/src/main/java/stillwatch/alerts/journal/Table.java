package stillwatch.alerts.journal;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * A table of the journal, as the database itself describes it.
 *
 * @param name its name in lower case, the same in every database
 * @param quoted its name as SQL takes it
 * @param key the columns of its primary key, in order
 */
record Table(String name, String quoted, List<String> key) {
  /** The chain itself, which vouches for the rows of all others. */
  private static final Set<String> CHAIN = Set.of("entry", "head");

  /**
   * Every table but the chain's own, by name.
   *
   * @throws SQLException when one has no primary key, by which its rows could be named
   */
  static Map<String, Table> all(Connection c) throws SQLException {
    DatabaseMetaData meta = c.getMetaData();
    List<String> names = new ArrayList<>();
    try (ResultSet r =
        meta.getTables(c.getCatalog(), c.getSchema(), "%", new String[] {"TABLE", "BASE TABLE"})) {
      while (r.next()) {
        names.add(r.getString("TABLE_NAME"));
      }
    }
    Map<String, Table> all = new TreeMap<>();
    for (String name : names) {
      String lower = name.toLowerCase(Locale.ROOT);
      if (!CHAIN.contains(lower)) {
        all.put(lower, new Table(lower, quoted(name), key(c, meta, name)));
      }
    }
    return all;
  }

  private static List<String> key(Connection c, DatabaseMetaData meta, String table)
      throws SQLException {
    Map<Integer, String> columns = new TreeMap<>();
    try (ResultSet r = meta.getPrimaryKeys(c.getCatalog(), c.getSchema(), table)) {
      while (r.next()) {
        columns.put(r.getInt("KEY_SEQ"), r.getString("COLUMN_NAME"));
      }
    }
    if (columns.isEmpty()) {
      throw new SQLException(
          "table " + table + " has no primary key: the record cannot name its rows");
    }
    return List.copyOf(columns.values());
  }

  private static String quoted(String name) {
    return '"' + name.replace("\"", "\"\"") + '"';
  }

  /** The query for every row. */
  String selectAll() {
    return "select * from " + quoted;
  }

  /** The query for one row, its key's values as parameters. */
  String selectOne() {
    return selectAll()
        + " where "
        + key.stream().map(k -> quoted(k) + " = ?").collect(Collectors.joining(" and "));
  }

  /** The name of the row of a result. */
  String rowName(ResultSet r) throws SQLException {
    List<String> values = new ArrayList<>();
    for (String column : key) {
      values.add(r.getString(column));
    }
    return Rows.name(values);
  }
}
