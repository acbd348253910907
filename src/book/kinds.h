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

/* A figure: value and spread, degrees of freedom and interval. */
#define JAW__FIGURE_FIELDS(X, name, member)                                    \
    X(JAW__REAL, name, member.value, 2, NULL)                                  \
    X(JAW__REAL, name##_u, member.u, 2, NULL)                                  \
    X(JAW__REAL, name##_dof, member.dof, 2, NULL)                              \
    X(JAW__REAL, name##_half95, member.half95, 2, NULL)

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
    X(JAW__REAL, seat, machine.seat, 1, NULL)                                  \
    X(JAW__WORD, control_turns, machine.turns, 3, turns_word)

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

#define JAW__SETUP_FIELDS(X)                                                   \
    X(JAW__TEXT, file, setup.file, 2, NULL)                                    \
    X(JAW__TEXT, sheet, setup.sheet, 2, NULL)                                  \
    X(JAW__TEXT, included, setup.included, 2, NULL)                            \
    X(JAW__TEXT, report, setup.report, 2, NULL)                                \
    X(JAW__WORD, lengths, setup.lengths, 2, rule_word)                         \
    X(JAW__INT, reference, setup.reference, 2, NULL)                           \
    X(JAW__BOOL, turns, setup.turns, 2, NULL)                                  \
    X(JAW__REAL, step, setup.step, 2, NULL)                                    \
    X(JAW__REAL, angle_step, setup.angle_step, 2, NULL)                        \
    X(JAW__WORD, unit, setup.unit, 2, unit_word)

#define JAW__ZERO_FIELDS(X)                                                    \
    X(JAW__ID, setup, zero.setup, 2, NULL)                                     \
    JAW__FIGURE_FIELDS(X, x, zero.at[0])                                       \
    JAW__FIGURE_FIELDS(X, y, zero.at[1])                                       \
    JAW__FIGURE_FIELDS(X, z, zero.at[2])                                       \
    JAW__FIGURE_FIELDS(X, turn, zero.at[3])                                    \
    X(JAW__BOOL, turns, zero.turns, 2, NULL)                                   \
    X(JAW__WORD, lengths, zero.lengths, 2, rule_word)                          \
    X(JAW__REAL, step, zero.step, 2, NULL)                                     \
    X(JAW__REAL, angle_step, zero.angle_step, 2, NULL)                         \
    X(JAW__WORD, unit, zero.unit, 2, unit_word)

#define JAW__OFFSET_FIELDS(X)                                                  \
    X(JAW__ID, setup, offset.setup, 2, NULL)                                   \
    X(JAW__INT, tool, offset.number, 2, NULL)                                  \
    X(JAW__TEXT, text, offset.text, 2, NULL)                                   \
    X(JAW__REAL, value, offset.length.value, 2, NULL)                          \
    X(JAW__REAL, u, offset.length.u, 2, NULL)                                  \
    X(JAW__REAL, dof, offset.length.dof, 2, NULL)                              \
    X(JAW__REAL, half95, offset.length.half95, 2, NULL)                        \
    X(JAW__WORD, lengths, offset.lengths, 2, rule_word)                        \
    X(JAW__INT, reference, offset.reference, 2, NULL)                          \
    X(JAW__REAL, step, offset.step, 2, NULL)                                   \
    X(JAW__WORD, unit, offset.unit, 2, unit_word)

#define JAW__ENTERED_FIELDS(X)                                                 \
    X(JAW__ID, setup, entered.setup, 2, NULL)                                  \
    X(JAW__TEXT, title, entered.title, 2, NULL)                                \
    X(JAW__TEXT, name, entered.name, 2, NULL)                                  \
    X(JAW__WORD, axis, entered.axis, 2, jaw_book_axis_word)                    \
    X(JAW__REAL, shown, entered.shown, 2, NULL)                                \
    X(JAW__REAL, wanted, entered.wanted, 2, NULL)                              \
    X(JAW__REAL, half95, entered.half95, 2, NULL)                              \
    X(JAW__REAL, step, entered.step, 2, NULL)                                  \
    X(JAW__WORD, unit, entered.unit, 2, unit_word)

#define JAW__MARK_FIELDS(X)                                                    \
    X(JAW__TEXT, feature, mark.feature, 2, NULL)                               \
    JAW__FIGURE_FIELDS(X, x, mark.at[0])                                       \
    JAW__FIGURE_FIELDS(X, y, mark.at[1])                                       \
    JAW__FIGURE_FIELDS(X, z, mark.at[2])                                       \
    JAW__FIGURE_FIELDS(X, direction, mark.direction)                           \
    X(JAW__WORD, move, mark.move, 2, move_word)                                \
    X(JAW__ID, since, mark.since, 2, NULL)                                     \
    X(JAW__WORD, unit, mark.unit, 2, unit_word)

#define JAW__FIXTURE_FIELDS(X)                                                 \
    X(JAW__TEXT, text, fixture.text, 2, NULL)                                  \
    X(JAW__REAL, jaw_width, fixture.jaw_width, 2, NULL)                        \
    X(JAW__REAL, jaw_height, fixture.jaw_height, 2, NULL)                      \
    X(JAW__REAL, opening, fixture.opening, 2, NULL)                            \
    X(JAW__REAL, parallels, fixture.parallels, 2, NULL)                        \
    JAW__FIGURE_FIELDS(X, x, fixture.at[0])                                    \
    JAW__FIGURE_FIELDS(X, y, fixture.at[1])                                    \
    JAW__FIGURE_FIELDS(X, z, fixture.at[2])                                    \
    JAW__FIGURE_FIELDS(X, skew, fixture.at[3])                                 \
    X(JAW__BOOL, stood, fixture.stood, 2, NULL)                                \
    X(JAW__BOOL, fresh, fixture.fresh, 2, NULL)                                \
    X(JAW__WORD, move, fixture.move, 2, move_word)                             \
    X(JAW__ID, since, fixture.since, 2, NULL)                                  \
    X(JAW__WORD, unit, fixture.unit, 2, unit_word)

#define JAW__TIP_FIELDS(X)                                                     \
    X(JAW__WORD, shape, tip.shape, 2, shape_word)                              \
    X(JAW__TEXT, calibrated_on, tip.on, 2, NULL)                               \
    X(JAW__REAL, size, tip.size, 2, NULL)                                      \
    X(JAW__REAL, size_u, tip.size_u, 2, NULL)                                  \
    X(JAW__REAL, size_2, tip.size_2, 2, NULL)                                  \
    X(JAW__REAL, value, tip.value, 2, NULL)                                    \
    X(JAW__REAL, u, tip.u, 2, NULL)                                            \
    X(JAW__REAL, dof, tip.dof, 2, NULL)                                        \
    X(JAW__REAL, half95, tip.half95, 2, NULL)                                  \
    X(JAW__WORD, runout, tip.runout, 2, term_word)                             \
    X(JAW__WORD, lobes, tip.lobes, 2, term_word)                               \
    X(JAW__REAL, c1, tip.harmonic[0], 2, NULL)                                 \
    X(JAW__REAL, s1, tip.harmonic[1], 2, NULL)                                 \
    X(JAW__REAL, c3, tip.harmonic[2], 2, NULL)                                 \
    X(JAW__REAL, s3, tip.harmonic[3], 2, NULL)                                 \
    X(JAW__REAL, cov_d_d, tip.cov[0], 2, NULL)                                 \
    X(JAW__REAL, cov_d_c1, tip.cov[1], 2, NULL)                                \
    X(JAW__REAL, cov_d_s1, tip.cov[2], 2, NULL)                                \
    X(JAW__REAL, cov_d_c3, tip.cov[3], 2, NULL)                                \
    X(JAW__REAL, cov_d_s3, tip.cov[4], 2, NULL)                                \
    X(JAW__REAL, cov_c1_c1, tip.cov[5], 2, NULL)                               \
    X(JAW__REAL, cov_c1_s1, tip.cov[6], 2, NULL)                               \
    X(JAW__REAL, cov_c1_c3, tip.cov[7], 2, NULL)                               \
    X(JAW__REAL, cov_c1_s3, tip.cov[8], 2, NULL)                               \
    X(JAW__REAL, cov_s1_s1, tip.cov[9], 2, NULL)                               \
    X(JAW__REAL, cov_s1_c3, tip.cov[10], 2, NULL)                              \
    X(JAW__REAL, cov_s1_s3, tip.cov[11], 2, NULL)                              \
    X(JAW__REAL, cov_c3_c3, tip.cov[12], 2, NULL)                              \
    X(JAW__REAL, cov_c3_s3, tip.cov[13], 2, NULL)                              \
    X(JAW__REAL, cov_s3_s3, tip.cov[14], 2, NULL)                              \
    X(JAW__REAL, repeat, tip.repeat, 2, NULL)                                  \
    X(JAW__REAL, repeat_dof, tip.repeat_dof, 2, NULL)                          \
    X(JAW__REAL, length, tip.length, 2, NULL)                                  \
    X(JAW__REAL, length_u, tip.length_u, 2, NULL)                              \
    X(JAW__BOOL, fresh, tip.fresh, 2, NULL)                                    \
    X(JAW__INT, columns, tip.columns, 2, NULL)                                 \
    X(JAW__WORD, unit, tip.unit, 2, unit_word)

/* Kind, its fields, the version of the tables that it came with. */
#define JAW__BOOK_KIND_FIELDS(X)                                               \
    X(JAW_BOOK_UNDO, undo_fields, JAW__UNDO_FIELDS, 1)                         \
    X(JAW_BOOK_MACHINE, machine_fields, JAW__MACHINE_FIELDS, 1)                \
    X(JAW_BOOK_HEIGHT, height_fields, JAW__HEIGHT_FIELDS, 1)                   \
    X(JAW_BOOK_LENGTH, length_fields, JAW__LENGTH_FIELDS, 1)                   \
    X(JAW_BOOK_DIAMETER, diameter_fields, JAW__DIAMETER_FIELDS, 1)             \
    X(JAW_BOOK_SETUP, setup_fields, JAW__SETUP_FIELDS, 2)                      \
    X(JAW_BOOK_ZERO, zero_fields, JAW__ZERO_FIELDS, 2)                         \
    X(JAW_BOOK_OFFSET, offset_fields, JAW__OFFSET_FIELDS, 2)                   \
    X(JAW_BOOK_ENTERED, entered_fields, JAW__ENTERED_FIELDS, 2)                \
    X(JAW_BOOK_MARK, mark_fields, JAW__MARK_FIELDS, 2)                         \
    X(JAW_BOOK_FIXTURE, fixture_fields, JAW__FIXTURE_FIELDS, 2)                \
    X(JAW_BOOK_TIP, tip_fields, JAW__TIP_FIELDS, 2)

#endif
