package stillwatch.ingest.door;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Pattern;
import stillwatch.ingest.intake.Refusal;
import stillwatch.ingest.intake.Refusal.Reason;
import stillwatch.ingest.recording.RecordingLayout.TimeFormat;

/** Makes readings of lines, as the plan says. Safe from any thread. */
final class LineReadings {
  private static final Pattern SENTENCE =
      Pattern.compile("[$!]([^$!*]+)\\*([0-9A-Fa-f]{2})", Pattern.DOTALL);

  private final LinesPlan plan;
  private final Inlet inlet;

  LineReadings(LinesPlan plan, Inlet inlet) {
    this.plan = plan;
    this.inlet = inlet;
  }

  /**
   * Takes a line.
   *
   * @param cameMs when it came, ms since 1970 UTC
   * @return completes when all that it says is kept, the refused part among the rejects
   */
  CompletableFuture<Void> take(TextLines.Line line, long cameMs) {
    List<CompletableFuture<Void>> kept = new ArrayList<>();
    try {
      String text = text(line);
      List<LinesPlan.Said> said =
          plan.readings().stream().filter(s -> s.pattern().matcher(text).find()).toList();
      if (said.isEmpty()) {
        throw new UnreadableException(
            Reason.UNKNOWN_GAUGE, "no pattern of the plan is in " + Messages.brief(text));
      }
      String[] fields = text.split(Pattern.quote(plan.separator()), -1);
      String[] counted = plan.sentences() ? Arrays.copyOfRange(fields, 1, fields.length) : fields;
      for (LinesPlan.Said s : said) {
        kept.add(take(s, counted, cameMs, line));
      }
    } catch (UnreadableException e) {
      kept.add(inlet.refuse(line.text(), e.refusal()));
    }
    return CompletableFuture.allOf(kept.toArray(CompletableFuture[]::new));
  }

  private CompletableFuture<Void> take(
      LinesPlan.Said said, String[] fields, long cameMs, TextLines.Line line) {
    try {
      return inlet.take(
          new Reading(
              said.gauge(),
              said.time() == 0 ? cameMs : timeMs(field(fields, said.time()), said.timeFormat()),
              Messages.number(field(fields, said.value()).getBytes(StandardCharsets.ISO_8859_1)),
              said.quality() == 0 ? "good" : field(fields, said.quality()),
              said.unit()));
    } catch (UnreadableException e) {
      Refusal why = e.refusal();
      return inlet.refuse(line.text(), new Refusal(why.reason(), said.gauge(), why.why()));
    }
  }

  /** What stands between the sign that a sentence begins with and its checksum; a whole line. */
  private String text(TextLines.Line line) throws UnreadableException {
    String text = new String(line.text(), StandardCharsets.ISO_8859_1);
    switch (line.fault()) {
      case TOO_LONG ->
          throw new UnreadableException(
              Reason.TOO_LONG, "a line is longer than " + TextLines.LONGEST + " bytes");
      case BROKEN_OFF ->
          throw new UnreadableException(
              Reason.INCOMPLETE,
              Messages.brief(text) + " is broken off: its line end did not come");
      case NONE -> {}
    }
    if (!plan.sentences()) {
      return text;
    }
    var sentence = SENTENCE.matcher(text);
    if (!sentence.matches()) {
      throw new UnreadableException(
          Reason.INCOMPLETE,
          Messages.brief(text) + " is no sentence from $ or ! to * and two digits of its checksum");
    }
    String sum = checksum(sentence.group(1));
    if (!sum.equals(sentence.group(2).toUpperCase(Locale.ROOT))) {
      throw new UnreadableException(
          Reason.INCOMPLETE,
          "the checksum of " + Messages.brief(text) + " is " + sum + ": it was changed on its way");
    }
    return sentence.group(1);
  }

  /** Exclusive or of all characters, two hexadecimal digits (IEC 61162-1). */
  static String checksum(String text) {
    return "%02X".formatted(text.chars().reduce(0, (a, b) -> a ^ b));
  }

  private static String field(String[] fields, int number) throws UnreadableException {
    if (number > fields.length) {
      throw new UnreadableException(
          Reason.INCOMPLETE, "there is no field " + number + ", for the line has " + fields.length);
    }
    return fields[number - 1].strip();
  }

  private static long timeMs(String text, TimeFormat format) throws UnreadableException {
    try {
      return Messages.within(
          format == TimeFormat.RFC3339
              ? Instant.parse(text).toEpochMilli()
              : new BigDecimal(text)
                  .movePointRight(format == TimeFormat.EPOCH_S ? 3 : 0)
                  .longValue());
    } catch (DateTimeException | ArithmeticException | NumberFormatException e) {
      throw new UnreadableException(
          Reason.BAD_TIME,
          Messages.brief(text)
              + " is no time "
              + format.name().toLowerCase(Locale.ROOT).replace('_', '-')
              + "; correct 'time-format' in the plan, or what is sent");
    }
  }
}
