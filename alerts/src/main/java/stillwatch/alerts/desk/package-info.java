/** Alarms as people handle them: which are open, who acknowledged them, which are over. */
@NullMarked
package stillwatch.alerts.desk;

import org.jspecify.annotations.NullMarked;
