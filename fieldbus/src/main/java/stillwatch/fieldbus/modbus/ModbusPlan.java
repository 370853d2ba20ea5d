package stillwatch.fieldbus.modbus;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import stillwatch.ingest.door.Inlet;
import stillwatch.ingest.door.Source;
import stillwatch.ingest.door.SourcePlan;
import stillwatch.ingest.door.StandIn;
import stillwatch.ingest.entrance.Trust;

/**
 * Readings that are polled over Modbus TCP (MODBUS Messaging on TCP/IP Implementation Guide V1.0b).
 *
 * @param every how often all registers are read
 * @param timeout how long an answer is waited for
 * @param points what is read, at least one
 */
record ModbusPlan(String host, int port, Duration every, Duration timeout, List<Point> points)
    implements SourcePlan.Brought {
  @Override
  public List<String> gauges() {
    return points.stream().map(Point::gauge).toList();
  }

  @Override
  public Source source(Inlet inlet, Trust trust) {
    return new ModbusSource(this, inlet);
  }

  @Override
  public Optional<StandIn> standIn() throws IOException {
    return Optional.of(ModbusStandIn.open(this));
  }

  /** Where the other side is, for sentences. */
  String server() {
    return "tcp://" + host + ":" + port;
  }
}
