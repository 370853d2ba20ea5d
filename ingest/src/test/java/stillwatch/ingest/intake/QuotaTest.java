package stillwatch.ingest.intake;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class QuotaTest {
  private static final int EACH =
      1024 * 1024 / 4 - 200; // with 200 bytes beside: four fill a source

  private final AtomicLong nowNs = new AtomicLong();
  private final Quota quota = new Quota(nowNs::get);

  private int kept(String source, int sent) {
    int kept = 0;
    for (int i = 0; i < sent; i++) {
      kept += quota.keeps(source, EACH) ? 1 : 0;
    }
    return kept;
  }

  @Test
  void oneSourceFillsItsShareAndAllTogetherTheWhole() {
    assertThat(kept("a", 10)).isEqualTo(4);
    assertThat(kept("b", 2)).as("another is not held to it").isEqualTo(2);
    for (int i = 0; i < 20; i++) {
      kept("c" + i, 4);
    }
    assertThat(kept("d", 1)).as("8 MiB of all").isZero();
    nowNs.addAndGet(60_000_000_000L);
    assertThat(kept("a", 10)).as("a minute later").isEqualTo(4);
  }
}
