package stillwatch.bench.dangers;

import java.util.List;

/**
 * A danger, or a noise that is none.
 *
 * @param name its name in the table
 * @param sentence what it stands for
 * @param periods at which periods it makes sense, seconds
 * @param script writes a scene of it and says what must be true of the story
 */
record Case(String name, String sentence, List<Integer> periods, Script script) {
  static final List<Integer> ALL = List.of(1, 10, 60, 300);
  static final List<Integer> FAST = List.of(1, 10);

  /** Writes a scene. */
  @FunctionalInterface
  interface Script {
    /** Adds to the scene and says what must be true. */
    List<Claim> write(Scene scene);
  }

  Case(String name, String sentence, Script script) {
    this(name, sentence, ALL, script);
  }
}
