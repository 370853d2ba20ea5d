package stillwatch.alerts.people;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.bouncycastle.crypto.generators.Argon2BytesGenerator;
import org.bouncycastle.crypto.params.Argon2Parameters;
import stillwatch.rules.finding.Hashes;

/**
 * Passwords as Argon2id (RFC 9106) with 19 MiB of memory, two passes and one lane (OWASP Password
 * Storage Cheat Sheet; from memory), and random tokens as their SHA-256. Safe from any thread.
 */
final class Secrets {
  private static final int MEMORY_KIB = 19_456;
  private static final int PASSES = 2;
  private static final int LANES = 1;
  private static final int BYTES = 32;
  private static final int WAITING = 4;
  private static final long PATIENCE_S = 2;

  /** Each hash takes a core and 19 MiB; half of the cores are left for the watch. */
  private static final Semaphore PERMITS =
      new Semaphore(Math.max(1, Runtime.getRuntime().availableProcessors() / 2), true);

  private static final SecureRandom RANDOM = new SecureRandom();

  private Secrets() {}

  /** A new token: 43 characters that may stand in a link. */
  static String token() {
    return Base64.getUrlEncoder().withoutPadding().encodeToString(random(BYTES));
  }

  private static byte[] random(int length) {
    byte[] bytes = new byte[length];
    RANDOM.nextBytes(bytes);
    return bytes;
  }

  /** What is kept of a token. */
  static String digest(String token) {
    return Hashes.hex(64, token.getBytes(StandardCharsets.UTF_8));
  }

  /** What is kept of a password: the PHC string of its hash with a new salt. */
  static String hash(String password) {
    byte[] salt = random(16);
    return written(salt, argon2(password, salt, MEMORY_KIB, PASSES, LANES, BYTES));
  }

  private static String written(byte[] salt, byte[] hash) {
    Base64.Encoder base = Base64.getEncoder().withoutPadding();
    return "$argon2id$v=19$m=%d,t=%d,p=%d$%s$%s"
        .formatted(MEMORY_KIB, PASSES, LANES, base.encodeToString(salt), base.encodeToString(hash));
  }

  /** A hash that no password has: checking against it takes as long as against a real one. */
  static String nobodys() {
    return written(random(16), random(BYTES));
  }

  /** Whether a password is the one whose hash was kept. */
  static boolean matches(String password, String kept) {
    String[] part = kept.split("\\$", -1);
    String[] cost = part[3].split("[=,]", -1);
    byte[] salt = Base64.getDecoder().decode(part[4]);
    byte[] hash = Base64.getDecoder().decode(part[5]);
    byte[] now =
        argon2(
            password,
            salt,
            Integer.parseInt(cost[1]),
            Integer.parseInt(cost[3]),
            Integer.parseInt(cost[5]),
            hash.length);
    return MessageDigest.isEqual(hash, now);
  }

  /**
   * The hash, when its turn comes.
   *
   * @throws BusyException when too many wait for theirs
   */
  private static byte[] argon2(
      String password, byte[] salt, int memoryKib, int passes, int lanes, int length) {
    try {
      if (PERMITS.getQueueLength() >= WAITING
          || !PERMITS.tryAcquire(PATIENCE_S, TimeUnit.SECONDS)) {
        throw new BusyException();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new BusyException();
    }
    try {
      Argon2BytesGenerator generator = new Argon2BytesGenerator();
      generator.init(
          new Argon2Parameters.Builder(Argon2Parameters.ARGON2_id)
              .withVersion(Argon2Parameters.ARGON2_VERSION_13)
              .withSalt(salt)
              .withMemoryAsKB(memoryKib)
              .withIterations(passes)
              .withParallelism(lanes)
              .build());
      byte[] out = new byte[length];
      generator.generateBytes(password.getBytes(StandardCharsets.UTF_8), out);
      return out;
    } finally {
      PERMITS.release();
    }
  }
}
