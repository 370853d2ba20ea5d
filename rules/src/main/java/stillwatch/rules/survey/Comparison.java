package stillwatch.rules.survey;

import java.util.Locale;

/** How a thing on the seabed compares with what was seen before the closing. */
public enum Comparison {
  /** Seen since the closing, and by nobody before it. */
  NEW("NEW since the closing"),
  /** Larger than before the closing, by more than the uncertainties of both sizes. */
  GROWN("GROWN since before the closing"),
  /** Smaller, by more than the uncertainties. */
  SMALLER("smaller than before the closing"),
  /** Of the same size within the uncertainties. */
  UNCHANGED("unchanged"),
  /** Seen before and since, and one size or both are not measured by the same means. */
  SIZE_UNKNOWN("seen again, sizes not compared"),
  /** A pass looked where it was, and it is there no more. */
  GONE("gone"),
  /** Seen before the closing; no pass by the same means since has looked for it. */
  NOT_LOOKED("not looked for again"),
  /** Seen by the first pass of its means, which came after the closing. */
  NONE_BEFORE("no comparison: no pass before the closing"),
  /** No closure step is logged. */
  NO_CLOSING("seen before any closing");

  private final String words;

  Comparison(String words) {
    this.words = words;
  }

  /** For people. */
  public String words() {
    return words;
  }

  /** The name in rules and on the page, for example {@code not-looked}. */
  public String wire() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
