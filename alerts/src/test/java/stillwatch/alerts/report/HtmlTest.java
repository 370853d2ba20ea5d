package stillwatch.alerts.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.StringReader;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.CharRange;
import net.jqwik.api.constraints.StringLength;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.xml.sax.InputSource;

/**
 * Whatever people typed, the report is XML and says just that: one wrong sign would lose it all.
 */
class HtmlTest {
  private static Document read(String xml) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader("<r>" + xml + "</r>")));
  }

  /** The characters of XML 1.0 (5th ed.), production 2; a parser makes every line end one LF. */
  private static String asXmlHasIt(String text) {
    StringBuilder kept = new StringBuilder();
    text.codePoints()
        .forEach(
            c -> {
              boolean allowed =
                  c == 0x9
                      || c == 0xA
                      || c == 0xD
                      || (c >= 0x20 && c <= 0xD7FF)
                      || (c >= 0xE000 && c <= 0xFFFD)
                      || c >= 0x10000;
              kept.appendCodePoint(allowed ? c : '?');
            });
    return kept.toString().replace("\r\n", "\n").replace('\r', '\n');
  }

  @Property(seed = "20260308", tries = 500)
  void anyTextIsReadBackAsItWas(@ForAll String text) throws Exception {
    assertThat(read(Html.escaped(text)).getDocumentElement().getTextContent())
        .isEqualTo(asXmlHasIt(text));
  }

  @Property(seed = "20260308", tries = 500)
  void alsoOfSignsThatMeanSomethingToIt(
      @ForAll @CharRange(from = '\u0000', to = '@') @StringLength(max = 40) String text)
      throws Exception {
    String quoted = "<a b=\"" + Html.escaped(text).replaceAll("\\s", " ") + "\"/>";
    assertThat(read(quoted).getElementsByTagName("a").getLength()).isEqualTo(1);
    Document table =
        read(new Html().table(List.of("head"), List.of(List.of(text, "x")), "").text());
    assertThat(table.getElementsByTagName("td").getLength()).isEqualTo(2);
    assertThat(table.getElementsByTagName("td").item(0).getTextContent())
        .isEqualTo(asXmlHasIt(text));
  }

  @Test
  void theEndsOfWhatXmlAllows() throws Exception {
    String text = "a\uFFFEb\uFFFFc\uD800d\uDC00e\uD83D\uDE00f\u0000g\u000Bh\uFFFDi";
    assertThat(read(Html.escaped(text)).getDocumentElement().getTextContent())
        .isEqualTo("a?b?c?d?e\uD83D\uDE00f?g?h\uFFFDi");
  }

  @Test
  void anEmptyTableSaysThatThereIsNothing() {
    assertThat(new Html().table(List.of("a"), List.of(), "Nobody <acted>.").text())
        .isEqualTo("<p>Nobody &lt;acted&gt;.</p>\n");
  }
}
