/**
 * The catalogue of the rule book: what each rule is for, its parameters, its sentence, and what to
 * do about it.
 */
@NullMarked
package stillwatch.rules.book;

import org.jspecify.annotations.NullMarked;
