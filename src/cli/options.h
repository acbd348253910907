/* SPDX-License-Identifier: GPL-3.0-or-later */
/* options.h: what the command understands.  These lists stand once: they give
 * the parsing, --help and the manual page (doc/make_command_page.c). */
#ifndef JAW__CLI_OPTIONS_H
#define JAW__CLI_OPTIONS_H

#include <stdbool.h>
#include <stdio.h>

#include <jawline/base.h>

/* Columns: identifier, word, operands, what it does in one line, the rest of
 * what a person must know. */
#define COMMAND_LIST(X)                                                        \
    X(SOLVE, "solve", "SHEET...",                                              \
      "every value to enter on the control, from setup sheets",                \
      "A SHEET is one setup as text, see jawline-sheet(5); - reads standard "  \
      "input. The values to enter come first, then how good each one is and "  \
      "what was taken for granted. Several sheets are solved one after "       \
      "another, each under its file name; the worst exit status counts. With " \
      "--json each sheet gives one object on a line of its own, or null when " \
      "it could not be read. What a sheet takes from book comes from that of " \
      "--book, for --machine.")                                                \
    X(ENTERED, "entered", "SHEET [VALUE... | FILE | -]",                       \
      "what the control shows, held against what was to be entered",           \
      "Solves the SHEET, or takes the setup that was kept under that title "   \
      "when there is no such file, and compares every value with what you "    \
      "read off the control: as arguments, such as G54 X -12.3450 Y 3.2000 "   \
      "H3 101.2000, or as such rows in FILE, or on standard input. On a "      \
      "terminal it asks for one register after another and says at once what " \
      "is wrong: type the "                                                    \
      "number that is shown; an empty line leaves a register out, Ctrl-D "     \
      "ends. After a wrong one it asks again. What differs comes first, with " \
      "what makes the one number of the other: digits that have changed "      \
      "places, one lost, doubled or wrong, a moved point, a lost sign, inch "  \
      "for mm, the value of another register or the one from before. Lengths " \
      "are in the control's unit, turns in degrees; a number may carry its "   \
      "own. H3 is the length of tool 3. Good is what lies less than half a "   \
      "step of the control from what it should be.")                           \
    X(MOVED, "moved", "SHEET [TITLE | ENTRY]",                                 \
      "what moved since a setup was kept",                                     \
      "Solves the SHEET and compares every work zero and length with what "    \
      "was kept under its title last, or with what TITLE or ENTRY names, "     \
      "and keeps nothing. A difference is held against how well both are "     \
      "known: of 100 setups that stayed where they were at most one is said "  \
      "to have moved. What looks like a lost sign, or inch for mm, is said "   \
      "first. The exit status is 1 when something moved, or can not be "       \
      "told.")                                                                 \
    X(SETUPS, "setups", "[TITLE | ENTRY]",                                     \
      "the setups that were kept, or one of them as it was then",              \
      "Without an operand the newest of each title that the book has of the "  \
      "machine, with its registers. TITLE may be any part of a title that no " \
      "other one has; the report is printed as it was then, behind one line "  \
      "that says when, and a list of the older ones of that title, each of "   \
      "which its ENTRY names.")                                                \
    X(FIT, "fit", "KIND [POINT... | FILE | -]",                                \
      "one feature from its touches",                                          \
      "KIND is edge, face, bore, boss, slot, web, pattern, ball or bar. The "  \
      "touches are "                                                           \
      "POINTs, or the rows of FILE, or of standard input when it is - or "     \
      "neither is given. A lone / between two touches (in a file also an "     \
      "empty row) parts the two walls of a slot or web.")                      \
    X(SELFTEST, "selftest", "",                                                \
      "compare this build with published answers",                             \
      "Each case names its source, the largest difference and what is "        \
      "allowed. Worth running once after installing.")                         \
    X(SYNTH, "synth", "KIND",                                                  \
      "touches of a known truth, to try things out",                           \
      "KIND is as for fit, and prints rows for it; or one of the whole "       \
      "sheets below, for solve. The truth stands in # comments above them, "   \
      "every digit; of a sheet each has the name that solve --json gives it. " \
      "What a sheet states with known to is off by an error of just that "     \
      "spread. The same seed gives the same bytes.")                           \
    X(TIP, "tip", "KIND [POINT... | FILE | -]",                                \
      "what a tip measures as when it touches, and how well it comes back",    \
      "KIND is ring (touched inside), plug (touched outside: also a ball "     \
      "round its equator), ball (touched over its upper half: x, y, z), "      \
      "block (two opposite faces with a lone / between their touches, or two " \
      "such pairs), repeat (one place, again and again) or reversal (one "     \
      "place reached moving up, a lone /, the same moving down; more places "  \
      "after another /; a second number in every row says where each should "  \
      "read). Touches are given as to fit, but repeat and reversal also take " \
      "plain numbers. Of a ring or plug a third number 0 or 180 says how the " \
      "spindle stood: runout is only told from the centre when some touches "  \
      "were taken with it turned half a turn. The last lines are for the "     \
      "sheet, as they stand: jawline-sheet(5). With --keep it is written into "\
      "the book, and compared with the last time; a sheet then only says tip " \
      "NAME from book. KIND kept lists what is in the book, of the tip of "    \
      "--name all.")                                                           \
    X(TOOL, "tool", "NUMBER [READING...]",                                     \
      "the length of a tool into the book, and what became of it",             \
      "READINGs are what the control shows for Z when the tool touches, once " \
      "or several times. The length from the gauge line follows from the "     \
      "height of what it touched (see setter). It is compared with the last "  \
      "one of this tool in this holder, by how well readings come back: is "   \
      "it within noise, worn, pulled out of the holder, broken, or another "   \
      "tool? What a block in between, one wrong digit or another height of "   \
      "the surface would explain is said, and in which other holders the book "\
      "has it. On a terminal what is left out is asked for, and what may be a "\
      "slip once more; an empty line leaves, and nothing is written.")         \
    X(TOOLS, "tools", "[NUMBER]",                                              \
      "all tools with what to enter in their length registers, or the "        \
      "history of one",                                                        \
      "With NUMBER every length that the book has of that tool, newest first, "\
      "then its wear: the line through its lengths since the cutter was new "  \
      "(Theil 1950; interval by Sen 1968), and what the next one will be.")    \
    X(SETTER, "setter", "[NAME [READING...]]",                                 \
      "the height of a tool setter or surface, or the thickness of a block",   \
      "Without NAME all that the book has. The height of a surface is the "    \
      "machine Z of its top for a tool of length 0: stated with --top, or "    \
      "found from READINGs of Z when a tool of known length touched it "       \
      "(--tool, its length in the book, or --length); it is held against the " \
      "last one. With --between NAME is " \
      "a block, gauge or paper of that thickness.")                            \
    X(MACHINE, "machine", "[NAME]",                                            \
      "what the book knows of a machine",                                      \
      "Without options that is shown; with options it is written down, and "   \
      "what is not named stays. A change of the convention of lengths or of "  \
      "the reference tool rewrites no history; the registers that must be "    \
      "entered again are listed.")                                             \
    X(MARK, "mark", "SHEET [FEATURE...] | NAME=X,Y,Z...",                      \
      "marks on the table found again after a homing, and what to enter anew", \
      "A mark is something permanent on the table: a bore, boss, ball, edge, " \
      "slot, web or face of the SHEET, all of them or the FEATUREs named, or " \
      "a NAME with its place in machine coordinates as typed by hand (X,Y "    \
      "without a height, ,,Z a face; the same NAME again is one more "         \
      "reading). The first time they are kept with --keep. Found again, they " \
      "say by what the machine's coordinates moved and whether that is more "  \
      "than noise: of marks that stayed, 5 in 100 look like more, in the "     \
      "plane and in height each, and 1 in 1000 is said to have moved. One "    \
      "mark shows a shift, two and more a turn too, and each other's slips. "  \
      "All work zeros, surfaces and fixtures found since the marks were read " \
      "first are carried over with the uncertainty added, and from tip to "    \
      "part the length registers; the list says what to enter again. Within "  \
      "noise nothing need be entered, and the first reading goes on holding. " \
      "Marks are found first of all after a homing: what the book got between "\
      "a homing and the marks is taken for older than the homing, unless "     \
      "--homed says when that was.")                                           \
    X(MARKS, "marks", "[NAME]",                                                \
      "the marks that the book knows, or the history of one",                  \
      "Without NAME where each was found last; with NAME every reading of "    \
      "it, newest first, and what became of it.")                              \
    X(FIXTURE, "fixture", "SHEET [NAME]",                                      \
      "a vise or fixture that was found on the table, and what it repeats to", \
      "NAME is a vise of the SHEET, by default the only one, whose sizes and " \
      "bed are noted; or, of a SHEET without one, what the fixture is to be "  \
      "called. Where it lies and how it is turned is that of a zero, its own " \
      "point, the same each time. It is compared with where it lay last, and " \
      "the standard deviation of its places is what it comes back to when it " \
      "is put back. Numbers are kept with --keep.")                            \
    X(FIXTURES, "fixtures", "[NAME]",                                          \
      "the vises and fixtures that the book knows, or the history of one",     \
      "Without NAME the sizes of each and where it was found last; with NAME " \
      "every place, newest first.")                                            \
    X(BOOK, "book",                                                            \
      "log [N] | check | undo [ENTRY] | backup FILE | export FILE | "          \
      "import FILE",                                                           \
      "look after the book",                                                   \
      "log lists its newest entries, 40 or N; check looks through all of it; " \
      "undo writes that the newest entry, or ENTRY, does not hold (undoing an "\
      "undo "                                                                  \
      "brings it back); backup copies it while others may write; export and "  \
      "import are JSON, or CSV when FILE ends in .csv, - is standard output "  \
      "or input; an import is whole or nothing, and a file with fewer entries "\
      "than its first line says was cut off, and is refused. Nothing in a "    \
      "book is ever changed or taken out.")

