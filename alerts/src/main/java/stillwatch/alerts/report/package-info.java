/** The report of a test, for those who decided and those who ask afterwards. */
@NullMarked
package stillwatch.alerts.report;

import org.jspecify.annotations.NullMarked;
