package stillwatch.fieldbus.modbus;

import com.digitalpetri.modbus.server.ModbusTcpServer;
import com.digitalpetri.modbus.server.ProcessImage;
import com.digitalpetri.modbus.server.ReadOnlyModbusServices;
import com.digitalpetri.modbus.tcp.server.NettyTcpServerTransport;
import java.io.IOException;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import stillwatch.ingest.door.StandIn;
import stillwatch.ingest.telemetry.Quality;

/**
 * A Modbus TCP server with the registers that a plan names. As a device does, it holds what a gauge
 * said last until the gauge says something else; what is not good is held as no value, for Modbus
 * knows no quality.
 */
final class ModbusStandIn implements StandIn {
  private static final Logger LOG = LoggerFactory.getLogger(ModbusStandIn.class);

  private final Map<String, Point> points = new HashMap<>();
  private final Map<Integer, ProcessImage> units = new HashMap<>();
  private final ModbusTcpServer server;

  private ModbusStandIn(ModbusPlan plan) {
    for (Point p : plan.points()) {
      points.put(p.gauge(), p);
      units.putIfAbsent(p.unitId(), new ProcessImage());
      hold(p, Double.NaN);
    }
    server =
        ModbusTcpServer.create(
            NettyTcpServerTransport.create(c -> c.setBindAddress(plan.host()).setPort(plan.port())),
            new ReadOnlyModbusServices() {
              @Override
              protected Optional<ProcessImage> getProcessImage(int unitId) {
                return Optional.ofNullable(units.get(unitId));
              }
            });
  }

  /**
   * Opens one.
   *
   * @throws IOException when it cannot listen, in a sentence
   */
  static ModbusStandIn open(ModbusPlan plan) throws IOException {
    ModbusStandIn made = new ModbusStandIn(plan);
    try {
      made.server.start();
      return made;
    } catch (ExecutionException e) {
      throw new IOException(
          "nothing can listen at %s (%s); end what does, or give 'server' another port"
              .formatted(plan.server(), e.getCause() == null ? e : e.getCause().getMessage()),
          e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted while " + plan.server() + " was opened", e);
    }
  }

  @Override
  public Optional<String> unit(String gauge) {
    return Optional.ofNullable(points.get(gauge)).map(Point::unit);
  }

  @Override
  public void says(String gauge, double value, Quality quality) {
    Point p = points.get(gauge);
    if (p != null) {
      hold(p, quality == Quality.GOOD ? value : Double.NaN);
    }
  }

  private void hold(Point p, double value) {
    byte[] bytes = p.registers(value);
    ProcessImage image = units.get(p.unitId());
    if (image == null) {
      return;
    }
    image.with(
        t -> {
          if (p.input()) {
            t.writeInputRegisters(r -> put(r, p.register(), bytes));
          } else {
            t.writeHoldingRegisters(r -> put(r, p.register(), bytes));
          }
        });
  }

  private static void put(Map<Integer, byte[]> registers, int from, byte[] bytes) {
    for (int i = 0; i < bytes.length; i += 2) {
      registers.put(from + i / 2, Arrays.copyOfRange(bytes, i, i + 2));
    }
  }

  @Override
  public void close() {
    try {
      server.stop();
    } catch (ExecutionException e) {
      LOG.warn("the stand-in for Modbus did not end cleanly: {}", e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
