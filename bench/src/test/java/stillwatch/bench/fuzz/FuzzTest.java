package stillwatch.bench.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A few mutants of a fixed seed; more of them by {@code bench/fuzz}. */
class FuzzTest {
  private static final long SEED = 1;
  private static final int TIMES = 3_000;

  @TempDir Path folder;

  @Test
  void whateverIsReadFromOutsideIsTakenOrRefusedInItsOwnWords() throws Exception {
    assertThat(FuzzBench.run(SEED, TIMES, folder)).isEmpty();
  }
}
