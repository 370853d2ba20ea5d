package stillwatch.ingest.intake;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A file of who may send telemetry: {@code NAME RIGHT DIGEST} a line, where RIGHT is {@code feed}
 * (readings) or {@code operate} (what people did, saw, decided and explained, too) and DIGEST the
 * SHA-256 of the token in hexadecimal digits. Lines that begin with {@code #} are passed over. When
 * the file changes, it is read again; while it cannot be read, nobody in it may send. Safe from any
 * thread.
 */
public final class TokenFile implements Senders {
  private static final Logger LOG = LoggerFactory.getLogger(TokenFile.class);
  private static final String SCHEME = "Bearer ";
  private static final int LONGEST = 300;
  private static final Pattern ENTRY =
      Pattern.compile("(\\S+)\\s+(feed|operate)\\s+([0-9a-fA-F]{64})");

  private final Path file;
  private Map<String, Sender> byDigest;
  private FileTime readAt;

  /** The file cannot be used; the message says why and how to mend it. */
  public static final class TokenFileException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    TokenFileException(String message) {
      super(message);
    }
  }

  /**
   * Reads a file.
   *
   * @throws TokenFileException when it cannot be read, or a line is wrong
   */
  public TokenFile(Path file) {
    this.file = file;
    readAt = changed();
    byDigest = read();
  }

  private FileTime changed() {
    try {
      return Files.getLastModifiedTime(file);
    } catch (IOException e) {
      throw new TokenFileException(file + ": cannot be read; give a file of tokens");
    }
  }

  private Map<String, Sender> read() {
    List<String> lines = lines();
    Map<String, Sender> all = new HashMap<>();
    for (int i = 0; i < lines.size(); i++) {
      String line = lines.get(i).strip();
      if (line.isEmpty() || line.startsWith("#")) {
        continue;
      }
      Matcher entry = ENTRY.matcher(line);
      if (!entry.matches()) {
        throw new TokenFileException(
            "%s:%s: write a name, feed or operate, and the token's SHA-256 in 64 hexadecimal digits"
                .formatted(file, i + 1));
      }
      String digest = entry.group(3).toLowerCase(Locale.ROOT);
      all.put(digest, new Sender(entry.group(1), entry.group(2).equals("operate")));
    }
    return all;
  }

  private List<String> lines() {
    try {
      return Files.readAllLines(file);
    } catch (IOException e) {
      throw new TokenFileException(file + ": cannot be read as UTF-8 text; give a file of tokens");
    }
  }

  @Override
  public Optional<Sender> of(String authorization, String address) {
    return authorization.startsWith(SCHEME) && authorization.length() < LONGEST
        ? Optional.ofNullable(now().get(digest(authorization.substring(SCHEME.length()))))
        : Optional.empty();
  }

  private synchronized Map<String, Sender> now() {
    try {
      FileTime at = changed();
      if (!at.equals(readAt)) {
        readAt = at;
        byDigest = read();
      }
    } catch (TokenFileException e) {
      if (!byDigest.isEmpty()) {
        LOG.error("nobody's token is taken: {}", e.getMessage());
      }
      byDigest = Map.of();
    }
    return byDigest;
  }

  private static String digest(String token) {
    byte[] bytes = token.getBytes(StandardCharsets.UTF_8);
    return HexFormat.of().formatHex(Sha256.digest().digest(bytes));
  }
}
