package stillwatch.bench.dangers;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import stillwatch.rules.engine.RuleBook;

/**
 * Every way in which a leak hides or a watch cries wolf, once, on carriers that share no physics
 * with the rules: closed forms of the pressure with the change laid over them. The whole matrix of
 * sizes, periods and seeds is {@code bench/detection --dangers}.
 */
class DangersTest {
  private static final int PERIOD_S = 10;
  private static final int MIDDLE = 1;

  @Test
  void everyDangerComesOutRight() throws Exception {
    RuleBook book = RuleBook.shipped();
    ExecutorService threads = Executors.newFixedThreadPool(2);
    Map<Case, Future<Outcome>> running = new LinkedHashMap<>();
    for (Case danger : Dangers.cases()) {
      running.put(danger, threads.submit(() -> Outcome.of(danger, PERIOD_S, MIDDLE, 0, book)));
    }
    Map<String, String> wrong = new LinkedHashMap<>();
    for (Map.Entry<Case, Future<Outcome>> run : running.entrySet()) {
      Outcome outcome = run.getValue().get();
      if (!outcome.right()) {
        Case danger = run.getKey();
        wrong.put(
            danger.name() + ": " + danger.sentence(),
            "not kept: " + outcome.broken() + "; said: " + outcome.raised());
      }
    }
    threads.shutdown();
    assertThat(wrong).isEmpty();
    assertThat(running).hasSizeGreaterThan(100);
  }
}
