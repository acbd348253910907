/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words.h: what the values of a register are called: those of its axes, its
 * turn, the length of a tool. */
#ifndef JAW__VALUE_WORDS_H
#define JAW__VALUE_WORDS_H

#define JAW__VALUE_WORDS {"X", "Y", "Z", "turn", "length"}

#endif
