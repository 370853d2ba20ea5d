package stillwatch.fieldbus.modbus;

import com.digitalpetri.modbus.client.ModbusTcpClient;
import com.digitalpetri.modbus.exceptions.ModbusExecutionException;
import com.digitalpetri.modbus.exceptions.ModbusResponseException;
import com.digitalpetri.modbus.exceptions.ModbusTimeoutException;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadInputRegistersRequest;
import com.digitalpetri.modbus.tcp.client.NettyTcpClientTransport;
import java.io.IOException;

/** One connection to who answers for the registers. For one thread. */
final class Device implements AutoCloseable {
  private final ModbusPlan plan;
  private final ModbusTcpClient client;

  /** Why registers were not read, though the connection may be sound. */
  static final class NotReadException extends Exception {
    private static final long serialVersionUID = 1L;
    private final boolean answered;

    NotReadException(String why, boolean answered) {
      super(why);
      this.answered = answered;
    }

    /** Whether the other side answered at all. */
    boolean answered() {
      return answered;
    }
  }

  private Device(ModbusPlan plan, ModbusTcpClient client) {
    this.plan = plan;
    this.client = client;
  }

  /**
   * Connects.
   *
   * @throws IOException when nobody takes the connection, in a sentence
   */
  static Device open(ModbusPlan plan) throws IOException {
    Device device =
        new Device(
            plan,
            ModbusTcpClient.create(
                NettyTcpClientTransport.create(
                    c ->
                        c.setHostname(plan.host())
                            .setPort(plan.port())
                            .setConnectTimeout(plan.timeout())
                            .setConnectPersistent(false)
                            .setReconnectLazy(true)),
                c -> c.setRequestTimeout(plan.timeout())));
    try {
      device.client.connect();
      return device;
    } catch (ModbusExecutionException e) {
      device.close();
      throw new IOException(
          "nobody takes a connection at "
              + plan.server()
              + "; correct 'server', or start the device",
          e);
    }
  }

  /**
   * The bytes of the block's registers, two a register.
   *
   * @throws NotReadException when it does not say them
   * @throws IOException when the connection is lost, in a sentence
   */
  byte[] read(Block block) throws NotReadException, IOException {
    if (!client.isConnected()) {
      throw lost();
    }
    try {
      byte[] registers =
          block.input()
              ? client
                  .readInputRegisters(
                      block.unitId(), new ReadInputRegistersRequest(block.first(), block.size()))
                  .registers()
              : client
                  .readHoldingRegisters(
                      block.unitId(), new ReadHoldingRegistersRequest(block.first(), block.size()))
                  .registers();
      if (registers.length != 2 * block.size()) {
        throw new NotReadException(
            "the device answers %d bytes for %d registers; look at the device"
                .formatted(registers.length, block.size()),
            true);
      }
      return registers;
    } catch (ModbusResponseException e) {
      throw new NotReadException(ModbusFault.of(e.getExceptionCode()), true);
    } catch (ModbusTimeoutException e) {
      throw new NotReadException(
          "no answer within " + plan.timeout().toMillis() + " ms; correct 'unit-id' or 'timeout'",
          false);
    } catch (ModbusExecutionException e) {
      throw lost();
    }
  }

  private IOException lost() {
    return new IOException("the connection to " + plan.server() + " is lost");
  }

  @Override
  public void close() {
    var unused = client.disconnectAsync();
  }
}
