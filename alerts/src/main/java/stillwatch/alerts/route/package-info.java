/** How alerts leave the machine: the outbox and the routes that empty it. */
@NullMarked
package stillwatch.alerts.route;

import org.jspecify.annotations.NullMarked;