/* Whole sheets that synth makes.  Columns: identifier, word, what makes it
 * (synth.h), what it is. */
#define SHEET_LIST(X)                                                          \
    X(SETUP, "setup", synth_setup,                                             \
      "a plate with a corner, holes, a ball, a bar, indicators, tools")        \
    X(POSTS, "posts", synth_posts,                                             \
      "a part that is touched from outside: boss, web, pattern")               \
    X(STATIONS_OWN, "stations-own", synth_stations_own,                        \
      "three vises with known spacing, each touched")                          \
    X(STATIONS_ONE, "stations-one", synth_stations_one,                        \
      "eight places with known spacing, G54 to G54.1 P2, one of them touched") \
    X(STATIONS_ROW, "stations-row", synth_stations_row,                        \
      "a row of four on a plate with a rail; what two that are touched and "   \
      "the rail say together")                                                 \
    X(SIDE_X, "side-x", synth_side_x,                                          \
      "the second side of a plate, turned over about x")                       \
    X(SIDE_Y, "side-y", synth_side_y, "the same about y")                      \
    X(SIDE_Z, "side-z", synth_side_z, "the same about z")                      \
    X(ROTARY_X, "rotary-x", synth_rotary_x,                                    \
      "a rotary table about x: a pin at known angles, in two places along "    \
      "the axis, and a zero indexed to three other angles")                    \
    X(ROTARY_Y, "rotary-y", synth_rotary_y, "the same about y")                \
    X(ROTARY_Z, "rotary-z", synth_rotary_z, "the same about z")                \
    X(DATUMS, "datums", synth_datums,                                          \
      "a block that lies tilted, by three datums")                             \
    X(VISE, "vise", synth_vise, "a vise: its bed and its fixed jaw")           \
    X(STOCK, "stock", synth_stock,                                             \
      "stock in a vise: where its top will be, and is")                        \
    X(VEE, "vee", synth_vee, "round stock in a V-block, and a tool")           \
    X(TRAM, "tram", synth_tram, "the head, swung over the table")              \
    X(SQUARE, "square", synth_square,                                          \
      "two axes, by a square that is turned over")

