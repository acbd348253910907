/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grammar.h: what a sheet may say.  This one table drives the reader
 * (entry.c, form.c) and makes the manual page jawline-sheet(5)
 * (doc/make_sheet_page.c), so that the two can not drift apart.  Adding a
 * field means adding a row here and taking its value in build.c or tasks.c.
 *
 * A form is what follows a word, and reads as the manual prints it:
 *
 *     UPPER          one value of that kind (JAW_GRAMMAR_KINDS)
 *     lower          that very word
 *     a|b|c          one of these words
 *     [ ... ]        may be left out; taken when its first part fits
 *     this | that    alternatives, told apart by their first part */
#ifndef JAW__GRAMMAR_H
#define JAW__GRAMMAR_H

#include <stdbool.h>

/* What is checked of a value beyond its kind's spelling. */
typedef enum jaw__range {
    JAW__ANY,
    JAW__NOT_NEGATIVE,
    JAW__POSITIVE
} jaw__range;

/* What a kind is read as. */
typedef enum jaw__reads {
    JAW__AS_LENGTH,
    JAW__AS_ANGLE,
    JAW__AS_PLAIN,    /* a number that carries no unit */
    JAW__AS_TOOL,     /* whole number 1..9999 */
    JAW__AS_NAME,
    JAW__AS_REGISTER, /* a name, or G54.1 P and a number */
    JAW__AS_TOUCHER,  /* a name, or the word `tool` and a number */
    JAW__AS_LABEL,    /* a name that may begin with a digit and hold points */
    JAW__AS_TEXT,     /* in double quotes */
    JAW__AS_REST      /* all that is left of the line */
} jaw__reads;

/* Columns: kind, how it is read, range, what a message calls it, what the
 * manual says. */
#define JAW_GRAMMAR_KINDS(X)                                                   \
    X(READING, AS_LENGTH, ANY, "a reading",                                    \
      "the position that the control shows, in machine coordinates")           \
    X(PLACE, AS_LENGTH, ANY, "a part coordinate",                              \
      "a coordinate on the part's drawing")                                    \
    X(SIZE, AS_LENGTH, POSITIVE, "a size", "a length larger than zero")        \
    X(DIAMETER, AS_LENGTH, NOT_NEGATIVE, "a diameter",                         \
      "a length, zero or larger; zero means that the reading is the "          \
      "surface itself")                                                        \
    X(GAP, AS_LENGTH, NOT_NEGATIVE, "a thickness",                             \
      "a length, zero or larger")                                              \
    X(SPREAD, AS_LENGTH, POSITIVE, "an uncertainty",                           \
      "a length larger than zero: one standard deviation of what stands "      \
      "before it")                                                             \
    X(BEYOND, AS_LENGTH, ANY, "a length",                                      \
      "a length of either sign")                                               \
    X(SHARE, AS_PLAIN, ANY, "a correlation",                                   \
      "a number between -1 and 1, without a unit")                             \
    X(ANGLE, AS_ANGLE, ANY, "an angle",                                        \
      "an angle, counter-clockwise positive seen from +Z")                     \
    X(FINENESS, AS_ANGLE, POSITIVE, "an angle", "an angle larger than zero")   \
    X(ANGLESPREAD, AS_ANGLE, POSITIVE, "an uncertainty",                       \
      "an angle larger than zero: one standard deviation")                     \
    X(CELSIUS, AS_PLAIN, ANY, "a temperature",                                 \
      "a temperature in degrees Celsius, without a unit")                      \
    X(KELVINS, AS_PLAIN, POSITIVE, "an uncertainty",                           \
      "a difference of temperature larger than zero, in degrees Celsius: one " \
      "standard deviation")                                                    \
    X(MILLIONTHS, AS_PLAIN, ANY, "an expansion",                               \
      "millionths of its length by which a material grows for each degree "    \
      "Celsius: 11.5 for steel, 23.1 for aluminium")                           \
    X(SUREMILLIONTHS, AS_PLAIN, POSITIVE, "an uncertainty",                    \
      "such millionths, larger than zero: one standard deviation")             \
    X(NUMBER, AS_TOOL, ANY, "a tool number",                                   \
      "a tool number, whole, from 1 to 9999")                                  \
    X(NAME, AS_NAME, ANY, "a name",                                            \
      "a new name: a letter first, then letters, digits, - and _")             \
    X(TIP, AS_NAME, ANY, "the name of a tip", "the name of a tip entry")       \
    X(FEATURE, AS_NAME, ANY, "the name of a feature",                          \
      "the name of an edge, face, bore, boss, slot, web, pattern, ball, bar, " \
      "sweep or dial")                                                         \
    X(SWEEP, AS_NAME, ANY, "the name of a sweep",                              \
      "the name of a sweep entry")                                             \
    X(SURFACE, AS_NAME, ANY, "the name of a face or setter",                   \
      "the name of a face or of a setter")                                     \
    X(VISE, AS_NAME, ANY, "the name of a vise", "the name of a vise entry")    \
    X(RUNOUT, AS_NAME, ANY, "the name of a runout",                            \
      "the name of a runout entry")                                            \
    X(ROTARY, AS_NAME, ANY, "the name of a rotary table",                      \
      "the name of a rotary entry")                                            \
    X(DATUMS, AS_NAME, ANY, "the name of a set of datums",                     \
      "the name of a datums entry")                                            \
    X(TABLEANGLE, AS_ANGLE, ANY, "an angle",                                   \
      "an angle as a rotary table, or the control for it, shows it")           \
    X(VEEANGLE, AS_ANGLE, POSITIVE, "an angle",                                \
      "the angle between two flanks, larger than zero")                        \
    X(SINEANGLE, AS_ANGLE, NOT_NEGATIVE, "an angle",                           \
      "an angle from the plate that the bar stands on, zero or larger")        \
    X(STATIONS, AS_NAME, ANY, "the name of stations",                          \
      "the name of a stations entry")                                          \
    X(REGISTER, AS_REGISTER, ANY, "a register",                                \
      "a work register of the control: G54 to G59, or one of the numbered "    \
      "extension, G54.1P1 and so on")                                          \
    X(TOUCHER, AS_TOUCHER, ANY, "the name of a tip, or tool and a number",     \
      "the name of a tip, or the word tool and a tool number")                 \
    X(HOLDER, AS_LABEL, ANY, "the name of a holder",                           \
      "the name of a holder as the book has it: letters, digits, - _ and "     \
      "points, a letter or digit first")                                       \
    X(TEXT, AS_TEXT, ANY, "a text in double quotes",                           \
      "a text in double quotes")                                               \
    X(REST, AS_REST, ANY, "a text",                                            \
      "a text, to the end of the line or in double quotes")

