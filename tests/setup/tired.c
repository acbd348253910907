/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a tired person types.  One good setup, with a spare touch wherever it
 * costs little; then one slip at a time.  Wherever the data can show it, a
 * doubt or an error must say so, and no value may stand that is said to be
 * good.  Where nothing can show it (no redundancy), the test says that too. */
#include "setup_tests.h"

#include <stdio.h>

typedef enum slip_kind {
    NONE,
    SIGN_ROW,       /* 1: swapped sign in one row of an edge */
    SIGN_FACE,      /*    ... in one height of a face */
    SIGN_TOOL,      /*    ... in a tool's reading */
    INCH_ROW,       /* 2: one row typed in inches in a metric sheet */
    INCH_NOMINAL,   /*    ... the pattern's nominal places */
    ROW_MISSING,    /* 3: a row of the bore is missing, and of the other wall */
    SAME_ROW,       /* 4: the same touch twice */
    XY_ROW,         /* 5: x and y exchanged in one row */
    XY_EDGE,        /*    ... in all rows of an edge */
    WRONG_AXIS,     /* 6: faces names the wrong axis */
    WRONG_SIDE,     /*    faces names the opposite side; motion was stated */
    WRONG_TIP,      /* 7: the wrong diameter; the bore's size is expected */
    MIRRORED,       /* 8: a pattern with a sign changed throughout */
    COPIED_TOOL,    /* 9: a tool's reading copied to the next */
    WRONG_BLOCK,    /*    a block forgotten, the length is in the record */
    FORGOTTEN_TURN, /* 10: no turn, on a part that is turned */
    TURN_SIGN,      /*    the turn typed by hand with the wrong sign */
    HOLES_SWAPPED,  /* two rows of the pattern exchanged */
    SLIPS
} slip_kind;

static const char *const names[SLIPS] = {
    "none", "sign in a row", "sign of a height", "sign of a tool's reading",
    "inches in a row", "inches in the nominal places", "missing row",
    "same row twice", "x and y exchanged in a row",
    "x and y exchanged in an edge", "faces the wrong axis",
    "faces the wrong side", "wrong tip", "mirrored pattern",
    "copied tool reading", "forgotten block", "forgotten turn",
    "sign of the turn", "holes exchanged"};

static const double skew = 0.01; /* rad: a part pushed in by hand */

/* Part coordinates to a row; W = (120, -80), read to a micrometre. */
static jaw_vec2 at(double x, double y)
{
    double mx = 120 + cos(skew) * x - sin(skew) * y;
    double my = -80 + sin(skew) * x + cos(skew) * y;
    return (jaw_vec2){round(mx * 1000) / 1000, round(my * 1000) / 1000};
}

static void row(shop *s, jaw_vec2 p)
{
    touch(s, p.x, p.y, NOT);
}

static void tell_jaw(shop *s, slip_kind slip)
{
    jaw_place here = shop_next(s);
    jaw_feature_entry e = {
        .name = "jaw", .kind = JAW_EDGE, .tip = "finder",
        .faces = slip == WRONG_AXIS   ? JAW_SIDE_XMINUS
                 : slip == WRONG_SIDE ? JAW_SIDE_YPLUS
                                      : JAW_SIDE_YMINUS,
        .moving = slip == WRONG_SIDE ? JAW_SIDE_YPLUS : JAW_SIDE_NONE,
        .within = NOT, .place = here, .tip_place = here, .faces_place = here};
    ck_status(jaw_setup_add_feature(s->setup, &e), JAW_OK);
    for (int i = 0; i < 3; i++) {
        jaw_vec2 p = at(10 + 40 * i, -3);
        if ((slip == XY_ROW && i == 1) || slip == XY_EDGE)
            p = (jaw_vec2){p.y, p.x};
        if (slip == SIGN_ROW && i == 1)
            p.y = -p.y;
        if (slip == INCH_ROW && i == 2)
            p = (jaw_vec2){p.x / 25.4, p.y / 25.4};
        row(s, p);
        if (slip == SAME_ROW && i == 1)
            row(s, p);
    }
}

static void tell_plane(shop *s, slip_kind slip)
{
    tell_jaw(s, slip);
    edge(s, "stop", "finder", JAW_SIDE_XPLUS);
    row(s, at(3, -20));
    row(s, at(3, -70));
    sized(s, JAW_BORE, "pilot", "finder", JAW_SIZE_EXPECTED, 30);
    for (int i = 0; i < (slip == ROW_MISSING ? 2 : 4); i++)
        row(s, at(60 + 12 * cos(1.57 * i), -40 + 12 * sin(1.57 * i)));
    feature(s, JAW_SLOT, "key", "finder");
    row(s, at(90, -30));
    row(s, at(90, -60));
    other_wall(s);
    if (slip != ROW_MISSING)
        row(s, at(102, -45));
}

