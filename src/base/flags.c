/* SPDX-License-Identifier: GPL-3.0-or-later */
/* flags.c: the words and meanings of doubts and assumptions; the list stands
 * once, in base.h. */
#include <jawline/base.h>

typedef struct flag_row {
    unsigned bit;
    const char *word, *text;
    bool doubt;
} flag_row;

static const flag_row rows[] = {
#define ROW(name, bit, word, text, doubt) {1u << (bit), word, text, doubt},
    JAW_FLAG_LIST(ROW)
#undef ROW
};

static const size_t row_count = sizeof rows / sizeof rows[0];

static const flag_row *find(unsigned flag)
{
    for (size_t i = 0; i < row_count; i++)
        if (rows[i].bit == flag)
            return &rows[i];
    return NULL;
}

const char *jaw_flag_word(unsigned flag)
{
    const flag_row *row = find(flag);
    return row ? row->word : NULL;
}

const char *jaw_flag_text(unsigned flag)
{
    const flag_row *row = find(flag);
    return row ? row->text : NULL;
}

bool jaw_flag_is_doubt(unsigned flag)
{
    const flag_row *row = find(flag);
    return row && row->doubt;
}

unsigned jaw_flags_doubts(unsigned flags)
{
    unsigned doubts = 0;
    for (size_t i = 0; i < row_count; i++)
        if (rows[i].doubt)
            doubts |= rows[i].bit;
    return flags & doubts;
}
