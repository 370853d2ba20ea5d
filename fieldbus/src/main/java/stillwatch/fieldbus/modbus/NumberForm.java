package stillwatch.fieldbus.modbus;

import java.nio.ByteBuffer;
import java.util.Locale;

/** How a number stands in registers of 16 bits. */
enum NumberForm {
  INT16(1),
  UINT16(1),
  INT32(2),
  UINT32(2),
  /** IEEE 754 binary32. */
  FLOAT32(2),
  /** IEEE 754 binary64. */
  FLOAT64(4);

  private final int registers;

  NumberForm(int registers) {
    this.registers = registers;
  }

  /** The name in plans, for example {@code float32}. */
  String wire() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The form with this name; the name must be one. */
  static NumberForm of(String wire) {
    return valueOf(wire.toUpperCase(Locale.ROOT));
  }

  /** How many registers it takes. */
  int registers() {
    return registers;
  }

  /** The number whose bytes stand here, the highest first. */
  double number(byte[] bytes) {
    ByteBuffer in = ByteBuffer.wrap(bytes);
    return switch (this) {
      case INT16 -> in.getShort();
      case UINT16 -> Short.toUnsignedInt(in.getShort());
      case INT32 -> in.getInt();
      case UINT32 -> Integer.toUnsignedLong(in.getInt());
      case FLOAT32 -> in.getFloat();
      case FLOAT64 -> in.getDouble();
    };
  }

  /** The bytes of a number, the highest first; of a whole one those of the nearest. */
  byte[] bytes(double number) {
    ByteBuffer out = ByteBuffer.allocate(2 * registers);
    var unused =
        switch (this) {
          case INT16, UINT16 -> out.putShort((short) Math.round(number));
          case INT32, UINT32 -> out.putInt((int) Math.round(number));
          case FLOAT32 -> out.putFloat((float) number);
          case FLOAT64 -> out.putDouble(number);
        };
    return out.array();
  }
}