static void tell_pattern(shop *s, slip_kind slip)
{
    static const jaw_vec2 drawn[] = {{0, 0}, {70, 0}, {70, 25}, {20, 40}};
    feature(s, JAW_PATTERN, "dowels", NULL);
    for (int i = 0; i < 4; i++) {
        jaw_vec2 n = drawn[i];
        int k = slip == HOLES_SWAPPED && i >= 2 ? 5 - i : i;
        jaw_vec2 p = at(drawn[k].x + 20, drawn[k].y - 90);
        if (slip == MIRRORED)
            n.y = -n.y;
        if (slip == INCH_NOMINAL)
            n = (jaw_vec2){n.x / 25.4, n.y / 25.4};
        hole(s, n.x, n.y, p.x, p.y);
    }
}

/* Stylus 100, puck at -400, tools of 80, 92.5 and 71. */
static void tell_heights(shop *s, slip_kind slip)
{
    feature(s, JAW_FACE, "top", "stylus");
    touch(s, 130, -90, -200.001);
    touch(s, 200, -90, slip == SIGN_FACE ? 200 : -200);
    touch(s, 130, -140, -199.999);
    touch(s, 200, -140, -200);
    setter(s, "puck", -400, NOT, NULL);
    setter(s, "block", NOT, 25, "puck");
    tool(s, 1, NOT);
    touched(s, 1, slip == SIGN_TOOL ? 320 : -320, "puck", 0);
    tool(s, 2, NOT);
    touched(s, 2, slip == COPIED_TOOL ? -320 : -307.5, "puck", 0);
    tool(s, 3, 71); /* as in the record */
    touched(s, 3, -304, slip == WRONG_BLOCK ? "puck" : "block", 0);
}

static void tell(shop *s, slip_kind slip)
{
    shop_open(s, JAW_MM);
    control(s, true, JAW_GAUGE_LINE, 0);
    jaw_control c = *jaw_setup_control(s->setup);
    c.low.z = -420;
    c.high.z = 0;
    ck_status(jaw_setup_set_control(s->setup, &c), JAW_OK);
    tip(s, "finder", JAW_TIP_CYLINDER, slip == WRONG_TIP ? 4 : 6, 0.002, NOT);
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 100);
    tell_plane(s, slip);
    tell_pattern(s, slip);
    tell_heights(s, slip);
    wanted w = {.turn = slip == FORGOTTEN_TURN || slip == TURN_SIGN ? NULL
                                                                    : "jaw",
                .along = JAW_X, .stated = slip == TURN_SIGN ? -skew : 0,
                .x = "stop", .y = "jaw", .z = "top"};
    zero(s, "G54", w);
    solve(s);
}

