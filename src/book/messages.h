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
      "it is made when something is first written, as by `jawline tool`; "     \
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
      "see to the disk, then look with `jawline book log` before you enter "   \
      "it again")                                                              \
    X(SAY_FOLDER, JAW_ERROR, JAW_EIO, "the folder `%s' can not be made: %s",   \
      "make it, or name another file with --book")                             \
    X(SAY_CLOCK_BACK, JAW_DOUBT, JAW_OK,                                       \
      "the clock says %s, and that is before the entry before, %s",            \
      "set the clock; the order of the book is that of writing")               \
    X(SAY_BAD_ENTRY, JAW_ERROR, JAW_EDOMAIN, "%s: %s",                         \
      "nothing was written")                                                   \
    X(SAY_NO_ENTRY, JAW_ERROR, JAW_EUNKNOWN,                                   \
      "there is no entry %lld in the book", "`jawline book log` lists them")   \
    X(SAY_UNDONE, JAW_ERROR, JAW_EUNKNOWN, "entry %lld is undone already",     \
      "undo the undo to bring it back; `jawline book log` shows which it is")  \
    X(SAY_NOTHING, JAW_ERROR, JAW_EUNKNOWN,                                    \
      "there is nothing in the book to undo", "")                              \
    X(SAY_FOUND, JAW_ERROR, JAW_EDAMAGED, "in the book `%s': %s",              \
      "put it aside, and go on with the last backup, or export it and import " \
      "what is whole into a new one")                                          \
    X(SAY_THERE, JAW_ERROR, JAW_ECONFLICT, "there is a file `%s' already",     \
      "name another one")                                                      \
    X(SAY_NO_COPY, JAW_ERROR, JAW_EIO, "no copy can be made at `%s': %s",      \
      "see to the disk or the name, then try again")

enum jaw__book_message {
#define BOOK_MESSAGE_ENUM(id, severity, status, what, cure) id,
    JAW__BOOK_MESSAGES(BOOK_MESSAGE_ENUM)
#undef BOOK_MESSAGE_ENUM
    JAW__BOOK_MESSAGE_COUNT
};

#endif
