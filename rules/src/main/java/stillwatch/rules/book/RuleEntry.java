package stillwatch.rules.book;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * One rule's entry in the catalogue: its rationalisation in the sense of ISA-18.2.
 *
 * @param id the rule's id, also the name of its {@code .epl} file
 * @param title a short name for people
 * @param priority how urgent
 * @param about what the rule is about
 * @param parameters its limits and delays
 * @param sentence the sentence it raises, with {@code {column}} slots
 * @param returned the sentence when the condition is over, with slots
 * @param cause what usually brings it about
 * @param consequence what happens when nobody acts
 * @param response what the plan should say to do
 * @param respondWithin the time there is to respond, for people
 * @param fooledBy what can fool it
 * @param sense the sense it lets speak for a leak: pressure, sound, heat, seafloor or a name of its
 *     own; null when it is no evidence of one
 * @param sees labels of recordings that it is meant to raise on, and within how many seconds
 * @param excused labels during which it is not false when it raises
 */
public record RuleEntry(
    String id,
    String title,
    Priority priority,
    About about,
    List<Parameter> parameters,
    String sentence,
    String returned,
    String cause,
    String consequence,
    String response,
    String respondWithin,
    String fooledBy,
    @Nullable String sense,
    Map<String, Double> sees,
    Set<String> excused) {

  /** What a rule is about. */
  public enum About {
    /** The well itself. */
    WELL,
    /** A gauge that cannot be trusted: while it lasts, well rules leave the gauge out. */
    GAUGE,
    /** The watch: feeds, clocks, people. */
    WATCH,
    /** The watch as the desk judges it by its own clock, for when the rules themselves are lost. */
    DESK
  }
}
