/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kinds.h: what is kept of every kind of entry, once: the tables, writing,
 * reading, export and import all follow from these lists.
 *
 * Columns: type, name in the file and in exports, member of the record's union,
 * the version of the tables that it came with, and of a word the function that
 * gives it.  A name that several kinds share has one type.
 *
 * A new column is a line at the end with the next version; a new kind is a list
 * and a line in JAW__BOOK_KIND_FIELDS.  What is there never changes: files with
 * it exist. */
#ifndef JAW__BOOK_KINDS_H
#define JAW__BOOK_KINDS_H

#define JAW__UNDO_FIELDS(X)

#define JAW__MACHINE_FIELDS(X)                                                 \
    X(JAW__WORD, unit, machine.unit, 1, unit_word)                             \
    X(JAW__REAL, step, machine.step, 1, NULL)                                  \
    X(JAW__INT, decimals, machine.decimals, 1, NULL)                           \
    X(JAW__WORD, lengths, machine.lengths, 1, rule_word)                       \
    X(JAW__INT, reference, machine.reference, 1, NULL)                         \
    X(JAW__REAL, x_low, machine.low[0], 1, NULL)                               \
    X(JAW__REAL, x_high, machine.high[0], 1, NULL)                             \
    X(JAW__REAL, y_low, machine.low[1], 1, NULL)                               \
    X(JAW__REAL, y_high, machine.high[1], 1, NULL)                             \
    X(JAW__REAL, z_low, machine.low[2], 1, NULL)                               \
    X(JAW__REAL, z_high, machine.high[2], 1, NULL)                             \
    X(JAW__REAL, seat, machine.seat, 1, NULL)

#define JAW__HEIGHT_FIELDS(X)                                                  \
    X(JAW__BOOL, block, height.block, 1, NULL)                                 \
    X(JAW__REAL, value, height.value, 1, NULL)                                 \
    X(JAW__REAL, u, height.u, 1, NULL)                                         \
    X(JAW__REAL, dof, height.dof, 1, NULL)                                     \
    X(JAW__REAL, half95, height.half95, 1, NULL)                               \
    X(JAW__INT, tool, height.tool, 1, NULL)                                    \
    X(JAW__REAL, length, height.length, 1, NULL)                               \
    X(JAW__REAL, length_u, height.length_u, 1, NULL)                           \
    X(JAW__WORD, unit, height.unit, 1, unit_word)

#define JAW__LENGTH_FIELDS(X)                                                  \
    X(JAW__INT, tool, length.number, 1, NULL)                                  \
    X(JAW__TEXT, holder, length.holder, 1, NULL)                               \
    X(JAW__TEXT, text, length.text, 1, NULL)                                   \
    X(JAW__TEXT, datum, length.datum, 1, NULL)                                 \
    X(JAW__TEXT, touched, length.on, 1, NULL)                                  \
    X(JAW__TEXT, through, length.through, 1, NULL)                             \
    X(JAW__REAL, value, length.value, 1, NULL)                                 \
    X(JAW__REAL, u, length.u, 1, NULL)                                         \
    X(JAW__REAL, dof, length.dof, 1, NULL)                                     \
    X(JAW__REAL, half95, length.half95, 1, NULL)                               \
    X(JAW__REAL, repeat, length.repeat, 1, NULL)                               \
    X(JAW__REAL, repeat_dof, length.repeat_dof, 1, NULL)                       \
    X(JAW__REAL, known, length.known, 1, NULL)                                 \
    X(JAW__REAL, between, length.between, 1, NULL)                             \
    X(JAW__REAL, between_u, length.between_u, 1, NULL)                         \
    X(JAW__ID, surface, length.surface, 1, NULL)                               \
    X(JAW__BOOL, fresh, length.fresh, 1, NULL)                                 \
    X(JAW__WORD, change, length.change, 1, change_word)                        \
    X(JAW__WORD, unit, length.unit, 1, unit_word)

#define JAW__DIAMETER_FIELDS(X)                                                \
    X(JAW__INT, tool, diameter.number, 1, NULL)                                \
    X(JAW__TEXT, holder, diameter.holder, 1, NULL)                             \
    X(JAW__REAL, value, diameter.value, 1, NULL)                               \
    X(JAW__REAL, u, diameter.u, 1, NULL)                                       \
    X(JAW__REAL, dof, diameter.dof, 1, NULL)                                   \
    X(JAW__BOOL, fresh, diameter.fresh, 1, NULL)                               \
    X(JAW__WORD, unit, diameter.unit, 1, unit_word)                            \
    X(JAW__REAL, half95, diameter.half95, 2, NULL)                             \
    X(JAW__REAL, repeat, diameter.repeat, 2, NULL)                             \
    X(JAW__REAL, repeat_dof, diameter.repeat_dof, 2, NULL)                     \
    X(JAW__REAL, known, diameter.known, 2, NULL)                               \
    X(JAW__WORD, change, diameter.change, 2, change_word)

/* Kind, its fields, the version of the tables that it came with. */
#define JAW__BOOK_KIND_FIELDS(X)                                               \
    X(JAW_BOOK_UNDO, undo_fields, JAW__UNDO_FIELDS, 1)                         \
    X(JAW_BOOK_MACHINE, machine_fields, JAW__MACHINE_FIELDS, 1)                \
    X(JAW_BOOK_HEIGHT, height_fields, JAW__HEIGHT_FIELDS, 1)                   \
    X(JAW_BOOK_LENGTH, length_fields, JAW__LENGTH_FIELDS, 1)                   \
    X(JAW_BOOK_DIAMETER, diameter_fields, JAW__DIAMETER_FIELDS, 1)

#endif