/* What rows an entry takes.  Columns: rule; what a row is: LABELLED (touches,
 * whose numbers may have labels), PLAIN or READINGS (of an indicator or at an
 * angle); least and most numbers without labels; whether the first is an angle;
 * what the rows are called; a lone / among them (NEVER, ONCE may stand, MUST),
 * and between two of what it stands; the shape of a row and an example, for the
 * messages; what the manual says. */
#define JAW_GRAMMAR_ROWS(X)                                                    \
    X(NO_ROWS, PLAIN, 0, 0, false, "", NEVER, "", "", "", "")                  \
    X(ROWS_XY, LABELLED, 2, 3, false, "touches", NEVER, "",                    \
      "x and y, as in: 1.5000 -3.1120; or as in: x 0.8820",                    \
      "1.5000 -3.1120",                                                        \
      "x and y, with z if it was read; or labelled.")                          \
    X(ROWS_XYZ, LABELLED, 3, 3, false, "touches", NEVER, "",                   \
      "x, y and z, as in: 1.2 -3.4 -6.4312; or as in: z -6.4312",              \
      "1.2 -3.4 -6.4312",                                                      \
      "x, y and z; or labelled, as in *z -6.4312*.")                           \
    X(ROWS_WALLS, LABELLED, 2, 3, false, "touches", MUST, "wall",              \
      "x and y, as in: 1.5000 -3.1120; or as in: x 0.8820",                    \
      "1.5000 -3.1120",                                                        \
      "x and y, with z if it was read; or labelled. A lone */* stands once, "  \
      "between the touches of the two walls.")                                 \
    X(ROWS_HOLES, PLAIN, 4, 4, false, "touches", NEVER, "",                    \
      "nominal x and y, then touched x and y: 0 0 2.1134 -4.0021",             \
      "0 0 2.1134 -4.0021",                                                    \
      "nominal x and y, touched x and y.")                                     \
    X(ROWS_SWEEP, READINGS, 2, 2, false, "readings", NEVER, "",                \
      "the place and what the indicator says: 1.5000 0.0012",                  \
      "1.5000 0.0012",                                                         \
      "the reading of the axis that moved, and what the indicator says there: "\
      "more, the farther it is pushed in.")                                    \
    X(ROWS_TWICE, READINGS, 2, 2, false, "readings", MUST, "sweep",            \
      "the place and what the indicator says: 1.5000 0.0012",                  \
      "1.5000 0.0012",                                                         \
      "the reading of the axis that moved, and what the indicator says there: "\
      "more, the farther it is pushed in. A lone */* stands once, between the "\
      "two sweeps.")                                                           \
    X(ROWS_ROUND, READINGS, 2, 2, true, "readings", NEVER, "",                 \
      "the angle, or x+ y+ x- y-, and what the indicator says: 90 0.0012",     \
      "90 0.0012",                                                             \
      "the angle at which the indicator stands, counter-clockwise from X seen "\
      "from above, or *x+*, *y+*, *x-* or *y-*, and what it says there: more, "\
      "the farther it is pushed in.")                                          \
    X(ROWS_TURNED, READINGS, 2, 2, true, "readings", NEVER, "",                \
      "the table's angle and what the indicator says: 90 0.0012",              \
      "90 0.0012",                                                             \
      "the angle at which the table stands, and what the indicator says "      \
      "there: more, the farther it is pushed in.")                             \
    X(ROWS_TABLE, READINGS, 3, 3, true, "angles", ONCE, "feature",             \
      "the angle and the two coordinates across the axis: 90 -3.7518 -6.8521", \
      "90 -3.7518 -6.8521",                                                    \
      "the angle, and the two coordinates across the axis, x before y before " \
      "z. A lone */* may stand once, between two features along the axis.")

typedef enum jaw__rows_rule {
#define JAW__ROWS_ENUM(id, ...) JAW__##id,
    JAW_GRAMMAR_ROWS(JAW__ROWS_ENUM)
#undef JAW__ROWS_ENUM
    JAW__ROWS_RULES
} jaw__rows_rule;

/* Columns: entry, word, form of the head, rows, how many entries there may be,
 * what it is, example (its lines separated by \n). */
