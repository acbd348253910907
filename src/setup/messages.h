/* SPDX-License-Identifier: GPL-3.0-or-later */
/* messages.h: everything that solving a setup can say, once.
 *
 * Columns: id; severity; status; what is wrong (a printf format, its arguments
 * stand where it is said); the cure ("%s" there takes one hint).  Each message
 * has an input and its exact text in tests/errors. */
#ifndef JAW__SETUP_MESSAGES_H
#define JAW__SETUP_MESSAGES_H

#define JAW__SETUP_MESSAGES(X)                                                 \
    X(SAY_NO_TIP, JAW_ERROR, JAW_EUNKNOWN,                                     \
      "%s '%s' does not say what touched it",                                  \
      "add `tip NAME`, one of the sheet's tips")                               \
    X(SAY_TIP_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "there is no tip '%s'", "%s")  \
    X(SAY_FEATURE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                            \
      "there is no feature '%s'", "%s")                                        \
    X(SAY_SURFACE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                            \
      "there is no surface '%s'", "%s")                                        \
    X(SAY_TOOL_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "there is no tool %d",        \
      "add a line `tool %s`, or mend the number")                              \
    X(SAY_SIDES_CONFLICT, JAW_ERROR, JAW_ECONFLICT,                            \
      "edge '%s' faces %s and was touched moving %s, which can not both be",   \
      "a wall that faces %s is touched the opposite way")                      \
    X(SAY_NO_SIDE, JAW_ERROR, JAW_EUNKNOWN,                                    \
      "edge '%s' does not say which way it faces",                             \
      "add `faces x+`, `x-`, `y+` or `y-`: the way out of the material")       \
    X(SAY_FEW, JAW_ERROR, JAW_EFEW, "%s '%s' has too few touches: %zu",        \
      "%s")                                                                    \
    X(SAY_FEW_HOLES, JAW_ERROR, JAW_EFEW,                                      \
      "pattern '%s' has too few places: %zu",                                  \
      "a pattern needs at least two")                                          \
    X(SAY_ALL_ASIDE, JAW_ERROR, JAW_EFEW,                                      \
      "%s '%s' has too few %s left: %zu, and %zu set aside",                   \
      "take new ones, or use those again")                                     \
    X(SAY_RANK, JAW_ERROR, JAW_ERANK, "the touches of %s '%s' %s", "%s")       \
    X(SAY_COORDINATE, JAW_ERROR, JAW_ENOTFINITE,                               \
      "a coordinate that %s '%s' needs was not read", "%s")                    \
    X(SAY_NO_BEST, JAW_ERROR, JAW_ENOCONV,                                     \
      "no best %s can be found for '%s'",                                      \
      "the touches do not look like one: check each row's sign and unit")      \
    X(SAY_SIZE, JAW_ERROR, JAW_ESIZE, "the size of %s '%s' would not be "      \
      "positive", "check the tip's diameter, and %s")                          \
    X(SAY_SIDE_WRONG, JAW_ERROR, JAW_ESIDE,                                    \
      "%s '%s' %s, but its touches run the other way",                         \
      "check `faces` and the rows: x and y may have changed places")           \
    X(SAY_FIT_OTHER, JAW_ERROR, JAW_ENOCONV, "%s '%s' can not be solved: %s",  \
      "check its rows")                                                        \
    X(SAY_HOLE_UNROUND, JAW_ERROR, JAW_EUNKNOWN,                               \
      "'%s' has no centre, so it can not be a place of a pattern",             \
      "use a bore, a boss, a ball or a dial")                                  \
    X(SAY_HOLE_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN,                              \
      "'%s' was not found, so pattern '%s' is not either",                     \
      "mend '%s' first")                                                       \
    X(SAY_SAME_TOUCH, JAW_DOUBT, JAW_OK,                                       \
      "this touch of %s '%s' is the same as touch %zu to the last digit",      \
      "if a row was copied, take the touch again; otherwise leave one out")    \
    X(SAY_RESIDUAL, JAW_DOUBT, JAW_OK,                                         \
      "touch %zu of %s '%s' lies %s off what the others agree on; the tip "    \
      "repeats to %s",                                                         \
      "check its sign, unit and row, then take it again")                      \
    X(SAY_TRIALS, JAW_DOUBT, JAW_OK,                                           \
      "the centre of %s '%s' is not as sure as +- says: by trial x lies from " \
      "%s to %s off, y from %s to %s, 95 times in 100",                        \
      "believe the trials; better, spread the touches")                        \
    X(SAY_TRIALS_BALL, JAW_DOUBT, JAW_OK,                                      \
      "the centre of ball '%s' is not as sure as +- says: by trial x lies from "\
      "%s to %s off, y from %s to %s, z from %s to %s, 95 times in 100",       \
      "believe the trials; better, touch the ball all round and on top")       \
    X(SAY_TRIALS_BAR, JAW_DOUBT, JAW_OK,                                       \
      "the axis of bar '%s' is not as sure as +- says: by trial it lies from " \
      "%s to %s off towards %s, from %s to %s in height, 95 times in 100",     \
      "believe the trials; better, touch the bar farther round")               \
    X(SAY_NOT_TRIED, JAW_ASSUMPTION, JAW_OK,                                   \
      "touches crowd on a short arc or a small cap in more than %d bores, "    \
      "bosses, balls and bars: from this one on +- was not held against "      \
      "trials",                                                                \
      "spread the touches, or solve these in a sheet of their own")            \
    X(SAY_SUSPECTS, JAW_DOUBT, JAW_OK,                                         \
      "%s %s of %s '%s' do not agree with the other %zu",                      \
      "check their rows, look for chips, then take them again")                \
    X(SAY_SLIP, JAW_DOUBT, JAW_OK,                                             \
      "the touches of %s '%s' disagree by %s; the tip repeats to %s",          \
      "with so few touches a slip is seen but not whose it is: check each "    \
      "row, then take one more")                                               \
    X(SAY_HOLE_OFF, JAW_DOUBT, JAW_OK,                                         \
      "this place of pattern '%s' lies %s off where the others put it",        \
      "check its row and its hole")                                            \
    X(SAY_HOLES_OFF, JAW_DOUBT, JAW_OK,                                        \
      "the places of pattern '%s' disagree by %s",                             \
      "with so few places one that is off is seen but not which: check each "  \
      "row and its hole, then touch one more")                                 \
    X(SAY_SIZE_OFF, JAW_DOUBT, JAW_OK,                                         \
      "%s '%s' comes out %s, %s away from what was expected",                  \
      "check the tip's diameter, the unit, and that the right one was "        \
      "touched")                                                               \
    X(SAY_KNOWN_SIZE, JAW_DOUBT, JAW_OK,                                       \
      "the touches of %s '%s' show a diameter %s away from the known one",     \
      "check the known size, the tip's diameter, and that the right one was "  \
      "touched")                                                               \
    X(SAY_SIZE_OR_TOUCH, JAW_DOUBT, JAW_OK,                                    \
      "a touch of %s '%s' is off or its known size is; it can not be told "    \
      "which",                                                                 \
      "check the known size, the tip's diameter and each row, then take one "  \
      "more touch")                                                            \
    X(SAY_KNOWN_TIP, JAW_DOUBT, JAW_OK,                                        \
      "the touches with tip '%s' show its diameter as %s, %s away from what "  \
      "is stated",                                                             \
      "check the tip, and the known sizes that it touched")                    \
    X(SAY_WEAK, JAW_DOUBT, JAW_OK,                                             \
      "the touches of %s '%s' lie so close together that small slips grow",    \
      "spread them as far as the feature allows")                              \
    X(SAY_SCALE, JAW_DOUBT, JAW_OK,                                            \
      "the touched spacings of pattern '%s' are %s times the nominal ones",    \
      "%s")                                                                    \
    X(SAY_MIRRORED, JAW_DOUBT, JAW_OK,                                         \
      "pattern '%s' fits far better as a mirror image",                        \
      "check the signs of the nominal places, and which hole is which%s")      \
    X(SAY_TILTED, JAW_DOUBT, JAW_OK, "face '%s' is tilted by %s",              \
      "check the rows; if they are right, seat the part again")                \
    X(SAY_RISE, JAW_ASSUMPTION, JAW_OK,                                        \
      "face '%s' rises by %s over its touches; Z is taken midway between "     \
      "them", "check the rows; if they are right, seat the part again or "     \
      "touch where Z counts")                                                  \
    X(SAY_READING_REPEAT, JAW_ASSUMPTION, JAW_OK,                              \
      "%s '%s' states no repeat: %s is taken for one reading",                 \
      "add `repeat` when you know it")                                         \
    X(SAY_READING_OFF, JAW_DOUBT, JAW_OK,                                      \
      "reading %zu of %s '%s' lies %s off what the others agree on; one "      \
      "repeats to %s",                                                         \
      "clean the surface and check the row's sign, then read it again")        \
    X(SAY_READINGS_SLIP, JAW_DOUBT, JAW_OK,                                    \
      "the readings of %s '%s' disagree by %s; one repeats to %s",             \
      "with so few readings a slip is seen but not whose it is: check each "   \
      "row, then take one more")                                               \
    X(SAY_DIAL_FAR, JAW_ERROR, JAW_ECONFLICT,                                  \
      "the readings of dial '%s' move farther than its diameter leaves room "  \
      "for", "check the diameter, and the unit of the readings")               \
    X(SAY_BAR_STANDS, JAW_ERROR, JAW_ESIDE,                                    \
      "bar '%s' stands rather than lies",                                      \
      "make it a boss, or check the rows: z may stand in another column")      \
    X(SAY_ROUND_TIP, JAW_ERROR, JAW_EDOMAIN,                                   \
      "%s '%s' can only be touched with a ball, and tip '%s' is none",         \
      "say `ball` at the tip if it is one; the sides of a bar are a web for "  \
      "other tips")                                                            \
    X(SAY_BAR_RISES, JAW_ASSUMPTION, JAW_OK,                                   \
      "the axis of bar '%s' rises by %s toward %s over its touches; its "      \
      "height is that at their mean",                                          \
      "seat the bar again if it should lie level")                             \
    X(SAY_AFTER_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                              \
      "'%s' is no other sweep",                                                \
      "name the sweep of the same wall that was taken before")                 \
    X(SAY_AFTER_OTHER, JAW_ERROR, JAW_ECONFLICT,                               \
      "sweep '%s' faces %s and sweep '%s' %s, so they are not of one wall",    \
      "name the sweep of the same wall, or leave out `after`")                 \
    X(SAY_REPEAT_DEFAULT, JAW_ASSUMPTION, JAW_OK,                              \
      "tip '%s' states no repeat: %s is taken for one touch",                  \
      "add `repeat` to the tip when you know it")                              \
    X(SAY_TOOL_REPEAT, JAW_ASSUMPTION, JAW_OK,                                 \
      "how well a tool comes back to what it touched is not stated: %s is "    \
      "taken for one touch",                                                   \
      "where it is known, measure the tool with `jawline tool' and --repeat, " \
      "and take it from the book")                                             \
    X(SAY_TRAVEL, JAW_DOUBT, JAW_OK,                                           \
      "%s %s of '%s' lies outside the travel",                                 \
      "check its sign and unit, and the control's `travel`")                   \
    X(SAY_TURN_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                               \
      "%s '%s' shows no direction, so it can not give the turn", "%s")         \
    X(SAY_TURN_NO_AXIS, JAW_ERROR, JAW_EUNKNOWN,                               \
      "which part axis runs along %s '%s' is not stated",                      \
      "add `along x` or `along y`")                                            \
    X(SAY_TURN_OWN_AXES, JAW_ERROR, JAW_ECONFLICT,                             \
      "pattern '%s' has axes of its own, so it can not lie along part y",      \
      "leave out `along`")                                                     \
    X(SAY_TURN_ACROSS, JAW_ERROR, JAW_ESIDE,                                   \
      "'%s' runs at %s to machine x, so it does not lie along part %s",        \
      "say `along %s`, or name another feature")                               \
    X(SAY_TURN_STEEP, JAW_DOUBT, JAW_OK,                                       \
      "the part is turned by %s, more than setting by hand leaves",            \
      "check the touches of '%s'; if they are right, go on")                   \
    X(SAY_TURN_FORGOTTEN, JAW_DOUBT, JAW_OK,                                   \
      "'%s' runs %s off the machine axis, but no turn is asked for",           \
      "add `turn %s` to the work zero, or set the part straight")              \
    X(SAY_TURN_DIFFERS, JAW_DOUBT, JAW_OK,                                     \
      "'%s' runs %s off the turn that is stated",                              \
      "check the angle and its sign, and the touches of '%s'")                 \
    X(SAY_TURN_NONE, JAW_ASSUMPTION, JAW_OK,                                   \
      "%s: no turn is stated, the part is taken as square to the machine",     \
      "add `turn FEATURE along x` to measure it")                              \
    X(SAY_TERM_KIND, JAW_ERROR, JAW_EUNKNOWN,                                  \
      "%s '%s' can not give %s", "%s")                                         \
    X(SAY_TERM_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN,                              \
      "%s %s can not be found, because '%s' was not", "mend '%s' first")       \
    X(SAY_TERM_ACROSS, JAW_ERROR, JAW_ESIDE,                                   \
      "'%s' runs along part %s, so it can not give part %s",                   \
      "give it to `%s`, or name another feature")                              \
    X(SAY_TERM_LONE, JAW_ERROR, JAW_EUNKNOWN,                                  \
      "%s %s alone can not be found on a part that is turned",                 \
      "add a line for `%s` as well")                                           \
    X(SAY_TERM_FREE, JAW_ASSUMPTION, JAW_OK,                                   \
      "%s: %s is given beside the touches of '%s' only",                       \
      "add a line for the other axis to get the corner")                       \
    X(SAY_SQUARE_ASSUMED, JAW_ASSUMPTION, JAW_OK,                              \
      "'%s' was touched in one place only: it is taken as square to the "      \
      "part, give or take %s",                                                 \
      "touch it in a second place, far from the first, to see")                \
    X(SAY_SQUARE_KNOWN, JAW_ASSUMPTION, JAW_OK,                                \
      "'%s' was touched in one place only: it is taken as square to the "      \
      "part, which is stated as known to %s",                                  \
      "touch it in a second place, far from the first, to see")                \
    X(SAY_SPACING_DEFAULT, JAW_ASSUMPTION, JAW_OK,                             \
      "the places of pattern '%s' are taken as drawn, give or take %s each",   \
      "")                                                                      \
    X(SAY_TEMPERATURE, JAW_DOUBT, JAW_OK,                                      \
      "the part is stated to be at %s degrees Celsius, which no shop is",      \
      "68 degrees Fahrenheit, say, are 20 degrees Celsius: write 20")          \
    X(SAY_NO_SPACING, JAW_ASSUMPTION, JAW_OK,                                  \
      "no pattern has nominal spacings here, so the temperature changes "      \
      "nothing", "leave it out, or take it as a remark")                       \
    X(SAY_PLACE_ASSUMED, JAW_ASSUMPTION, JAW_OK,                               \
      "'%s': %s was not read; it is taken as touched beside the work zero",    \
      "%s")                                                                    \
    X(SAY_LEVEL_ASSUMED, JAW_ASSUMPTION, JAW_OK,                               \
      "face '%s' has fewer than three touches with x and y: taken as level",   \
      "touch it in three places, far apart, to see")                           \
    X(SAY_NO_HEIGHT, JAW_ERROR, JAW_EUNKNOWN,                                  \
      "the height of '%s' above the machine's zero can not be found",          \
      "give the tip that touched it a `length`, or a setter its `top`, or "    \
      "choose `lengths tip-to-part`")                                          \
    X(SAY_NO_REFERENCE, JAW_ERROR, JAW_EUNKNOWN,                               \
      "%s: no chain of touches reaches the reference tool %d",                 \
      "touch %s with the reference tool as well")                              \
    X(SAY_TOOL_UNTOUCHED, JAW_ERROR, JAW_EUNKNOWN,                             \
      "tool %d was not touched on anything and has no length",                 \
      "add `touched READING on SURFACE` or `length`")                          \
    X(SAY_TOOL_NO_LENGTH, JAW_ERROR, JAW_EUNKNOWN,                             \
      "the length of tool %d from the gauge line can not be found",            \
      "give one tip or tool its `length`, or one setter its `top`, or choose " \
      "`lengths tip-to-part`")                                                 \
    X(SAY_TOOL_NO_ZERO, JAW_ERROR, JAW_EUNKNOWN,                               \
      "no chain of touches leads from tool %d to a work zero's Z",             \
      "give a work zero a `z` line, and touch its face or one setter with "    \
      "both")                                                                  \
    X(SAY_TIP_SIZE, JAW_DOUBT, JAW_OK,                                         \
      "tip '%s' would be %s thick, which nothing is that edges are found "     \
      "with",                                                                  \
      "check its diameter, and the sheet's unit")                              \
    X(SAY_TIP_TWICE, JAW_ERROR, JAW_ECONFLICT,                                 \
      "two tips are called '%s', so none is found by that name",               \
      "give one of them another name")                                         \
    X(SAY_NAME_TWICE, JAW_ERROR, JAW_ECONFLICT,                                \
      "'%s' names two things, so none is found by that name",                  \
      "give one of them another name")                                         \
    X(SAY_TIP_RUNOUT, JAW_DOUBT, JAW_OK,                                       \
      "the runout and lobes of tip '%s' would move a touch by %s, which those "\
      "of no tip that is fit to measure do",                                   \
      "check them, and the sheet's unit")                                      \
    X(SAY_TIP_CORRELATION, JAW_ERROR, JAW_ECONFLICT,                           \
      "the correlations of tip '%s' contradict one another",                   \
      "copy all lines that `jawline tip` printed, or leave all correlations "  \
      "out")                                                                   \
    X(SAY_SPINDLE, JAW_ASSUMPTION, JAW_OK,                                     \
      "tip '%s' runs out: the spindle is taken to stand as it stood at 0 when "\
      "the tip was calibrated",                                                \
      "turn it there before you touch")                                        \
    X(SAY_TOOL_SIGN, JAW_DOUBT, JAW_OK,                                        \
      "the length of tool %d comes out %s, which no tool in a holder has",     \
      "check the signs of the readings and of `top`")                          \
    X(SAY_TOOL_CONFLICT, JAW_DOUBT, JAW_OK,                                    \
      "the readings of tool %d disagree by %s with the rest",                  \
      "check its readings, blocks and stated length, then touch it again")     \
    X(SAY_TOOL_SINCE, JAW_DOUBT, JAW_OK,                                       \
      "tool %d is %s by %s than the book has it (entry %lld)",                 \
      "see whether it is worn, has slipped or is another, and measure it "     \
      "with `jawline tool`; or leave `from book` out")                         \
    X(SAY_WAITS, JAW_ERROR, JAW_EUNKNOWN,                                      \
      "%zu lengths, heights or tips are to come from a book, and none was "    \
      "asked",                                                                 \
      "fill them in before it is solved (jaw_book_fill)")                      \
    X(SAY_TOOL_SAME, JAW_DOUBT, JAW_OK,                                        \
      "tool %d has the same reading on '%s' as tool %d",                       \
      "if a row was copied, touch the tool again")                             \
    X(SAY_TOOL_TWICE, JAW_ERROR, JAW_ECONFLICT,                                \
      "tool %d is there twice", "give each tool one entry")                    \
    X(SAY_HEIGHT_CONFLICT, JAW_DOUBT, JAW_OK,                                  \
      "the height of '%s' disagrees by %s with the rest",                      \
      "check its readings, and the stated lengths and heights")                \
    X(SAY_ON_ITSELF, JAW_ERROR, JAW_ECONFLICT,                                 \
      "setter '%s' can not stand on itself",                                   \
      "name the face or the setter below it")                                  \
    X(SAY_SQUARENESS, JAW_DOUBT, JAW_OK,                                       \
      "'%s' and '%s' are %s off square, which is more than a machined part "   \
      "has", "check their rows; if they are right, go on")                     \
    X(SAY_NO_JOINT, JAW_DOUBT, JAW_OK,                                         \
      "the setup as a whole can not be adjusted, so no uncertainty is given",  \
      "check the touches that are farthest off")                               \
    X(SAY_SPREAD, JAW_DOUBT, JAW_OK,                                           \
      "the touches scatter %s times as far as their repeats say",              \
      "look at the largest residuals; the uncertainties here stand on the "    \
      "scatter that was seen")                                                 \
    X(SAY_ZERO_TWICE, JAW_ERROR, JAW_ECONFLICT, "%s is there twice",           \
      "give each work zero its own register")                                  \
    X(SAY_PARALLELS_HIGH, JAW_ERROR, JAW_ECONFLICT,                            \
      "in '%s' the parallels are %s high and the jaws %s: nothing is gripped", \
      "use lower parallels, or check both heights")                            \
    X(SAY_LITTLE_GRIP, JAW_DOUBT, JAW_OK,                                      \
      "'%s' grips only %s of the stock",                                       \
      "use lower parallels, or take light cuts away from the fixed jaw")       \
    X(SAY_BELOW_JAWS, JAW_DOUBT, JAW_OK,                                       \
      "in '%s' the stock's top lies %s below that of the jaws: a cutter at "   \
      "its edge meets them",                                                   \
      "use higher parallels")                                                  \
    X(SAY_TOO_WIDE, JAW_DOUBT, JAW_OK,                                         \
      "'%s' does not open far enough for stock that is %s wide",               \
      "check the size and the opening")                                        \
    X(SAY_LONG_STOCK, JAW_DOUBT, JAW_OK,                                       \
      "in '%s' the stock is %s long, more than twice the jaws' width",         \
      "support its ends")                                                      \
    X(SAY_VISE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "'%s' is no vise",            \
      "name a vise entry of this sheet")                                       \
    X(SAY_JAW_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                                \
      "'%s' is no edge or sweep that a fixed jaw could be", "%s")              \
    X(SAY_READINGS_FEW, JAW_ERROR, JAW_EFEW,                                   \
      "%s '%s' takes %d readings or more and has %zu", "take more")            \
    X(SAY_READINGS_RANK, JAW_ERROR, JAW_ERANK,                                 \
      "the readings of %s '%s' stand in too few places",                       \
      "spread them: along the whole wall, or all the way round")               \
    X(SAY_READINGS_ODD, JAW_ERROR, JAW_ECONFLICT,                              \
      "the readings of %s '%s' change more than their places do",              \
      "check the unit of both columns, and that the places come first")        \
    X(SAY_READINGS_SCATTER, JAW_DOUBT, JAW_OK,                                 \
      "the readings of %s '%s' scatter more than %s explains",                 \
      "look at the largest residual, clean the surface and take it again")     \
    X(SAY_READINGS_CROWD, JAW_DOUBT, JAW_OK,                                   \
      "the readings of %s '%s' crowd on one side, so that small errors grow",  \
      "spread them all the way round")                                         \
    X(SAY_LEAN, JAW_DOUBT, JAW_OK,                                             \
      "by the readings of '%s' the head leans by %s, which is much",           \
      "check their signs, their unit and the radius")                          \
    X(SAY_STATIONS_PLACE, JAW_ERROR, JAW_ERANK,                                \
      "the touched stations of '%s' lie in one place on the machine",          \
      "check the rows of their zeros: each has its own")                       \
    X(SAY_ARM_TRUE, JAW_ASSUMPTION, JAW_OK,                                    \
      "the first arm of '%s' is taken to lie true along its axis both times",  \
      "indicate it before each sweep")                                         \
    X(SAY_TOP_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                                \
      "'%s' is no face that the stock's top could be", "%s")                   \
    X(SAY_TOP_OFF, JAW_DOUBT, JAW_OK,                                          \
      "'%s' was touched %s higher than the stack in '%s' says",                \
      "look for chips below the stock, check parallels and stock size")        \
    X(SAY_ROTARY_FEW, JAW_ERROR, JAW_EFEW,                                     \
      "rotary '%s' takes %d angles or more and has %zu",                       \
      "index it and touch the feature again; with a `sense` two will do")      \
    X(SAY_ROTARY_ANGLES, JAW_ERROR, JAW_ERANK,                                 \
      "the angles of rotary '%s' are all the same",                            \
      "index it and touch the feature again; whole turns count for nothing")   \
    X(SAY_ROTARY_SENSE_OPEN, JAW_ERROR, JAW_ERANK,                             \
      "which way rotary '%s' counts can not be told from what was seen",       \
      "state its `sense`, or touch the feature at an angle between, far from " \
      "the centre")                                                            \
    X(SAY_ROTARY_SENSE, JAW_ERROR, JAW_ECONFLICT,                              \
      "rotary '%s' is to count by the %s hand, and what was seen denies it",   \
      "check the sense, each angle's sign, and which axis it turns about")     \
    X(SAY_ROTARY_SCATTER, JAW_DOUBT, JAW_OK,                                   \
      "what was seen on rotary '%s' lies farther off its circle than %s "      \
      "explains",                                                              \
      "look at the largest residual: check its angle, clean, take it again")   \
    X(SAY_ROTARY_CROWD, JAW_DOUBT, JAW_OK,                                     \
      "the angles of rotary '%s' crowd, so that small errors grow",            \
      "spread them over the whole turn")                                       \
    X(SAY_ROTARY_TWICE, JAW_DOUBT, JAW_OK,                                     \
      "this one of rotary '%s' is the same as number %zu",                     \
      "if it was copied, touch again; otherwise leave one out")                \
    X(SAY_ROTARY_MIXED, JAW_ERROR, JAW_ECONFLICT,                              \
      "rotary '%s' has %s as well",                                            \
      "give the same in all of its lines")                                     \
    X(SAY_ROTARY_UNROUND, JAW_ERROR, JAW_EUNKNOWN,                             \
      "'%s' has no centre that could turn with a table",                       \
      "use a bore, a boss, a ball, a bar or a dial")                           \
    X(SAY_ROTARY_UPRIGHT, JAW_ERROR, JAW_EUNKNOWN,                             \
      "'%s' stands upright, so it shows a table about z only",                 \
      "touch a ball, or a bar that the table holds; or write the angle and "   \
      "the two coordinates across the axis in a row")                          \
    X(SAY_ROTARY_LIES, JAW_ERROR, JAW_EUNKNOWN,                                \
      "'%s' lies down, so it shows a table about x or y only",                 \
      "check `about`; one about z holds a bar upright: touch it as a boss")    \
    X(SAY_ROTARY_ACROSS, JAW_ERROR, JAW_ECONFLICT,                             \
      "'%s' lies %s off the axis of rotary '%s'",                              \
      "check `about` and each touch's sign: a bar that the table holds lies "  \
      "along its axis")                                                        \
    X(SAY_ROTARY_HEIGHT, JAW_ERROR, JAW_EUNKNOWN,                              \
      "how high '%s' stands above the machine's zero is not known, and rotary "\
      "'%s' needs it",                                                         \
      "give the tip that touched it a `length`")                               \
    X(SAY_ROTARY_BARS, JAW_ERROR, JAW_ECONFLICT,                               \
      "rotary '%s' has bars, each of which shows how the axis leans",          \
      "leave `apart` and the lone / out")                                      \
    X(SAY_ROTARY_OWN_TIP, JAW_ERROR, JAW_ECONFLICT,                            \
      "rotary '%s' has features, and their own tips say how high they are",    \
      "leave `tip` out")                                                       \
    X(SAY_RUNOUT_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "there is no runout '%s'",  \
      "%s")                                                                    \
    X(SAY_RUNOUT_ALONG, JAW_ERROR, JAW_ECONFLICT,                              \
      "the indicator of '%s' stands along the axis of rotary '%s'",            \
      "say in its `on` beside which side of the bar it stands, and check "     \
      "`about`")                                                               \
    X(SAY_RUNOUT_ANGLES, JAW_ERROR, JAW_ECONFLICT,                             \
      "rotary '%s' has a runout and %zu angles in one place",                  \
      "keep one of both: at several angles what it holds shows its runout by " \
      "itself")                                                                \
    X(SAY_RUNOUT_PLACES, JAW_ERROR, JAW_ECONFLICT,                             \
      "rotary '%s' was seen in %d places along its axis and has runouts in %d",\
      "give one for each place")                                               \
    X(SAY_RUNOUT_SAME, JAW_ERROR, JAW_ERANK,                                   \
      "both runouts of rotary '%s' were read in one place",                    \
      "read the second one far along the bar from the first, and state its "   \
      "`at`")                                                                  \
    X(SAY_ROTARY_SLIP, JAW_DOUBT, JAW_OK,                                      \
      "this one of rotary '%s' lies %s off where the others put it, too far "  \
      "for chance",                                                            \
      "check its angle, its numbers and their unit, clean, take it again")     \
    X(SAY_ROTARY_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN,                            \
      "'%s' was not found, so rotary '%s' is not either", "mend '%s' first")   \
    X(SAY_ROTARY_TIP, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "the length of tip '%s' is not known, which rotary '%s' needs for z",    \
      "give the tip its `length`, or write z as for a tool of length 0 and "   \
      "leave `tip` out")                                                       \
    X(SAY_ROTARY_APART, JAW_ERROR, JAW_EUNKNOWN,                               \
      "rotary '%s' was seen in two places along its axis, and how far they "   \
      "are apart is not stated",                                               \
      "add `apart` and the distance from the first to the second")             \
    X(SAY_ROTARY_ONE_PLACE, JAW_ERROR, JAW_EUNKNOWN,                           \
      "rotary '%s' was seen in one place along its axis, so nothing is apart", \
      "leave `apart` out, or put a lone / before the rows of the second")      \
    X(SAY_TABLE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, "'%s' is no rotary table",   \
      "name a rotary entry of this sheet")                                     \
    X(SAY_DATUMS_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                             \
      "'%s' is no set of datums", "name a datums entry of this sheet")         \
    X(SAY_TASK_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN,                              \
      "%s can not be found, because '%s' was not", "mend '%s' first")          \
    X(SAY_INDEX_NONE, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "there is no zero %s that could be indexed",                             \
      "name a register that another zero of this sheet has")                   \
    X(SAY_INDEX_TABLES, JAW_ERROR, JAW_ECONFLICT,                              \
      "%s is itself indexed, on '%s': where that leaves the centre line of "   \
      "'%s' is not known",                                                     \
      "index both on one table, or touch the zero anew where it stands now")   \
    X(SAY_INDEX_ROUND, JAW_ERROR, JAW_ECONFLICT,                               \
      "%s is indexed from itself, by way of others",                           \
      "index the first of them from a zero that was touched")                  \
    X(SAY_INDEX_FROM, JAW_ERROR, JAW_ECONFLICT,                                \
      "%s was indexed to %s, and %s is indexed from %s",                       \
      "leave `from` out; or index from the zero that was touched")             \
    X(SAY_INDEX_AXIS, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "%s has no %s, which a table about %s turns",                            \
      "add a line for `%s` to it")                                             \
    X(SAY_INDEX_HEIGHT, JAW_ERROR, JAW_EUNKNOWN,                               \
      "how high %s stands above the machine's zero is not known, so a table "  \
      "can not turn it",                                                       \
      "give the tip that touched it a `length`")                               \
    X(SAY_INDEX_LEAN, JAW_ASSUMPTION, JAW_OK,                                  \
      "%s: indexed to there, what the part was turned by becomes a lean of "   \
      "%s, which no control takes",                                            \
      "set the part straight on the table if that is too much")                \
    X(SAY_DATUM_KIND, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "no %s is called '%s', which the %s datum must be",                      \
      "the primary is a face, the secondary and the tertiary are edges")       \
    X(SAY_DATUM_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN,                             \
      "'%s' was not found, so datums '%s' are not either", "mend '%s' first")  \
    X(SAY_DATUM_FEW, JAW_ERROR, JAW_EFEW,                                      \
      "as %s datum '%s' takes %zu touches or more and has %zu", "take more")   \
    X(SAY_DATUM_Z, JAW_ERROR, JAW_ENOTFINITE,                                  \
      "this touch of the %s datum '%s' lacks a coordinate",                    \
      "give x, y and z in each row: how high a wall is met counts here")       \
    X(SAY_DATUM_TIPS, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "the length of tip '%s' is not known against that of '%s', so heights "  \
      "of the datums can not be told",                                         \
      "give both their `length`, or touch all three with one tip")             \
    X(SAY_DATUM_SIDES, JAW_ERROR, JAW_ESIDE,                                   \
      "'%s' and '%s' do not face along different axes",                        \
      "one of secondary and tertiary faces x+ or x-, the other y+ or y-")      \
    X(SAY_DATUM_ASKEW, JAW_ERROR, JAW_ESIDE,                                   \
      "datums '%s' do not lie as their sides say",                             \
      "check `faces` and the rows: a column may have changed places")          \
    X(SAY_DATUM_SCATTER, JAW_DOUBT, JAW_OK,                                    \
      "as %s datum the touches of '%s' lie %s off, more than they repeat",     \
      "look for chips and burrs; a wall that is not square to the datums "     \
      "before it shows like this too")                                         \
    X(SAY_DATUM_STEEP, JAW_DOUBT, JAW_OK,                                      \
      "by datums '%s' the part is tilted or turned by more than setting by "   \
      "hand leaves",                                                           \
      "check the touches; if they are right, go on")                           \
    X(SAY_DATUM_NO_BASE, JAW_ERROR, JAW_EUNKNOWN,                              \
      "with lengths tip-to-part %s needs a zero whose z is a face, for the "   \
      "tool registers to carry",                                               \
      "put a zero with `z` on the primary first, or choose another way of "    \
      "lengths")                                                               \
    X(SAY_STATIONS_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                           \
      "there are no stations '%s'", "%s")                                      \
    X(SAY_STATION_HALF, JAW_ERROR, JAW_EUNKNOWN,                               \
      "%s has %s alone: a station is touched in x and y, or in neither",       \
      "add a line for `%s` as well")                                           \
    X(SAY_STATIONS_NONE, JAW_ERROR, JAW_EFEW,                                  \
      "no station of '%s' was touched in x and y",                             \
      "give one of its zeros lines for `x` and `y`")                           \
    X(SAY_STATIONS_TURN, JAW_ERROR, JAW_EUNKNOWN,                              \
      "one station of '%s' was touched, and how they lie turned is not stated",\
      "touch a second one, or add `turn FEATURE along x` to that zero")        \
    X(SAY_STATIONS_SAME, JAW_ERROR, JAW_ECONFLICT,                             \
      "%s and %s are at the same place of '%s'",                               \
      "mend one of the two `station` lines")                                   \
    X(SAY_STATIONS_SPACING, JAW_ASSUMPTION, JAW_OK,                            \
      "the stations of '%s' are taken to stand as stated, give or take %s "    \
      "each",                                                                  \
      "add `places known to` when you know it")                                \
    X(SAY_STATIONS_SCALE, JAW_DOUBT, JAW_OK,                                   \
      "the touched stations of '%s' are %s times as far apart as stated",      \
      "%s")                                                                    \
    X(SAY_STATIONS_MIRRORED, JAW_DOUBT, JAW_OK,                                \
      "the stations of '%s' fit far better as a mirror image",                 \
      "check the signs of their places, and which zero is which")              \
    X(SAY_STATIONS_STEEP, JAW_DOUBT, JAW_OK,                                   \
      "the stations of '%s' lie turned by %s, more than setting by hand leaves",\
      "check their places, and which zero is which; if they are right, go on") \
    X(SAY_STATION_OFF, JAW_DOUBT, JAW_OK,                                      \
      "%s lies %s off where the others of '%s' put it",                        \
      "check its touches and its place, and look for chips")                   \
    X(SAY_STATIONS_OFF, JAW_DOUBT, JAW_OK,                                     \
      "the touched stations of '%s' disagree by %s",                           \
      "with so few one that is off is seen but not which: check their touches "\
      "and places, then touch one more")                                       \
    X(SAY_CUT_EXACT, JAW_ASSUMPTION, JAW_OK,                                   \
      "what was cut on side one is taken to lie where it was meant",           \
      "add `cut known to` to see what its own error does")

/* Those that name what spoils the whole adjustment. */
#define JAW__SPOILING_MESSAGES(X)                                              \
    X(SAY_RESIDUAL) X(SAY_SLIP) X(SAY_SUSPECTS) X(SAY_HOLE_OFF)                \
    X(SAY_HOLES_OFF) X(SAY_KNOWN_SIZE) X(SAY_SIZE_OR_TOUCH) X(SAY_SCALE)       \
    X(SAY_READING_OFF) X(SAY_READINGS_SLIP) X(SAY_MIRRORED)                    \
    X(SAY_TOOL_CONFLICT) X(SAY_TOOL_SINCE) X(SAY_HEIGHT_CONFLICT)

#endif
