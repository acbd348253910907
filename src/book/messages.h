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
    X(SAY_UNDONE, JAW_ERROR, JAW_EUNKNOWN, "entry %lld is undone already",     \
      "undo the undo to bring it back; `jawline book log' shows which it is")  \
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
    X(SAY_REPEAT_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN,                             \
      "how well the readings on '%s' come back is not known",                  \
      "read it twice or more, or state --repeat")                              \
    X(SAY_MACHINE_UNKNOWN, JAW_ASSUMPTION, JAW_OK,                             \
      "the machine '%s' is not in the book: millimetres and steps of 0.001 "   \
      "mm are taken, and nothing is compared with its travel",                 \
      "write it down with `jawline machine'")                                  \
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
    X(SAY_UNIT_JUMP, JAW_DOUBT, JAW_OK,                                        \
      "the reading of tool %d is %s what it was last time",                    \
      "check the unit: is it inch or mm?")                                     \
    X(SAY_SCATTER, JAW_DOUBT, JAW_OK,                                          \
      "the readings of tool %d lie %s apart; on this machine one comes back "  \
      "to %s",                                                                 \
      "look for a chip under it or a slip of the pen, and take them again")    \
    X(SAY_CHANGED, JAW_DOUBT, JAW_OK,                                          \
      "tool %d is %s than last time by %s: %s (%.0f in 100)",                  \
      "look at the tool and its holder before you enter it; --new says that "  \
      "a new cutter is in it")                                                 \
    X(SAY_CHANGED_TO, JAW_DOUBT, JAW_OK,                                       \
      "tool %d is %s than last time by %s: its length is that of tool %d "     \
      "(%.0f in 100)",                                                         \
      "see which tool is in the holder before you enter it")                   \
    X(SAY_DIAMETER, JAW_DOUBT, JAW_OK,                                         \
      "tool %d is %s than last time by %s in diameter: %s (%.0f in 100)",      \
      "look at its edges before you enter it; --new says that a new cutter is " \
      "in it")                                                                 \
    X(SAY_DIAMETER_TO, JAW_DOUBT, JAW_OK,                                      \
      "tool %d is %s than last time by %s in diameter: that is the diameter "  \
      "of tool %d (%.0f in 100)",                                              \
      "see which tool is in the holder before you enter it")

enum jaw__book_message {
#define BOOK_MESSAGE_ENUM(id, severity, status, what, cure) id,
    JAW__BOOK_MESSAGES(BOOK_MESSAGE_ENUM)
#undef BOOK_MESSAGE_ENUM
    JAW__BOOK_MESSAGE_COUNT
};

#endif
