/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of heights.c and tools.c: chains by hand, what checks what, and what
 * disagrees. */
#include "setup_tests.h"

#include <stdio.h>
#include <string.h>

static void open_with(shop *s, jaw_length_rule rule)
{
    shop_open(s, JAW_MM);
    control(s, false, rule, 1);
}

/* Setter, block, paper and a stated length, by hand. */
START_TEST(contacts_by_hand)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    setter(&s, "puck", -400, NOT, NULL);
    setter(&s, "block", NOT, 25, "puck");
    tool(&s, 1, NOT);
    touched(&s, 1, -320, "puck", 0); /* 80 */
    tool(&s, 2, NOT);
    touched(&s, 2, -320, "block", 0.5); /* 80 - 25 - 0.5 */
    tool(&s, 3, 61.5);
    solve(&s);
    ck_status(s.status, JAW_OK);
    near(tool_found(&s, 1)->length, 80, 1e-12, "setter");
    near(tool_found(&s, 2)->length, 54.5, 1e-12, "block and paper");
    near(tool_found(&s, 3)->length, 61.5, 1e-12, "stated");
    near(surface_z(&s, "block"), -375, 1e-12, "block");
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    shop_close(&s);
}
END_TEST

/* A tip's own paper lies between as well; a tool that is a tip is one thing. */
START_TEST(cutter_with_paper_is_a_tool)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    jaw_tip_entry e = {.name = "mill", .tip = jaw_tip_make(JAW_TIP_CUTTER, 10),
                       .tool = 4, .place = shop_next(&s)};
    e.tip.paper = 0.08;
    ck_status(jaw_setup_add_tip(s.setup, &e), JAW_OK);
    feature(&s, JAW_FACE, "top", "mill");
    touch(&s, NOT, NOT, -249.92);
    setter(&s, "puck", -400, NOT, NULL);
    tip_touched(&s, "mill", -309.92, "puck", 0); /* 90 long */
    tool(&s, 4, NOT);
    zero(&s, "G54", (wanted){.z = "top"});
    solve(&s);
    ck_status(s.status, JAW_OK);
    near(tool_found(&s, 4)->length, 90, 1e-12, "length");
    near(surface_z(&s, "top"), -340, 1e-12, "top");
    near(zero_found(&s, "G54")->zero.z, -340, 1e-12, "Z");
    shop_close(&s);
}
END_TEST

/* Two touches of one tool on one setter, 0.01 apart: their mean; each is 0.005
 * off, which a default repeat of 0.005 explains. */
START_TEST(touched_twice)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    setter(&s, "puck", -400, NOT, NULL);
    tool(&s, 1, NOT);
    touched(&s, 1, -320.00, "puck", 0);
    touched(&s, 1, -320.01, "puck", 0);
    solve(&s);
    const jaw_tool_found *t = tool_found(&s, 1);
    near(t->length, 79.995, 1e-12, "length");
    near(t->rms, 0.005, 1e-12, "rms");
    ck_assert_int_eq(t->dof, 1);
    ck_assert_uint_eq(t->n_contacts, 2);
    ck_assert_uint_eq(t->flags, 0);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    shop_close(&s);
}
END_TEST

static size_t notes_with(const shop *s, const char *a, const char *b)
{
    size_t n = 0;
    for (size_t i = 0; i < jaw_notes_count(s->notes); i++) {
        const char *what = jaw_notes_get(s->notes, i)->what;
        n += strstr(what, a) && strstr(what, b);
    }
    return n;
}

/* One spare statement in a ring of three (stated length, top, contact): its
 * misclosure has sqrt 3 times the default repeat of 0.005 as its standard
 * deviation, so 3.29 of them is 0.0285 (Baarda 1968).  What is told is the
 * misclosure itself: the contact against what the others say. */
START_TEST(ring_that_does_not_close)
{
    static const double m[] = {0.028, 0.029, -0.029, 0.5};
    char amount[32];
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    setter(&s, "puck", -400, NOT, NULL);
    tool(&s, 1, 80);
    touched(&s, 1, -320 + m[_i], "puck", 0);
    solve(&s);
    ck_status(s.status, JAW_OK);
    const jaw_tool_found *t = tool_found(&s, 1);
    near(t->length, 80 + m[_i] / 2, fabs(m[_i]) / 2, "between the two");
    ck_assert_int_eq(t->dof, 1);
    ck_assert_uint_eq(t->flags, _i == 0 ? 0 : JAW_RESIDUAL);
    snprintf(amount, sizeof amount, " %.3f mm", fabs(m[_i]));
    ck_assert_uint_eq(notes_with(&s, "tool 1", amount), _i == 0 ? 0 : 1);
    ck_assert_uint_eq(notes_with(&s, "'puck'", amount), _i == 0 ? 0 : 1);
    shop_close(&s);
}
END_TEST

