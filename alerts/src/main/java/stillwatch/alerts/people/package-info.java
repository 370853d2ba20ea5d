/** Who may look, operate and administer; how they prove it. */
@NullMarked
package stillwatch.alerts.people;

import org.jspecify.annotations.NullMarked;
