package stillwatch.rules.plan;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.finding.Hashes;

/** Reads plans. Every mistake in a file is told at once, each with its line and column. */
public final class PlanLoader {
  private PlanLoader() {}

  /**
   * Reads a plan.
   *
   * @param catalogue the rules a plan may speak of
   * @throws PlanException when the file cannot be used, with every mistake found
   */
  public static Plan load(Path file, Catalogue catalogue) {
    byte[] bytes = bytes(file);
    List<PlanFault> faults = new ArrayList<>();
    YamlTree tree = new YamlTree(text(file, bytes), faults);
    if (faults.isEmpty()) {
      new PlanSchema().check(tree);
    }
    Plan plan =
        faults.stream()
                .anyMatch(f -> f.message().contains("YAML") || f.message().contains("empty;"))
            ? null
            : new PlanBinder(tree, catalogue).bind(Hashes.hex(12, bytes));
    if (!faults.isEmpty() || plan == null) {
      throw new PlanException(file, faults);
    }
    return plan;
  }

  private static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (NoSuchFileException e) {
      throw fault(file, "there is no such file; give the path of a plan with --plan");
    } catch (IOException e) {
      throw fault(file, "cannot be read: " + e.getMessage());
    }
  }

  private static String text(Path file, byte[] bytes) {
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      if (text.indexOf('\0') < 0) {
        return text;
      }
    } catch (CharacterCodingException e) {
      throw fault(file, "is no UTF-8 text; a plan is a YAML file");
    }
    throw fault(file, "is a binary file; a plan is a YAML file");
  }

  private static PlanException fault(Path file, String message) {
    return new PlanException(file, List.of(new PlanFault(1, 1, message)));
  }
}
