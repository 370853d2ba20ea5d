package stillwatch.fieldbus.modbus;

/** What an exception response means, in words. */
final class ModbusFault {
  private ModbusFault() {}

  /**
   * What the device says, and how to mend it.
   *
   * @param code MODBUS Application Protocol Specification V1.1b3, section 7
   */
  static String of(int code) {
    return switch (code) {
      case 1 -> said(code, "illegal function", "correct 'table' in the plan");
      case 2 -> said(code, "illegal data address", "correct 'register', 'table' or 'type'");
      case 3 -> said(code, "illegal data value", "correct 'register' or 'type' in the plan");
      case 4 -> said(code, "server device failure", "look at the device");
      case 6 -> said(code, "server device busy", "have fewer ask it, or poll less often");
      case 8 -> said(code, "memory parity error", "look at the device");
      case 10 -> said(code, "gateway path unavailable", "correct 'unit-id', or set the gateway up");
      case 11 ->
          said(
              code,
              "gateway target device failed to respond",
              "correct 'unit-id', or look at the device behind the gateway");
      default -> said(code, "no reason that the standard knows", "look into the device's manual");
    };
  }

  private static String said(int code, String what, String mend) {
    return "the device answers " + what + " (exception code " + code + "); " + mend;
  }
}
