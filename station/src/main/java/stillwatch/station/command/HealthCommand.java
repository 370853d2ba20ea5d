package stillwatch.station.command;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import stillwatch.station.option.InputException;
import stillwatch.station.output.Cautions;

/** Asks a running process how it is, for those who start processes and have no other client. */
@Command(
    name = "health",
    mixinStandardHelpOptions = true,
    description =
        "Asks a running watch, or one service of it, how it is. Exit 0 when the answer is good, 1 when it is not or none comes.",
    footer = {"", Cautions.TEXT})
public final class HealthCommand implements Callable<Integer> {
  private static final Duration PATIENCE = Duration.ofSeconds(5);
  private static final long AGAIN_S = 1;

  @Option(
      names = "--url",
      paramLabel = "URL",
      description =
          "What to ask. Default: http://127.0.0.1:8480/health. Without /health at its end it asks only whether the process answers, not whether it can see.")
  private URI url = URI.create("http://127.0.0.1:8480/health");

  @Option(
      names = "--within",
      paramLabel = "SECONDS",
      description =
          "Asks again every second until the answer is good, for so many seconds. Default: 0, asks once.")
  private long withinS;

  @Override
  public Integer call() throws InterruptedException {
    if (url.getHost() == null
        || url.getPort() > 65_535
        || !String.valueOf(url.getScheme()).matches("https?")) {
      throw new InputException(
          "--url " + url + ": give a whole address, for example http://127.0.0.1:8480/health");
    }
    HttpClient client = HttpClient.newBuilder().connectTimeout(PATIENCE).build();
    long endNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(withinS);
    Optional<String> fault = fault(client);
    while (fault.isPresent() && System.nanoTime() < endNs) {
      TimeUnit.SECONDS.sleep(AGAIN_S);
      fault = fault(client);
    }
    fault.ifPresent(System.err::println);
    return fault.isPresent() ? 1 : 0;
  }

  /** What is wrong; empty when the answer is good. */
  private Optional<String> fault(HttpClient client) throws InterruptedException {
    try {
      HttpResponse<String> answer =
          client.send(
              HttpRequest.newBuilder(url).timeout(PATIENCE).build(), BodyHandlers.ofString());
      return answer.statusCode() / 100 == 2
          ? Optional.empty()
          : Optional.of(
              url
                  + " answers "
                  + answer.statusCode()
                  + ": "
                  + answer.body().lines().findFirst().orElse("nothing more"));
    } catch (IOException e) {
      String why = e.getMessage();
      return Optional.of(url + " does not answer" + (why == null ? "" : ": " + why));
    }
  }
}
