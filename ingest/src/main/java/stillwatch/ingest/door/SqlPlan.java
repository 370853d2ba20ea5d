package stillwatch.ingest.door;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import stillwatch.ingest.recording.RecordingLayout;

/**
 * Readings that a database keeps, asked for by SQL.
 *
 * @param url where it is, as JDBC writes it, without a password
 * @param user null without
 * @param password the file that holds it; null without
 * @param query gives the rows in the order of their times; its one {@code ?} is the earliest time
 *     that is wanted
 * @param from the earliest time that is ever wanted
 * @param every how often it is asked
 * @param lookBack how much earlier than the newest row taken another one may still come
 * @param layout what stands in the columns of its answer
 */
public record SqlPlan(
    String url,
    @Nullable String user,
    @Nullable Path password,
    String query,
    Instant from,
    Duration every,
    Duration lookBack,
    RecordingLayout layout)
    implements SourcePlan.Way {
  private static final Duration LATELY = Duration.ofMinutes(10);

  /** What is wrong with such a query, whatever the database; empty when nothing is. */
  public static Optional<String> faultOf(String query) {
    if (query.chars().filter(c -> c == '?').count() != 1) {
      return Optional.of(
          "the query must have one ?, for the earliest time wanted; write it like SELECT at, p1 FROM readings WHERE at >= ? ORDER BY at");
    }
    if (!query.toLowerCase(Locale.ROOT).matches("(?s).*\\border\\s+by\\b.*")) {
      return Optional.of(
          "the query must give its rows in the order of their times; add ORDER BY and the column of the time");
    }
    return Optional.empty();
  }

  @Override
  public List<String> gauges() {
    return layout.gauges();
  }

  /** Of what is a few minutes old, not of all that there ever was. */
  @Override
  public SqlPlan looking() {
    Instant lately = Instant.now().minus(LATELY);
    Instant first = lately.isAfter(from) ? lately : from;
    return new SqlPlan(url, user, password, query, first, every, lookBack, layout);
  }
}
