/**
 * Units in, base units inside: UCUM codes to the one unit of each {@link
 * stillwatch.ingest.unit.Kind}.
 */
@NullMarked
package stillwatch.ingest.unit;

import org.jspecify.annotations.NullMarked;
