package stillwatch.rules.well;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Predicate;

/** Published build-ups, in the units of their books, and what turns them into points. */
final class Published {
  static final double PSI = 6894.757293168;
  static final double FOOT = 0.3048;
  static final double DARCY = 9.869233e-13;
  static final double BARREL_PER_DAY = 0.158987294928 / 86400;
  static final double CENTIPOISE = 1e-3;

  /**
   * B. F. Towler, Fundamental Principles of Reservoir Engineering, SPE Textbook Series 8, 2002,
   * Example 7.4, Table 7.7: tp = 24 h, qB = 1421, storage for hours.
   */
  static final String TOWLER_7_4 =
      """
      0.02:3129.2 0.05:3357.5 0.1:3688.0 0.15:3967.0 0.25:4403.9 0.348:4712.3 0.5:5039.8
      0.65:5244.3 0.88:5431.2 1.425:5616.9 1.983:5687.0 2.555:5723.2 3.14:5745.8 3.74:5761.8
      4.355:5775.0 4.984:5784.9 5.628:5792.3 6.289:5799.9 6.965:5804.8 7.657:5809.4 8.367:5813.4
      9.093:5815.8 9.837:5818.0 10.599:5820.0 11.38:5821.7 12.18:5823.3 12.999:5824.6
      13.837:5826.2 14.697:5827.5 15.577:5828.7 16.478:5830.1 17.401:5831.0 18.347:5832.0
      19.315:5832.9 20.307:5834.0 21.323:5834.9 22.364:5835.8 23.43:5836.7 24:5837.1
      """;

  /**
   * L. P. Dake, Fundamentals of Reservoir Engineering, Elsevier 1978, Exercise 7.6, Table 7.6, p.
   * 201: tp = 97.6 h.
   */
  static final String DAKE_7_6 =
      """
      0.5:4675 0.66:4705 1.0:4733 1.5:4750 2.0:4757 2.5:4761
      3.0:4763 4.0:4766 6.0:4770 8.0:4773 10.0:4775 12.0:4777
      """;

  /** Towler 2002, Example 7.5, Tables 7.9 and 7.10: after three rates of three hours each. */
  static final String TOWLER_7_5 =
      "2:2812.5 3:2838 5:2872.5 7:2895 9:2910 11:2919 13:2929.5 15:2935 17:2942";

  /** Towler 2002, Problem 7.4, Table 7.15: days; tp = 60 d. */
  static final String TOWLER_P7_4 =
      """
      0.0001:93.14 0.0002:117.69 0.0003:136.18 0.0004:150.20 0.0005:170.95 0.001:229.13
      0.005:355.62 0.01:409.87 0.015:440.65 0.02:462.28 0.03:493.82 0.05:552.53 0.1:609.97
      0.15:639.49 0.2:659.75 0.25:675.24 0.3:687.94 0.5:729.40 0.8:769.73 1:783.17 2:824.49
      3:848.57 5:878.18 7:897.05 8:911.97 9:917.83 10.6:929.99 21:954.45 30.6:970.10
      50.6:985.85 70:990.08 80:992.63 90:994.31 100:995.44 140:997.27
      """;

  /** Towler 2002, Example 7.6, Table 7.11: a well that declines, hours. */
  static final String TOWLER_7_6 =
      """
      1:3138.65 2:3146.75 3:3151.31 4:3154.42 5:3156.73 6:3158.54 7:3160.01 8:3161.22
      9:3162.24 10:3163.11 11:3163.85 12:3164.49 13:3165.04 14:3165.52 15:3165.94 16:3166.30
      17:3166.62 18:3166.89 19:3167.13 20:3167.33 21:3167.50 22:3167.64 23:3167.75 24:3167.85
      25:3167.92 26:3167.97 27:3168.00 28:3168.02
      """;

  /**
   * D. Bourdet, T. M. Whittle, A. A. Douglas and Y. M. Pirard, A New Set of Type Curves Simplifies
   * Well Test Analysis, World Oil, May 1983, 95-106, Example 1, psi: tp = 15.33 h, q = 174, B =
   * 1.06, mu = 2.5, flowing 3086.33. From memory; 93 of 106 points are confirmed by a scaled copy.
   */
  static final String BOURDET_1 =
      """
      0.00417:3090.57 0.00833:3093.81 0.0125:3096.55 0.01667:3100.03 0.02083:3103.27
      0.025:3106.77 0.02917:3110.01 0.03333:3113.25 0.0375:3116.49 0.04583:3119.48 0.05:3122.48
      0.0583:3128.96 0.06667:3135.92 0.075:3141.17 0.08333:3147.64 0.09583:3161.95
      0.10833:3170.68 0.12083:3178.39 0.13333:3187.12 0.14583:3194.24 0.1625:3205.96
      0.17917:3216.68 0.19583:3227.89 0.2125:3238.37 0.22917:3249.07 0.25:3261.79
      0.29167:3287.21 0.33333:3310.15 0.375:3334.34 0.41667:3356.27 0.45833:3374.98 0.5:3394.44
      0.54167:3413.90 0.58333:3433.83 0.625:3448.05 0.66667:3466.26 0.70833:3481.97 0.75:3493.69
      0.8125:3518.63 0.875:3537.34 0.9375:3553.55 1:3571.75 1.0625:3586.23 1.125:3602.95
      1.1875:3617.41 1.25:3631.15 1.3125:3640.86 1.375:3652.85 1.4375:3664.32 1.5:3673.81
      1.625:3692.27 1.75:3705.52 1.875:3719.26 2:3732.23 2.25:3749.71 2.375:3757.19 2.5:3763.44
      2.75:3774.65 3:3785.11 3.25:3794.06 3.5:3799.80 3.75:3809.50 4:3815.97 4.25:3820.20
      4.5:3821.95 4.75:3823.70 5:3826.45 5.25:3829.69 5.5:3832.64 5.75:3834.70 6:3837.19
      6.25:3838.94 6.75:3838.02 7.25:3840.78 7.75:3843.01 8.25:3844.52 8.75:3846.27 9.25:3847.51
      9.75:3848.52 10.25:3850.01 10.75:3850.75 11.25:3851.76 11.75:3852.50 12.25:3853.51
      12.75:3854.25 13.25:3855.07 13.75:3855.50 14.5:3856.50 15.25:3857.25 16:3857.99
      16.75:3858.74 17.5:3859.48 18.25:3859.99 19:3860.73 19.75:3860.99 20.5:3861.49
      21.25:3862.24 22.25:3862.74 23.25:3863.22 24.25:3863.48 25.25:3863.99 26.25:3864.49
      27.25:3864.73 28.5:3865.23 30:3865.74
      """;

  private Published() {}

  /** Points of a table of {@code time:pressure} after a flow history. */
  static List<BuildUpPoint> points(String table, FlowHistory flow) {
    List<BuildUpPoint> points = new ArrayList<>();
    for (String pair : table.strip().split("\\s+", -1)) {
      double dt = Double.parseDouble(pair.substring(0, pair.indexOf(':')));
      double p = Double.parseDouble(pair.substring(pair.indexOf(':') + 1));
      points.add(new BuildUpPoint(dt, p, flow.superposition(flow.lastChangeHours() + dt)));
    }
    return points;
  }

  /** Those among them. */
  static List<BuildUpPoint> where(List<BuildUpPoint> points, Predicate<Double> hours) {
    return points.stream().filter(p -> hours.test(p.hours())).toList();
  }
}