#define JAW_GRAMMAR_ENTRIES(X)                                                 \
    X(TITLE, "title", "REST", NO_ROWS, ONCE,                                   \
      "What this setup is for.",                                               \
      "title  Focuser plate, side 1")                                          \
    X(UNIT, "unit", "mm|in", NO_ROWS, ONCE,                                    \
      "The unit of every length that carries none, and of the values to "      \
      "enter.  It stands above the first such length.  A sheet without this "  \
      "entry is in mm, and the report says that this was assumed.",            \
      "unit   in")                                                             \
    X(INCLUDE, "include", "REST", NO_ROWS, MANY,                               \
      "All entries of another sheet, as if they stood here: a vise or a set of "\
      "tips that is described once.  The file is looked for beside this one.  "\
      "Its title and its unit are its own; it states a unit if it has "        \
      "lengths without one.",                                                  \
      "include shop-tips.jaw")                                                 \
    X(CONTROL, "control", "", NO_ROWS, ONCE,                                   \
      "What the control takes: the smallest entry, whether it can turn the "   \
      "work coordinates, and what its length registers mean.",                 \
      "control  step 0.0001  turn yes  lengths gauge-line")                    \
    X(TEMPERATURE, "temperature",                                              \
      "CELSIUS [known to KELVINS] expansion MILLIONTHS "                       \
      "[known to SUREMILLIONTHS]", NO_ROWS, ONCE,                              \
      "How warm the part is, and how its material grows.  A drawing's lengths "\
      "hold at 20 degrees Celsius (ISO 1): the nominal places of patterns are "\
      "taken as that much farther apart.  Nothing that was measured is "       \
      "changed.",                                                              \
      "temperature 24.5 known to 0.5  expansion 23.1 known to 1.2")            \
    X(TIP, "tip", "NAME", NO_ROWS, MANY,                                       \
      "What touches: an edge finder, a ball, a pin, a cutter with paper.  "    \
      "What a tip was found to measure as when it touches, by jawline tip, is "\
      "stated by runout, lobes and correlation, and carried into everything "  \
      "that it touches: a wall that is met while the tip moves in the "        \
      "direction a (counter-clockwise from X) stands half the diameter + "     \
      "X cos a + Y sin a + C cos 3a + S sin 3a from the spindle axis.",        \
      "tip finder  diameter 0.2000  repeat 0.0002\n"                           \
      "tip stylus  ball  diameter 0.1575 known to 0.0001  length 4.3125\n"     \
      "  runout 0.0007 -0.0005 known to 0.00005 0.00005\n"                     \
      "  lobes  0.0002 0.0003 known to 0.00004 0.00005\n"                      \
      "  correlation diameter with lobes-cos -0.12")                           \
    X(EDGE, "edge", "NAME", ROWS_XY, MANY,                                     \
      "A straight wall.  Two touches or more find its direction.  A single "   \
      "touch, or touches with one coordinate, take the direction from "        \
      "elsewhere, and the report says from where.",                            \
      "edge jaw   tip finder   faces y-\n"                                     \
      "  1.5000  -3.1120\n"                                                    \
      "  5.5000  -3.1112\n"                                                    \
      "edge stop  tip finder   faces x+\n"                                     \
      "  x 0.8820")                                                            \
    X(FACE, "face", "NAME", ROWS_XYZ, MANY,                                    \
      "A flat that is touched from above.  Three touches or more find its "    \
      "tilt; fewer take it as level, and the report says so.  A face without " \
      "rows is one that only tools touch, in their own entries.",              \
      "face top  tip stylus\n"                                                 \
      "  1.2  -3.4  -6.4312\n"                                                 \
      "  4.8  -3.3  -6.4310\n"                                                 \
      "  3.1  -1.0  -6.4313")                                                  \
    X(BORE, "bore", "NAME", ROWS_XY, MANY,                                     \
      "A round hole, touched from inside.  Three touches or more, or two "     \
      "with x alone and two with y alone for the halfway method.",             \
      "bore pilot  tip stylus  diameter 1.2500 expected\n"                     \
      "  3.5462  -2.0000\n"                                                    \
      "  2.4537  -2.0003\n"                                                    \
      "  3.0001  -1.4538\n"                                                    \
      "  2.9998  -2.5463")                                                     \
    X(BOSS, "boss", "NAME", ROWS_XY, MANY,                                     \
      "A round post, touched from outside.  Rows as for a bore.",              \
      "boss hub  tip finder\n"                                                 \
      "  x 2.4000\n"                                                           \
      "  x 3.6004\n"                                                           \
      "  y -1.4000\n"                                                          \
      "  y -2.6004")                                                           \
    X(SLOT, "slot", "NAME", ROWS_WALLS, MANY,                                  \
      "Two parallel walls, touched from between them.  A lone / stands "       \
      "between the touches of the two walls.",                                 \
      "slot key  tip stylus  width 0.3750 expected within 0.0020\n"            \
      "  1.0000  -2.1087\n"                                                    \
      "  2.0000  -2.1085\n"                                                    \
      "  /\n"                                                                  \
      "  1.0000  -1.8913\n"                                                    \
      "  2.0000  -1.8911")                                                     \
    X(WEB, "web", "NAME", ROWS_WALLS, MANY,                                    \
      "Two parallel walls, touched from outside; the width of bar stock, "     \
      "say.  Rows as for a slot.",                                             \
      "web stock  tip finder\n"                                                \
      "  y -3.1000\n"                                                          \
      "  /\n"                                                                  \
      "  y -0.9000")                                                           \
    X(PATTERN, "pattern", "NAME", ROWS_HOLES, MANY,                            \
      "Two or more places whose coordinates on the drawing are known.  Each "  \
      "row gives the nominal x and y and the touched x and y of one place; "   \
      "or a hole line takes the centre of a bore, boss, ball or dial of this " \
      "sheet.",                                                                \
      "pattern plate\n"                                                        \
      "  0.0000  0.0000   2.1134  -4.0021\n"                                   \
      "  hole pilot at 3.0000 1.5000")                                         \
    X(BALL, "ball", "NAME", ROWS_XYZ, MANY,                                    \
      "A ball, touched from outside with a ball: a tooling ball, say, whose "  \
      "centre is a place of the part.  Four touches or more, round it and on " \
      "top.  A zero takes x, y and z from its centre.  Of a tip's runout and " \
      "lobes the level part of each touch's direction is felt.",               \
      "ball target  tip stylus  diameter 0.5000 known\n"                       \
      "  2.3289  -1.0000  -6.2500\n"                                           \
      "  2.0000  -0.6711  -6.2500\n"                                           \
      "  1.6711  -1.0000  -6.2500\n"                                           \
      "  2.0000  -1.3289  -6.2500\n"                                           \
      "  2.0000  -1.0000  -5.9999")                                            \
    X(BAR, "bar", "NAME", ROWS_XYZ, MANY,                                      \
      "Round stock that lies down, touched from outside with a ball: on both " \
      "sides and on top at both ends, and once more between them, because "    \
      "through the first six a bar that lies across goes as well (with a "     \
      "known diameter they are enough).  In the plane its axis is like the "   \
      "middle of a web; a zero takes z from the height of the axis at the "    \
      "mean of the touches, and the report says how much "                     \
      "it rises when that is more than the touches leave open.",               \
      "bar shaft  tip stylus  diameter 0.7500 expected\n"                      \
      "  1.0000  -0.5464  -6.2000\n"                                           \
      "  1.0000  -1.4536  -6.2000\n"                                           \
      "  1.0000  -1.0000  -5.8249\n"                                           \
      "  4.0000  -0.5462  -6.2000\n"                                           \
      "  4.0000  -1.4534  -6.2000\n"                                           \
      "  4.0000  -0.9998  -5.8250\n"                                           \
      "  2.5000  -0.9999  -5.8250")                                            \
    X(SWEEP, "sweep", "NAME", ROWS_SWEEP, MANY,                                \
      "A straight wall, swept by an indicator that hangs from the spindle "    \
      "while the table moves along an axis: each row is the reading of that "  \
      "axis and what the indicator says, more the farther the plunger is "     \
      "pushed in.  It shows how the wall lies and not where: it gives a zero " \
      "its turn, and a vise how its fixed jaw lies.",                          \
      "sweep jaw-swept  along x  faces y-  repeat 0.0001\n"                    \
      "  1.0000  0.0002\n"                                                     \
      "  3.0000  0.0009\n"                                                     \
      "  5.0000  0.0018")                                                      \
    X(DIAL, "dial", "NAME inside|outside at READING READING", ROWS_ROUND,      \
      MANY,                                                                    \
      "A bore (inside) or a boss (outside), swept round by an indicator in "   \
      "the spindle, which stands at the given x and y.  Each row is the "      \
      "angle at which the plunger stands, counter-clockwise from X, and what " \
      "the indicator says.  It gives the centre, and how far to move to "      \
      "stand over it.",                                                        \
      "dial pilot-dialled inside at 3.0000 -2.0000\n"                          \
      "  0    0.0012\n"                                                        \
      "  90   0.0051\n"                                                        \
      "  180  0.0068\n"                                                        \
      "  270  0.0030")                                                         \
    X(SETTER, "setter", "NAME", NO_ROWS, MANY,                                 \
      "A tool setter, a block or any other surface of known height on which "  \
      "tools are touched.  With neither top nor height, what touched it "      \
      "finds it.",                                                             \
      "setter puck  touched -8.1234 with tool 1")                              \
    X(VISE, "vise", "NAME", NO_ROWS, MANY,                                     \
      "A vise: its bed and its jaws.  Its name is that of a surface, the bed, " \
      "on which tips and tools may be touched.",                               \
      "vise bench\n"                                                           \
      "  bed -14.2500 known to 0.0005\n"                                       \
      "  jaws 1.7500 wide 6.0000 open 8.0000")                                 \
    X(STOCK, "stock", "NAME", NO_ROWS, MANY,                                   \
      "What stands in a vise, before anything is touched: how high its top "   \
      "will be and how sure that is, and whether the jaws have enough of it.  "\
      "Its name is that of a surface, its top: a zero may take its z from it.",\
      "stock blank in bench\n"                                                 \
      "  size 5.0 3.0 1.0 known to 0.002\n"                                    \
      "  parallels 1.5000 known to 0.0002")                                    \
    X(TRAM, "tram", "NAME", ROWS_ROUND, MANY,                                  \
      "The head, swung over the table with an indicator in the spindle: how "  \
      "it leans, what a cutter makes of that, and which way to turn it.",      \
      "tram head radius 4.0 cutter 2.0\n"                                      \
      "  0   0.0012\n"                                                         \
      "  90  0.0003\n"                                                         \
      "  180 -0.0010\n"                                                        \
      "  270 0.0001")                                                          \
    X(SQUARE, "square", "NAME", ROWS_TWICE, MANY,                              \
      "How square X and Y are: one arm of a square is laid along X, the other "\
      "is swept along Y.  First both arms point to plus; then the square is "  \
      "turned over, so that the arm along X points to minus and the square's " \
      "own error changes sides, and it is swept again.  For a column take Z "  \
      "for Y.",                                                                \
      "square axes faces x+ then x- over 6.0\n"                                \
      "  0 0.0000\n"                                                           \
      "  5 0.0011\n"                                                           \
      "  /\n"                                                                  \
      "  0 0.0000\n"                                                           \
      "  5 -0.0007")                                                           \
    X(VEE, "vee", "NAME", NO_ROWS, MANY,                                       \
      "Round stock in a V-block: how high its axis and its top stand, and how " \
      "sure that is.  Its name is that of a surface, the stock's top: a zero " \
      "may take its z from it.",                                               \
      "vee bar\n"                                                              \
      "  apex -12.2500 known to 0.0005\n"                                      \
      "  angle 90\n"                                                           \
      "  stock 1.2500 known to 0.001")                                         \
    X(SINE, "sine", "NAME", NO_ROWS, MANY,                                     \
      "A sine bar on gauge blocks, to set a vise, an angle plate or a part at "\
      "an angle: how high the stack must be for an angle, or which angle a "   \
      "stack makes and how sure that is; with both, how far off it is.",       \
      "sine plate\n"                                                           \
      "  bar 5.0000 known to 0.0001\n"                                         \
      "  angle 10.5\n"                                                         \
      "  stack 0.9112 known to 0.00005")                                       \
    X(DATUMS, "datums", "NAME", NO_ROWS, MANY,                                 \
      "How a part lies, by three datums in their order: the primary takes the " \
      "part's tilt, the secondary is square to it and takes the turn, the "    \
      "tertiary is square to both.  A control with three axes takes no tilt: " \
      "it becomes shims under places that are named, and the error in z at "   \
      "the part's corners.  All touches of the three have x, y and z.",        \
      "datums block primary top secondary jaw tertiary stop\n"                 \
      "  at 0 0 0\n"                                                           \
      "  shim 0.5 0.5\n"                                                       \
      "  shim 4.5 0.5\n"                                                       \
      "  corner 5.0 3.0")                                                      \
    X(ROTARY, "rotary", "NAME", ROWS_TABLE, MANY,                              \
      "A rotary table: its centre line, from one feature that was touched at " \
      "known angles, and which way it counts.  A lone / stands between the "   \
      "rows of two features along the axis, which show how the axis leans.  "  \
      "A line `at` instead names a feature as it was found at that angle: "    \
      "about z a bore, a boss or a dial; a ball; or, about x or y, a bar that "\
      "the table holds along its axis, a test bar in its chuck, say.  A bar "  \
      "never runs true: what is found of it at several angles, best all "      \
      "round or half a turn apart, parts its own runout from the axis, and "   \
      "shows how the axis leans without a second feature; but as it lies so "  \
      "near the axis, it seldom shows which way the table counts, so state "   \
      "that.",                                                                 \
      "rotary table about x repeat 0.0003\n"                                   \
      "  0   -2.5012 -8.1034\n"                                                \
      "  90  -3.7518 -6.8521\n"                                                \
      "  180 -2.4996 -5.6010")                                                 \
    X(RUNOUT, "runout", "NAME", ROWS_TURNED, MANY,                             \
      "A round bar that a rotary table holds and turns under an indicator "    \
      "that stands still beside it: how far it runs out, and where its high "  \
      "spot is.  A rotary entry that names it finds its centre line from the " \
      "bar as found at one angle, less what it runs out.",                     \
      "runout near  on z+ at 3.0000  repeat 0.0001\n"                          \
      "  0    0.0000\n"                                                        \
      "  90   0.0008\n"                                                        \
      "  180  0.0011\n"                                                        \
      "  270  0.0003")                                                         \
    X(STATIONS, "stations", "NAME", NO_ROWS, MANY,                             \
      "Several vises in a row, a grid on a plate, rows of a tombstone: places " \
      "whose spacing is known.  The zeros that say station belong to it.  Those "\
      "that were touched say how the whole lies, and with that where the others "\
      "are; how far each touched one lies off the others is told.",            \
      "stations row  places known to 0.0005\n"                                 \
      "zero G54  x stop  y jaw  z top  turn jaw along x\n"                     \
      "  station row at 0 0\n"                                                 \
      "zero G55\n"                                                             \
      "  station row at 10.0000 0")                                            \
    X(SIDE, "side", "two over x|y|z zero at PLACE PLACE PLACE", NO_ROWS, ONCE, \
      "The part was turned over by half a turn about its own X (front to back), "\
      "Y (left to right) or Z (end for end).  All part coordinates in this sheet "\
      "then are those of side one's drawing, and the three here are where on it "\
      "the zero of side two is to be.  The zeros of this sheet are those of "   \
      "side two.  How far its cuts are to be expected off side one is told.",  \
      "side two over y zero at 5.0000 0 -1.0000  cut known to 0.0005")         \
    X(TOOL, "tool", "NUMBER [TEXT]", NO_ROWS, MANY,                            \
      "A tool whose length is known or wanted, or kept in the book (jawline "  \
      "tool).  `--book` and `--machine` say which book, and of which machine.", \
      "tool 3 \"3/8 ball mill\"\n"                                             \
      "  touched -8.1234 on puck\n"                                            \
      "  touched -7.9210 on top paper 0.0030\n"                                \
      "tool 4 from book")                                                      \
    X(ZERO, "zero", "REGISTER", NO_ROWS, MANY,                                 \
      "A work zero: which register is to hold it, and what it follows from.  " \
      "An axis that is not named is not asked for.",                           \
      "zero G54\n"                                                             \
      "  turn  jaw along x\n"                                                  \
      "  x     stop at 0\n"                                                    \
      "  y     jaw\n"                                                          \
      "  z     top at 0.0200")

