/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words.c: the names of feature kinds and of sides. */
#include <jawline/feature.h>

#include <math.h>
#include <string.h>

static const struct {
    const char *word, *text;
} kinds[JAW_FEATURE_KINDS] = {
#define KIND_ROW(name, word, text) [name] = {word, text},
    JAW_FEATURE_LIST(KIND_ROW)
#undef KIND_ROW
};

static const struct {
    const char *word;
    jaw_vec2 normal;
} sides[JAW_SIDES] = {
#define SIDE_ROW(name, word, nx, ny) [name] = {word, {nx, ny}},
    JAW_SIDE_LIST(SIDE_ROW)
#undef SIDE_ROW
};

static bool is_kind(jaw_feature_kind kind)
{
    return (int)kind >= 0 && kind < JAW_FEATURE_KINDS;
}

static bool is_side(jaw_side side)
{
    return side > JAW_SIDE_NONE && side < JAW_SIDES;
}

const char *jaw_feature_word(jaw_feature_kind kind)
{
    return is_kind(kind) ? kinds[kind].word : NULL;
}

const char *jaw_feature_text(jaw_feature_kind kind)
{
    return is_kind(kind) ? kinds[kind].text : NULL;
}

const char *jaw_side_word(jaw_side side)
{
    return is_side(side) ? sides[side].word : NULL;
}

jaw_vec2 jaw_side_normal(jaw_side side)
{
    return is_side(side) ? sides[side].normal
                         : (jaw_vec2){(double)NAN, (double)NAN};
}

jaw_side jaw_side_opposite(jaw_side side)
{
    switch (side) {
    case JAW_SIDE_XPLUS: return JAW_SIDE_XMINUS;
    case JAW_SIDE_XMINUS: return JAW_SIDE_XPLUS;
    case JAW_SIDE_YPLUS: return JAW_SIDE_YMINUS;
    case JAW_SIDE_YMINUS: return JAW_SIDE_YPLUS;
    default: return JAW_SIDE_NONE;
    }
}

jaw_side jaw_side_read(const char *word)
{
    for (jaw_side s = JAW_SIDE_XPLUS; s < JAW_SIDES; s++)
        if (strcmp(word, sides[s].word) == 0)
            return s;
    return JAW_SIDE_NONE;
}
