/**
 * One process of Stillwatch: the command line and the assemblies behind it. The only package that
 * writes to the console.
 */
@NullMarked
package stillwatch.station;

import org.jspecify.annotations.NullMarked;
