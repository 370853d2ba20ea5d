/**
 * How soon and how surely the rules see simulated leaks, and how often they cry wolf. Start at
 * {@link stillwatch.bench.detection.Detection}.
 */
@NullMarked
package stillwatch.bench.detection;

import org.jspecify.annotations.NullMarked;
