package stillwatch.station;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import org.junit.jupiter.api.Test;

/** Who may know whom. */
class HouseTest {
  private static final JavaClasses HOUSE =
      new ClassFileImporter()
          .withImportOption(new ImportOption.DoNotIncludeTests())
          .importPackages("stillwatch");

  private static void onlyFrom(String allowed, String... libraries) {
    noClasses()
        .that()
        .resideOutsideOfPackages(allowed.split(" "))
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(libraries)
        .check(HOUSE);
  }

  @Test
  void dependenciesPointOneWay() {
    noClasses()
        .that()
        .resideInAPackage("stillwatch.ingest..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("stillwatch.rules..", "stillwatch.alerts..", "stillwatch.station..")
        .check(HOUSE);
    noClasses()
        .that()
        .resideInAPackage("stillwatch.rules..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("stillwatch.alerts..", "stillwatch.station..")
        .check(HOUSE);
    noClasses()
        .that()
        .resideInAPackage("stillwatch.alerts..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("stillwatch.station..")
        .check(HOUSE);
  }

  @Test
  void eachEngineIsKnownInOnePlace() {
    onlyFrom("stillwatch.rules.engine", "com.espertech..");
    onlyFrom("stillwatch.ingest.bus stillwatch.station.broker", "org.apache.kafka..", "kafka..");
    onlyFrom("stillwatch.alerts.room", "io.javalin..");
    onlyFrom(
        "stillwatch.alerts.room stillwatch.ingest.entrance stillwatch.ingest.intake",
        "org.eclipse.jetty..");
    onlyFrom("stillwatch.station", "picocli..");
  }

  @Test
  void noPackageComesBackToItself() {
    slices().matching("stillwatch.(**)").should().beFreeOfCycles().check(HOUSE);
  }

  @Test
  void onlyTheCommandLineWritesToTheConsole() {
    noClasses()
        .that()
        .resideOutsideOfPackage("stillwatch.station")
        .should()
        .accessField(System.class, "out")
        .orShould()
        .accessField(System.class, "err")
        .check(HOUSE);
  }
}