typedef enum sheet_id {
#define SHEET_ENUM(id, word, make, text) SHEET_##id,
    SHEET_LIST(SHEET_ENUM)
#undef SHEET_ENUM
    SHEETS
} sheet_id;

typedef enum command_id {
#define COMMAND_ENUM(id, word, operands, brief, text) CMD_##id,
    COMMAND_LIST(COMMAND_ENUM)
#undef COMMAND_ENUM
    COMMANDS
} command_id;

enum {
#define COMMAND_BIT(id, word, operands, brief, text) ON_##id = 1 << CMD_##id,
    COMMAND_LIST(COMMAND_BIT)
#undef COMMAND_BIT
    ON_ALL = (1 << COMMANDS) - 1,
    ON_PLACE = ON_MARK | ON_MARKS | ON_FIXTURE | ON_FIXTURES,
    ON_SHOP = ON_TOOL | ON_TOOLS | ON_SETTER | ON_MACHINE | ON_PLACE,
    ON_KEPT = ON_SOLVE | ON_ENTERED | ON_MOVED | ON_SETUPS,
    ON_NONE = 1 << COMMANDS /* before any command */
};

/* Columns: identifier, word, its value (NULL: none), the commands that take
 * it, what it does. */
#define OPTION_LIST(X)                                                         \
    X(EXPLAIN, "explain", NULL, ON_SOLVE,                                      \
      "also show every step of every value, and what its uncertainty is made " \
      "of: how much each source (the touches of each feature, a tip's "        \
      "diameter, stated sizes and lengths, squareness, spacing, temperature) " \
      "adds to u, in the value's unit and in percent of its square, largest "  \
      "first, with the factor that makes +- of u and the degrees of freedom "  \
      "(dof); the squares of all add up to that of u")                         \
    X(LENGTHS, "lengths", "RULE",                                              \
      ON_SOLVE | ON_ENTERED | ON_MOVED | ON_TOOLS | ON_MACHINE,                \
      "what a length register holds, in place of what the sheet or the book "  \
      "says: gauge-line, tip-to-part or reference-tool")                       \
    X(BEFORE, "before", "FILE", ON_ENTERED,                                    \
      "what the registers held before, in such rows, or - for standard "       \
      "input; one that still holds it is named. Registers that the sheet "     \
      "does not have are passed over. Without it they are taken from the "     \
      "book, when there is one: what the control was seen to show last, or "   \
      "else what was kept for it before")                                      \
    X(JSON, "json", NULL,                                                      \
      ON_KEPT | ON_FIT | ON_TIP | ON_TOOL | ON_TOOLS | ON_PLACE,               \
      "print one JSON object, with every digit")                               \
    X(KEEP, "keep", NULL, ON_SOLVE | ON_ENTERED | ON_MARK |                    \
          ON_FIXTURE | ON_TIP,                                                 \
      "solve: keep the setup in the book under its title, with its sheet and " \
      "this report, and say what moved since it was kept last; a sheet with "  \
      "an error is not kept. entered: write down what the control shows. "     \
      "mark, fixture: write it into the book, of marks that moved all that is "\
      "carried too, at once or not at all. tip: write what was found into "    \
      "the book under --name, and say what changed since it was calibrated "   \
      "last")                                                                  \
    X(SHEET, "sheet", "FILE", ON_SETUPS,                                       \
      "write the sheet of the setup as it was then into FILE, and what it "    \
      "includes beside it; - is standard output, and the sheet alone. A file " \
      "that is there already is left alone")                                   \
    X(UNIT, "unit", "mm|in", ON_FIT | ON_SYNTH | ON_TIP | ON_SHOP,             \
      "unit of numbers that carry none, and of the output; default mm, with "  \
      "a book that of the machine")                                            \
    X(TIP, "tip", "DIAMETER", ON_FIT | ON_SYNTH,                               \
      "effective diameter of the tip; the touches are then where its centre "  \
      "was (face, ball, bar: the centre of a ball). Default 0: the touches "   \
      "lie on the surface; synth, of a sheet: 4 mm")                           \
    X(FACES, "faces", "x+|x-|y+|y-", ON_FIT,                                   \
      "edge: which way the wall looks, outward; needed with --tip")            \
    X(DIAMETER, "diameter", "D", ON_FIT | ON_TOOL,                             \
      "bore, boss, ball, bar: the diameter is known to be D, only the centre " \
      "or axis is found; tool: its diameter as measured, written down too; "   \
      "several readings with commas, D,D,D, with all digits that were read: "  \
      "the last one counts as the step of what measured it")                   \
    X(DIAMETER_REPEAT, "diameter-repeat", "S", ON_TOOL,                        \
      "standard deviation of one reading of --diameter, when it is known; "    \
      "default: what diameters on this machine show; without other readings "  \
      "--repeat says the same")                                                \
    X(DIRECTION, "direction", "DEG", ON_FIT,                                   \
      "edge, slot, web: the direction is known, degrees from X, "              \
      "counter-clockwise positive")                                            \
    X(SEED, "seed", "N", ON_SYNTH, "start of the random numbers; default 1")   \
    X(NOISE, "noise", "S", ON_SYNTH,                                           \
      "standard deviation of each coordinate that is read (ball, bar: of each "\
      "touch along the normal), and in a sheet of what it states with known "  \
      "to; default 0.002 mm")                                                  \
    X(TOUCHES, "touches", "N", ON_SYNTH,                                       \
      "how many, on each wall of a slot or web; default 4, pattern 5, ball "   \
      "6, bar 9; in setup a ball has 2 more, a bar 3 times as many; a rotary " \
      "table has 2 angles more")                                               \
    X(SKEW, "skew", "DEG", ON_SYNTH,                                           \
      "how far the part is turned; default 0.2")                               \
    X(ARC, "arc", "DEG", ON_SYNTH,                                             \
      "bore, boss: the touches lie within this angle; default 360")            \
    X(SIZE, "size", "D", ON_SYNTH | ON_TIP,                                    \
      "synth bore, boss: diameter, default 30 mm; slot, web: width, ball, "    \
      "bar: diameter, default "                                                \
      "20 mm; edge, face, pattern, sheets: extent, default 100 mm; tip: the "  \
      "known diameter of the ring, plug or ball, the width of the block")      \
    X(SIZE_U, "size-u", "U", ON_TIP,                                           \
      "standard uncertainty of the known size, half of what a certificate "    \
      "states with k = 2; default 0: taken as exact")                          \
    X(SIZE_2, "size-2", "D", ON_TIP,                                           \
      "block: width between the second pair of faces; default --size")         \
    X(REPEAT, "repeat", "S", ON_TIP | ON_TOOL | ON_SETTER | ON_MARK,           \
      "standard deviation of one touch, when it is known; default: what the "  \
      "touches show; mark: of one reading that is typed")                      \
    X(NAME, "name", "NAME", ON_TIP, "what the sheet calls the tip; default "   \
      "stylus")                                                                \
    X(SHAPE, "shape", "WORD", ON_TIP,                                          \
      "the shape of its end: cylinder, ball, pin or cutter; default ball on a "\
      "ball, else as it was kept last, else cylinder")                         \
    X(BOOK, "book", "FILE", ON_SHOP | ON_BOOK | ON_KEPT | ON_TIP,              \
      "which book; default JAWLINE_BOOK of the environment, else "             \
      "jawline/book.sqlite in XDG_DATA_HOME or ~/.local/share")                \
    X(MACHINE, "machine", "NAME",                                              \
      ON_TOOL | ON_TOOLS | ON_SETTER | ON_KEPT | ON_PLACE | ON_TIP,            \
      "which machine; default the only one that the book knows, else mill")    \
    X(AT, "at", "TIME",                                                        \
      ON_TOOL | ON_SETTER | ON_MACHINE | ON_BOOK | ON_SOLVE | ON_ENTERED |     \
          ON_MARK | ON_FIXTURE | ON_TIP,                                       \
      "write down this time, UTC, such as 2026-03-02T08:15, in place of the "  \
      "clock's: for what was measured earlier; not for a time to come")     \
    X(ON, "on", "SURFACE", ON_TOOL,                                            \
      "what it touched: a surface of the book, or part, the work Z 0; "        \
      "default setter")                                                        \
    X(THROUGH, "through", "BLOCK", ON_TOOL | ON_SETTER,                        \
      "a block or paper of the book that lay in between")                      \
    X(BETWEEN, "between", "T", ON_TOOL | ON_SETTER,                            \
      "thickness of what lay in between; setter without readings: NAME is a "  \
      "block of this thickness")                                               \
    X(BETWEEN_U, "between-u", "U", ON_TOOL | ON_SETTER,                        \
      "its standard uncertainty; default 0")                                   \
    X(STATED, "stated", NULL, ON_TOOL,                                         \
      "the READINGs are lengths from the gauge line themselves")               \
    X(HOLDER, "holder", "NAME", ON_TOOL | ON_TOOLS | ON_SETTER,                \
      "which holder the tool is in; each has a history of its own")            \
    X(TEXT, "text", "TEXT", ON_TOOL | ON_FIXTURE,                              \
      "what the tool or fixture is; default what was written last time")       \
    X(NEW, "new", NULL,                                                        \
      ON_TOOL | ON_MARK | ON_FIXTURE | ON_TIP | ON_MACHINE,                    \
      "a new cutter or tip, or it was set anew; another mark under an old "    \
      "name; a fixture set elsewhere on purpose: nothing is compared, wear or "\
      "what it repeats to starts here; machine: NAME is one more, though the " \
      "book has one that is called nearly so")                                 \
    X(WORK_Z, "work-z", "Z", ON_TOOLS,                                         \
      "Z of the work zero, for registers from tip to part")                    \
    X(AHEAD, "ahead", "DAYS", ON_TOOLS,                                        \
      "how far ahead the wear is forecast; default as far as its lengths lie " \
      "apart")                                                                 \
    X(TOP, "top", "Z", ON_SETTER,                                              \
      "machine Z of the top for a tool of length 0")                           \
    X(TOP_U, "top-u", "U", ON_SETTER, "its standard uncertainty; default 0")   \
    X(TOOL, "tool", "NUMBER", ON_SETTER,                                       \
      "the tool that touched; its length is taken from the book, and how "     \
      "sure it is, 0.010 mm for one reading where that is not known")          \
    X(LENGTH, "length", "L", ON_SETTER | ON_TIP,                               \
      "length of the tool or tip that touched, from the gauge line; tip: to "  \
      "be stated with it")                                                     \
    X(LENGTH_U, "length-u", "U", ON_SETTER | ON_TIP,                           \
      "its standard uncertainty; default 0, it counts as exact")               \
    X(STEP, "step", "S", ON_MACHINE, "smallest step that the control shows")   \
    X(DECIMALS, "decimals", "N", ON_MACHINE, "how many decimals it shows")     \
    X(TRAVEL, "travel", "LOW,HIGH", ON_MACHINE, "how far Z goes")              \
    X(TRAVEL_X, "travel-x", "LOW,HIGH", ON_MACHINE, "how far X goes")          \
    X(TRAVEL_Y, "travel-y", "LOW,HIGH", ON_MACHINE,                            \
      "how far Y goes; a kept setup whose touches lie outside is doubted")     \
    X(TURN, "turn", "yes|no", ON_MACHINE,                                      \
      "whether the control takes a turn of the coordinates; a kept setup "     \
      "that says otherwise is doubted")                                        \
    X(REFERENCE, "reference", "NUMBER", ON_MACHINE,                            \
      "the tool that the others are measured against")                         \
    X(SEAT, "seat", "S", ON_MACHINE,                                           \
      "how well a tool's tip comes back when its holder was taken out, one "   \
      "standard deviation; a comparison counts it, +- of a length does not")   \
    X(WITHOUT, "without", "NAME,...", ON_MARK,                                 \
      "leave these features out")                                              \
    X(HOMED, "homed", "TIME", ON_MARK,                                         \
      "when the machine was homed, UTC, such as 2026-03-02T08:15: what was "   \
      "written into the book from then on is right as it is and not carried; " \
      "default: after all that the book has")                                  \
    X(ZERO, "zero", "REGISTER", ON_FIXTURE,                                    \
      "the zero that is the fixture's own point, such as G54; default the "    \
      "first that is taken from the fixed jaw, else the only one")             \
    X(STOOD, "stood", NULL, ON_FIXTURE,                                        \
      "it has not been off the table since last time: this is no further "     \
      "place of it, only a look whether it moved")                             \
    X(HELP, "help", NULL, ON_ALL | ON_NONE, "say all this and stop")           \
    X(VERSION, "version", NULL, ON_NONE, "say which version this is and stop")

