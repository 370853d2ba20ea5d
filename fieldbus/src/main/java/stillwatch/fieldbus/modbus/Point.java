package stillwatch.fieldbus.modbus;

import java.util.OptionalDouble;
import stillwatch.ingest.door.Reading;

/**
 * Where one gauge's value stands and how it is read.
 *
 * @param unitId the unit identifier (0 to 255)
 * @param input whether it stands among the input registers; else among the holding registers
 * @param register the address of its first register, counted from 0
 * @param lowWordFirst whether the register with the number's low end comes first
 * @param lowByteFirst whether the low byte of each register comes first, which the standard forbids
 *     and some devices do
 * @param scale what the number is multiplied by
 * @param offset what is added then
 * @param notAValue the number that says that there is no value
 * @param unit the UCUM code of the scaled value; empty for the gauge's own
 */
record Point(
    String gauge,
    int unitId,
    boolean input,
    int register,
    NumberForm form,
    boolean lowWordFirst,
    boolean lowByteFirst,
    double scale,
    double offset,
    OptionalDouble notAValue,
    String unit) {

  /** The address after its last register. */
  int end() {
    return register + form.registers();
  }

  /**
   * Its reading. A value that is none (NaN, an infinity, the plan's not-a-value) is a bad reading
   * without a value.
   *
   * @param registers of two bytes each, of which its first is the one at {@code from}
   * @param atMs when they were read, ms since 1970 UTC
   */
  Reading reading(byte[] registers, int from, long atMs) {
    double number = form.number(bytes(registers, from));
    double value = number * scale + offset;
    boolean none =
        !Double.isFinite(value) || (notAValue.isPresent() && notAValue.getAsDouble() == number);
    return none
        ? new Reading(gauge, atMs, Double.NaN, "bad", unit)
        : new Reading(gauge, atMs, value, "good", unit);
  }

  /**
   * The registers that say a value, two bytes each; for NaN those that say that there is none, as
   * far as its form can.
   */
  byte[] registers(double value) {
    double number = Double.isNaN(value) ? notAValue.orElse(Double.NaN) : (value - offset) / scale;
    return bytes(form.bytes(number), 0); // what turns registers into a number turns it back
  }

  /** Its bytes, the highest first. */
  private byte[] bytes(byte[] registers, int from) {
    int words = form.registers();
    byte[] bytes = new byte[2 * words];
    for (int i = 0; i < words; i++) {
      int word = from + (lowWordFirst ? words - 1 - i : i);
      bytes[2 * i] = registers[2 * word + (lowByteFirst ? 1 : 0)];
      bytes[2 * i + 1] = registers[2 * word + (lowByteFirst ? 0 : 1)];
    }
    return bytes;
  }

  /** Where it stands, in words. */
  String place() {
    return gauge
        + ", "
        + (input ? "input" : "holding")
        + " register "
        + register
        + " of unit "
        + unitId;
  }
}