/* Without a slip nothing is doubted, and the values are right. */
START_TEST(nothing_is_said_of_a_good_setup)
{
    shop s;
    tell(&s, NONE);
    if (severe(&s, JAW_DOUBT) > 0)
        print_notes(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    near(zero_found(&s, "G54")->zero.x, 120, 0.001, "X");
    near(zero_found(&s, "G54")->zero.y, -80, 0.001, "Y");
    near(zero_found(&s, "G54")->zero.z, -300, 0.001, "Z");
    near(zero_found(&s, "G54")->skew, skew, 2e-5, "skew");
    near(found(&s, "pilot")->as.round.diameter, 30, 0.002, "bore");
    near(found(&s, "key")->as.walls.width, 18, 0.002, "slot");
    near(tool_found(&s, 1)->length, 80, 0.001, "tool 1");
    near(tool_found(&s, 2)->length, 92.5, 0.001, "tool 2");
    near(tool_found(&s, 3)->length, 71, 0.001, "tool 3");
    shop_close(&s);
}
END_TEST

START_TEST(slip_is_said)
{
    shop s;
    tell(&s, (slip_kind)_i);
    printf("-- %s\n", names[_i]);
    print_notes(&s);
    ck_assert_msg(severe(&s, JAW_DOUBT) > 0, "%s: nothing was said",
                  names[_i]);
    shop_close(&s);
}
END_TEST

/* Said of the feature it was made in, where that is known. */
static const struct {
    slip_kind slip;
    const char *feature;
    unsigned flag; /* 0: the feature is not solved */
} of_feature[] = {
    {SIGN_ROW, "jaw", JAW_RESIDUAL},   {SAME_ROW, "jaw", JAW_SAME_TOUCH},
    {XY_EDGE, "jaw", 0},               {WRONG_AXIS, "jaw", 0},
    {WRONG_SIDE, "jaw", 0},            {WRONG_TIP, "pilot", JAW_SIZE_OFF},
    {ROW_MISSING, "pilot", 0},         {ROW_MISSING, "key", 0},
    {MIRRORED, "dowels", JAW_MIRRORED}, {INCH_NOMINAL, "dowels", JAW_SCALE_OFF},
    {HOLES_SWAPPED, "dowels", JAW_RESIDUAL}, {XY_ROW, "jaw", JAW_RESIDUAL},
};

START_TEST(slip_is_said_of_its_feature)
{
    shop s;
    tell(&s, of_feature[_i].slip);
    const jaw_found *f = found(&s, of_feature[_i].feature);
    const char *name = names[of_feature[_i].slip];
    if (of_feature[_i].flag == 0) {
        ck_assert_msg(f->status != JAW_OK, "%s: solved", name);
        ck_assert_int_ne(s.status, JAW_OK);
    } else if (f->status == JAW_OK) {
        ck_assert_msg(f->flags & of_feature[_i].flag, "%s: flags %x", name,
                      f->flags);
        ck_assert(jaw_flags_doubts(f->flags) != 0);
    } else {
        ck_assert_msg(severe(&s, JAW_ERROR) > 0, "%s: silent", name);
    }
    shop_close(&s);
}
END_TEST

/* ------------------------------------------------ where nothing can show it */

/* An edge alone does not know its other side: the zero is one tip off. */
START_TEST(wrong_side_without_motion_is_silent)
{
    shop s;
    shop_open(&s, JAW_MM);
    tip(&s, "finder", JAW_TIP_CYLINDER, 6, 0.002, NOT);
    edge(&s, "stop", "finder", JAW_SIDE_XMINUS); /* faces x+ in truth */
    touch(&s, 13, 0, NOT);
    touch(&s, 13, 50, NOT);
    zero(&s, "G54", (wanted){.x = "stop"});
    solve(&s);
    near(zero_found(&s, "G54")->zero.x, 16, 1e-13, "one diameter off 10");
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    ck_assert(found(&s, "stop")->flags & JAW_NO_CHECK);
    shop_close(&s);
}
END_TEST

/* Two touches fit any line, three any circle: a slip in one goes unseen, and
 * the result says that it has no check. */
START_TEST(slip_without_a_spare_touch_is_silent)
{
    shop s;
    shop_open(&s, JAW_MM);
    control(&s, true, JAW_GAUGE_LINE, 0);
    tip(&s, "finder", JAW_TIP_CYLINDER, 6, 0.002, 100);
    edge(&s, "jaw", "finder", JAW_SIDE_YMINUS);
    touch(&s, 0, 0, NOT);
    touch(&s, 100, 1, NOT); /* 0.1 was meant */
    feature(&s, JAW_BORE, "pilot", "finder");
    touch(&s, 20, 0, NOT);
    touch(&s, 0, 20.5, NOT); /* 20 was meant */
    touch(&s, -20, 0, NOT);
    setter(&s, "puck", -400, NOT, NULL);
    tool(&s, 1, NOT);
    touched(&s, 1, -230, "puck", 0); /* -320 was meant */
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "pilot",
                             .y = "jaw"});
    solve(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    ck_assert(found(&s, "jaw")->flags & JAW_NO_CHECK);
    ck_assert(found(&s, "pilot")->flags & JAW_NO_CHECK);
    ck_assert(isnan(found(&s, "jaw")->rms));
    ck_assert(tool_found(&s, 1)->flags & JAW_NO_CHECK);
    ck_assert(isnan(tool_found(&s, 1)->rms));
    shop_close(&s);
}
END_TEST

/* A whole sheet in inches that says mm: every spacing agrees with every other.
 * Only the thickness of the tip shows it, or an expected size or a pattern
 * (above). */
START_TEST(whole_sheet_in_the_wrong_unit_is_said)
{
    shop s;
    shop_open(&s, JAW_MM);
    tip(&s, "finder", JAW_TIP_CYLINDER, 0.2, NOT, NOT);
    edge(&s, "jaw", "finder", JAW_SIDE_YMINUS);
    for (int i = 0; i < 3; i++)
        touch(&s, 2 * i, -3.1, NOT);
    zero(&s, "G54", (wanted){.y = "jaw"});
    solve(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 1);
    shop_close(&s);
}
END_TEST

/* A wrong diameter where no size is expected moves each wall the same way. */
START_TEST(wrong_tip_without_a_size_is_silent)
{
    static const double diameter[] = {4, 6};
    double x[2];
    for (int k = 0; k < 2; k++) {
        shop s;
        shop_open(&s, JAW_MM);
        tip(&s, "finder", JAW_TIP_CYLINDER, diameter[k], 0.002, NOT);
        edge(&s, "stop", "finder", JAW_SIDE_XPLUS);
        for (int i = 0; i < 4; i++)
            touch(&s, 13, 20 * i, NOT);
        zero(&s, "G54", (wanted){.x = "stop"});
        solve(&s);
        ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
        x[k] = zero_found(&s, "G54")->zero.x;
        shop_close(&s);
    }
    near(x[0] - x[1], 1, 1e-13, "half of what the diameter is off");
}
END_TEST

TCase *tired_case(void)
{
    TCase *tc = tcase_create("tired");
    tcase_add_test(tc, nothing_is_said_of_a_good_setup);
    tcase_add_loop_test(tc, slip_is_said, NONE + 1, SLIPS);
    tcase_add_loop_test(tc, slip_is_said_of_its_feature, 0,
                        COUNT(of_feature));
    tcase_add_test(tc, wrong_side_without_motion_is_silent);
    tcase_add_test(tc, slip_without_a_spare_touch_is_silent);
    tcase_add_test(tc, whole_sheet_in_the_wrong_unit_is_said);
    tcase_add_test(tc, wrong_tip_without_a_size_is_silent);
    return tc;
}