typedef enum option_id {
#define OPTION_ENUM(id, word, value, on, text) OPT_##id,
    OPTION_LIST(OPTION_ENUM)
#undef OPTION_ENUM
    OPTIONS
} option_id;

/* Columns: exit status, what it means. */
#define EXIT_LIST(X)                                                           \
    X(EXIT_STANDS, 0, "the values stand")                                      \
    X(EXIT_DOUBT, 1,                                                           \
      "values are given, but there is a doubt; it is said first. entered: a "  \
      "value differs, or was not shown; moved: something moved; tip --keep: "  \
      "the tip is not what it was")                                            \
    X(EXIT_USAGE, 2, "the command line or the input can not be understood, "   \
      "read, or the output not written")                                       \
    X(EXIT_UNSOLVED, 3,                                                        \
      "the geometry can not be solved; selftest: a case failed")

enum {
#define EXIT_ENUM(name, status, text) name = status,
    EXIT_LIST(EXIT_ENUM)
#undef EXIT_ENUM
};

#define POINT_TEXT                                                             \
    "A POINT is x,y or x,y,z without blanks: -3.1,2 or 1.5in,0.25in. z is "    \
    "needed for a face and does not matter elsewhere. For a pattern it is "    \
    "four numbers: x and y on the drawing, x and y touched. A number may "     \
    "carry its unit, mm or in; the decimal mark is a point. A file has one "   \
    "touch a row, the numbers parted by blanks or commas; # starts a "         \
    "comment. An argument that begins like a number is a value and never an "  \
    "option, so negative numbers need no care; a file whose name looks like "  \
    "a POINT is given as ./NAME."

