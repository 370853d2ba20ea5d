package stillwatch.rules.book;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * One rule's entry in the catalogue: its rationalisation in the sense of ISA-18.2.
 *
 * @param id the rule's id, also the name of its {@code .epl} file
 * @param title a short name for people
 * @param priority how urgent
 * @param meaning what its alarms mean for everybody else
 * @param parameters its limits and delays
 * @param sentence the sentence it raises, with {@code {column}} slots
 * @param returned the sentence when the condition is over, with slots
 * @param cause what usually brings it about
 * @param consequence what happens when nobody acts
 * @param response what the plan should say to do
 * @param respondWithin the time there is to respond, for people
 * @param fooledBy what can fool it
 * @param readings how many readings of a gauge it needs at least to see what it looks for: a
 *     number, the name of the limit that says so, or {@value #SUDDEN} or {@value #SUSTAINED}: as
 *     many as a fall takes to count as that; empty where it is based on no gauge's readings
 * @param sees labels of recordings that it is meant to raise on, and within how many seconds
 * @param excused labels during which it is not false when it raises
 */
public record RuleEntry(
    String id,
    String title,
    Priority priority,
    RuleMeaning meaning,
    List<Parameter> parameters,
    String sentence,
    String returned,
    String cause,
    String consequence,
    String response,
    String respondWithin,
    String fooledBy,
    String readings,
    Map<String, Double> sees,
    Set<String> excused) {
  /** What {@code readings} says of a rule that needs as many as a fall takes to count as sudden. */
  public static final String SUDDEN = "sudden";

  /** The same of a rule that sums up means that are short of what is expected. */
  public static final String SUSTAINED = "sustained";

  /** What a rule is about. */
  public enum About {
    /** The well itself. */
    WELL,
    /** One gauge and what is the matter with it. */
    GAUGE,
    /** Two gauges that should agree. */
    PAIR,
    /** The watch: feeds, clocks, people. */
    WATCH,
    /** The watch as the desk judges it by its own clock, for when the rules themselves are lost. */
    DESK;

    /** The word in a catalogue and in findings. */
    public String wire() {
      return name().toLowerCase(Locale.ROOT);
    }

    /** The meaning of a word; empty when it has none. */
    public static Optional<About> of(String wire) {
      return Arrays.stream(values()).filter(a -> a.wire().equals(wire)).findFirst();
    }
  }

  /** What the rule is about. */
  public About about() {
    return meaning.about();
  }

  /** The sense it lets speak for a leak; null when it is no evidence of one. */
  public @Nullable String sense() {
    return meaning.sense();
  }

  /** Whether the gauge it is about is left out of what reassures while it stands. */
  public boolean excludes() {
    return meaning.excludes();
  }

  /** Ids of the rules whose less urgent alarms it explains while it stands. */
  public List<String> explains() {
    return meaning.explains();
  }
}
