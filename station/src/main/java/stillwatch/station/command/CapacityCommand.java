package stillwatch.station.command;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import stillwatch.rules.capacity.CapacityStudy;
import stillwatch.rules.capacity.Reopening;
import stillwatch.rules.plan.Plan;
import stillwatch.station.option.Format;
import stillwatch.station.option.InputException;
import stillwatch.station.option.PlanOption;
import stillwatch.station.output.CapacityJson;
import stillwatch.station.output.CapacityPicture;
import stillwatch.station.output.CapacityText;
import stillwatch.station.output.Cautions;

/** Whether the flow of a reopened well could be collected. */
@Command(
    name = "capacity",
    mixinStandardHelpOptions = true,
    description =
        "Works out of a plan's reopening whether its vessels and lines could collect the flow: with units or outlets lost, over days of outages and weather, and what limits it.",
    footer = {"", Cautions.TEXT})
public final class CapacityCommand implements Callable<Integer> {
  private static final double MOST_DAYS = 3650;
  private static final int MOST_FUTURES = 1_000_000;

  @Mixin private PlanOption plan = new PlanOption();

  @Option(
      names = "--days",
      paramLabel = "N",
      description = "How many days the capacity is to hold. Default: 14.")
  private double days = 14;

  @Option(
      names = "--futures",
      paramLabel = "N",
      description = "How many random futures to live through. Default: 20000.")
  private int futures = 20_000;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of all chance; the same seed gives the same figures. Default: 1.")
  private int seed = 1;

  @Option(
      names = "--format",
      paramLabel = "FORM",
      description = "text (default) or ndjson: one JSON object a line, flows in m3/d.")
  private Format format = Format.TEXT;

  @Option(
      names = "--picture",
      paramLabel = "FILE.svg",
      description = "Also draws capacity against flow, and the probability that it holds.")
  private @Nullable Path picture;

  @Override
  public Integer call() throws IOException {
    check();
    Plan read = plan.load().plan();
    Reopening reopening =
        read.reopening()
            .orElseThrow(
                () ->
                    new InputException(
                        "the plan has no 'reopening:', so there is no capacity to work out; add outlets, units and expected-flow under it (docs/plan.md)"));
    CapacityStudy study = CapacityStudy.of(reopening, days, futures, seed);
    if (format == Format.NDJSON) {
      CapacityJson.of(reopening, study).forEach(System.out::println);
    } else {
      new CapacityText(read, reopening, study).lines().forEach(System.out::println);
    }
    Path file = picture;
    if (file != null) {
      Files.writeString(file, new CapacityPicture(read, reopening, study).svg());
      System.err.println("drawn: " + file);
    }
    return 0;
  }

  private void check() {
    if (!(days > 0 && days <= MOST_DAYS)) {
      throw new InputException(
          "--days " + days + ": must be above 0 and at most " + (int) MOST_DAYS);
    }
    if (futures < 1 || futures > MOST_FUTURES) {
      throw new InputException("--futures " + futures + ": must be from 1 to " + MOST_FUTURES);
    }
    if (picture != null && !picture.toString().toLowerCase(Locale.ROOT).endsWith(".svg")) {
      throw new InputException(
          "--picture "
              + picture
              + ": the picture is drawn as SVG only; give a name that ends in .svg");
    }
  }
}
