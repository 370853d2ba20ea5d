package stillwatch.rules.signal;

/** How the correlation of successive residuals widens the error of a fit to them. Stateless. */
final class Correlation {
  private static final double MOST = 0.95;

  private Correlation() {}

  /**
   * By what the variance of a fit to {@code n} values must be multiplied because its residuals
   * resemble their neighbours: {@code (1 + ρ)/(1 − ρ)} with their correlation at lag one, from 1 to
   * 39 (M. S. Bartlett, J. Roy. Stat. Soc. Suppl. 8, 1946, 27-41, from memory). After a line has
   * been taken out the estimate is too low by about {@code (2 + 4ρ)/n} (F. H. C. Marriott and J. A.
   * Pope, Biometrika 41, 1954, 390-402, from memory, extended to a line); this is put back.
   */
  static double variance(double[] residuals, int n) {
    double squares = residuals[0] * residuals[0];
    double products = 0;
    for (int i = 1; i < n; i++) {
      squares += residuals[i] * residuals[i];
      products += residuals[i] * residuals[i - 1];
    }
    if (squares <= 0) {
      return 1;
    }
    double found = (products / squares + 2.0 / n) / (1 - 4.0 / n);
    double rho = Math.max(0, Math.min(MOST, found));
    return (1 + rho) / (1 - rho);
  }
}
