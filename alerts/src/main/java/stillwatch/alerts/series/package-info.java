/**
 * What the log says, kept so that a page can draw it: extremes over time, the newest word of each
 * gauge, what was done.
 */
@NullMarked
package stillwatch.alerts.series;

import org.jspecify.annotations.NullMarked;
