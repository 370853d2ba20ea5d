package stillwatch.ingest.entrance;

import com.fasterxml.jackson.core.StreamReadConstraints;
import java.time.Duration;

/**
 * What whoever comes by HTTP is held to. The figures are common practice, with no source: wide for
 * people and adapters, narrow for who means harm.
 *
 * @param head the time for the head of a request, from its first byte
 * @param body the time for its body
 * @param idle the time a connection may say nothing between requests
 * @param connections open at once, from everybody
 * @param fromOneAddress open at once, from one address
 * @param working requests worked at once; who asks for the health is not counted
 * @param headBytes bytes of a head
 * @param bodyBytes bytes of a body of telemetry
 * @param askedBytes bytes of every other body
 * @param bodiesBytes bytes of all bodies held at once
 * @param lineBytes bytes of a line of telemetry
 * @param nesting objects and arrays within each other
 * @param textChars characters of a text
 */
public record Limits(
    Duration head,
    Duration body,
    Duration idle,
    int connections,
    int fromOneAddress,
    int working,
    int headBytes,
    int bodyBytes,
    int askedBytes,
    long bodiesBytes,
    int lineBytes,
    int nesting,
    int textChars) {
  private static final int KIB = 1024;
  private static final int NAME_CHARS = 200;
  private static final int NUMBER_CHARS = 100;

  /** What every door keeps to. */
  public static final Limits USUAL =
      new Limits(
          Duration.ofSeconds(10),
          Duration.ofSeconds(60),
          Duration.ofSeconds(30),
          512,
          256,
          48,
          16 * KIB,
          8 * KIB * KIB,
          64 * KIB,
          32L * KIB * KIB,
          256 * KIB,
          8,
          5000);

  /** These limits with other times for head and body. */
  public Limits within(Duration otherHead, Duration otherBody) {
    return new Limits(
        otherHead,
        otherBody,
        idle,
        connections,
        fromOneAddress,
        working,
        headBytes,
        bodyBytes,
        askedBytes,
        bodiesBytes,
        lineBytes,
        nesting,
        textChars);
  }

  /** What a reader of JSON keeps to. */
  public StreamReadConstraints json() {
    return StreamReadConstraints.builder()
        .maxNestingDepth(nesting)
        .maxStringLength(textChars)
        .maxNameLength(NAME_CHARS)
        .maxNumberLength(NUMBER_CHARS)
        .build();
  }
}
