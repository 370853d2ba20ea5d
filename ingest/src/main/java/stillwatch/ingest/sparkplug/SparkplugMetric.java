package stillwatch.ingest.sparkplug;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.zip.DataFormatException;

/**
 * One metric of a payload (Eclipse Sparkplug 3.0, 6.4.6).
 *
 * @param name empty where it is known by its alias alone
 * @param atMs when it was so, ms since 1970 UTC
 * @param datatype its number (6.4.16); 0 where it is not said
 * @param none it says that it has no value
 * @param field which field of the message its value was in, and so how the bits are read
 * @param bits the value
 * @param quality its property Quality, where it has one
 */
public record SparkplugMetric(
    String name,
    OptionalLong alias,
    OptionalLong atMs,
    int datatype,
    boolean none,
    int field,
    long bits,
    OptionalInt quality) {
  private static final int INT_VALUE = 10;
  private static final int LONG_VALUE = 11;
  private static final int FLOAT_VALUE = 12;
  private static final int DOUBLE_VALUE = 13;
  private static final int LAST_VALUE = 19;

  private static final int INT8 = 1;
  private static final int INT16 = 2;
  private static final int INT32 = 3;
  private static final int INT64 = 4;
  private static final int UINT64 = 8;

  static SparkplugMetric of(ProtoFields in) throws DataFormatException {
    String name = "";
    OptionalLong alias = OptionalLong.empty();
    OptionalLong atMs = OptionalLong.empty();
    int datatype = 0;
    boolean none = false;
    int field = 0;
    long bits = 0;
    OptionalInt quality = OptionalInt.empty();
    while (in.next()) {
      switch (in.field()) {
        case 1 -> name = in.text();
        case 2 -> alias = OptionalLong.of(in.number());
        case 3 -> atMs = OptionalLong.of(in.number());
        case 4 -> datatype = (int) in.number();
        case 7 -> none = in.number() != 0;
        case 9 -> quality = quality(in.message());
        default -> {
          if (in.field() >= INT_VALUE && in.field() <= LAST_VALUE) {
            field = in.field();
            bits = in.number();
          }
        }
      }
    }
    return new SparkplugMetric(name, alias, atMs, datatype, none, field, bits, quality);
  }

  /** The property Quality of a property set: keys and values, side by side. */
  private static OptionalInt quality(ProtoFields in) throws DataFormatException {
    List<String> keys = new ArrayList<>();
    List<OptionalInt> values = new ArrayList<>();
    while (in.next()) {
      if (in.field() == 1) {
        keys.add(in.text());
      } else if (in.field() == 2) {
        values.add(whole(in.message()));
      }
    }
    int at = keys.indexOf("Quality");
    return at >= 0 && at < values.size() ? values.get(at) : OptionalInt.empty();
  }

  private static OptionalInt whole(ProtoFields value) throws DataFormatException {
    OptionalInt found = OptionalInt.empty();
    while (value.next()) {
      if (value.field() == 3 || value.field() == 4) {
        found = OptionalInt.of((int) value.number());
      }
    }
    return found;
  }

  /**
   * Its value where that is a number.
   *
   * @param born the datatype that its birth said, for where it does not say it again
   */
  public OptionalDouble number(int born) {
    int type = datatype == 0 ? born : datatype;
    return switch (field) {
      case INT_VALUE, LONG_VALUE -> OptionalDouble.of(whole(type));
      case FLOAT_VALUE -> OptionalDouble.of(Float.intBitsToFloat((int) bits));
      case DOUBLE_VALUE -> OptionalDouble.of(Double.longBitsToDouble(bits));
      default -> OptionalDouble.empty();
    };
  }

  private double whole(int type) {
    return switch (type) {
      case INT8 -> (byte) bits;
      case INT16 -> (short) bits;
      case INT32 -> (int) bits;
      case INT64 -> bits;
      case UINT64 -> bits < 0 ? (bits >>> 1) * 2.0 : bits;
      default -> field == INT_VALUE ? bits & 0xffff_ffffL : bits;
    };
  }
}
