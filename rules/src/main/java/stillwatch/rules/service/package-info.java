/** The watch on the broker's log: partitions in, findings and progress out. */
@NullMarked
package stillwatch.rules.service;

import org.jspecify.annotations.NullMarked;
