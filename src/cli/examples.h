/* SPDX-License-Identifier: GPL-3.0-or-later */
/* examples.h: what the manual page shows and make check runs, in the folder
 * examples/.  Columns: what it shows, arguments, exit status, the whole of
 * stdout. */
#define EXAMPLE_LIST(X)                                                       \
    X("A bore touched in four places with a tip of 4 mm. The touches "        \
      "are where the spindle stood; the diameter is that of the "             \
      "bore.",                                                                \
      "fit bore --tip 4 10,0 0,10.004 -10,0 0,-10", 0,                        \
      "bore from 4 touches, mm\n"                                             \
      "centre      x        0.000\n"                                          \
      "            y        0.002\n"                                          \
      "diameter            24.002\n"                                          \
      "how far each touch lies off the wall (+ away from the centre):\n"      \
      "  touch 1           -0.0010\n"                                         \
      "  touch 2            0.0010\n"                                         \
      "  touch 3           -0.0010\n"                                         \
      "  touch 4            0.0010\n"                                         \
      "rms                  0.0010\n"                                         \
      "largest              0.0010  at touch 4\n")                            \
    X("The fixed jaw of a vise, touched in two places with an edge "          \
      "finder of 0.2 in. It looks at the operator, so it faces y-. "          \
      "Two touches fit any line, and the page says so.",                      \
      "fit edge --unit in --tip 0.2 --faces y- -3.1,-2.1 1.5,-2.0994", 0,     \
      "edge from 2 touches, in\n"                                             \
      "on the wall x      -0.8000\n"                                          \
      "            y      -1.9997\n"                                          \
      "direction           0.0075 deg  (+ is counter-clockwise from X)\n"     \
      "faces                   y-\n"                                          \
      "no check (no touch is spare: a slip of any size would go unseen)\n")   \
    X("The middle of a slot, for another program.",                           \
      "fit slot --json --tip 4 0,10 50,10 / 0,-10 50,-10", 0,                 \
      "{\"kind\": \"slot\", \"unit\": \"mm\", \"middle\": [25.0, 0.0], \"width\": 24.0, \"direction_deg\": 0.0, \"residuals\": [0.0, 0.0, 0.0, 0.0], \"rms\": 0.0, \"dof\": 1, \"flags\": []}\n") \
    X("What can not be solved gives no value; the reason goes to "            \
      "standard error.",                                                      \
      "fit bore 1,0 0,1", 3,                                                  \
      "")                                                                     \
    X("A drawing in inches read as millimetres: the doubt comes "             \
      "first.",                                                               \
      "fit pattern 0,0,100,50 1,0,125.4,50 0,1,100,75.4", 1,                  \
      "look at this first: nominal and touched spacings differ: perhaps inch for mm, or a wrong hole\n" \
      "pattern from 3 places, mm\n"                                           \
      "origin      x      108.133\n"                                          \
      "            y       58.133\n"                                          \
      "turn                0.0000 deg  (+ is counter-clockwise from X)\n"     \
      "spacing          25.400000  of what the drawing has\n"                 \
      "how far each place lies from where it belongs:\n"                      \
      "  place 1           11.5023\n"                                         \
      "  place 2           18.1867\n"                                         \
      "  place 3           18.1867\n"                                         \
      "rms                 16.2667\n"                                         \
      "largest             18.1867  at place 2\n")                            \
    X("A sheet; the rest of the page says how good each value is.",           \
      "solve corner.jaw | head -n 11", 0,                                     \
      "Focuser plate, side 1\n"                                               \
      "\n"                                                                    \
      "Enter on the control, inch\n"                                          \
      "  G54     X            -9.4172  +- 0.00086\n"                          \
      "          Y            -6.2038  +- 0.00040\n"                          \
      "          Z           -10.2175  +- 0.00011\n"                          \
      "          turn          0.0257  +- 0.0084 deg\n"                       \
      "  tool lengths: from the gauge line to the tip\n"                      \
      "  tool 1    length      4.8125  +- 0.00043   3/8 square end mill\n"    \
      "  tool 2    length      3.9407  +- 0.00043   No. 7 drill\n"            \
      "  tool 3    length      5.1220  +- 0.00043   3/8 ball mill\n")         \
    X("What the control shows after the sheet's values were entered.",        \
      "entered corner.jaw G54 X -9.4127 Y 6.2038 Z -10.2175 turn 0.0257 | "   \
      "head -n 11", 0,                                                        \
      "Focuser plate, side 1\n"                                               \
      "\n"                                                                    \
      "look at this first: of 7 values 2 differ, 3 were not shown\n"          \
      "\n"                                                                    \
      "Differs, inch\n"                                                       \
      "  G54     X            -9.4127  is shown\n"                            \
      "                       -9.4172  was to be entered\n"                   \
      "          7 and 2 have changed places, third and fourth decimal\n"     \
      "  G54     Y             6.2038  is shown\n"                            \
      "                       -6.2038  was to be entered\n"                   \
      "          the minus is lost\n")                                        \
    X("Touches of a known bore, to see what noise does.",                     \
      "synth bore --seed 4 | jawline fit bore", 0,                            \
      "bore from 4 touches, mm\n"                                             \
      "centre      x      293.406\n"                                          \
      "            y      -64.904\n"                                          \
      "diameter            30.000\n"                                          \
      "how far each touch lies off the wall (+ away from the centre):\n"      \
      "  touch 1           -0.0002\n"                                         \
      "  touch 2            0.0002\n"                                         \
      "  touch 3           -0.0002\n"                                         \
      "  touch 4            0.0002\n"                                         \
      "rms                  0.0002\n"                                         \
      "largest              0.0002  at touch 4\n")                            \
    X("A tip in a ring of 50 mm. The last lines go into the sheet.",          \
      "tip ring --size 50 --size-u 0.0005 22.01,0 0,22.012 -22.01,0 "         \
      "0,-22.01 | tail -n 2", 0,                                              \
      "for the sheet:\n"                                                      \
      "tip stylus  diameter 5.9790mm known to 0.00650mm  repeat 0.00100mm\n")
