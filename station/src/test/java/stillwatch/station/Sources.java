package stillwatch.station;

import com.sun.source.tree.CompilationUnitTree;
import com.sun.source.tree.MethodTree;
import com.sun.source.util.JavacTask;
import com.sun.source.util.SourcePositions;
import com.sun.source.util.TreePathScanner;
import com.sun.source.util.Trees;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.jspecify.annotations.Nullable;

/** The product's sources, as they stand beside this module. */
final class Sources {
  private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();
  private static final List<String> MODULES =
      List.of("ingest", "fieldbus", "rules", "alerts", "station", "bench");

  private final List<Path> files = new ArrayList<>();

  private Sources() throws IOException {
    for (String module : MODULES) {
      try (Stream<Path> all = Files.walk(ROOT.resolve(module).resolve("src/main/java"))) {
        all.filter(f -> f.toString().endsWith(".java")).sorted().forEach(files::add);
      }
    }
  }

  static Sources read() throws IOException {
    return new Sources();
  }

  /** A file of the whole project. */
  static String text(String file) throws IOException {
    return Files.readString(ROOT.resolve(file));
  }

  /** Every package, as its folder below {@code stillwatch}. */
  Set<String> packages() {
    Set<String> all = new TreeSet<>();
    for (Path file : files) {
      String path = String.valueOf(file.getParent()).replace('\\', '/');
      all.add(path.substring(path.lastIndexOf("/stillwatch/") + "/stillwatch/".length()));
    }
    return all;
  }

  /** Files of more lines than that, each with how many it has. */
  List<String> filesOver(int lines) throws IOException {
    List<String> over = new ArrayList<>();
    for (Path file : files) {
      int has = Files.readAllLines(file).size();
      if (has > lines) {
        over.add(ROOT.relativize(file) + ": " + has);
      }
    }
    return over;
  }

  /** Methods of more lines than that, without their Javadoc, each with how many it has. */
  List<String> methodsOver(int lines) throws IOException {
    JavaCompiler javac = ToolProvider.getSystemJavaCompiler();
    List<String> over = new ArrayList<>();
    try (StandardJavaFileManager manager = javac.getStandardFileManager(null, null, null)) {
      JavacTask task =
          (JavacTask)
              javac.getTask(
                  null,
                  manager,
                  null,
                  List.of("-proc:none"),
                  null,
                  manager.getJavaFileObjectsFromPaths(files));
      SourcePositions at = Trees.instance(task).getSourcePositions();
      for (CompilationUnitTree unit : task.parse()) {
        new TreePathScanner<@Nullable Void, @Nullable Void>() {
          @Override
          public @Nullable Void visitMethod(MethodTree m, @Nullable Void none) {
            long from = unit.getLineMap().getLineNumber(at.getStartPosition(unit, m));
            long to = unit.getLineMap().getLineNumber(at.getEndPosition(unit, m));
            if (to - from + 1 > lines) {
              Path file = Path.of(unit.getSourceFile().toUri());
              over.add(
                  ROOT.relativize(file) + ":" + from + " " + m.getName() + ": " + (to - from + 1));
            }
            return super.visitMethod(m, null);
          }
        }.scan(unit, null);
      }
    }
    return over;
  }
}
