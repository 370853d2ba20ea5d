/**
 * What runs until the process ends: the alerts' side made and started ({@link
 * stillwatch.station.run.AlertsSide}), the stages it consists of, the broker as a process of its
 * own, the feeding of drills, the measures, and the closing of everything.
 */
@NullMarked
package stillwatch.station.run;

import org.jspecify.annotations.NullMarked;
