/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tools.h: the list of tools, for the commands that show it. */
#ifndef JAW__CLI_TOOLS_H
#define JAW__CLI_TOOLS_H

#include "shop.h"

/* rule_read: --lengths; as it was when not given; false after complaining. */
bool rule_read(const arguments *args, jaw_length_rule *rule);

/* reference_find: the current length of the machine's reference tool with that
 * datum; false: there is none. */
bool reference_find(shop *s, const char *datum, jaw_book_length *length);

/* tools_enter_again: every register, by the machine's rule as it is now, under
 * the reason. */
jaw_status tools_enter_again(shop *s, const char *why);

#endif