/* A tip that repeats well is believed, and its conflicts are seen earlier: two
 * touches of the same setter 0.005 apart by a tip of 0.001. */
START_TEST(repeat_of_the_tip_counts)
{
    static const double repeat[] = {0.001, 0.005};
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    tip(&s, "stylus", JAW_TIP_BALL, 4, repeat[_i], 100);
    setter(&s, "puck", NOT, NOT, NULL);
    tip_touched(&s, "stylus", -300, "puck", 0);
    tip_touched(&s, "stylus", -300.005, "puck", 0);
    solve(&s);
    near(surface_z(&s, "puck"), -400.0025, 1e-9, "mean");
    ck_assert_uint_eq(notes_with(&s, "'puck'", "0.005 mm"), _i == 0 ? 1 : 0);
    shop_close(&s);
}
END_TEST

/* Weights: a face of four touches counts like four readings. */
START_TEST(a_face_counts_by_its_touches)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    tip(&s, "stylus", JAW_TIP_BALL, 4, 0.005, 100);
    feature(&s, JAW_FACE, "top", "stylus");
    for (int i = 0; i < 4; i++)
        touch(&s, NOT, NOT, -200);
    tip_touched(&s, "stylus", -199.99, "top", 0);
    solve(&s);
    near(surface_z(&s, "top"), -300 + 0.01 / 5, 1e-12, "four to one");
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    shop_close(&s);
}
END_TEST

/* A branch hangs on a ring: what only it says is no check of anything. */
START_TEST(bridges_have_no_check)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    setter(&s, "puck", -400, NOT, NULL);
    tool(&s, 1, 80);
    touched(&s, 1, -320.2, "puck", 0);
    tool(&s, 2, NOT);
    touched(&s, 2, -300, "puck", 0);
    solve(&s);
    ck_assert_uint_eq(tool_found(&s, 1)->flags, JAW_RESIDUAL);
    ck_assert_uint_eq(tool_found(&s, 2)->flags, JAW_NO_CHECK);
    ck_assert(isnan(tool_found(&s, 2)->rms));
    shop_close(&s);
}
END_TEST

/* Two islands: what is known in one says nothing about the other. */
START_TEST(islands)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    setter(&s, "puck", -400, NOT, NULL);
    setter(&s, "far", NOT, NOT, NULL);
    tool(&s, 1, NOT);
    touched(&s, 1, -320, "puck", 0);
    tool(&s, 2, NOT);
    touched(&s, 2, -320, "far", 0);
    tool(&s, 3, NOT);
    touched(&s, 3, -300, "far", 0);
    solve(&s);
    ck_status(s.status, JAW_EUNKNOWN);
    near(tool_found(&s, 1)->value, 80, 1e-12, "on firm ground");
    for (int k = 2; k <= 3; k++) {
        const jaw_tool_found *t = tool_found(&s, k);
        ck_status(t->status, JAW_EUNKNOWN);
        ck_assert(isnan(t->length) && isnan(t->value) && isnan(t->enter));
    }
    ck_assert(isnan(surface_z(&s, "far")));
    near(surface_z(&s, "puck"), -400, 1e-12, "puck");
    shop_close(&s);
}
END_TEST

/* A setter under a setter under a face, told in any order. */
START_TEST(stack)
{
    shop s;
    open_with(&s, JAW_GAUGE_LINE);
    setter(&s, "upper", NOT, 10, "lower");
    setter(&s, "lower", NOT, 20, "bed");
    tip(&s, "stylus", JAW_TIP_BALL, 4, 0.005, 100);
    feature(&s, JAW_FACE, "bed", "stylus");
    touch(&s, NOT, NOT, -250);
    tool(&s, 1, NOT);
    touched(&s, 1, -245, "upper", 0);
    solve(&s);
    near(surface_z(&s, "lower"), -330, 1e-12, "lower");
    near(surface_z(&s, "upper"), -320, 1e-12, "upper");
    near(tool_found(&s, 1)->length, 75, 1e-12, "tool");
    shop_close(&s);
}
END_TEST

TCase *heights_case(void)
{
    TCase *tc = tcase_create("heights");
    tcase_add_test(tc, contacts_by_hand);
    tcase_add_test(tc, cutter_with_paper_is_a_tool);
    tcase_add_test(tc, touched_twice);
    tcase_add_loop_test(tc, ring_that_does_not_close, 0, 4);
    tcase_add_loop_test(tc, repeat_of_the_tip_counts, 0, 2);
    tcase_add_test(tc, a_face_counts_by_its_touches);
    tcase_add_test(tc, bridges_have_no_check);
    tcase_add_test(tc, islands);
    tcase_add_test(tc, stack);
    return tc;
}
