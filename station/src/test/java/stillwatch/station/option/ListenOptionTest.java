package stillwatch.station.option;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import picocli.CommandLine;

class ListenOptionTest {
  @Test
  void theAddressSaidIsTheOneListenedOn() {
    ListenOption six = CommandLine.populateCommand(new ListenOption(), "--bind", "::1");
    ListenOption every = CommandLine.populateCommand(new ListenOption(), "--bind", "0.0.0.0");
    assertEquals("http://[0:0:0:0:0:0:0:1]:8480/", six.url(8480));
    assertEquals("http://127.0.0.1:9000/", every.url(9000));
  }
}
