/**
 * What commands write: findings as text, the folder and the page of a replay ({@link
 * stillwatch.station.output.ReplayFolder}), the picture of the bands, and the cautions under
 * everything that people read.
 */
@NullMarked
package stillwatch.station.output;

import org.jspecify.annotations.NullMarked;
