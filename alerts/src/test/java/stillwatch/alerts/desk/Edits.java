package stillwatch.alerts.desk;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.sql.Types;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * A table as somebody edits it who may do anything to the database.
 *
 * @param name as the database has it
 * @param key its primary key
 */
record Edits(String name, List<String> key) {
  /** Every table that the database itself names. */
  static List<Edits> all(Connection c) throws SQLException {
    DatabaseMetaData meta = c.getMetaData();
    List<Edits> all = new ArrayList<>();
    try (ResultSet r =
        meta.getTables(null, c.getSchema(), "%", new String[] {"TABLE", "BASE TABLE"})) {
      while (r.next()) {
        String name = r.getString("TABLE_NAME");
        List<String> key = new ArrayList<>();
        try (ResultSet k = meta.getPrimaryKeys(null, c.getSchema(), name)) {
          while (k.next()) {
            key.add(k.getString("COLUMN_NAME"));
          }
        }
        all.add(new Edits(name, key));
      }
    }
    return all;
  }

  /** Takes away what would keep rows from being edited. */
  static void free(Connection c) throws SQLException {
    List<String> statements = new ArrayList<>();
    try (var s = c.createStatement();
        ResultSet r =
            s.executeQuery(
                "select 'alter table \"' || table_name || '\" drop constraint \"' || constraint_name || '\"'"
                    + " from information_schema.table_constraints where constraint_type in ('FOREIGN KEY', 'UNIQUE')"
                    + " and table_schema = current_schema"
                    + " union all select 'alter table \"' || table_name || '\" alter column \"' || column_name || '\" drop identity'"
                    + " from information_schema.columns where is_identity = 'YES' and table_schema = current_schema")) {
      while (r.next()) {
        statements.add(r.getString(1));
      }
    }
    for (String statement : statements) {
      try (var s = c.createStatement()) {
        s.execute(statement);
      }
    }
  }

  /** A row by its columns; which of these hold numbers. */
  record Row(Map<String, @Nullable Object> values, Set<String> numbers) {
    /** Other values for a column; at the beginning, in the middle and at the end of a text. */
    List<Object> changed(String column) {
      Object value = values.get(column);
      if (value instanceof String text && !text.isEmpty()) {
        List<Object> all = new ArrayList<>();
        for (int at : new int[] {0, text.length() / 2, text.length() - 1}) {
          char other = text.charAt(at) == '~' ? '!' : '~';
          all.add(text.substring(0, at) + other + text.substring(at + 1));
        }
        return all;
      }
      if (value instanceof Boolean is) {
        return List.of(!is);
      }
      if (value instanceof Number number) {
        return List.of(number.longValue() + 1_000_000, number.longValue() - 1_000_000);
      }
      if (value instanceof Timestamp time) {
        return List.of(new Timestamp(time.getTime() + 1000));
      }
      return List.of(numbers.contains(column) ? 1L : "x");
    }

    /** The same with another key. */
    Row copied(List<String> key) {
      Map<String, @Nullable Object> copy = new LinkedHashMap<>(values);
      copy.put(key.get(0), changed(key.get(0)).get(0));
      return new Row(copy, numbers);
    }
  }

  private static String quoted(String name) {
    return '"' + name + '"';
  }

  /** Its rows by their key. */
  List<Row> rows(Connection c) throws SQLException {
    String order = key.stream().map(Edits::quoted).collect(Collectors.joining(", "));
    List<Row> all = new ArrayList<>();
    try (var s = c.prepareStatement("select * from " + quoted(name) + " order by " + order);
        ResultSet r = s.executeQuery()) {
      while (r.next()) {
        Map<String, @Nullable Object> values = new LinkedHashMap<>();
        Set<String> numbers = new HashSet<>();
        for (int i = 1; i <= r.getMetaData().getColumnCount(); i++) {
          int type = r.getMetaData().getColumnType(i);
          String column = r.getMetaData().getColumnName(i);
          Object value =
              switch (type) {
                case Types.TIMESTAMP -> r.getTimestamp(i);
                case Types.BIGINT, Types.INTEGER -> {
                  numbers.add(column);
                  yield r.getObject(i);
                }
                case Types.BIT, Types.BOOLEAN -> r.getObject(i);
                default -> r.getString(i);
              };
          values.put(column, value);
        }
        all.add(new Row(values, numbers));
      }
    }
    return all;
  }

  private void run(Connection c, String sql, List<@Nullable Object> values) throws SQLException {
    try (PreparedStatement s = c.prepareStatement(sql)) {
      for (int i = 0; i < values.size(); i++) {
        s.setObject(i + 1, values.get(i));
      }
      if (s.executeUpdate() != 1) {
        throw new SQLException("the edit did nothing: " + sql);
      }
    }
  }

  private String where() {
    return " where "
        + key.stream().map(k -> quoted(k) + " = ?").collect(Collectors.joining(" and "));
  }

  private List<@Nullable Object> keyOf(Row row) {
    List<@Nullable Object> values = new ArrayList<>();
    key.forEach(k -> values.add(row.values().get(k)));
    return values;
  }

  void set(Connection c, Row row, String column, Object value) throws SQLException {
    List<@Nullable Object> values = keyOf(row);
    values.add(0, value);
    run(c, "update " + quoted(name) + " set " + quoted(column) + " = ?" + where(), values);
  }

  void delete(Connection c, Row row) throws SQLException {
    run(c, "delete from " + quoted(name) + where(), keyOf(row));
  }

  void insert(Connection c, Row row) throws SQLException {
    String columns =
        row.values().keySet().stream().map(Edits::quoted).collect(Collectors.joining(", "));
    String places = String.join(", ", Collections.nCopies(row.values().size(), "?"));
    run(
        c,
        "insert into " + quoted(name) + " (" + columns + ") values (" + places + ")",
        new ArrayList<>(row.values().values()));
  }

  /** Two rows that hold different things. */
  List<Row> unlike(List<Row> rows) {
    for (Row a : rows) {
      for (Row b : rows) {
        if (!beside(a).equals(beside(b))) {
          return List.of(a, b);
        }
      }
    }
    throw new IllegalStateException("no two rows of " + name + " differ beside their keys");
  }

  private Map<String, @Nullable Object> beside(Row row) {
    Map<String, @Nullable Object> rest = new LinkedHashMap<>(row.values());
    key.forEach(rest::remove);
    return rest;
  }

  /** Each gets what the other holds beside its key. */
  void swap(Connection c, Row a, Row b) throws SQLException {
    for (Row[] pair : new Row[][] {{a, b}, {b, a}}) {
      for (Map.Entry<String, @Nullable Object> e : beside(pair[1]).entrySet()) {
        if (!Objects.equals(e.getValue(), pair[0].values().get(e.getKey()))) {
          List<@Nullable Object> values = keyOf(pair[0]);
          values.add(0, e.getValue());
          run(
              c,
              "update " + quoted(name) + " set " + quoted(e.getKey()) + " = ?" + where(),
              values);
        }
      }
    }
  }
}
