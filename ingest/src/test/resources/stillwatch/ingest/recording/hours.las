~Version ---------------------------------------------------
VERS      .                                     2.0 : CWLS log ASCII Standard -VERSION 2.0
WRAP      .                                      NO : One line per time step
~Well ------------------------------------------------------
STRT      .HR                                   0.0 : START TIME
STOP      .HR                                0.0025 : STOP TIME
STEP      .HR                               0.00025 : STEP
NULL      .                                -9999.25 : NULL VALUE
COMP      .                                         : COMPANY
WELL      .                             Larkspur-2 : WELL, invented
DATE      .              2026-03-08 06:00:00.250000 : DATE
# pressures of the cap in two units, and what no gauge of the plan reads
~Curves ----------------------------------------------------
TIME      .HR                                       : hours since DATE
PORT      .MPa                                      : inside the capping assembly, port side
STBD      .psi                                      : inside the capping assembly, starboard side
FLAG      .                                         : of no gauge
RAMS      .degC                                     : above the rams
~Params ----------------------------------------------------
~Other -----------------------------------------------------
Data are invented. A point . and a colon : may stand here.
~ASCII -----------------------------------------------------
          0     46.900   6802.27          1      4.50
    0.00025     46.901   6802.42   -9999.25   4.51
	0.0005	-9999.25	6802.56	0	-9999.25
    0.00075     46.903  -9999.25          0   4.53E0
      0.001     46.904   6802.85          0      NaN
