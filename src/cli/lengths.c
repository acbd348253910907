/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lengths.c: --lengths, in place of what the sheet says a length register
 * holds. */
#include "cli.h"

#include <string.h>

bool lengths_read(const arguments *args, jaw_length_rule *rule)
{
    const char *word = args->value[OPT_LENGTHS];
    const char *words[JAW_LENGTH_RULES];

    *rule = JAW_LENGTH_RULES;
    if (!word)
        return true;
    for (int r = 0; r < JAW_LENGTH_RULES; r++) {
        words[r] = jaw_length_word((jaw_length_rule)r);
        *rule = (jaw_length_rule)r;
        if (strcmp(word, words[r]) == 0)
            return true;
    }
    complain_unknown("--lengths: unknown rule", word,
                     jaw_word_nearest(word, words, JAW_LENGTH_RULES),
                     "it is gauge-line, tip-to-part or reference-tool");
    return false;
}

bool lengths_put(jaw_length_rule rule, jaw_setup *setup)
{
    jaw_control control = *jaw_setup_control(setup);

    if (rule == JAW_LENGTH_RULES)
        return true;
    control.lengths = rule;
    if (rule == JAW_REFERENCE_TOOL && control.reference == 0) {
        complain("write `control lengths reference-tool N' in the sheet",
                 "which tool is the reference is not known");
        return false;
    }
    if (jaw_setup_set_control(setup, &control) == JAW_OK)
        return true;
    return no_memory();
}
