package stillwatch.alerts.room;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.net.URI;
import java.time.Clock;
import java.util.Optional;
import java.util.Set;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import stillwatch.alerts.people.Attempts;
import stillwatch.alerts.people.People;
import stillwatch.alerts.people.Person;
import stillwatch.alerts.people.Role;
import stillwatch.alerts.people.Tries;

/** Who asks, and whether they may. Safe from any thread. */
final class Guard {
  private static final String COOKIE = "stillwatch";
  private static final Set<String> LOOPBACK = Set.of("localhost", "127.0.0.1", "[::1]");
  private static final int FREE_FOR_A_NAME = 5;
  private static final int FREE_FROM_AN_ADDRESS = 20;
  private static final int ACTIONS_A_MINUTE = 240;
  private static final long MINUTE_MS = 60_000;

  private final People people;
  private final boolean open;
  private final boolean loopback;
  private final boolean secure;
  private final Tries byName;
  private final Tries byAddress;
  private final Attempts actions;

  /**
   * A guard.
   *
   * @param open whether nobody is asked who they are
   * @param loopback whether the room listens on this machine only
   * @param secure whether it speaks TLS
   */
  Guard(People people, boolean open, boolean loopback, boolean secure, Clock clock) {
    this.people = people;
    this.open = open;
    this.loopback = loopback;
    this.secure = secure;
    byName = new Tries(FREE_FOR_A_NAME, clock);
    byAddress = new Tries(FREE_FROM_AN_ADDRESS, clock);
    actions = new Attempts(ACTIONS_A_MINUTE, MINUTE_MS, clock);
  }

  boolean open() {
    return open;
  }

  /** Headers on every answer, and what holds for every request. */
  void every(Context c) {
    headers(c);
    String host = c.host();
    if (loopback && (host == null || !LOOPBACK.contains(host.replaceFirst(":[0-9]+$", "")))) {
      throw new RequestException(
          403, "this room listens on this machine only; ask for http://localhost");
    }
    String origin = c.header("Origin");
    if (origin != null && !c.method().name().equals("GET") && !sameHost(origin, host)) {
      throw new RequestException(403, "a page of another site may not act here");
    }
  }

  private void headers(Context c) {
    c.header(
        "Content-Security-Policy",
        "default-src 'self'; img-src 'self' data:; frame-ancestors 'none'; base-uri 'none'; form-action 'self'; object-src 'none'");
    c.header("X-Content-Type-Options", "nosniff");
    c.header("X-Frame-Options", "DENY");
    c.header("Referrer-Policy", "no-referrer");
    c.header("Cross-Origin-Opener-Policy", "same-origin");
    c.header("Cross-Origin-Resource-Policy", "same-origin");
    c.header("Permissions-Policy", "camera=(), microphone=(), geolocation=()");
    c.header("Cache-Control", "no-store");
    if (secure) {
      c.header("Strict-Transport-Security", "max-age=31536000");
    }
  }

  private static boolean sameHost(String origin, @Nullable String host) {
    try {
      return URI.create(origin).getAuthority() != null
          && URI.create(origin).getAuthority().equals(host);
    } catch (IllegalArgumentException e) {
      return false;
    }
  }

  /** What somebody shows to prove who they are; looked up anew whenever it is asked. */
  private record Credentials(@Nullable String cookie, @Nullable String header) {}

  private static Credentials shown(Context c) {
    return new Credentials(c.cookie(COOKIE), c.header("Authorization"));
  }

  private Optional<People.Session> session(Credentials shown) {
    String token = shown.cookie();
    return token == null || token.length() > 200 ? Optional.empty() : people.session(token);
  }

  private Optional<Person> machine(Credentials shown) {
    String header = shown.header();
    return header != null && header.startsWith("Bearer ") && header.length() < 300
        ? people.machine(header.substring(7))
        : Optional.empty();
  }

  private Optional<Person> asking(Credentials shown) {
    Optional<Person> person = session(shown).map(People.Session::person).or(() -> machine(shown));
    return person.isPresent() || !open ? person : Optional.of(People.ANYBODY);
  }

  private Optional<People.Session> session(Context c) {
    return session(shown(c));
  }

  /** Who asks; empty when nobody known does. */
  Optional<Person> asking(Context c) {
    return asking(shown(c));
  }

  /** Whether whoever asks this still may, for as long as the answer goes on. */
  BooleanSupplier still(Context c, Role role) {
    Credentials shown = shown(c);
    return () -> asking(shown).filter(p -> p.role().covers(role)).isPresent();
  }

  /** What the page of who asks must send with everything it does; empty for machines. */
  String guardOf(Context c) {
    return session(c).map(People.Session::guard).orElse("");
  }

  /**
   * Who asks, when they may.
   *
   * @throws RequestException when nobody known asks, or they may not
   */
  Person may(Context c, Role role) {
    Person person =
        asking(c)
            .orElseThrow(
                () -> new RequestException(401, "enter first: name and password, or a token"));
    if (!person.role().covers(role)) {
      throw new RequestException(
          403,
          person.name()
              + " may "
              + person.role().wire()
              + " only; this wants somebody who may "
              + role.wire());
    }
    return person;
  }

  /**
   * Who acts, when they may, meant to, and have not asked for this before.
   *
   * @throws RequestException when one of these does not hold
   */
  Person acts(Context c, Role role) {
    Person person = may(c, role);
    Optional<People.Session> session = session(c);
    if (session.isPresent() && !session.get().guard().equals(c.header("X-Stillwatch-Guard"))) {
      throw new RequestException(403, "this does not come from the room's own page; load it again");
    }
    if (!actions.allowed(person.name())) {
      throw new RequestException(429, "too many actions within a minute; wait a little");
    }
    actions.count(person.name());
    refuseRepeated(c, person);
    return person;
  }

  private void refuseRepeated(Context c, Person person) {
    String id = c.header("Idempotency-Key");
    if (id == null || !id.matches("[A-Za-z0-9._:-]{8,100}")) {
      throw new RequestException(
          400, "send a header Idempotency-Key of 8 to 100 letters and digits, new for each action");
    }
    if (!people.first(person.name() + " " + id)) {
      throw new RequestException(409, "this was asked before, and was done or refused then");
    }
  }

  /**
   * Somebody tries to enter. The try is counted now, before anything is done for it.
   *
   * @throws RequestException when they tried too often lately
   */
  void entering(Context c, String name) {
    long waitMs = byAddress.waitMs(c.ip());
    if (waitMs == 0) {
      waitMs = byName.waitMs(name);
    }
    if (waitMs > 0) {
      long waitS = (waitMs + 999) / 1000;
      c.header("Retry-After", Long.toString(waitS));
      throw new RequestException(429, "too many tries; try again in " + waitS + " s");
    }
  }

  /** Forgives the try of somebody who gave the right name and password. */
  void entered(Context c, String name) {
    byName.right(name);
    byAddress.right(c.ip());
  }

  /** Lets the browser keep a session. */
  void keep(Context c, People.Session session) {
    Cookie cookie = new Cookie(COOKIE, session.token());
    cookie.setPath("/");
    cookie.setHttpOnly(true);
    cookie.setSecure(secure);
    cookie.setSameSite(SameSite.STRICT);
    c.cookie(cookie);
  }

  /** Ends the session of who asks. */
  void leave(Context c) {
    session(c).ifPresent(s -> people.leave(s.token()));
    c.removeCookie(COOKIE, "/");
  }
}
