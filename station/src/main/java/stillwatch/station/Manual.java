package stillwatch.station;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;
import stillwatch.station.output.Cautions;

/**
 * Writes, in the build, what an installed tree has beside the program: a manual page for each
 * command, in the macros of man(7), and the shell's completion. Both say what {@code --help} says.
 */
public final class Manual {
  private final String version;
  private final Path folder;

  private Manual(String version, Path folder) {
    this.version = version;
    this.folder = folder;
  }

  /** The arguments: the version, and the folder that is to hold {@code man} and the completion. */
  public static void main(String[] args) throws IOException {
    CommandLine line = Main.line();
    Path completions = Files.createDirectories(Path.of(args[1], "bash-completion", "completions"));
    Files.writeString(
        completions.resolve("stillwatch"), AutoComplete.bash("stillwatch", line) + "\n");
    new Manual(args[0], Files.createDirectories(Path.of(args[1], "man", "man1"))).pages(line);
  }

  private void pages(CommandLine line) throws IOException {
    Files.writeString(folder.resolve(title(line) + ".1"), page(line));
    for (CommandLine sub : subcommands(line)) {
      pages(sub);
    }
  }

  private static List<CommandLine> subcommands(CommandLine line) {
    return line.getSubcommands().values().stream().distinct().toList();
  }

  private static String title(CommandLine line) {
    return line.getCommandSpec().qualifiedName("-");
  }

  private String page(CommandLine line) {
    CommandSpec spec = line.getCommandSpec();
    StringWriter text = new StringWriter();
    PrintWriter to = new PrintWriter(text);
    String description = plain(spec.usageMessage().description());
    to.printf(
        ".TH %s 1 \"\" \"Stillwatch %s\"%n",
        escaped(title(line).toUpperCase(Locale.ROOT)), escaped(version));
    to.printf(
        ".SH NAME%n%s \\- %s%n",
        escaped(title(line)), escaped(description.split("[.:] |\\.$", 2)[0]));
    String synopsis = line.getHelp().synopsis(0).replaceAll("\\s+", " ").strip();
    to.printf(".SH SYNOPSIS%n%s%n.SH DESCRIPTION%n%s%n", escaped(synopsis), escaped(description));
    List<OptionSpec> options = spec.options().stream().filter(o -> !o.hidden()).toList();
    if (!options.isEmpty() || !spec.positionalParameters().isEmpty()) {
      to.printf(".SH OPTIONS%n");
      options.forEach(o -> entry(to, heading(o), o.description()));
      spec.positionalParameters().forEach(p -> entry(to, heading(p), p.description()));
    }
    if (!subcommands(line).isEmpty()) {
      to.printf(".SH COMMANDS%n");
      for (CommandLine sub : subcommands(line)) {
        entry(
            to,
            "\\fB" + escaped(title(sub)) + "\\fR(1)",
            sub.getCommandSpec().usageMessage().description());
      }
    }
    Map<String, String> exits = Main.line().getCommandSpec().usageMessage().exitCodeList();
    to.printf(".SH EXIT STATUS%n");
    exits.forEach((code, meaning) -> entry(to, "\\fB" + code + "\\fR", meaning));
    to.printf(".SH CAUTIONS%n%s%n", escaped(Cautions.TEXT));
    return text.toString();
  }

  private static void entry(PrintWriter to, String heading, String... description) {
    to.printf(".TP%n%s%n%s%n", heading, escaped(plain(description)));
  }

  private static String heading(OptionSpec option) {
    String names =
        Stream.of(option.names())
            .map(name -> "\\fB" + escaped(name) + "\\fR")
            .collect(Collectors.joining(", "));
    return option.arity().max() == 0 ? names : names + "=" + label(option);
  }

  private static String heading(PositionalParamSpec parameter) {
    return label(parameter);
  }

  private static String label(ArgSpec argument) {
    return "\\fI" + escaped(argument.paramLabel()) + "\\fR";
  }

  /** As help prints it, on one line. */
  private static String plain(String... lines) {
    return Ansi.OFF
        .string(String.format(Locale.ROOT, String.join(" ", lines)))
        .replaceAll("\\s+", " ")
        .strip();
  }

  /** As text that no macro and no escape is read from. */
  private static String escaped(String text) {
    String safe = text.replace("\\", "\\e").replace("-", "\\-");
    return safe.startsWith(".") || safe.startsWith("'") ? "\\&" + safe : safe;
  }
}