/* Examples: arguments behind `jawline`, exit status, what stdout must hold, to
 * the letter.  tests/cli/examples.sh runs them. */
#include "examples.h"

/* ----------------------------------------------------------------- parsing */

typedef struct arguments {
    command_id command;
    const char *value[OPTIONS]; /* NULL: not given; "": given, takes none */
    char **operand;
    int operands;
    char **sorted; /* what arguments_drop frees */
} arguments;

/* arguments_read: of one command; argv[0] is the command's own name.
 * Returned:  false after complaining on stderr; otherwise to be dropped by
 *            arguments_drop */
bool arguments_read(command_id command, int argc, char *argv[],
                    arguments *args);
void arguments_drop(arguments *args);

/* command_find: by word; COMMANDS when unknown. */
command_id command_find(const char *word);
/* command_nearest: the command a person most likely meant; NULL: none. */
const char *command_nearest(const char *word);

/* option_word: without its dashes. */
const char *option_word(option_id id);

/* unit_read: a word that is a unit; false: it is none. */
bool unit_read(const char *word, jaw_unit *unit);

/* The value of an option.  An option that was not given leaves the result as
 * it is.  false after complaining. */
bool option_unit(const arguments *args, jaw_unit *unit);
bool option_length(const arguments *args, option_id id, jaw_unit unit,
                   bool zero_is_good, double *mm);
bool option_angle(const arguments *args, option_id id, double *rad);
bool option_count(const arguments *args, option_id id, unsigned long most,
                  unsigned long *n);

/* print_wrapped: words up to the width, lines begun with `indent` blanks; the
 * first line has `column` characters already. */
void print_wrapped(FILE *out, const char *text, int indent, int column);

/* help_print: of one command; COMMANDS: of all. */
void help_print(FILE *out, command_id command);

#endif
