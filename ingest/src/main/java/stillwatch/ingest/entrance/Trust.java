package stillwatch.ingest.entrance;

import java.security.GeneralSecurityException;
import java.security.KeyStore;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;
import org.jspecify.annotations.Nullable;

/**
 * Whom this process trusts when it calls others over TLS, in the two forms that libraries ask for.
 * Safe from any thread.
 *
 * @param context for those that want a whole context
 * @param authorities for those that make their own
 */
public record Trust(SSLContext context, TrustManagerFactory authorities) {
  /** Trusts whom Java trusts. */
  public static Trust usual() {
    return in(null);
  }

  /**
   * Trusts the certificates of this store.
   *
   * @param known null for those that Java trusts
   * @throws IllegalStateException when this Java cannot use the store
   */
  public static Trust in(@Nullable KeyStore known) {
    try {
      TrustManagerFactory authorities =
          TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
      authorities.init(known);
      SSLContext context = SSLContext.getInstance("TLS");
      context.init(null, authorities.getTrustManagers(), null);
      return new Trust(context, authorities);
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException("this Java cannot use its store of authorities", e);
    }
  }
}
