package stillwatch.rules.engine;

import com.espertech.esper.common.client.EPCompiled;
import com.espertech.esper.common.client.module.ParseException;
import com.espertech.esper.compiler.client.CompilerArguments;
import com.espertech.esper.compiler.client.EPCompileException;
import com.espertech.esper.compiler.client.EPCompileExceptionItem;
import com.espertech.esper.compiler.client.EPCompiler;
import com.espertech.esper.compiler.client.EPCompilerProvider;
import com.espertech.esper.compiler.client.util.EPCompiledIOUtil;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import stillwatch.rules.book.Catalogue;
import stillwatch.rules.book.CatalogueException;
import stillwatch.rules.book.RuleEntry;

/**
 * Turns a rule's text into what a runtime deploys. The build calls {@link #main} once for the
 * shipped book.
 */
public final class RuleCompiler {
  private static final Pattern LINE = Pattern.compile("at line ([0-9]+)");
  private static final LocalDateTime EPOCH_OF_ZIP = LocalDateTime.of(1980, 1, 1, 0, 0);

  private RuleCompiler() {}

  /**
   * Compiles the shipped rule book.
   *
   * @param args the folder with the {@code .epl} files and the catalogue; the folder to write to
   */
  public static void main(String[] args) throws IOException {
    Path from = Path.of(args[0]);
    Path to = Path.of(args[1]);
    Files.createDirectories(to);
    Catalogue catalogue;
    try (var in = Files.newInputStream(from.resolve("catalogue.yaml"))) {
      catalogue = Catalogue.read(in, "catalogue.yaml");
    }
    for (RuleEntry entry : catalogue.ofTheEngine()) {
      Path file = from.resolve(entry.id() + ".epl");
      EPCompiled compiled = compile(entry, Files.readString(file), file.toString());
      Path jar = to.resolve(entry.id() + ".jar");
      EPCompiledIOUtil.write(compiled, jar.toFile());
      sameBytesAlways(jar);
    }
    Files.writeString(to.resolve("schema.txt"), EsperSetup.schema(), StandardCharsets.UTF_8);
  }

  /** Writes a jar again with its entries in order and without the moment of its making. */
  private static void sameBytesAlways(Path jar) throws IOException {
    Map<String, byte[]> entries = new TreeMap<>();
    try (JarFile in = new JarFile(jar.toFile())) {
      for (JarEntry e : Collections.list(in.entries())) {
        entries.put(e.getName(), in.getInputStream(e).readAllBytes());
      }
    }
    try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(jar))) {
      for (Map.Entry<String, byte[]> e : entries.entrySet()) {
        ZipEntry entry = new ZipEntry(e.getKey());
        entry.setTimeLocal(EPOCH_OF_ZIP);
        out.putNextEntry(entry);
        out.write(e.getValue());
        out.closeEntry();
      }
    }
  }

  /**
   * Compiles one rule.
   *
   * @param file the file's name for messages
   * @throws CatalogueException when the text is no EPL, with file, line and reason
   */
  static EPCompiled compile(RuleEntry entry, String text, String file) {
    CompilerArguments arguments = new CompilerArguments(EsperSetup.configuration());
    arguments.getOptions().setModuleName(c -> entry.id());
    EPCompiler compiler = EPCompilerProvider.getCompiler();
    try {
      return compiler.compile(
          QuietRows.leftOut(compiler.parseModule(text), compiler, arguments.getConfiguration()),
          arguments);
    } catch (EPCompileException | IOException | ParseException e) {
      return asWritten(text, file, compiler, arguments); // whose mistakes have their own lines
    }
  }

  private static EPCompiled asWritten(
      String text, String file, EPCompiler compiler, CompilerArguments arguments) {
    try {
      return compiler.compile(text, arguments);
    } catch (EPCompileException e) {
      String reason = reason(e, text);
      throw new CatalogueException(file + ":" + line(reason, text) + ": " + reason, e);
    }
  }

  /** The line that the reason names; else where the statement begins, after its comments. */
  private static int line(String reason, String text) {
    Matcher named = LINE.matcher(reason);
    if (named.find()) {
      return Integer.parseInt(named.group(1));
    }
    int line = 1;
    for (String l : text.split("\n", -1)) {
      if (!l.isBlank() && !l.startsWith("//")) {
        return line;
      }
      line++;
    }
    return 1;
  }

  /** What the compiler says, without the whole statement that it adds. */
  private static String reason(EPCompileException e, String text) {
    List<EPCompileExceptionItem> items = e.getItems();
    String message = items == null || items.isEmpty() ? e.getMessage() : items.get(0).getMessage();
    String said = message == null ? "not valid EPL" : message;
    int statement = said.indexOf(" [" + text.strip().lines().findFirst().orElse(""));
    said = statement > 0 ? said.substring(0, statement) : said;
    return said.replace('\n', ' ').strip();
  }
}
