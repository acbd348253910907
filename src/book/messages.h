/* SPDX-License-Identifier: GPL-3.0-or-later */
/* messages.h: everything that a book can say, once.
 *
 * Columns: id; severity; status; what is wrong (a printf format, its arguments
 * stand where it is said); the cure.  Each is brought about in tests/errors by
 * commands (NAME.book), or in tests/book. */
#ifndef JAW__BOOK_MESSAGES_H
#define JAW__BOOK_MESSAGES_H

#define JAW__BOOK_MESSAGES(X)                                                  \
    X(SAY_NO_BOOK, JAW_ERROR, JAW_ENOBOOK, "there is no book yet: `%s'",       \
      "it is made when something is first written, as by `jawline tool'; "     \
      "another one is named with --book or JAWLINE_BOOK")                      \
    X(SAY_NEW_BOOK, JAW_ASSUMPTION, JAW_OK,                                    \
      "a new book was made: `%s'",                                             \
      "if there was one already, mend the name in --book or JAWLINE_BOOK")     \
    X(SAY_NOT_A_BOOK, JAW_ERROR, JAW_EDAMAGED,                                 \
      "`%s' is something else than a book; it is left as it is",               \
      "name another file with --book")                                         \
    X(SAY_DAMAGED, JAW_ERROR, JAW_EDAMAGED, "the book `%s' is damaged: %s",    \
      "put it aside, and go on with the last backup")                          \
    X(SAY_NEWER, JAW_ERROR, JAW_ENEWER,                                        \
      "the book `%s' was made by a newer version (%d, this one knows %d); it " \
      "is left as it is",                                                      \
      "use the newer version")                                                 \
    X(SAY_READONLY, JAW_ERROR, JAW_EREADONLY,                                  \
      "the book `%s' can only be read",                                        \
      "make the file and its folder writable, or name another one with "       \
      "--book")                                                                \
    X(SAY_BUSY, JAW_ERROR, JAW_EBUSY,                                          \
      "another program has been writing to the book `%s' for %d s",            \
      "end it, then try again; nothing was written")                           \
    X(SAY_FULL, JAW_ERROR, JAW_EFULL,                                          \
      "the disk with the book `%s' is full",                                   \
      "make room, then try again; nothing was written")                        \
    X(SAY_IO, JAW_ERROR, JAW_EIO,                                              \
      "the book `%s' can not be read or written: %s",                          \
      "see to the disk, then try again; nothing was written")                  \
    X(SAY_UNSURE, JAW_ERROR, JAW_EIO,                                          \
      "whether the last entry reached the book `%s' can not be told: %s",      \
      "see to the disk, then look with `jawline book log' before you enter "   \
      "it again")                                                              \
    X(SAY_FOLDER, JAW_ERROR, JAW_EIO, "the folder `%s' can not be made: %s",   \
      "make it, or name another file with --book")                             \
    X(SAY_CLOCK_BACK, JAW_DOUBT, JAW_OK,                                       \
      "the clock says %s, and that is before the entry before, %s",            \
      "set the clock; the order of the book is that of writing")               \
    X(SAY_BAD_ENTRY, JAW_ERROR, JAW_EDOMAIN, "%s: %s",                         \
      "nothing was written")                                                   \
    X(SAY_NO_ENTRY, JAW_ERROR, JAW_EUNKNOWN,                                   \
      "there is no entry %lld in the book", "`jawline book log' lists them")   \
    X(SAY_UNDONE, JAW_ERROR, JAW_EUNKNOWN,                                     \
      "entry %lld is undone already, by entry %lld",                           \
      "to bring it back, undo that one: `jawline book undo' and its number")   \
    X(SAY_NOTHING, JAW_ERROR, JAW_EUNKNOWN,                                    \
      "there is nothing in the book to undo", "")                              \
    X(SAY_FOUND, JAW_ERROR, JAW_EDAMAGED, "in the book `%s': %s",              \
      "put it aside, and go on with the last backup, or export it and import " \
      "what is whole into a new one")                                          \
    X(SAY_THERE, JAW_ERROR, JAW_ECONFLICT, "there is a file `%s' already",     \
      "name another one")                                                      \
    X(SAY_NO_COPY, JAW_ERROR, JAW_EIO, "no copy can be made at `%s': %s",      \
      "see to the disk or the name, then try again")                           \
    X(SAY_NO_READING, JAW_ERROR, JAW_EFEW, "there is no reading of tool %d",   \
      "add what the control shows for Z when it touches")                      \
    X(SAY_NO_BLOCK, JAW_ERROR, JAW_EUNKNOWN,                                   \
      "there is no block '%s' in the book",                                    \
      "write it down with `jawline setter NAME --between THICKNESS', or give " \
      "its thickness to --between")                                            \
    X(SAY_SURFACE_NEAR, JAW_ERROR, JAW_EUNKNOWN,                               \
      "there is no surface '%s' in the book, but there is '%s'",               \
      "mend the name")                                                         \
    X(SAY_SURFACE_UNKNOWN, JAW_ASSUMPTION, JAW_OK,                             \
      "the height of '%s' is not in the book: what is kept is the length "     \
      "above it, good for comparing tools that touched it",                    \
      "`jawline setter' finds the height, from a tool of known length")        \
    X(SAY_REPEAT_ASSUMED, JAW_ASSUMPTION, JAW_OK,                              \
      "how well a reading comes back is neither stated nor seen; %s is taken " \
      "for the comparison",                                                    \
      "read it two or three times, or state --repeat")                         \
    X(SAY_SEAT_ASSUMED, JAW_ASSUMPTION, JAW_OK,                                \
      "how well a tool comes back when it is put into the spindle again is "   \
      "not stated: it counts as exact, and a small change may be just that",   \
      "state it with `jawline machine NAME --seat LENGTH'")                    \
    X(SAY_REPEAT_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                             \
      "how well the readings on '%s' come back is not known",                  \
      "read it twice or more, or state --repeat")                              \
    X(SAY_CALIBRATED_EXACT, JAW_ASSUMPTION, JAW_OK,                            \
      "the length of what touched '%s' counts as exact",                       \
      "state how sure it is with --length-u")                                  \
    X(SAY_MACHINE_UNKNOWN, JAW_ASSUMPTION, JAW_OK,                             \
      "the machine '%s' is not in the book: millimetres and steps of 0.001 "   \
      "mm are taken, and nothing is compared with its travel",                 \
      "write it down with `jawline machine'")                                  \
    X(SAY_MACHINE_NEAR, JAW_ERROR, JAW_EUNKNOWN,                               \
      "there is no machine '%s' in the book, but there is '%s'",               \
      "mend the name; one more machine is written down first, with `jawline "  \
      "machine NAME --new'")                                                   \
    X(SAY_NEGATIVE, JAW_DOUBT, JAW_OK,                                         \
      "tool %d would have a length of %s, and no tool ends above the gauge "   \
      "line",                                                                  \
      "check the sign of the reading, and the height of what it touched")      \
    X(SAY_TOO_LONG, JAW_DOUBT, JAW_OK,                                         \
      "tool %d would be %s long, longer than Z can travel: %s",                \
      "check the sign and the unit of the reading")                            \
    X(SAY_OUTSIDE, JAW_DOUBT, JAW_OK,                                          \
      "the reading %s of tool %d lies where Z can not be: it goes from %s to " \
      "%s",                                                                    \
      "check the sign and the unit")                                           \
    X(SAY_REGISTER_OUTSIDE, JAW_DOUBT, JAW_OK,                                 \
      "the length register of tool %d would be %s, where Z can not be: it "    \
      "goes from %s to %s",                                                    \
      "check the sign and the unit of --work-z, or of what the part was "      \
      "touched at")                                                            \
    X(SAY_UNIT_JUMP, JAW_DOUBT, JAW_OK,                                        \
      "the reading of tool %d is %s what it was last time",                    \
      "check the unit: is it inch or mm?")                                     \
    X(SAY_DIGITS, JAW_DOUBT, JAW_OK,                                           \
      "the reading %s of tool %d would be that of last time, about %s, but "   \
      "for a slip of the pen: %s",                                             \
      "read it again; if it is right, look at the tool, and say --new")        \
    X(SAY_BETWEEN, JAW_DOUBT, JAW_OK,                                          \
      "tool %d is %s than last time by %s, as it comes out when %s",           \
      "see what lay between tool and surface, and measure it again with "      \
      "--through or --between; --new says that the tool was set anew")         \
    X(SAY_HOLDER_NEAR, JAW_DOUBT, JAW_OK,                                      \
      "there is no holder '%s' in the book, but there is '%s'",                \
      "mend the name; --new says that it is one more")                         \
    X(SAY_SCATTER, JAW_DOUBT, JAW_OK,                                          \
      "the readings of tool %d lie %s apart; on this machine one comes back "  \
      "to %s",                                                                 \
      "look for a chip under it or a slip of the pen, and take them again")    \
    X(SAY_HEIGHT_OUTSIDE, JAW_ERROR, JAW_EDOMAIN,                              \
      "the reading %s on '%s' lies where Z can not be: it goes from %s to %s", \
      "check the sign and the unit; nothing was written")                      \
    X(SAY_HEIGHT_TOP, JAW_ERROR, JAW_EDOMAIN,                                  \
      "the top of '%s' would be at %s, where no tool can touch it: Z goes "    \
      "from %s to %s",                                                         \
      "check the sign and the unit; nothing was written")                      \
    X(SAY_TRAVEL_HEIGHT, JAW_DOUBT, JAW_OK,                                    \
      "with Z from %s to %s no tool can touch '%s', which the book has at %s " \
      "(entry %lld%s)",                                                        \
      "check the sign and the unit of the travel")                             \
    X(SAY_TRAVEL_READING, JAW_DOUBT, JAW_OK,                                   \
      "with Z from %s to %s the reading %s of tool %d can not have been "      \
      "(entry %lld%s)",                                                        \
      "check the sign and the unit of the travel")                             \
    X(SAY_TRAVEL_LENGTH, JAW_DOUBT, JAW_OK,                                    \
      "Z travels %s, and tool %d is %s long (entry %lld%s)",                   \
      "check the sign and the unit of the travel")                             \
    X(SAY_STEP_TENFOLD, JAW_DOUBT, JAW_OK,                                     \
      "the step of '%s' is %s, and was %s (entry %lld)",                       \
      "check its point: it is the smallest step that the control shows")       \
    X(SAY_STEP_COARSE, JAW_DOUBT, JAW_OK,                                      \
      "the step of '%s' is %s, and the length of tool %d is known to +- %s "   \
      "(entry %lld%s)",                                                        \
      "check its point: it is the smallest step that the control shows")       \
    X(SAY_HEIGHT_SLIP, JAW_ERROR, JAW_ECONFLICT,                               \
      "'%s' would be %s, and the book has %s (entry %lld): the number given "  \
      "is %s",                                                                 \
      "check the sign and the unit; if it is right, undo that entry first; "   \
      "nothing was written")                                                   \
    X(SAY_LENGTH_DOUBT, JAW_DOUBT, JAW_OK,                                     \
      "the length of tool %d, entry %lld, is in doubt: %s",                    \
      "look at the tool, and measure it again; if it was a slip, undo it "     \
      "with `jawline book undo'")                                              \
    X(SAY_LENGTH_BASE, JAW_DOUBT, JAW_OK,                                      \
      "the height by which tool %d was measured, entry %lld, is undone",       \
      "measure the tool again, once the height is known")                      \
    X(SAY_CIRCLE, JAW_DOUBT, JAW_OK,                                           \
      "tool %d was measured on '%s' itself, entry %lld",                       \
      "it shows at most by how much the surface moved since; for its height "  \
      "take a tool that was measured otherwise, or --length")                  \
    X(SAY_REFERENCES, JAW_DOUBT, JAW_OK,                                       \
      "tool %d, the reference tool, is in the book twice, %s, entry %lld, "    \
      "and %s, entry %lld: which of them the registers count from can not be " \
      "told, and they are not given",                                          \
      "take back the one that it is not in: `jawline book undo' and its "      \
      "entry")                                                                 \
    X(SAY_LENGTH_BEFORE, JAW_DOUBT, JAW_OK,                                    \
      "the newest length of tool %d, entry %lld, is in doubt: %s; what "       \
      "stands here is entry %lld",                                             \
      "look at the tool, and measure it again; if it was a slip, undo it "     \
      "with `jawline book undo'")                                              \
    X(SAY_CHANGED, JAW_DOUBT, JAW_OK,                                          \
      "tool %d is %s than last time by %s: %s (%.0f in 100)",                  \
      "look at the tool and its holder before you enter it; --new says that "  \
      "a new cutter is in it")                                                 \
    X(SAY_CHANGED_TO, JAW_DOUBT, JAW_OK,                                       \
      "tool %d is %s than last time by %s: its length is that of tool %d "     \
      "(%.0f in 100)",                                                         \
      "see which tool is in the holder before you enter it")                   \
    X(SAY_CHANGED_SURFACE, JAW_DOUBT, JAW_OK,                                  \
      "tool %d reads what it read last time: what changed, by %s, is the "     \
      "height of '%s' between entry %lld and entry %lld",                      \
      "see which of the two heights is right before you enter it, and undo "   \
      "the other with `jawline book undo'")                                    \
    X(SAY_CHANGED_CARRIED, JAW_DOUBT, JAW_OK,                                  \
      "tool %d reads what it read last time: what changed, by %s, is the "     \
      "height of '%s', entry %lld, which marks carried over, entry %lld",      \
      "if the last length was measured between the homing and its marks, "     \
      "this one is right; if it was not, find the marks again before you "     \
      "enter it")                                                              \
    X(SAY_NO_SETUP, JAW_ERROR, JAW_EUNKNOWN,                                   \
      "no setup is kept in the book for `%s'",                                 \
      "`jawline solve SHEET --keep' keeps one")                                \
    X(SAY_TITLE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                              \
      "no setup with `%s' in its title is kept for `%s'",                      \
      "`jawline setups' lists them")                                           \
    X(SAY_TITLE_NEAR, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "no setup `%s' is kept, but there is `%s'", "mend the title")            \
    X(SAY_TITLE_NEW, JAW_ASSUMPTION, JAW_OK,                                   \
      "the title `%s' is new, and nearly that of `%s': it is kept beside that "\
      "one and compared with nothing",                                         \
      "if that one is meant, undo this with `jawline book undo', and mend the "\
      "title")                                                                 \
    X(SAY_TITLE_SEVERAL, JAW_ERROR, JAW_ECONFLICT,                             \
      "`%s' is in several titles: %s",                                         \
      "give more of the one that is meant, or its entry's number")             \
    X(SAY_NO_SETUP_ENTRY, JAW_ERROR, JAW_EUNKNOWN,                             \
      "entry %lld is no kept setup, it is of kind %s",                         \
      "`jawline setups' lists them")                                           \
    X(SAY_SLIP_SIGN, JAW_DOUBT, JAW_OK,                                        \
      "%s would be %s, and was %s when the setup was kept last (entry %lld): " \
      "the same with the other sign",                                          \
      "check the signs of what was touched for it")                            \
    X(SAY_SLIP_INCH, JAW_DOUBT, JAW_OK,                                        \
      "%s would be %s, and was %s when the setup was kept last (entry %lld): " \
      "that is %s",                                                            \
      "check the unit: is it inch or mm?")                                     \
    X(SAY_OLD_CARRIED, JAW_DOUBT, JAW_OK,                                      \
      "%s would be %s, as it was kept in entry %lld; the machine moved when "  \
      "it was homed since, and the marks of entry %lld carried it: it is %s "  \
      "now",                                                                   \
      "enter what holds now, or touch it off anew in the sheet")               \
    X(SAY_OLD_LOST, JAW_DOUBT, JAW_OK,                                         \
      "%s would be %s, as it was kept in entry %lld; the machine moved when "  \
      "it was homed since (entry %lld), and what it is now is not in the book",\
      "touch it off anew in the sheet")                                        \
    X(SAY_MARK_MANY, JAW_ERROR, JAW_EDOMAIN,                                   \
      "marks are found one to %d at a time", "name those that count")          \
    X(SAY_MARK_OTHER, JAW_ERROR, JAW_EDOMAIN,                                  \
      "the mark '%s' is of another kind in the book",                          \
      "give this one another name, or say --new")                              \
    X(SAY_MARK_RANK, JAW_ERROR, JAW_ERANK,                                     \
      "the marks do not show by what they moved: they all lie in one place, "  \
      "or the only edge runs askew to both axes",                              \
      "find one more mark, well apart")                                        \
    X(SAY_MARK_ALONE, JAW_ASSUMPTION, JAW_OK,                                  \
      "nothing checks the marks in the plane: if one was touched wrong, or "   \
      "came loose, nobody sees it",                                            \
      "find one more mark, far from these")                                    \
    X(SAY_MARK_ALONE_HIGH, JAW_ASSUMPTION, JAW_OK,                             \
      "nothing checks the marks in height: if the only one was touched wrong, "\
      "or with a wrong length, nobody sees it",                                \
      "find one more face or ball")                                            \
    X(SAY_MARK_NO_TURN, JAW_ASSUMPTION, JAW_OK,                                \
      "the marks show no turn: none is taken",                                 \
      "find two marks far apart, or touch an edge near both its ends")         \
    X(SAY_MARK_ALONG, JAW_ASSUMPTION, JAW_OK,                                  \
      "the marks show %s alone: it is taken that the machine moved in %s by "  \
      "less than %s, which counts where a wall is a little askew",             \
      "find a mark that shows the other axis as well")                         \
    X(SAY_MARK_NO_HEIGHT, JAW_ASSUMPTION, JAW_OK,                              \
      "the marks show no height: whether the machine's Z moved is not known",  \
      "find a face or a ball as well, with a tip whose length is known")       \
    X(SAY_MARK_OLD, JAW_ASSUMPTION, JAW_OK,                                    \
      "mark '%s' was left out when others were found since: it begins anew",   \
      "find all marks after each homing")                                      \
    X(SAY_MARK_UNCLEAR, JAW_DOUBT, JAW_OK,                                     \
      "whether the machine moved is not clear: of marks that stayed 5 in 100 " \
      "look like more than noise, 1 in 1000 like a movement, and these lie "   \
      "between",                                                               \
      "find the marks once more, with more touches, before you enter "         \
      "anything; nothing is carried")                                          \
    X(SAY_MARK_UNIT, JAW_DOUBT, JAW_OK, "%s of mark '%s' is %s what it was",   \
      "check the unit: is it inch or mm?")                                     \
    X(SAY_MARK_SIGN, JAW_DOUBT, JAW_OK,                                        \
      "%s of mark '%s' is what it was with the other sign",                    \
      "check the sign")                                                        \
    X(SAY_MARK_DIGITS, JAW_DOUBT, JAW_OK,                                      \
      "%s of mark '%s' is what it was but for a slip of the pen: %s",          \
      "read it again; if it is right, find one more mark: a machine that "     \
      "moved takes all of them along")                                         \
    X(SAY_MARK_SWAPPED, JAW_DOUBT, JAW_OK,                                     \
      "x of mark '%s' is what y was, and y what x was",                        \
      "give x first")                                                          \
    X(SAY_MARK_SCATTER, JAW_DOUBT, JAW_OK,                                     \
      "the touches of mark '%s' disagree by more than they repeat",            \
      "find it once more")                                                     \
    X(SAY_MARK_ODD, JAW_DOUBT, JAW_OK,                                         \
      "mark '%s' does not go along with the others, which agree: it was "      \
      "touched wrong, or it is loose",                                         \
      "find it once more, or leave it out with --without")                     \
    X(SAY_MARK_APART, JAW_DOUBT, JAW_OK,                                       \
      "the marks moved against one another, '%s' by %s: one of them was "      \
      "touched wrong, or is loose, and which one can not be told",             \
      "find them once more; a third mark would show which it is")              \
    X(SAY_MARK_HOMED, JAW_ASSUMPTION, JAW_OK,                                  \
      "all that is carried was found before the machine was homed this time",  \
      "if something was found after it, say with --homed when that was")       \
    X(SAY_MARK_LATE, JAW_DOUBT, JAW_OK,                                        \
      "tool %d was measured after the machine was homed, entry %lld, by a "    \
      "height of before it: its length is off by %s",                          \
      "measure it again")                                                      \
    X(SAY_MARK_SUMS, JAW_DOUBT, JAW_OK,                                        \
      "%d length%s that %s touched on the part, or on a surface whose height " \
      "is not known, moved with the machine's Z by %s and can not be carried", \
      "touch them once more, `jawline tools' lists them")                      \
    X(SAY_RISEN, JAW_DOUBT, JAW_OK,                                            \
      "tool %d touched '%s' before the machine was homed, and its Z moved by " \
      "%s since (entry %lld): that reading does not hold any more",            \
      "touch it there once more")                                              \
    X(SAY_RISEN_UNSHOWN, JAW_DOUBT, JAW_OK,                                    \
      "tool %d touched '%s' before the machine was homed, and the marks do "   \
      "not show whether its Z moved (entry %lld)",                             \
      "touch it there once more")                                              \
    X(SAY_MARK_NEAR, JAW_DOUBT, JAW_OK,                                        \
      "there is no mark '%s' in the book, but there is '%s', which was not "   \
      "found now",                                                             \
      "mend the name; --new says that it is one more")                         \
    X(SAY_MARK_DOUBTFUL, JAW_ERROR, JAW_ECONFLICT,                             \
      "marks that are in doubt are not kept",                                  \
      "clear the doubt first; nothing was written")                            \
    X(SAY_FIXTURE_HOMED, JAW_ASSUMPTION, JAW_OK,                               \
      "the machine was not homed since last time, or its marks were found "    \
      "again after it",                                                        \
      "find the marks first, `jawline mark'")                                  \
    X(SAY_FIXTURE_UNIT, JAW_DOUBT, JAW_OK,                                     \
      "%s of '%s' is %s what it was",                                          \
      "check the unit: is it inch or mm? --new says that it was set "          \
      "elsewhere on purpose")                                                  \
    X(SAY_FIXTURE_SIGN, JAW_DOUBT, JAW_OK,                                     \
      "%s of '%s' is what it was with the other sign",                         \
      "check the signs of what was touched for it; --new says that it was set "\
      "elsewhere on purpose")                                                  \
    X(SAY_FIXTURE_SWAPPED, JAW_DOUBT, JAW_OK,                                  \
      "X of '%s' is what Y was, and Y what X was",                             \
      "see that x comes first in what was touched; --new says that it was set "\
      "elsewhere on purpose")                                                  \
    X(SAY_FIXTURE_NEAR, JAW_DOUBT, JAW_OK,                                     \
      "there is no fixture '%s' in the book, but there is '%s'",               \
      "mend the name; --new says that it is one more")                         \
    X(SAY_FIXTURE_DOUBTFUL, JAW_ERROR, JAW_ECONFLICT,                          \
      "a fixture that is in doubt is not kept",                                \
      "clear the doubt first; nothing was written")                            \
    X(SAY_FIXTURE_KNOCKED, JAW_DOUBT, JAW_OK,                                  \
      "'%s' moved though it had not been off the table: it was knocked, or "   \
      "its clamps slipped",                                                    \
      "see to its clamps, and find its work zeros again")                      \
    X(SAY_DIAMETER, JAW_DOUBT, JAW_OK,                                         \
      "tool %d is %s than last time by %s in diameter: %s (%.0f in 100)",      \
      "look at its edges before you enter it; --new says that a new cutter "   \
      "is in it")                                                              \
    X(SAY_DIAMETER_TO, JAW_DOUBT, JAW_OK,                                      \
      "tool %d is %s than last time by %s in diameter: that is the diameter "  \
      "of tool %d (%.0f in 100)",                                              \
      "see which tool is in the holder before you enter it")                   \
    X(SAY_TIP_CHANGED, JAW_DOUBT, JAW_OK,                                      \
      "tip '%s' measures %s than last time by %s; up to %s is noise",          \
      "look at the tip and how tight it sits; --new says that it is another")  \
    X(SAY_TIP_MOVED, JAW_DOUBT, JAW_OK,                                        \
      "the %s of tip '%s' moved by %s since last time; up to %s is noise",     \
      "look at the tip and how it stands in the spindle; --new says that it "  \
      "is another")                                                            \
    X(SAY_TIP_UNIT, JAW_DOUBT, JAW_OK,                                         \
      "the diameter of tip '%s' is %s what it was last time",                  \
      "check the unit: is it inch or mm?")                                     \
    /* links from a sheet */                                                   \
    X(SAY_LINK_NO_BOOK, JAW_ERROR, JAW_ENOBOOK,                                \
      "%s is to come from the book, and there is none yet: `%s'",              \
      "it is made when something is first written, as by `jawline tool'; "     \
      "another one is named with --book or JAWLINE_BOOK")                      \
    X(SAY_LINK_MACHINES, JAW_ERROR, JAW_ECONFLICT,                             \
      "%s is to come from the book, which knows several machines",             \
      "say which with --machine; `jawline machine' lists them")                \
    X(SAY_LINK_NO_TOOL, JAW_ERROR, JAW_EUNKNOWN,                               \
      "there is no tool %d in the book of machine '%s'",                       \
      "check its number; `jawline tools' lists them, and `jawline tool NUMBER "\
      "READING' measures one")                                                 \
    X(SAY_LINK_HOLDER, JAW_ERROR, JAW_EUNKNOWN,                                \
      "the book has tool %d %s, and not %s",                                   \
      "write the holder it is in: tool %d%s%s from book; or measure it there") \
    X(SAY_LINK_ELSEWHERE, JAW_ERROR, JAW_EUNKNOWN,                             \
      "the book has %s on machine '%s', and not on '%s'",                      \
      "name the machine with --machine, or measure it on this one")            \
    X(SAY_LINK_ABOVE, JAW_ERROR, JAW_EUNKNOWN,                                 \
      "the book knows tool %d only above '%s', whose height it does not know "\
      "(entry %lld)",                                                          \
      "find that height with `jawline setter' and measure the tool again, or " \
      "add a setter of that name to the sheet")                                \
    X(SAY_LINK_PART, JAW_ERROR, JAW_EUNKNOWN,                                  \
      "the book knows tool %d only by the part that it touched (entry %lld)",  \
      "measure it on a surface that stays, with `jawline tool'")               \
    X(SAY_LINK_GONE, JAW_ERROR, JAW_EUNKNOWN,                                  \
      "the book had %s, but its entry %lld of %s is undone, by entry %lld",    \
      "measure it again; or to bring it back, undo that one: `jawline book "   \
      "undo' and its number")                                                  \
    X(SAY_LINK_NO_SETTER, JAW_ERROR, JAW_EUNKNOWN,                             \
      "there is no %s '%s' in the book",                                       \
      "write it down with `jawline setter', or state its height here")         \
    X(SAY_LINK_IS_BLOCK, JAW_ERROR, JAW_EUNKNOWN,                              \
      "'%s' is a block in the book, and what it stands on is not said",        \
      "name that, as in: from book on top")                                    \
    X(SAY_LINK_IS_TOP, JAW_ERROR, JAW_EUNKNOWN,                                \
      "'%s' is no block in the book, but a surface of the machine",            \
      "leave out what it stands on: from book")                                \
    X(SAY_LINK_NO_TIP, JAW_ERROR, JAW_EUNKNOWN,                                \
      "there is no tip '%s' in the book of machine '%s'",                      \
      "calibrate it with `jawline tip' and --keep, or state its diameter")     \
    X(SAY_LINK_NEAR, JAW_ERROR, JAW_EUNKNOWN,                                  \
      "there is no %s '%s' in the book, but there is '%s'",                    \
      "mend the name")                                                         \
    X(SAY_LINK_BAD, JAW_ERROR, JAW_EDOMAIN,                                    \
      "%s in the book (entry %lld of %s) contradicts itself",                  \
      "measure it again")                                                      \
    X(SAY_LINK_DOUBT, JAW_DOUBT, JAW_OK,                                       \
      "%s comes from entry %lld of the book, %s, which is in doubt: %s",       \
      "see to it and measure it again; if it was a slip, undo it with "        \
      "`jawline book undo'")                                                   \
    X(SAY_LINK_BEFORE, JAW_DOUBT, JAW_OK,                                      \
      "%s comes from entry %lld of the book, %s, because a later one, %lld, "  \
      "is in doubt: %s",                                                       \
      "measure it again; if the later one was a slip, undo it with `jawline "  \
      "book undo'")                                                            \
    X(SAY_LINK_UNDONE, JAW_DOUBT, JAW_OK,                                      \
      "%s comes from entry %lld of the book, %s, because a later one, %lld, "  \
      "is undone",                                                             \
      "see that it holds now, or measure it again")                            \
    X(SAY_LINK_BASE, JAW_DOUBT, JAW_OK,                                        \
      "%s comes from entry %lld of the book, %s, and the height it was "       \
      "measured by, entry %lld, is undone",                                    \
      "measure it again")                                                      \
    X(SAY_LINK_HOMED, JAW_DOUBT, JAW_OK,                                       \
      "%s comes from entry %lld of the book, %s, and since then the machine "  \
      "moved, or was homed with no mark that shows its Z, entry %lld",         \
      "touch the tool once more")                                              \
    X(SAY_LINK_LATER, JAW_DOUBT, JAW_OK,                                       \
      "%s comes from entry %lld of the book, %s; entry %lld, %s, %s",          \
      "see which one is meant, and measure it again where this is not it")     \
    X(SAY_LINK_RULE, JAW_DOUBT, JAW_OK,                                        \
      "by the book the length registers of '%s' hold %s, by the sheet %s",     \
      "say `control lengths' as the machine has it, or mend the book with "    \
      "`jawline machine NAME --lengths RULE'")                                 \
    X(SAY_RULE_TURN, JAW_DOUBT, JAW_OK,                                        \
      "by the book the control of '%s' %s, by the sheet it %s",                \
      "say `control turn' as the machine has it, or mend the book with "       \
      "`jawline machine NAME --turn yes' or `no'")                             \
    X(SAY_TOUCH_OUTSIDE, JAW_DOUBT, JAW_OK,                                    \
      "touch %zu of '%s', line %d, reads %s in %s, which goes from %s to %s",  \
      "check sign, unit and row, or the travel that `jawline machine' has")    \
    X(SAY_LINK_SAME, JAW_ASSUMPTION, JAW_OK,                                   \
      "the book knows tool %d only above '%s': that is taken to be this "      \
      "sheet's",                                                               \
      "")                                                                      \
    X(SAY_LINK_SPREAD, JAW_ASSUMPTION, JAW_OK,                                 \
      "the book does not know how sure the length of tool %d is: %s is taken " \
      "for one reading",                                                       \
      "read it two or three times, or state --repeat, when it is measured")    \
    X(SAY_LINK_EXACT, JAW_ASSUMPTION, JAW_OK,                                  \
      "the book does not know how sure the diameter of tip '%s' is: it "       \
      "counts as exact",                                                       \
      "calibrate it with touches to spare, or state --repeat")

enum jaw__book_message {
#define BOOK_MESSAGE_ENUM(id, severity, status, what, cure) id,
    JAW__BOOK_MESSAGES(BOOK_MESSAGE_ENUM)
#undef BOOK_MESSAGE_ENUM
    JAW__BOOK_MESSAGE_COUNT
};

#endif
