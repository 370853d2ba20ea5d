package stillwatch.rules.book;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/** The rules' reference for users is written from the catalogue, so that it cannot drift. */
class RulesDocumentTest {
  private static final Path DOCUMENT = Path.of("../docs/rules.md");

  private static String document() {
    StringBuilder text =
        new StringBuilder(
            """
            # The rules

            Written from the catalogue; do not edit. Every limit is a starting point that a plan may change (docs/plan.md),
            none is a recommendation for your well.

            The priority follows from how bad it is when nobody acts, and from the time there is to respond (the table is our own):

            | when nobody acts | within 5 min | within 30 min | later |
            |---|---|---|---|
            """);
    for (Grade g : Grade.values()) {
      text.append("| ").append(g.name().toLowerCase(Locale.ROOT)).append(" | ");
      text.append(g.within(300).wire()).append(" | ").append(g.within(1800).wire()).append(" | ");
      text.append(g.within(1801).wire()).append(" |\n");
    }
    text.append(
        """

            *Grave*: fluid leaves the well, a barrier fails, or nobody would see it. *Serious*: a leak may be hidden or grow, or a
            decision or a person is missing. *Slight*: the watch sees less, and still sees.
            """);
    for (RuleEntry r : Catalogue.shipped().rules()) {
      text.append("\n## ").append(r.id()).append("\n\n");
      text.append(r.title())
          .append(r.title().endsWith("?") ? " Priority " : ". Priority ")
          .append(r.priority().wire())
          .append(".\n\n");
      text.append("- **Cause:** ").append(r.cause()).append('\n');
      text.append("- **Consequence:** ").append(r.consequence()).append('\n');
      text.append("- **Response:** ").append(r.response()).append('\n');
      text.append("- **Respond within:** ").append(r.respondWithin()).append('\n');
      text.append("- **What fools it:** ").append(r.fooledBy()).append('\n');
      text.append("- **About:** ").append(about(r)).append('\n');
      if (!r.explains().isEmpty()) {
        text.append("- **Explains, as far as less urgent:** ");
        text.append(String.join(", ", r.explains())).append('\n');
      }
      if (r.sense() != null) {
        text.append("- **Speaks for a leak as:** ").append(r.sense()).append('\n');
      }
      r.sees()
          .forEach(
              (label, s) ->
                  text.append("- **Promises:** ")
                      .append(label)
                      .append(" within ")
                      .append(Math.round(s))
                      .append(" s\n"));
      text.append("\n| limit | standard | |\n|---|---|---|\n");
      for (Parameter p : r.parameters()) {
        text.append("| `").append(p.name()).append("` | ").append(standard(p)).append(" | ");
        text.append(p.about()).append(" |\n");
      }
    }
    return text.toString();
  }

  private static String about(RuleEntry r) {
    return (switch (r.about()) {
          case WELL -> "the well";
          case GAUGE -> "a gauge";
          case PAIR -> "two gauges that should agree";
          case WATCH -> "the watch";
          case DESK -> "the watch, as the desk sees it";
        })
        + (r.excludes() ? "; while it stands the gauge is left out of what reassures" : "")
        + (r.meaning().blinds() ? "; while it stands the watch does not see all" : "");
  }

  private static String standard(Parameter p) {
    String number =
        new BigDecimal(Double.toString(p.standard())).stripTrailingZeros().toPlainString();
    return p.dimension().baseUnit().equals("1") ? number : number + " " + p.dimension().baseUnit();
  }

  @Test
  void theDocumentSaysWhatTheCatalogueSays() throws IOException {
    if (Boolean.getBoolean("stillwatch.write")) {
      Files.writeString(DOCUMENT, document());
    }
    assertThat(Files.readString(DOCUMENT).equals(document()))
        .as(
            "docs/rules.md says what the catalogue says; write it again: mvn -pl rules -am test "
                + "-Dtest=RulesDocumentTest -Dstillwatch.write=true -Dsurefire.failIfNoSpecifiedTests=false")
        .isTrue();
  }
}
