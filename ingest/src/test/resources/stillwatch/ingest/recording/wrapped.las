~VERSION INFORMATION
 VERS.                 2.0      :   CWLS log ASCII Standard -VERSION 2.0
 WRAP.                 YES      :   Multiple lines per time step
~WELL INFORMATION
#MNEM.UNIT                DATA                         DESCRIPTION
STRT    .S               60.0000               :START TIME
STOP    .S               63.0000               :STOP TIME
STEP    .S                1.0000               :STEP
NULL    .                -999.25               :NULL VALUE
WELL    .       LARKSPUR-2                     :WELL, INVENTED
DATE    .       2026-03-08                     :DATE OF SECOND 0
~PARAMETER INFORMATION
TIME    .       06:00:00                       :TIME OF SECOND 0
~CURVE INFORMATION
 TIME   .S                              :    Seconds
 PORT   .KPA                            :  1 Port side
 STBD   .KPA                            :  2 Starboard side
 RAMS   .DEGC                           :  3 Above the rams
 A      .                               :  4 Of no gauge
~A Log data section
60.0000
  46900.0000  46890.0000
      4.5000  -999.2500
61.0000
  46901.0000  -999.2500
      4.5100     1.0000
62.0000
  46902.0000  46892.0000
63.0000
  46903.0000  46893.0000
      4.5300     1.0000
