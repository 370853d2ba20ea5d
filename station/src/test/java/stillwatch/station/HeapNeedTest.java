package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import stillwatch.alerts.series.WellPicture;
import stillwatch.station.option.InputException;
import stillwatch.station.run.HeapNeed;

class HeapNeedTest {
  private static void check(int gauges, long megabytes) {
    HeapNeed.check(gauges, WellPicture.trailBytes(gauges), megabytes << 20);
  }

  @Test
  void fewGaugesDoWithLittleAndManyAreToldWhatTheyNeed() {
    assertThatCode(() -> check(7, 128)).doesNotThrowAnyException();
    assertThatCode(() -> check(1000, 240)).doesNotThrowAnyException(); // as -Xmx256m gives
    assertThatCode(() -> check(10_000, 1000)).doesNotThrowAnyException();
    assertThatThrownBy(() -> check(10_000, 247))
        .isInstanceOf(InputException.class)
        .hasMessageContaining("10000 gauges")
        .hasMessageContaining("247 MB")
        .hasMessageContaining("-Xmx768m");
  }
}
