/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a page says of what moved since a setup was kept. */
#include "report_tests.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NO_NUMBER ((double)NAN)

static jaw_figure exact(double value)
{
    return jaw_figure_make(value, 0, (double)INFINITY);
}

#define ROW(name_, axis_, differ_, kind_, slip_)                               \
    {.name = name_, .axis = axis_, .differ = differ_, .half95 = 2e-3,          \
     .limit = 3e-3, .noticed = 4e-3, .kind = kind_, .slip = slip_}

static jaw_book_shift shift[] = {
    ROW("G54", 0, 0.4, JAW_SHIFT_REAL, JAW_SLIP_NONE),
    ROW("G54", 1, -0.001, JAW_SHIFT_NOISE, JAW_SLIP_NONE),
    ROW("G54", 2, 0, JAW_SHIFT_RULE, JAW_SLIP_NONE),
    ROW("G54", 3, 0.01, JAW_SHIFT_REAL, JAW_SLIP_SIGN),
    ROW("G54.1P12", 0, 2400, JAW_SHIFT_REAL, JAW_SLIP_INCH),
    ROW("H3", 4, 0.2, JAW_SHIFT_UNSURE, JAW_SLIP_NONE),
    ROW("H4", 4, 0, JAW_SHIFT_GONE, JAW_SLIP_NONE),
};

const jaw_book_moved *some_moved(void)
{
    static jaw_book_moved m;

    shift[5].half95 = NO_NUMBER;
    m = (jaw_book_moved){.before = 7, .at = 1772434800000, .shift = shift,
                         .n = sizeof shift / sizeof shift[0], .real = 3,
                         .together = true};
    m.whole = (jaw_moved){.about = {100, -50},
                          .shift = {exact(0.4), exact(-0.1),
                                    exact(NO_NUMBER)},
                          .turn = exact(0.01)};
    return &m;
}

const jaw_book_setup *some_setup(void)
{
    static const jaw_book_setup setup = {
        .unit = JAW_MM, .step = 1e-3, .angle_step = 1.7453292519943295e-6};

    return &setup;
}

START_TEST(lines)
{
    static const char want[] =
        "  G54     X              0.4000  +- 0.0020  it moved\n"
        "          Y             -0.0010  +- 0.0020  within noise, up to "
        "0.0030\n"
        "          Z              not compared: the convention of lengths is "
        "another one\n"
        "          turn           0.5730  +- 0.1146 deg  it moved: perhaps a "
        "lost sign\n"
        "  G54.1P12 X           2400.0000  +- 0.0020  it moved: perhaps inch "
        "for mm\n"
        "  H3      length         0.2000  how well it is known is not known\n"
        "  H4      length         it is not there now\n"
        "  all work zeros moved alike: X 0.4000, Y -0.1000, turn 0.5730 deg "
        "about X\n"
        "  100.0000 Y -50.0000, as when the machine was homed anew, or what "
        "carries\n"
        "  them all was moved\n";
    char *text = jaw_report_moved_text(some_moved(), some_setup(),
                                       (jaw_report_style){0});
    ck_assert_str_eq(text, want);
    free(text);
    text = jaw_report_moved_text(some_moved(), some_setup(),
                                 (jaw_report_style){.colour = true});
    ck_assert_ptr_nonnull(strstr(text, "\033[1mit moved"));
    free(text);
}
END_TEST

START_TEST(object)
{
    char *text = jaw_report_moved_json(some_moved(), some_setup());
    ck_assert_ptr_nonnull(strstr(text, "\"since\": 7, "));
    ck_assert_ptr_nonnull(strstr(text, "\"kind\": \"real\", "));
    ck_assert_ptr_nonnull(strstr(text, "\"slip\": \"inch-for-mm\""));
    ck_assert_ptr_nonnull(strstr(text, "\"together\": {\"shift\": [0.4"));
    ck_assert_ptr_nonnull(strstr(text, ", null], \"turn_deg\": 0.57295"));
    free(text);
}
END_TEST

TCase *moved_case(void)
{
    TCase *tc = tcase_create("moved");
    tcase_add_test(tc, lines);
    tcase_add_test(tc, object);
    return tc;
}
