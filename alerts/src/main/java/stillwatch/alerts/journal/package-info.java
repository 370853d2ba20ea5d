/**
 * The durable record: a database in one file, or a PostgreSQL server; its transactions, entries and
 * inbox.
 */
@NullMarked
package stillwatch.alerts.journal;

import org.jspecify.annotations.NullMarked;
