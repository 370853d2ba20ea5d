/**
 * The plan of a test, one YAML file a well: read, checked against its schema, every mistake told at
 * once.
 */
@NullMarked
package stillwatch.rules.plan;

import org.jspecify.annotations.NullMarked;
