/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lengths.c: the three conventions for what a length register holds, each a
 * rewriting of reading = W + Rz(skew) work + (0, 0, L). */
#include <jawline/setup.h>

#include <math.h>

static const struct {
    const char *word, *text;
} rules[JAW_LENGTH_RULES] = {
#define LENGTH_ROW(name, word, text) [name] = {word, text},
    JAW_LENGTH_LIST(LENGTH_ROW)
#undef LENGTH_ROW
};

static bool is_rule(jaw_length_rule rule)
{
    return (int)rule >= 0 && rule < JAW_LENGTH_RULES;
}

const char *jaw_length_word(jaw_length_rule rule)
{
    return is_rule(rule) ? rules[rule].word : NULL;
}

const char *jaw_length_text(jaw_length_rule rule)
{
    return is_rule(rule) ? rules[rule].text : NULL;
}

/* What a register in this convention has more than the length L itself. */
static double surplus(jaw_length_rule rule, double zero_z, double ref)
{
    switch (rule) {
    case JAW_TIP_TO_PART: return zero_z;
    case JAW_REFERENCE_TOOL: return -ref;
    default: return 0;
    }
}

jaw_status jaw_length_convert(double value, jaw_length_rule from,
                              jaw_length_rule to, double zero_z, double ref,
                              double *out)
{
    *out = (double)NAN;
    if (!is_rule(from) || !is_rule(to))
        return JAW_EDOMAIN;
    /* Within one convention nothing else needs to be known. */
    double changed = from == to ? value
                                : value - surplus(from, zero_z, ref) +
                                      surplus(to, zero_z, ref);
    if (!isfinite(changed))
        return JAW_ENOTFINITE;
    *out = changed;
    return JAW_OK;
}
