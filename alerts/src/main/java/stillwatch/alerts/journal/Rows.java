package stillwatch.alerts.journal;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Types;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import stillwatch.rules.finding.Hashes;

/**
 * What the record vouches for in the tables: of every row one hash over all of its columns. A
 * transaction that writes rows ends with an entry that holds the hash of each as it then stands, or
 * null where it is gone; so whatever is written to a table beside the record shows. Of passwords
 * and tokens only hashes of hashes get in here. Not thread-safe.
 */
public final class Rows {
  /** What an entry says that vouches for some rows. */
  static final String WRITTEN = "rows";

  /** What an entry says that vouches for every row, after the tables themselves were changed. */
  static final String UPGRADED = "upgraded";

  private static final ObjectMapper JSON = new ObjectMapper();
  private static final char BETWEEN = '\u001f';

  private final Map<String, Map<String, String>> hashes = new TreeMap<>();

  /** The name of a row: the values of its key. */
  static String name(List<?> key) {
    return key.stream().map(String::valueOf).collect(Collectors.joining("" + BETWEEN));
  }

  /**
   * Heeds an entry; most say nothing of rows.
   *
   * @throws IllegalArgumentException when it should and cannot be read
   */
  public void take(Entry entry) {
    boolean everything = entry.what().equals(UPGRADED);
    if (!everything && !entry.what().equals(WRITTEN)) {
      return;
    }
    JsonNode body;
    try {
      body = JSON.readTree(entry.body());
    } catch (IOException e) {
      throw new IllegalArgumentException("it is not readable as JSON", e);
    }
    if (everything) {
      hashes.clear();
    }
    for (Map.Entry<String, JsonNode> table : body.properties()) {
      Map<String, String> rows = hashes.computeIfAbsent(table.getKey(), t -> new TreeMap<>());
      table.getValue().properties().forEach(row -> set(rows, row));
    }
  }

  private static void set(Map<String, String> rows, Map.Entry<String, JsonNode> row) {
    if (row.getValue().isNull()) {
      rows.remove(row.getKey());
    } else {
      rows.put(row.getKey(), row.getValue().asText());
    }
  }

  /** The first row that is not as the record says, in words; empty when every one is. */
  public String fault(Connection c) throws SQLException {
    Map<String, Table> tables = Table.all(c);
    for (Map.Entry<String, Map<String, String>> known : hashes.entrySet()) {
      Table table = tables.get(known.getKey());
      if (table == null) {
        return "table " + known.getKey() + " is missing";
      }
      Map<String, String> expected = new TreeMap<>(known.getValue());
      try (PreparedStatement s = c.prepareStatement(table.selectAll())) {
        s.setFetchSize(500);
        try (ResultSet r = s.executeQuery()) {
          while (r.next()) {
            String name = table.rowName(r);
            String hash = expected.remove(name);
            if (hash == null) {
              return row(table.name(), name) + " was added and is in no entry";
            }
            if (!hash.equals(hash(r))) {
              return row(table.name(), name) + " was changed after it was written";
            }
          }
        }
      }
      if (!expected.isEmpty()) {
        return row(table.name(), expected.keySet().iterator().next()) + " is missing";
      }
    }
    return "";
  }

  private static String row(String table, String name) {
    return "row '" + name.replace(BETWEEN, ' ') + "' of table " + table;
  }

  /** An entry's body that vouches for every row there is. */
  static String everything(Connection c, Iterable<Table> tables) throws SQLException {
    ObjectNode body = JSON.createObjectNode();
    for (Table table : tables) {
      ObjectNode rows = body.putObject(table.name());
      try (PreparedStatement s = c.prepareStatement(table.selectAll());
          ResultSet r = s.executeQuery()) {
        while (r.next()) {
          rows.put(table.rowName(r), hash(r));
        }
      }
    }
    return body.toString();
  }

  /** An entry's body that vouches for these rows as they stand now. */
  static String body(Connection c, Map<Table, Map<String, List<Object>>> written)
      throws SQLException {
    ObjectNode body = JSON.createObjectNode();
    for (Map.Entry<Table, Map<String, List<Object>>> of : written.entrySet()) {
      ObjectNode rows = body.putObject(of.getKey().name());
      try (PreparedStatement s = c.prepareStatement(of.getKey().selectOne())) {
        for (Map.Entry<String, List<Object>> row : of.getValue().entrySet()) {
          rows.put(row.getKey(), now(s, row.getValue()));
        }
      }
    }
    return body.toString();
  }

  private static @Nullable String now(PreparedStatement s, List<Object> key) throws SQLException {
    for (int i = 0; i < key.size(); i++) {
      s.setObject(i + 1, key.get(i));
    }
    try (ResultSet r = s.executeQuery()) {
      return r.next() ? hash(r) : null;
    }
  }

  /** SHA-256 of the columns by name, each with name and value and the length of both before. */
  private static String hash(ResultSet r) throws SQLException {
    ResultSetMetaData meta = r.getMetaData();
    Map<String, Integer> columns = new TreeMap<>();
    for (int i = 1; i <= meta.getColumnCount(); i++) {
      columns.put(meta.getColumnName(i).toLowerCase(Locale.ROOT), i);
    }
    ByteArrayOutputStream fields = new ByteArrayOutputStream();
    for (Map.Entry<String, Integer> column : columns.entrySet()) {
      field(fields, column.getKey());
      field(fields, value(r, column.getValue(), meta.getColumnType(column.getValue())));
    }
    return Hashes.hex(64, fields.toByteArray());
  }

  private static @Nullable String value(ResultSet r, int column, int type) throws SQLException {
    if (type != Types.BOOLEAN && type != Types.BIT) {
      return r.getString(column);
    }
    boolean value = r.getBoolean(column); // every database spells it in its own way
    return r.wasNull() ? null : Boolean.toString(value);
  }

  private static void field(ByteArrayOutputStream fields, @Nullable String value) {
    byte[] bytes = value == null ? new byte[0] : value.getBytes(StandardCharsets.UTF_8);
    fields.writeBytes(ByteBuffer.allocate(4).putInt(value == null ? -1 : bytes.length).array());
    fields.writeBytes(bytes);
  }
}
