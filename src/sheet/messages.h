/* SPDX-License-Identifier: GPL-3.0-or-later */
/* messages.h: all that the reader says to a person.
 *
 * How this works, here and in src/setup/messages.h: every message is one row
 * X(ID, "what is wrong", "what would be right") of a list, and no other place
 * of the module holds text for a person.  %1 to %4 stand for words, numbers
 * and names that are filled in (a row may as well use printf conversions: the
 * runner takes both for "anything").  tests/errors/run.sh reads the rows of
 * every src/<module>/messages.h and fails when the texts of one occur in no
 * tests/errors/NAME.expect, so that a new message needs a new input.  A row
 * that no text of a user can bring about does not belong here.
 *
 * Style: what is wrong names the thing as the person wrote it; the cure can be
 * typed as it stands. */
#ifndef JAW__SHEET_MESSAGES_H
#define JAW__SHEET_MESSAGES_H

#define JAW_SHEET_MESSAGES(X)                                                  \
    /* the text as a whole */                                                  \
    X(UTF16, "this looks like UTF-16", "save it as UTF-8")                     \
    X(NUL_BYTE, "a zero byte stands here",                                     \
      "type the line again; the file was damaged or is no text")               \
    X(CONTROL_BYTE, "a control character stands here",                         \
      "type the line again without it")                                        \
    X(NOT_UTF8, "a byte that is no UTF-8 stands here",                         \
      "save the file as UTF-8, or type the line again")                        \
    X(ODD_BLANK, "a blank that is no ordinary one stands here",                \
      "type an ordinary blank")                                                \
    X(OPEN_QUOTE, "the text that begins here has no closing quote",            \
      "end it with \"")                                                        \
    X(ODD_QUOTE, "a typographic quote stands here", "type ordinary quotes: \"")\
    X(NOTHING, "nothing is stated here",                                       \
      "begin with a tip, a feature or a vise, say")                   \
    X(MORE, "more mistakes follow", "mend these first")                        \
    /* other sheets */                                                         \
    X(INCLUDE_READ, "the sheet '%1' can not be read",                          \
      "write its name as seen from the folder of this sheet")                  \
    X(INCLUDE_LOOP, "the sheet '%1' is included within itself",                \
      "leave this line out")                                                   \
    X(INCLUDE_DEEP, "with '%1' sheets are included nine deep",                 \
      "let the first include it; eight deep is the most")                      \
    X(INCLUDE_MANY, "with '%1' more than 64 sheets are included",              \
      "put some of them into one file")                                        \
    X(INCLUDE_UNIT, "'%1' has a length without a unit and does not say which", \
      "write unit mm or unit in at its top")                                   \
    /* entries */                                                              \
    X(UNKNOWN_ENTRY, "'%1' opens no entry", "an entry begins with %2")         \
    X(UNKNOWN_ENTRY_NEAR, "'%1' opens no entry here", "did you mean '%2'?")    \
    X(MARGIN_FIELD, "'%1' belongs to the '%2' above and stands at the margin", \
      "indent the line")                                                       \
    X(MARGIN_ROW, "a row stands at the margin", "indent the rows of '%1'")     \
    X(ROW_FIRST, "a row stands before any entry",                              \
      "open an entry above it, such as: edge jaw tip finder faces y-")         \
    X(INDENTED_FIRST, "an indented line stands before any entry",              \
      "begin each entry at the margin")                                        \
    X(INDENTED_ENTRY, "'%1' opens an entry and is indented",                   \
      "begin it at the margin")                                                \
    X(ENTRY_TWICE, "'%1' is stated twice",                                     \
      "put all into the first, in line %2")                                    \
    /* fields */                                                               \
    X(UNKNOWN_FIELD, "'%1' says nothing in '%2'", "'%2' takes %3")             \
    X(UNKNOWN_FIELD_NEAR, "'%1' is not known in '%2'", "did you mean '%3'?")   \
    X(TOO_MUCH, "'%1' is too much here",                                       \
      "'%2' takes nothing more; begin a new line")                             \
    X(LOOSE_UNIT, "the unit '%1' stands alone",                                \
      "write it directly behind its number, as in 25.4mm")                     \
    X(LOOSE_NUMBER, "'%1' has no word before it that says what it is",         \
      "'%2' takes %3")                                                         \
    X(ROW_IN_LINE, "'%1' looks like a row of touches",                         \
      "begin a new, indented line for it")                                     \
    X(FIELD_TWICE, "'%1' is given twice", "leave one; the first is in line %2")\
    X(FIELD_MISSING, "%1 '%2' has no '%3'", "add it, as in: %4")               \
    X(VALUE_MISSING, "%1 is missing after '%2'", "as in: %3")                  \
    X(VALUE_WRONG, "'%1' stands where %2 is wanted", "as in: %3")              \
    X(WORD_WRONG_NEAR, "'%1' is not known here", "did you mean '%2'?")         \
    X(NAME_BAD, "'%1' is no name",                                             \
      "a name is a letter, then letters, digits, - and _")                     \
    X(LABEL_BAD, "'%1' is no name of a holder",                                \
      "it is letters, digits, - _ and points, a letter or digit first")        \
    X(TOOL_BAD, "'%1' is no tool number",                                      \
      "it is a whole number from 1 to 9999")                                   \
    /* numbers */                                                              \
    X(NOT_FINITE, "'%1' is no number to work with",                            \
      "write the number that was read")                                        \
    X(TOO_LARGE, "'%1' is too large", "look at its digits and its exponent")   \
    X(DECIMAL_COMMA, "'%1' has a comma where its point should be", "write %2") \
    X(LOOSE_COMMA, "'%1' holds a comma",                                       \
      "put a blank between two numbers, and no comma")                         \
    X(SEMICOLON, "'%1' holds a semicolon", "put a blank between two numbers")  \
    X(TYPED_MINUS, "'%1' has a typographic minus or dash",                     \
      "write an ordinary minus: %2")                                           \
    X(DEGREE_SIGN, "'%1' has a degree sign", "write the unit as letters: %2")  \
    X(INCH_MARK, "'%1' has an inch mark", "write the unit as letters: %2")     \
    X(FRACTION, "'%1' is a fraction", "write it with decimals: %2")            \
    X(TWO_NUMBERS, "'%1' is two numbers run together",                         \
      "put a blank between them: %2")                                          \
    X(TWO_POINTS, "'%1' has more than one point",                              \
      "write one number with one point")                                       \
    X(NO_DIGITS, "'%1' has no digits", "write the number whole, as in -3.1120")\
    X(ODD_UNIT, "'%1' ends in a unit that is not known",                       \
      "a unit is mm, in, deg or rad")                                          \
    X(ODD_UNIT_NEAR, "'%1' does not end in a known unit", "write %2")          \
    X(ANGLE_FOR_LENGTH, "'%1' is an angle, and %2 is wanted",                  \
      "write a length, in mm or in")                                           \
    X(LENGTH_FOR_ANGLE, "'%1' is a length, and %2 is wanted",                  \
      "write an angle, in deg or rad")                                         \
    X(PLAIN_UNIT, "'%1' carries a unit, and %2 takes none",                    \
      "write the number alone, as in: %3")                                     \
    X(NOT_POSITIVE, "'%1' is not larger than zero, and %2 must be",            \
      "as in: %3")                                                             \
    X(NEGATIVE, "'%1' is negative, and %2 can not be", "as in: %3")            \
    /* rows */                                                                 \
    X(NO_ROWS, "'%1' takes no rows", "rows belong to a feature, such as edge") \
    X(ROW_WORD, "'%1' is no number", "%2")                                     \
    X(ROW_SHORT, "the row ends too early, after number %1", "%2")              \
    X(ROW_LONG, "the row goes on too long, to number %1", "%2")                \
    X(ROW_LABEL, "'%1' stands among numbers without a label",                  \
      "label every number of a row, or none")                                  \
    X(ROW_LABEL_TWICE, "'%1' is given twice in one row", "begin a new row")    \
    X(ROW_BARE, "'%1' has no label, and the number before it has one",         \
      "label every number of the row, or none")                                \
    X(ROW_FACES, "edge '%1' faces %2, and this touch has no %3",               \
      "write its %3, or mend the side that the edge faces")                    \
    X(SLASH_NONE, "'%1' takes no /", "take it out; it stands in %3")           \
    X(SLASH_TWICE, "'%1' has a second /",                                      \
      "take it out; the first is in line %2")                                  \
    X(SLASH_EMPTY, "no row stands above the /",                                \
      "write the rows of the one above it, of the other below it")             \
    X(SLASH_TRAILING, "'%1' does not belong to the /",                         \
      "let the / stand alone in its line")                                     \
    X(SLASH_MISSING, "%1 '%2' has rows of one %3 only",                        \
      "put a lone / between the rows of its two %3s")                          \
    X(SLASH_LAST, "no row stands below the / of '%1'",                         \
      "write those of the second %2 below it")                                 \
    X(NO_TOUCHES, "%1 '%2' has no %4",                                         \
      "write them below it in indented rows, as in: %3")                       \
    /* what an entry means */                                                  \
    X(UNIT_LATE, "the unit is stated below a length that carries none",        \
      "move it above line %1")                                                 \
    X(TRAVEL_TWICE, "the travel of %1 is given twice", "leave one")            \
    X(TRAVEL_ORDER, "the travel of %1 ends below its start",                   \
      "write the lower reading first")                                         \
    X(WITHIN_KNOWN, "within says nothing about a size that is known",          \
      "leave within out, or write expected for known")                         \
    X(TO_EXPECTED, "to says nothing about a size that is expected",            \
      "write known for expected, or within for to")                            \
    X(FACES_MOVING, "edge '%1' faces %2, and its tip was moving %3",           \
      "a wall that faces %2 is touched moving %4; mend one of the two")        \
    X(FACES_MISSING, "edge '%1' does not say which way it faces",              \
      "add faces x+, x-, y+ or y-, outward: a jaw that looks at the operator " \
      "faces y-")                                                              \
    X(BOOK_TOO, "'%1' and `from book` both say it",                            \
      "leave one of the two out")                                              \
    X(HOLDER_LOOSE, "'holder' says nothing of a tool that is not from the book",\
      "add `from book`, or leave the holder out")                              \
    X(CORRELATION_RANGE, "'%1' is no correlation",                             \
      "it lies between -1 and 1, and is neither")                              \
    X(CORRELATION_SAME, "%1 is correlated with itself",                        \
      "name two things that differ")                                           \
    X(CORRELATION_TWICE, "the correlation of %1 and %2 is given twice",        \
      "leave one; the first is in line %3")                                    \
    X(CORRELATION_LOOSE,                                                       \
      "%1 is correlated, and how well it is known is not stated",              \
      "as in: %2")                                                             \
    X(ZERO_EMPTY, "%1 asks for nothing",                                       \
      "say what it follows from, as in: x stop at 0")                          \
    X(ZERO_WHOLE, "%1 follows from its '%2', so its '%3' says nothing",         \
      "leave one of the two out")                                              \
    X(VEE_ANGLE, "no V has flanks that lie 180 degrees apart, or more",        \
      "write the angle between them, as in: angle 90")                         \
    X(SINE_ANGLE, "a sine bar is set to less than 90 degrees",                 \
      "write the angle from the plate that it stands on, as in: angle 30")     \
    X(SINE_STACK, "the stack is as high as the bar is long, or higher",        \
      "check both; the bar's length is that between its rollers")              \
    X(SINE_NOTHING, "sine bar '%1' has neither an angle nor a stack",          \
      "add `angle`, to know the stack, or `stack`, to know the angle")         \
    X(NAME_TWICE, "'%1' names two things",                                     \
      "give one another name; the first is in line %2")                        \
    X(TIP_TWICE, "two tips are called '%1'",                                   \
      "give one another name; the first is in line %2")                        \
    X(TOOL_TWICE, "tool %1 is stated twice",                                   \
      "put all into the first, in line %2")                                    \
    X(ZERO_TWICE, "%1 is to hold two work zeros; the first is in line %2",     \
      "use %3, which is free")                                                 \
    X(ZERO_UNKNOWN, "'%1' is no register that is known here",                  \
      "use %2, which is free")                                                 \
    X(SWEEP_ALONG, "a wall that faces %1 is swept along %2",                   \
      "say `along %2`, or `faces %3`")                                         \
    /* taken for granted */                                                    \
    X(UNIT_ASSUMED, "no unit is stated: lengths without one are taken as mm",  \
      "state it, as in: unit mm")                                              \
    X(STEP_ASSUMED, "the control's step is taken as %1",                       \
      "state it, as in: control step %1")                                      \
    X(ANGLE_STEP_ASSUMED, "the control's smallest angle is taken as 0.0001deg",\
      "state it, as in: control angle-step 0.0001")                            \
    /* rows without a sheet */                                                 \
    X(ROWS_COUNT, "numbers in this row: %1", "it takes %2")                    \
    X(ROWS_COMMAS, "numbers in this row: %1, and no point in any of them",     \
      "it takes %2; write decimals with a point, as in 3.125, and the same "   \
      "comma or blank between all")                                            \
    X(ROWS_GAP, "a number is missing beside the comma",                        \
      "put one comma or blank between two numbers")                            \
    X(ROWS_SEMICOLON, "'%1' holds a semicolon, which parts no numbers",        \
      "put a comma or a blank between them")                                   \
    /* what the control shows */                                               \
    X(SHOWN_NOTHING, "no value of the control is given here",                  \
      "write a row for each register, as in: G54 x -12.3450")                  \
    X(SHOWN_FIRST, "'%1' stands before any register",                          \
      "begin with the register, as in: G54 x -12.3450")                        \
    X(SHOWN_WORD, "'%1' is neither a register nor an axis",                    \
      "as in: G54 x -12.3450 y 3.2000 turn 0.1, or H3 101.2000")               \
    X(SHOWN_LOOSE, "'%1' has no axis before it",                               \
      "write the axis before its number, as in: %2 x %1")                      \
    X(SHOWN_UNKNOWN, "%1 is nothing that the sheet has a value for",           \
      "mend it or leave it out; the sheet has %2")

typedef enum jaw__message {
#define JAW__MESSAGE_ENUM(id, what, cure) JAW__SAY_##id,
    JAW_SHEET_MESSAGES(JAW__MESSAGE_ENUM)
#undef JAW__MESSAGE_ENUM
    JAW__MESSAGES
} jaw__message;

#endif
