package stillwatch.bench.fuzz;

import java.io.ByteArrayOutputStream;
import java.util.Random;

/** Changes bytes by seed. */
final class Mutation {
  private static final int MOST = 4;
  private static final int LONGEST_PIECE = 40;

  private Mutation() {}

  /** The bytes with up to four pieces changed, taken out, doubled, put in or moved. */
  static byte[] of(byte[] given, Random random) {
    byte[] bytes = given;
    for (int n = 1 + random.nextInt(MOST); n > 0 && bytes.length > 1; n--) {
      int at = random.nextInt(bytes.length);
      int end = Math.min(bytes.length, at + 1 + random.nextInt(LONGEST_PIECE));
      ByteArrayOutputStream made = new ByteArrayOutputStream(bytes.length + LONGEST_PIECE);
      made.write(bytes, 0, at);
      switch (random.nextInt(5)) {
        case 0 -> {
          made.write(random.nextInt(256));
          made.write(bytes, at + 1, bytes.length - at - 1);
        }
        case 1 -> made.write(bytes, end, bytes.length - end);
        case 2 -> {
          made.write(bytes, at, end - at);
          made.write(bytes, at, bytes.length - at);
        }
        case 3 -> {
          made.write(random.nextInt(256));
          made.write(bytes, at, bytes.length - at);
        }
        default -> {
          int from = random.nextInt(bytes.length);
          made.write(bytes, from, Math.min(LONGEST_PIECE, bytes.length - from));
          made.write(bytes, at, bytes.length - at);
        }
      }
      bytes = made.toByteArray();
    }
    return bytes;
  }
}
