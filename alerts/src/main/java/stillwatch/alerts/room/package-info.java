/**
 * The operations-room page and what it asks the server. The only package that knows the web server.
 */
@NullMarked
package stillwatch.alerts.room;

import org.jspecify.annotations.NullMarked;
