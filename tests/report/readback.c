/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a page says of each kind of slip. */
#include "report_tests.h"
#include "tests/readback/register.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* In `unit`, 0.001 mm or 0.0001 in; before NaN: not known. */
static const struct {
    jaw_unit unit;
    double value, shown;
    const char *text;
} says[] = {
    {JAW_MM, 12.345, 12.345, ""},
    {JAW_MM, 12.345, 47.11, "wrong by 34.765"},
    {JAW_MM, 12.345, 47.1101, "wrong by 34.7651"},
    {JAW_MM, 12.345, 12.346,
     "off by the last digit, as when it is rounded the other way"},
    {JAW_MM, -12.345, 12.345, "the minus is lost"},
    {JAW_MM, 12.345, -12.345, "a minus too many"},
    {JAW_MM, 12.345, 0, "nothing is entered"},
    {JAW_MM, 63.5, 2.5, "1/25.4 of it: the figure in inch"},
    {JAW_MM, 2.5, 63.5, "25.4 times as large: taken for inch and turned into "
                        "mm"},
    {JAW_IN, 2.5, 63.5, "25.4 times as large: the figure in mm"},
    {JAW_IN, 2.5, 0.0984, "1/25.4 of it: taken for mm and turned into inch"},
    {JAW_MM, 12.345, 123.45, "the point is 1 place too far right"},
    {JAW_MM, 120, 1.2, "the point is 2 places too far left"},
    {JAW_MM, 120, 0.12, "the point is 3 places too far left, as when it is "
                        "left out and the control counts steps"},
    {JAW_MM, 12.345, 12.354,
     "4 and 5 have changed places, second and third decimal"},
    {JAW_MM, 12.345, 13.245,
     "2 and 3 have changed places, ones and first decimal"},
    {JAW_MM, 92.345, 29.345, "9 and 2 have changed places, tens and ones"},
    {JAW_MM, 12.345, 14.325,
     "2 and 4 have changed places, ones and second decimal"},
    {JAW_MM, 12.345, 12.35, "the 4 is lost, second decimal"},
    {JAW_MM, 312.345, 3112.345, "the 1 is doubled, tens"},
    {JAW_MM, 12.345, 17.345, "7 where 2 belongs, ones"},
    {JAW_MM, 12.345, 712.345, "a 7 too many, hundreds"},
    {JAW_MM, 12345.678, 712345.678,
     "a 7 too many, digit 6 before the point"},
    {JAW_MM, -12.345, 12.354, "4 and 5 have changed places, second and third "
                              "decimal, and the sign is changed"},
};

static jaw_readback_value value_of(const char *name, const char *word,
                                   jaw_unit unit, double value, double shown)
{
    jaw_readback_value v =
        register_of(name, word, unit, unit == JAW_IN ? 0.0001 : 0.001, value);
    v.shown = shown * jaw_unit_mm(unit);
    return v;
}

START_TEST(one_reason)
{
    jaw_readback_value v = value_of("G54", "X", says[_i].unit, says[_i].value,
                                    says[_i].shown);
    jaw_readback_found f;
    jaw_readback r = {"", says[_i].unit, &v, &f, 1, NULL};

    ck_assert_int_eq(jaw_readback_compare(&v, 1, r.unit, &f), JAW_OK);
    char *text = jaw_report_readback_reason(&r, 0);
    ck_assert_str_eq(text, says[_i].text);
    free(text);
}
END_TEST

/* A list with everything in it; ends the test when it can not be compared. */
void some_readback(jaw_readback_value v[6], jaw_readback_found f[6])
{
    v[0] = value_of("G54", "X", JAW_MM, -12.345, -12.354);
    v[1] = value_of("G54", "turn", JAW_MM, jaw_rad(0.5), jaw_rad(0.5));
    v[1].angle = true;
    v[1].step = jaw_rad(0.001);
    v[2] = value_of("G54.1P123", "X", JAW_MM, 3, (double)NAN);
    v[3] = value_of("H1", "length", JAW_MM, 101.2, 99.5);
    v[3].before = 99.5;
    v[3].half95 = 2;
    v[4] = value_of("H2", "length", JAW_MM, (double)NAN, 3);
    v[5] = value_of("H3", "length", JAW_MM, 99.5, -12.345);
    ck_assert_int_eq(jaw_readback_compare(v, 6, JAW_MM, f), JAW_OK);
}

START_TEST(page)
{
    static const char *const lines[] = {
        "Clamp?\n\nlook at this first: of 6 values 3 differ, 1 was not shown, "
        "1 was not found by the sheet\n",
        "\nDiffers, millimetres\n"
        "  G54     X            -12.354  is shown\n"
        "                       -12.345  was to be entered\n"
        "          4 and 5 have changed places, second and third decimal\n",
        "          the value from before (less than the value's own +-)\n",
        "          it is the value of G54 X\n",
        "\nNot shown\n  G54.1P123 X\n",
        "\nNot found, so not compared\n  H2\n",
        "\nAs it should be, millimetres\n  G54     turn           0.500 deg\n",
        "hand on the stop"};
    jaw_readback_value v[6];
    jaw_readback_found f[6];
    jaw_readback r = {"Clamp\033", JAW_MM, v, f, 6, NULL};

    some_readback(v, f);
    char *text = jaw_report_readback_text(&r, (jaw_report_style){0});
    const char *at = text;
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        at = strstr(at, lines[i]);
        ck_assert_msg(at != NULL, "no '%s' in its place in\n%s", lines[i],
                      text);
    }
    free(text);
    r = (jaw_readback){"", JAW_MM, v + 1, f + 1, 1, NULL}; /* the good one */
    text = jaw_report_readback_text(&r, (jaw_report_style){.colour = true});
    ck_assert(strstr(text, "all 1 as they should be") != NULL);
    free(text);
}
END_TEST

START_TEST(object)
{
    jaw_readback_value v[6];
    jaw_readback_found f[6];
    jaw_readback r = {"Clamp", JAW_MM, v, f, 6, NULL};

    some_readback(v, f);
    char *text = jaw_report_readback_json(&r);
    ck_assert(
        strstr(text, "{\"title\": \"Clamp\", \"unit\": \"mm\", \"good\": 1, "
                     "\"differ\": 3, \"not_shown\": 1, \"not_found\": 1, ") !=
        NULL);
    ck_assert(strstr(text, "\"reasons\": [{\"kind\": \"transposed\", ") != NULL);
    ck_assert(strstr(text, "\"reasons\": [{\"kind\": \"stale\", ") != NULL);
    ck_assert(strstr(text, "\"register\": \"G54\", \"word\": \"X\"}]") != NULL);
    ck_assert(strstr(text, "\"shown\": null") != NULL);
    free(text);
    r.before = "of 2 values known";
    text = jaw_report_readback_json(&r);
    ck_assert(strstr(text, "\"before_from\": \"of 2 values known\"") != NULL);
    free(text);
    text = jaw_report_readback_text(&r, (jaw_report_style){0});
    ck_assert(strstr(text, "\nWhat they held before\n  of 2 values known") != NULL);
    free(text);
}
END_TEST

TCase *readback_case(void)
{
    TCase *tc = tcase_create("readback");
    tcase_add_loop_test(tc, one_reason, 0, sizeof says / sizeof *says);
    tcase_add_test(tc, page);
    tcase_add_test(tc, object);
    return tc;
}