/* Columns: entry, role (what build.c or tasks.c asks for), word ("": the form begins
 * with the word itself), form, how often, what it means, example. */
#define JAW_GRAMMAR_FIELDS(X)                                                  \
    X(CONTROL, STEP, "step", "SIZE", MAY,                                      \
      "the smallest length that can be entered; 0.001 mm or 0.0001 in when "   \
      "it is not given, and the report says so",                               \
      "step 0.0001")                                                           \
    X(CONTROL, ANGLE_STEP, "angle-step", "FINENESS", MAY,                      \
      "the smallest angle that can be entered; 0.0001 degrees when it is not " \
      "given",                                                                 \
      "angle-step 0.001")                                                      \
    X(CONTROL, TURN, "turn", "yes|no", MAY,                                    \
      "whether the control can turn the work coordinates; no when it is not "  \
      "given",                                                                 \
      "turn yes")                                                              \
    X(CONTROL, LENGTHS, "lengths",                                             \
      "gauge-line | tip-to-part | reference-tool NUMBER", MAY,                 \
      "what a length register holds; gauge-line when it is not given",         \
      "lengths reference-tool 1")                                              \
    X(CONTROL, TRAVEL, "travel", "x|y|z READING READING", MANY,                \
      "the lowest and the highest reading that an axis can reach",             \
      "travel z -16.5 0")                                                      \
    X(TIP, SHAPE, "", "cylinder|ball|pin|cutter", MAY,                         \
      "the shape of its end; cylinder (a flat end) when it is not given",      \
      "ball")                                                                  \
    X(TIP, DIAMETER, "diameter", "DIAMETER [known to SPREAD]", MUST,           \
      "its effective diameter: what it measures as when it touches; it is "    \
      "taken as exact when known to is left out",                              \
      "diameter 0.2000")                                                       \
    X(TIP, REPEAT, "repeat", "SIZE", MAY,                                      \
      "how well one touch comes back: one standard deviation",                 \
      "repeat 0.0002")                                                         \
    X(TIP, LENGTH, "length", "SIZE [known to SPREAD]", MAY,                    \
      "from the gauge line to its end",                                        \
      "length 4.3125")                                                         \
    X(TIP, PAPER, "paper", "GAP", MAY,                                         \
      "what lies between the tip and the surface, on its side and on its end", \
      "paper 0.0030")                                                          \
    X(TIP, TOOL, "tool", "NUMBER", MAY,                                        \
      "this tip is the tool of that number, and has its length",               \
      "tool 3")                                                                \
    X(TIP, RUNOUT, "runout", "BEYOND BEYOND [known to SPREAD SPREAD]", MAY,    \
      "X and Y of the above: how far its middle stands off the spindle axis, " \
      "with what of its pre-travel goes the same way; the spindle then stands "\
      "as it stood at 0 in the calibration, and the report says so",           \
      "runout 0.0007 -0.0005 known to 0.00005 0.00005")                        \
    X(TIP, LOBES, "lobes", "BEYOND BEYOND [known to SPREAD SPREAD]", MAY,      \
      "C and S of the above: how its pre-travel goes up and down three times " \
      "a turn, as that of a tip on three supports does",                       \
      "lobes 0.0002 0.0003 known to 0.00004 0.00005")                          \
    X(TIP, CORRELATION, "correlation",                                         \
      "diameter|runout-x|runout-y|lobes-cos|lobes-sin with "                   \
      "diameter|runout-x|runout-y|lobes-cos|lobes-sin SHARE", MANY,            \
      "of the errors of two of these, of which it is stated how well each is " \
      "known; 0 when it is not given",                                         \
      "correlation diameter with lobes-cos -0.12")                             \
    X(TIP, FROM, "from", "book", MAY,                                          \
      "all that jawline tip --keep wrote down under this name, in place of "   \
      "diameter, runout, lobes and correlation; a shape, repeat or length "    \
      "that is stated beside it holds in place of that in the book",           \
      "from book")                                                             \
    X(EDGE, TIP, "tip", "TIP", MUST, "what touched it", "tip finder")          \
    X(EDGE, REPEAT, "repeat", "SIZE", MAY,                                     \
      "how well one touch of it comes back: one standard deviation; as the "   \
      "tip states when it is left out",                                        \
      "repeat 0.0005")                                                         \
    X(EDGE, FACES, "faces", "x+|x-|y+|y-", MAY,                                \
      "its outward normal, by the machine axis nearest to it: the jaw face "   \
      "that looks at the operator faces y-; it may be left out only for a "    \
      "tip of diameter 0",                                                     \
      "faces y-")                                                              \
    X(EDGE, MOVING, "moving", "x+|x-|y+|y-", MAY,                              \
      "which way the tip moved when it touched; it must be opposite to "       \
      "faces, and is a check on it",                                           \
      "moving y+")                                                             \
    X(FACE, TIP, "tip", "TIP", MUST, "what touched it", "tip stylus")          \
    X(FACE, REPEAT, "repeat", "SIZE", MAY,                                     \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(BORE, TIP, "tip", "TIP", MUST, "what touched it", "tip stylus")          \
    X(BORE, REPEAT, "repeat", "SIZE", MAY,                                     \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(BORE, SIZE, "diameter",                                                  \
      "SIZE expected|known [to SPREAD] [within SIZE]", MAY,                    \
      "expected: compare what is found, and doubt it when it is farther off "  \
      "than within; known: take it as given and find the centre alone; known " \
      "to: let the touches have their say as well",                            \
      "diameter 1.2500 expected within 0.0020")                                \
    X(BOSS, TIP, "tip", "TIP", MUST, "what touched it", "tip finder")          \
    X(BOSS, REPEAT, "repeat", "SIZE", MAY,                                     \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(BOSS, SIZE, "diameter",                                                  \
      "SIZE expected|known [to SPREAD] [within SIZE]", MAY,                    \
      "as for a bore",                                                         \
      "diameter 1.0000 known")                                                 \
    X(SLOT, TIP, "tip", "TIP", MUST, "what touched it", "tip stylus")          \
    X(SLOT, REPEAT, "repeat", "SIZE", MAY,                                     \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(SLOT, SIZE, "width", "SIZE expected [within SIZE]", MAY,                 \
      "compare what is found, and doubt it when it is farther off than within",\
      "width 0.3750 expected")                                                 \
    X(WEB, TIP, "tip", "TIP", MUST, "what touched it", "tip finder")           \
    X(WEB, REPEAT, "repeat", "SIZE", MAY,                                      \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(WEB, SIZE, "width", "SIZE expected [within SIZE]", MAY,                  \
      "as for a slot",                                                         \
      "width 2.0000 expected")                                                 \
    X(PATTERN, PLACES, "places", "known to SPREAD", MAY,                       \
      "how well each place is known to lie where the drawing has it, in x and "\
      "in y: one standard deviation; 0.003 mm when it is not given",           \
      "places known to 0.0002")                                                \
    X(PATTERN, REPEAT, "repeat", "SIZE", MAY,                                  \
      "of the places that its rows give: as for an edge",                      \
      "repeat 0.0005")                                                         \
    X(PATTERN, HOLE, "hole", "FEATURE at PLACE PLACE [set aside]", MANY,       \
      "a bore, boss, ball or dial, and its nominal x and y; one that is set "  \
      "aside is kept and shown, and nothing follows from it",                  \
      "hole pilot at 3.0000 1.5000")                                           \
    X(BALL, TIP, "tip", "TIP", MUST, "what touched it", "tip stylus")          \
    X(BALL, REPEAT, "repeat", "SIZE", MAY,                                     \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(BALL, SIZE, "diameter",                                                  \
      "SIZE expected|known [to SPREAD] [within SIZE]", MAY,                    \
      "as for a bore",                                                         \
      "diameter 0.5000 known")                                                 \
    X(BAR, TIP, "tip", "TIP", MUST, "what touched it", "tip stylus")           \
    X(BAR, REPEAT, "repeat", "SIZE", MAY,                                      \
      "as for an edge",                                                        \
      "repeat 0.0005")                                                         \
    X(BAR, SIZE, "diameter",                                                   \
      "SIZE expected|known [to SPREAD] [within SIZE]", MAY,                    \
      "as for a bore",                                                         \
      "diameter 0.7500 expected within 0.0010")                                \
    X(SWEEP, ALONG, "along", "x|y", MUST,                                      \
      "the axis that moves; a wall that faces y+ or y- is swept along x",      \
      "along x")                                                               \
    X(SWEEP, FACES, "faces", "x+|x-|y+|y-", MUST,                              \
      "as for an edge",                                                        \
      "faces y-")                                                              \
    X(SWEEP, REPEAT, "repeat", "SIZE", MAY,                                    \
      "how well one reading comes back: one standard deviation; the readings " \
      "themselves tell when it is not given",                                  \
      "repeat 0.0001")                                                         \
    X(SWEEP, AFTER, "after", "SWEEP", MAY,                                     \
      "the sweep of the same wall before it was tapped: how much the skew "    \
      "changed, and what is left",                                             \
      "after jaw-first")                                                       \
    X(DIAL, SIZE, "diameter", "SIZE", MAY,                                     \
      "what is swept, about (less, in a bore, the diameter of the plunger's "  \
      "ball; outside a boss with it): so that the shift is right where it is " \
      "large; the readings say nothing of it",                                 \
      "diameter 1.2500")                                                       \
    X(DIAL, REPEAT, "repeat", "SIZE", MAY,                                     \
      "as for a sweep",                                                        \
      "repeat 0.0001")                                                         \
    X(SETTER, TOP, "top", "READING [known to SPREAD]", MAY,                    \
      "the reading at which a tool of length 0 would meet its top",            \
      "top -12.4310")                                                          \
    X(SETTER, HEIGHT, "height", "SIZE on SURFACE [known to SPREAD]", MAY,      \
      "how high it stands on a face or on another setter",                     \
      "height 2.0000 on top")                                                  \
    X(SETTER, FROM, "from", "book [on SURFACE]", MAY,                          \
      "its top as the book has it under this name, in place of top; or with "  \
      "on, in place of height, the thickness of the block of this name that "  \
      "stands there",                                                          \
      "from book on top")                                                      \
    X(SETTER, TOUCHED, "touched", "READING with TOUCHER", MANY,                \
      "the reading of z when a tip or a tool met it",                          \
      "touched -8.1234 with tool 1")                                           \
    X(VISE, BED, "bed", "READING [known to SPREAD]", MAY,                      \
      "the reading at which a tool of length 0 would meet the vise's bed; "    \
      "what touches the bed finds it when it is not given",                    \
      "bed -14.2500 known to 0.0005")                                          \
    X(VISE, TOUCHED, "touched", "READING with TOUCHER", MANY,                  \
      "the reading of z when a tip or a tool met the bed",                     \
      "touched -9.9375 with tool 1")                                           \
    X(VISE, JAWS, "jaws", "SIZE [wide SIZE] [open SIZE]", MUST,                \
      "how high the jaws stand above the bed, how wide they are, and how far " \
      "they open",                                                             \
      "jaws 1.7500 wide 6.0000 open 8.0000")                                   \
    X(VISE, FIXED, "fixed", "FEATURE", MAY,                                    \
      "the edge or sweep of the fixed jaw: how it lies, and which end "        \
      "to tap how far",                                                        \
      "fixed jaw")                                                             \
    X(STOCK, IN, "in", "VISE", MUST, "the vise that it stands in", "in bench") \
    X(STOCK, SIZE, "size", "SIZE SIZE SIZE [known to SPREAD]", MUST,           \
      "along the jaws, across them, and its height; known to is about the "    \
      "height",                                                                \
      "size 5.0 3.0 1.0 known to 0.002")                                       \
    X(STOCK, PARALLELS, "parallels", "SIZE [known to SPREAD]", MAY,            \
      "the height of the parallels that it stands on",                         \
      "parallels 1.5000 known to 0.0002")                                      \
    X(STOCK, GRIP, "grip", "SIZE", MAY,                                        \
      "the least height of stock that shall be in the jaws; 3 mm when it is "  \
      "not given",                                                             \
      "grip 0.1250")                                                           \
    X(STOCK, TOP, "top", "FEATURE", MAY,                                       \
      "the face that was touched on the stock, to be held against the stack",  \
      "top top")                                                               \
    X(TRAM, RADIUS, "radius", "SIZE", MUST,                                    \
      "from the spindle's axis to where the plunger rests",                    \
      "radius 4.0")                                                            \
    X(TRAM, CUTTER, "cutter", "SIZE", MAY,                                     \
      "the diameter of the cutter whose marks are asked for", "cutter 2.0")    \
    X(TRAM, BASE, "base", "SIZE", MAY,                                         \
      "between the bolts of the head or column: how thick a shim goes there",  \
      "base 9.0")                                                              \
    X(TRAM, REPEAT, "repeat", "SIZE", MAY,                                     \
      "how well one reading comes back: one standard deviation; the readings " \
      "themselves tell when it is not given",                                  \
      "repeat 0.0001")                                                         \
    X(SQUARE, FACES, "faces", "x+|x- [then x+|x-]", MUST,                      \
      "which way the swept side of the arm faces, first and when turned over; "\
      "the same both times when then is left out",                             \
      "faces x+ then x-")                                                      \
    X(SQUARE, OVER, "over", "SIZE", MAY,                                       \
      "the length over which the axes' squareness is told as well",            \
      "over 6.0")                                                              \
    X(SQUARE, REPEAT, "repeat", "SIZE", MAY, "as for tram", "repeat 0.0001")   \
    X(VEE, APEX, "apex", "READING [known to SPREAD]", MUST,                    \
      "the reading at which a tool of length 0 would meet the sharp bottom of " \
      "the V: where its flanks would meet if they went on",                    \
      "apex -12.2500 known to 0.0005")                                         \
    X(VEE, VEE_ANGLE, "angle", "VEEANGLE", MUST,                               \
      "between the flanks, less than 180 degrees", "angle 90")                 \
    X(VEE, SIZE, "stock", "SIZE [known to SPREAD]", MUST,                      \
      "the diameter of what lies in it", "stock 1.2500 known to 0.001")        \
    X(SINE, BAR, "bar", "SIZE [known to SPREAD]", MUST,                        \
      "its length, from the middle of one roller to that of the other",        \
      "bar 5.0000 known to 0.0001")                                            \
    X(SINE, VEE_ANGLE, "angle", "SINEANGLE", MAY,                              \
      "the angle that is wanted, less than 90 degrees", "angle 10.5")          \
    X(SINE, STACK, "stack", "GAP [known to SPREAD]", MAY,                      \
      "the blocks under one roller, or how much more there is under it than "  \
      "under the other", "stack 0.9112 known to 0.00005")                      \
    X(DATUMS, PRIMARY, "primary", "FEATURE", MUST,                             \
      "a face with three touches or more", "primary top")                      \
    X(DATUMS, SECONDARY, "secondary", "FEATURE", MUST,                         \
      "an edge with two touches or more, far apart", "secondary jaw")          \
    X(DATUMS, TERTIARY, "tertiary", "FEATURE", MUST,                           \
      "an edge that faces along the other axis", "tertiary stop")              \
    X(DATUMS, WHERE, "at", "PLACE PLACE PLACE", MAY,                           \
      "the part coordinates of the corner where the three meet; 0 0 0 when it " \
      "is left out", "at 0 0 0")                                               \
    X(DATUMS, SHIM, "shim", "PLACE PLACE", MANY,                               \
      "a place, in part coordinates, where a shim could go under the part",    \
      "shim 0.5 0.5")                                                          \
    X(DATUMS, CORNER, "corner", "PLACE PLACE", MANY,                           \
      "a place, in part coordinates, at which the error in z is asked for",    \
      "corner 5.0 3.0")                                                        \
    X(ROTARY, ABOUT, "about", "x|y|z", MUST,                                   \
      "the machine axis along which its axis lies", "about x")                 \
    X(ROTARY, SENSE, "sense", "right|left", MAY,                               \
      "which way a larger angle turns the work: by the right hand, counter-"   \
      "clockwise as seen from the far end of that axis, looking back to 0; or " \
      "the other way.  It is found from what was seen when it is left out, "   \
      "and what was seen is a check on it", "sense right")                     \
    X(ROTARY, REPEAT, "repeat", "SIZE", MAY,                                   \
      "how well each coordinate comes back: one standard deviation; what was " \
      "seen tells when it is left out", "repeat 0.0003")                       \
    X(ROTARY, TIP, "tip", "TIP", MAY,                                          \
      "whose length is in z; when it is left out, z is as for a tool of "      \
      "length 0", "tip stylus")                                                \
    X(ROTARY, APART, "apart", "BEYOND", MAY,                                   \
      "how far the second feature stands from the first along the axis, with " \
      "its sign", "apart 4.0")                                                 \
    X(ROTARY, SEEN, "at", "TABLEANGLE FEATURE [set aside]", MANY,              \
      "the angle, and a bore, boss, dial, ball or bar as it was found there",  \
      "at 90 post90")                                                          \
    X(ROTARY, RUNOUT, "runout", "RUNOUT [and RUNOUT]", MAY,                    \
      "what an indicator said of the bar while the table turned: the bar is "  \
      "then found at one angle only, and state the sense; with two, read far " \
      "apart along the bar, it is seen how the axis leans",                    \
      "runout near and far")                                                   \
    X(RUNOUT, ON, "on", "x+|x-|y+|y-|z+|z-", MUST,                             \
      "on which side of the bar the indicator stands", "on z+")                \
    X(RUNOUT, WHERE, "at", "READING", MUST,                                    \
      "where along the table's axis it rests on the bar: the reading of that " \
      "machine axis as when a tip touches there",                              \
      "at 3.0000")                                                             \
    X(RUNOUT, REPEAT, "repeat", "SIZE", MAY,                                   \
      "how well one reading comes back: one standard deviation; the readings " \
      "themselves tell when it is not given",                                  \
      "repeat 0.0001")                                                         \
    X(STATIONS, TURN, "turn", "ANGLE | FEATURE [along x|y]", MAY,              \
      "how the whole lies, as for a zero: measured apart, on an edge of the "  \
      "plate, say; without it the touched stations tell, or one alone by its " \
      "own turn",                                                              \
      "turn rail along x")                                                     \
    X(STATIONS, PLACES, "places", "known to SPREAD", MAY,                      \
      "how well each is known to stand where it is stated, in x, y and z: one " \
      "standard deviation; 0.003 mm when it is not given",                     \
      "places known to 0.0005")                                                \
    X(STATIONS, ADJUSTED, "adjusted", "yes|no", MAY,                           \
      "whether touched ones, too, take the values that all say together; no "  \
      "when it is not given: they keep their own",                             \
      "adjusted yes")                                                          \
    X(SIDE, CUT, "cut", "known to SPREAD", MAY,                                \
      "how well what was cut on side one lies where it was meant, in x, y and " \
      "z: one standard deviation; it counts twice, for what is touched now "   \
      "and for what side two's cut is to meet",                                \
      "cut known to 0.0005")                                                   \
    X(TOOL, LENGTH, "length", "SIZE [known to SPREAD]", MAY,                   \
      "from the gauge line to its tip, when it is known",                      \
      "length 4.0250")                                                         \
    X(TOOL, HOLDER, "holder", "HOLDER", MAY,                                   \
      "which holder it is in, when the book is to tell its length: of each "   \
      "holder the book keeps a length of its own",                             \
      "holder ER20-1 from book")                                               \
    X(TOOL, FROM, "from", "book", MAY,                                         \
      "its length as it was last measured by jawline tool, with what is known "\
      "of its error, in place of length; what it touched here besides is "     \
      "compared with it.  A tool that was measured on a surface whose height " \
      "the book does not know is known only against others on it: then this "  \
      "sheet has a setter of that name.  Name the setter from the book as "    \
      "well where several tools were measured on it: its error then cancels "  \
      "between them",                                                          \
      "from book")                                                             \
    X(TOOL, DIAMETER, "diameter", "SIZE", MAY,                                 \
      "its diameter, for the record",                                          \
      "diameter 0.3750")                                                       \
    X(TOOL, TOUCHED, "touched",                                                \
      "READING on SURFACE [block GAP] [paper GAP]", MANY,                      \
      "the reading of z when it met a surface, and what lay in between",       \
      "touched -8.1234 on puck")                                               \
    X(ZERO, TURN, "turn", "ANGLE | FEATURE [along x|y]", MAY,                  \
      "the turn of the part: an angle; or an edge, slot, web, bar or sweep, "  \
      "with the part axis that runs along it; or a pattern, which has axes "   \
      "of its "                                                                \
      "own; none given takes the part as square to the machine",               \
      "turn jaw along x")                                                      \
    X(ZERO, DATUMS, "datums", "DATUMS", MAY,                                   \
      "x, y, z and turn, all from three datums", "datums block")               \
    X(ZERO, INDEXED, "indexed",                                                \
      "REGISTER on ROTARY to TABLEANGLE [from TABLEANGLE]", MAY,               \
      "where the zero of another register goes when the table is indexed to "  \
      "the first angle; it was found with the table at the second, or at 0, "  \
      "or is itself indexed on this table and stands where that put it; "      \
      "the axes of the work stay along the machine's, as they lie in the "     \
      "other",                                                                 \
      "indexed G54 on table to 90")                                            \
    X(ZERO, SQUARE, "square", "known to ANGLESPREAD", MAY,                     \
      "how well walls are known to be square that were touched in one place "  \
      "only: one standard deviation; 0.02 degrees when it is not given",       \
      "square known to 0.01")                                                  \
    X(ZERO, AT_X, "x", "FEATURE [at PLACE]", MAY,                              \
      "the feature that has that part coordinate; 0 when at is left out",      \
      "x stop at 0")                                                           \
    X(ZERO, AT_Y, "y", "FEATURE [at PLACE]", MAY,                              \
      "the same for y", "y jaw at 0")                                          \
    X(ZERO, AT_Z, "z", "FEATURE [at PLACE]", MAY,                              \
      "the same for z", "z top at 0")                                          \
    X(ZERO, STATION, "station", "STATIONS at PLACE PLACE [PLACE]", MAY,        \
      "it is one of those, and its place among them; what it has no line for, " \
      "x and y together and z, follows from those that were touched, and so "  \
      "does its turn",                                                         \
      "station row at 10.0000 0")

typedef enum jaw__kind {
#define JAW__KIND_ENUM(kind, reads, range, called, text) JAW__KIND_##kind,
    JAW_GRAMMAR_KINDS(JAW__KIND_ENUM)
#undef JAW__KIND_ENUM
    JAW__KINDS
} jaw__kind;

typedef enum jaw__entry_id {
#define JAW__ENTRY_ENUM(id, word, head, rows, often, text, example)            \
    JAW__ENTRY_##id,
    JAW_GRAMMAR_ENTRIES(JAW__ENTRY_ENUM)
#undef JAW__ENTRY_ENUM
    JAW__ENTRIES
} jaw__entry_id;

typedef enum jaw__role {
    JAW__STEP,
    JAW__ANGLE_STEP,
    JAW__TURN,
    JAW__LENGTHS,
    JAW__TRAVEL,
    JAW__SHAPE,
    JAW__DIAMETER,
    JAW__REPEAT,
    JAW__LENGTH,
    JAW__PAPER,
    JAW__RUNOUT,
    JAW__LOBES,
    JAW__CORRELATION,
    JAW__TOOL,
    JAW__TIP,
    JAW__FACES,
    JAW__MOVING,
    JAW__SIZE,
    JAW__PLACES,
    JAW__SQUARE,
    JAW__HOLE,
    JAW__TOP,
    JAW__HEIGHT,
    JAW__TOUCHED,
    JAW__BED,
    JAW__JAWS,
    JAW__FIXED,
    JAW__IN,
    JAW__PARALLELS,
    JAW__GRIP,
    JAW__RADIUS,
    JAW__CUTTER,
    JAW__BASE,
    JAW__OVER,
    JAW__APEX,
    JAW__VEE_ANGLE,
    JAW__BAR,
    JAW__STACK,
    JAW__PRIMARY,
    JAW__SECONDARY,
    JAW__TERTIARY,
    JAW__WHERE,
    JAW__SHIM,
    JAW__CORNER,
    JAW__ABOUT,
    JAW__SENSE,
    JAW__APART,
    JAW__SEEN,
    JAW__ON,
    JAW__DATUMS,
    JAW__INDEXED,
    JAW__ALONG,
    JAW__AFTER,
    JAW__AT_X,
    JAW__AT_Y,
    JAW__AT_Z,
    JAW__STATION,
    JAW__ADJUSTED,
    JAW__CUT,
    JAW__FROM,
    JAW__HOLDER,
    JAW__ROLES
} jaw__role;

typedef enum jaw__often {
    JAW__MAY,  /* at most once */
    JAW__MUST, /* exactly once */
    JAW__MANY, /* as often as wanted */
    JAW__ONCE = JAW__MAY
} jaw__often;

typedef struct jaw__kind_rule {
    const char *word;
    jaw__reads reads;
    jaw__range range;
    const char *called, *text;
} jaw__kind_rule;

typedef struct jaw__rows_kind {
    enum { JAW__PLAIN, JAW__LABELLED, JAW__READINGS } what;
    int least, most;
    bool angle_first;
    const char *called;
    enum { JAW__SLASH_NEVER, JAW__SLASH_ONCE, JAW__SLASH_MUST } slash;
    const char *parts; /* what a / parts */
    const char *shape, *example, *text;
} jaw__rows_kind;

typedef struct jaw__entry_rule {
    jaw__entry_id id;
    const char *word, *head;
    jaw__rows_rule rows;
    jaw__often often;
    const char *text, *example;
} jaw__entry_rule;

typedef struct jaw__field_rule {
    jaw__entry_id entry;
    jaw__role role;
    const char *word, *form;
    jaw__often often;
    const char *text, *example;
} jaw__field_rule;

extern const jaw__kind_rule jaw__kinds[JAW__KINDS];
extern const jaw__rows_kind jaw__rows_kinds[JAW__ROWS_RULES];
extern const jaw__entry_rule jaw__entries[JAW__ENTRIES];
extern const jaw__field_rule jaw__fields[];
extern const int jaw__field_count;

#endif
