package stillwatch.station;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.io.IOException;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Who may know whom, and how large anything may grow. */
class HouseTest {
  static final JavaClasses HOUSE =
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
        .resideInAPackage("stillwatch.fieldbus..")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("stillwatch.rules..", "stillwatch.alerts..", "stillwatch.station..")
        .check(HOUSE);
    onlyFrom("stillwatch.fieldbus..", "stillwatch.fieldbus..");
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
    onlyFrom("stillwatch.station..", "picocli..");
    onlyFrom("stillwatch.alerts.route", "jakarta.mail..");
    onlyFrom("stillwatch.alerts.route stillwatch.ingest.door", "com.hivemq..");
    onlyFrom("stillwatch.fieldbus.modbus", "com.digitalpetri..");
    onlyFrom("stillwatch.fieldbus.opcua", "org.eclipse.milo..");
  }

  @Test
  void noPackageComesBackToItself() {
    slices().matching("stillwatch.(**)").should().beFreeOfCycles().check(HOUSE);
  }

  @Test
  void theRoomsOfTheStationPointOneWay() {
    noClasses()
        .that()
        .resideInAPackage("stillwatch.station.option")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage(
            "stillwatch.station",
            "stillwatch.station.command",
            "stillwatch.station.run",
            "stillwatch.station.output",
            "stillwatch.station.broker")
        .check(HOUSE);
    noClasses()
        .that()
        .resideInAnyPackage("stillwatch.station.run", "stillwatch.station.output")
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("stillwatch.station", "stillwatch.station.command")
        .check(HOUSE);
    noClasses()
        .that()
        .resideInAPackage("stillwatch.station.command")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("stillwatch.station")
        .check(HOUSE);
  }

  @Test
  void theNumbersKnowNoPlan() {
    noClasses()
        .that()
        .resideInAnyPackage(
            "stillwatch.rules.signal", "stillwatch.rules.well", "stillwatch.rules.indicator")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("stillwatch.rules.plan")
        .check(HOUSE);
  }

  @Test
  void onlyTheJournalTheOwnersOfItsTablesAndTheDoorSpeakSql() {
    onlyFrom(
        "stillwatch.alerts.journal stillwatch.alerts.desk stillwatch.alerts.people"
            + " stillwatch.alerts.route stillwatch.ingest.door",
        "java.sql..",
        "javax.sql..");
    onlyFrom("stillwatch.alerts.journal", "com.zaxxer..", "org.flywaydb..");
  }

  @Test
  void filesAndMethodsStaySmall() throws IOException {
    Sources sources = Sources.read();
    assertThat(sources.filesOver(400)).isEmpty();
    assertThat(sources.methodsOver(50)).isEmpty();
  }

  /** The map is the code block under "The house": a line for each package, in two columns. */
  @Test
  void theMapForDevelopersNamesEveryPackageAndNoOther() throws IOException {
    String house = Sources.text("DEVELOPERS.md").split("\n## The house\n", -1)[1];
    String map = house.split("```", -1)[1];
    List<String> named =
        Pattern.compile("^([a-z/]+) {2,}\\S", Pattern.MULTILINE)
            .matcher(map)
            .results()
            .map(m -> m.group(1))
            .toList();
    assertThat(named).doesNotHaveDuplicates();
    assertThat(named).containsExactlyInAnyOrderElementsOf(Sources.read().packages());
  }

  @Test
  void onlyTheCommandLineWritesToTheConsole() {
    noClasses()
        .that()
        .resideOutsideOfPackage("stillwatch.station..")
        .should()
        .accessField(System.class, "out")
        .orShould()
        .accessField(System.class, "err")
        .check(HOUSE);
  }
}
