/** How often the well model's explanations are right, on simulated wells. */
@NullMarked
package stillwatch.bench.diagnosis;

import org.jspecify.annotations.NullMarked;
