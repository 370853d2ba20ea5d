package stillwatch.fieldbus.opcua;

import static org.assertj.core.api.Assertions.assertThat;

import org.eclipse.milo.opcua.sdk.core.CefactEngineeringUnits;
import org.eclipse.milo.opcua.stack.core.types.structured.EUInformation;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Units that servers say. */
class CefactTest {
  /**
   * Numbers and descriptions are those of the OPC Foundation's UNECE_to_OPCUA.csv, which OPC
   * 10000-8, 5.6.4.3 names; Milo's own table says the same.
   */
  @ParameterizedTest
  @CsvSource({
    "4935745, kPa, kilopascal",
    "5259596, Pa, pascal",
    "4274487, hPa, hectopascal",
    "5066817, MPa, megapascal",
    "4342098, bar, bar [unit of pressure]",
    "5063250, mbar, millibar",
    "20563, [psi], pound-force per square inch",
    "4281421, atm, standard atmosphere",
    "5124659, m[H2O], conventional metre of water",
    "4408652, Cel, degree Celsius",
    "4932940, K, kelvin",
    "4604232, [degF], degree Fahrenheit",
    "17476, deg, degree [unit of angle]",
    "4405297, rad, radian",
    "4403765, mrad, milliradian",
    "4666674, m3/d, cubic metre per day",
    "5067080, m3/h, cubic metre per hour",
    "5067091, m3/s, cubic metre per second",
    "4666673, L/s, litre per second",
    "19506, L/min, litre per minute",
    "16945, [bbl_us]/d, barrel (US) per day",
    "4863538, [bbl_us]/h, barrel (US petroleum) per hour"
  })
  void aUnitOfRecommendation20IsAUcumCode(int unitId, String ucum, String description) {
    EUInformation published = CefactEngineeringUnits.getByUnitId(unitId);
    assertThat(published.getDescription().getText()).isEqualTo(description);
    assertThat(Cefact.ucum(unitId)).contains(ucum);
    assertThat(Cefact.NAMESPACE).isEqualTo(published.getNamespaceUri());
  }
}
