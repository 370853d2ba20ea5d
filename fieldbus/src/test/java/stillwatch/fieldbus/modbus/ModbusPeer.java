package stillwatch.fieldbus.modbus;

import com.digitalpetri.modbus.ExceptionCode;
import com.digitalpetri.modbus.FunctionCode;
import com.digitalpetri.modbus.exceptions.ModbusResponseException;
import com.digitalpetri.modbus.exceptions.UnknownUnitIdException;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadHoldingRegistersResponse;
import com.digitalpetri.modbus.pdu.ReadInputRegistersRequest;
import com.digitalpetri.modbus.pdu.ReadInputRegistersResponse;
import com.digitalpetri.modbus.server.ModbusRequestContext;
import com.digitalpetri.modbus.server.ModbusServices;
import com.digitalpetri.modbus.server.ModbusTcpServer;
import com.digitalpetri.modbus.tcp.server.NettyTcpServerTransport;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Semaphore;
import java.util.concurrent.atomic.AtomicInteger;

/** A Modbus TCP server on this machine, of the library's own making, with units 1 and 2. */
public final class ModbusPeer implements AutoCloseable {
  private final Map<String, byte[]> tables = new ConcurrentHashMap<>();
  private final AtomicInteger reads = new AtomicInteger();
  private final ModbusTcpServer server;

  /** What was asked for, in order: table, unit, first register and count. */
  final List<String> asked = new CopyOnWriteArrayList<>();

  /** The register that it does not allow; none where -1. */
  volatile int forbidden = -1;

  private volatile boolean counting;

  /** Of the unit that is slow: an answer takes a permit. */
  final Semaphore slow = new Semaphore(0);

  volatile int slowUnit = -1;

  private ModbusPeer(int port) throws Exception {
    server =
        ModbusTcpServer.create(
            NettyTcpServerTransport.create(c -> c.setBindAddress("127.0.0.1").setPort(port)),
            services());
    server.start();
  }

  /** Starts one. */
  public static ModbusPeer listening(int port) throws Exception {
    return new ModbusPeer(port);
  }

  /** From now on the first holding register of unit 1 counts the times that it was read. */
  public ModbusPeer counting() {
    counting = true;
    return this;
  }

  /** Sets registers from this one on, as hexadecimal digits, four a register. */
  ModbusPeer holds(String table, int unit, int register, String hex) {
    byte[] bytes = HexFormat.of().parseHex(hex.replace(" ", ""));
    System.arraycopy(bytes, 0, table(table, unit), 2 * register, bytes.length);
    return this;
  }

  ModbusPeer holds(int register, String hex) {
    return holds("holding", 1, register, hex);
  }

  private byte[] table(String table, int unit) {
    return tables.computeIfAbsent(table + unit, t -> new byte[2 * 65_536]);
  }

  private byte[] read(String table, int unit, int from, int count, FunctionCode code)
      throws ModbusResponseException, UnknownUnitIdException {
    asked.add(table + " " + unit + " " + from + " " + count);
    if (unit != 1 && unit != 2) {
      throw new UnknownUnitIdException(unit);
    }
    if (unit == slowUnit) {
      slow.acquireUninterruptibly();
    }
    if (from <= forbidden && forbidden < from + count) {
      throw new ModbusResponseException(code, ExceptionCode.ILLEGAL_DATA_ADDRESS);
    }
    if (counting) {
      int next = reads.incrementAndGet();
      table(table, unit)[0] = (byte) (next >>> 8);
      table(table, unit)[1] = (byte) next;
    }
    return Arrays.copyOfRange(table(table, unit), 2 * from, 2 * (from + count));
  }

  private ModbusServices services() {
    return new ModbusServices() {
      @Override
      public ReadHoldingRegistersResponse readHoldingRegisters(
          ModbusRequestContext context, int unit, ReadHoldingRegistersRequest request)
          throws ModbusResponseException, UnknownUnitIdException {
        return new ReadHoldingRegistersResponse(
            read(
                "holding",
                unit,
                request.address(),
                request.quantity(),
                FunctionCode.READ_HOLDING_REGISTERS));
      }

      @Override
      public ReadInputRegistersResponse readInputRegisters(
          ModbusRequestContext context, int unit, ReadInputRegistersRequest request)
          throws ModbusResponseException, UnknownUnitIdException {
        return new ReadInputRegistersResponse(
            read(
                "input",
                unit,
                request.address(),
                request.quantity(),
                FunctionCode.READ_INPUT_REGISTERS));
      }
    };
  }

  @Override
  public void close() throws Exception {
    slow.release(1000);
    server.stop();
  }
}
