package stillwatch.rules.survey;

import java.util.List;
import java.util.Optional;
import stillwatch.ingest.telemetry.SurveyItem;

/**
 * The passes over the seabed and what they say together. Immutable.
 *
 * @param closedMs the first closure step of the test, source's time; empty while none is logged
 * @param passes the passes, oldest first
 * @param things what was seen, by means, oldest first
 * @param withoutComparison by means, the passes that are compared with none
 */
public record Survey(
    Optional<Long> closedMs,
    List<Pass> passes,
    List<Thing> things,
    List<WithoutComparison> withoutComparison) {
  /** What nobody saw before the closing. */
  public List<Thing> fresh() {
    return things.stream().filter(t -> t.state() == Comparison.NEW).toList();
  }

  /** A sentence for each means of which no pass was before the closing. */
  public List<String> comparedWithNone() {
    return withoutComparison.stream()
        .filter(WithoutComparison::none)
        .map(w -> w.why() + ".")
        .toList();
  }

  /**
   * One pass.
   *
   * @param fromMs its first item, ms since 1970 UTC
   * @param toMs its last item
   * @param before whether it was before the closing; empty while no closure step is logged
   * @param seen how many things it saw
   * @param gone how many it found gone
   */
  public record Pass(
      String means,
      String name,
      long fromMs,
      long toMs,
      Optional<Boolean> before,
      int seen,
      int gone) {}

  /**
   * One thing, by one means.
   *
   * @param shape as it was seen last; empty when it was only found gone
   * @param firstMs when anybody saw it first by any means; empty when nobody did
   * @param lastMs when it was seen last by this means
   * @param goneMs when it was found gone; empty while it is not
   * @param state how it compares
   * @param sinceMs when the pass that shows the state first was
   * @param why one sentence without its stop
   */
  public record Thing(
      String means,
      String name,
      Optional<SurveyItem.Shape> shape,
      Optional<Long> firstMs,
      Optional<Long> lastMs,
      Optional<Long> goneMs,
      Comparison state,
      long sinceMs,
      String why) {}

  /**
   * A means of which no pass was before the closing.
   *
   * @param none whether that is so; else it has been so and is no longer
   * @param atMs when its first pass was
   * @param why one sentence without its stop
   */
  public record WithoutComparison(String means, boolean none, long atMs, String why) {}
}
