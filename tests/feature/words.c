/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of words.c: every row of the lists in feature.h. */
#include "feature_tests.h"

#include "tests/near.h"

static const struct {
    jaw_feature_kind kind;
    const char *word, *text;
} kinds[] = {
#define ROW(name, word, text) {name, word, text},
    JAW_FEATURE_LIST(ROW)
#undef ROW
};

START_TEST(kind_has_its_words)
{
    ck_assert_pstr_eq(jaw_feature_word(kinds[_i].kind), kinds[_i].word);
    ck_assert_pstr_eq(jaw_feature_text(kinds[_i].kind), kinds[_i].text);
}
END_TEST

START_TEST(kind_that_does_not_exist)
{
    static const int none[] = {-1, JAW_FEATURE_KINDS, 99};
    ck_assert_ptr_null(jaw_feature_word((jaw_feature_kind)none[_i]));
    ck_assert_ptr_null(jaw_feature_text((jaw_feature_kind)none[_i]));
}
END_TEST

/* DESIGN: the jaw face that looks at the operator faces y-; ISO 841 axes. */
static const struct {
    jaw_side side, opposite;
    const char *word;
    double nx, ny;
} sides[] = {
    {JAW_SIDE_XPLUS, JAW_SIDE_XMINUS, "x+", 1, 0},
    {JAW_SIDE_XMINUS, JAW_SIDE_XPLUS, "x-", -1, 0},
    {JAW_SIDE_YPLUS, JAW_SIDE_YMINUS, "y+", 0, 1},
    {JAW_SIDE_YMINUS, JAW_SIDE_YPLUS, "y-", 0, -1},
};

START_TEST(side_has_its_row)
{
    jaw_side side = sides[_i].side;
    ck_assert_pstr_eq(jaw_side_word(side), sides[_i].word);
    ck_assert_int_eq(jaw_side_read(sides[_i].word), side);
    ck_assert_int_eq(jaw_side_opposite(side), sides[_i].opposite);
    near(jaw_side_normal(side).x, sides[_i].nx, 0, "nx");
    near(jaw_side_normal(side).y, sides[_i].ny, 0, "ny");
}
END_TEST

START_TEST(side_that_does_not_exist)
{
    static const int none[] = {JAW_SIDE_NONE, -1, JAW_SIDES, 99};
    jaw_side side = (jaw_side)none[_i];
    ck_assert_ptr_null(jaw_side_word(side));
    ck_assert(isnan(jaw_side_normal(side).x));
    ck_assert(isnan(jaw_side_normal(side).y));
    ck_assert_int_eq(jaw_side_opposite(side), JAW_SIDE_NONE);
}
END_TEST

START_TEST(side_is_read_to_the_letter)
{
    static const char *const none[] = {"",   "x",   "+x", "x +", "X+", "z+",
                                       "x-y", "x+ ", " x+", "-y", "none"};
    for (int i = 0; i < COUNT(none); i++)
        ck_assert_int_eq(jaw_side_read(none[i]), JAW_SIDE_NONE);
}
END_TEST

TCase *words_case(void)
{
    TCase *tc = tcase_create("words");
    tcase_add_loop_test(tc, kind_has_its_words, 0, COUNT(kinds));
    tcase_add_loop_test(tc, kind_that_does_not_exist, 0, 3);
    tcase_add_loop_test(tc, side_has_its_row, 0, COUNT(sides));
    tcase_add_loop_test(tc, side_that_does_not_exist, 0, 4);
    tcase_add_test(tc, side_is_read_to_the_letter);
    return tc;
}
