package stillwatch.station;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.interactions.Actions;

/** The page for everybody: by the keyboard alone, on a phone, by the rules of WCAG 2.2. */
interface ForEverybody {
  Browser page();

  WatchProcess watch();

  /** WCAG 2.2, levels A and AA, as far as a program can tell, in a light and in a dark room. */
  @Test
  @Order(21)
  default void anAuditFindsNothingAgainstAnySheet() throws Exception {
    page().seen("#alarms > li[data-rule=leak-evidence]");
    page().waitFor("the page sees", "return document.body.dataset.sight === 'sees'");
    page().run("document.querySelectorAll('details').forEach((d) => { d.open = true; })");
    for (String scheme : List.of("light", "dark")) {
      page().scheme(scheme);
      for (String sheet : PageOfOneWatch.SHEETS) { // the open settings cover some of the buttons
        page().run("document.querySelector('[data-sheet=" + sheet + "]').click()");
        assertThat(scheme.equals("light") ? page().audit() : page().auditOfColours())
            .as("%s, %s", sheet, scheme)
            .isEmpty();
      }
      page().run("document.querySelector('[data-sheet=well]').click()");
      page().picture("room-" + scheme + ".png");
    }
  }

  @Test
  @Order(22)
  default void onAPhoneNothingStandsOutAtTheSide() throws Exception {
    page().phone(375, 812);
    page().seen("#alarms > li[data-rule=leak-evidence]");
    for (String sheet : PageOfOneWatch.SHEETS) {
      page().click("[data-sheet=" + sheet + "]");
      assertThat((Long) page().run("return document.documentElement.scrollWidth"))
          .as(sheet)
          .isLessThanOrEqualTo(375);
    }
    page().run("window.scrollTo(0, 0)");
    page().picture("phone.png");
  }

  /** An alarm as the state would give it, drawn beside the list, where no state moves it. */
  @Test
  @Order(23)
  default void anAlarmThatSpeaksOfAChangeIsExplainedFromTheKeyboard() throws Exception {
    page().seen("#alarms > li[data-rule=leak-evidence]");
    page()
        .run(
            """
        const main = document.querySelector('main');
        const ol = document.createElement('ol');
        ol.id = 'with-change';
        main.prepend(ol);
        Promise.all([import('./alarms.js'), fetch('api/state').then((r) => r.json())]).then(([m, state]) => {
          const alarm = state.alarms[0];
          m.list(ol, [{...alarm, change: '0a1b2c3d4e5f'}]);
          window.explained = () => m.list(ol, [{...alarm, change: '0a1b2c3d4e5f',
            explained: {by: 'Ada Berg', at: '2026-03-08T12:00:00Z', cause: 'gauge', why: 'it was zeroed'}}]);
        });""");
    String alarm = "#with-change > li ";
    page().seen(alarm + "details.row > summary");
    page().run("document.querySelector('" + alarm + "details.row > summary').focus()");
    page().driver().switchTo().activeElement().sendKeys(Keys.ENTER);
    tabTo(1, alarm + "details.explain > summary").sendKeys(Keys.ENTER);
    tabTo(1, alarm + "form.explain [name=cause]").sendKeys("the gauge");
    tabTo(1, alarm + "form.explain [name=why]").sendKeys("PT-2 was zeroed" + Keys.ENTER);
    page().says(alarm + "form.explain output", "It is in the log.");
    assertThat(watch().text("/api/report")).contains("Changes that people explained");
    JsonNode told = watch().get("/api/shift").path("told");
    assertThat(told)
        .extracting(e -> e.path("text").asText())
        .contains("change 0a1b2c3d4e5f, gauge: PT-2 was zeroed");
    page().run("window.explained()");
    page()
        .says(
            alarm + ".explained",
            "Explained by Ada Berg, 2026-03-08 12:00:00 UTC, cause gauge: it was zeroed");
    page().run("document.querySelectorAll('details').forEach((d) => { d.open = true; })");
    assertThat(page().audit()).isEmpty();
    assertThat(page().problems()).isEmpty();
    page().run("document.querySelector('#with-change').scrollIntoView()");
    page().picture("explain.png");
  }

  /** Nothing but the keyboard: to an alarm, acknowledged, to the evidence, a decision. */
  @Test
  @Order(24)
  default void everythingCanBeDoneFromTheKeyboard() throws Exception {
    page().seen("#alarms > li[data-rule=leak-evidence]");
    tabTo(60, "#alarms details.row > summary").sendKeys(Keys.ENTER);
    WebElement at = tabTo(40, "form.acknowledge input");
    at.sendKeys("seen", Keys.ENTER);
    page()
        .waitFor(
            "acknowledged",
            "return [...document.querySelectorAll('#alarms .facts, #over li')].some((e) => e.textContent.includes('seen'))"
                + " || document.querySelectorAll('#over li').length > 0");
    at = tabTo(250, "[data-sheet=evidence]");
    at.sendKeys(Keys.ENTER);
    page().seen("#decision");
    at = tabTo(60, "#decision [value=continue]");
    at.sendKeys(Keys.SPACE);
    tabTo(3, "#decision [name=by]").sendKeys("keys only");
    tabTo(2, "#decision [name=why]").sendKeys("no mouse here");
    tabTo(3, "#decision button").sendKeys(Keys.ENTER);
    page().seen("#last-look[open]");
    page().driver().switchTo().activeElement().sendKeys(Keys.ENTER);
    page().says("#decision output", "of the record");
    boolean ringed =
        !"none".equals(page().run("return getComputedStyle(document.activeElement).outlineStyle"));
    assertThat(ringed).as("where one is can be seen").isTrue();
  }

  /** Tabs until the focus is on what this selects. */
  private WebElement tabTo(int atMost, String css) {
    for (int i = 0; i < atMost; i++) {
      new Actions(page().driver()).sendKeys(Keys.TAB).perform();
      if (Boolean.TRUE.equals(
          page().run("return document.activeElement.matches(arguments[0])", css))) {
        return page().driver().switchTo().activeElement();
      }
    }
    throw new AssertionError(
        "no way by tab to "
            + css
            + ", last at "
            + page().run("return document.activeElement.outerHTML"));
  }
}
