/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of setup.c and store.c: what is stated comes back as it was, names are
 * copied, and what makes no sense is refused and leaves nothing behind. */
#include "setup_tests.h"

#include "src/setup/store.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const jaw_place here = {3, 4, 0};

START_TEST(an_empty_setup)
{
    jaw_setup *s = jaw_setup_alloc();
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *solution;
    size_t n = 9, wall = 9;
    ck_assert_str_eq(jaw_setup_title(s), "");
    ck_assert_int_eq(jaw_setup_control(s)->unit, JAW_MM);
    jaw_setup_tips(s, &n);
    ck_assert_uint_eq(n, 0);
    n = 9;
    ck_assert_ptr_null(jaw_setup_touches(s, 0, &n, &wall));
    ck_assert_uint_eq(n + wall, 0);
    ck_assert_ptr_null(jaw_setup_touch_places(s, 0));
    n = 9;
    ck_assert_ptr_null(jaw_setup_holes(s, 0, &n));
    ck_assert_uint_eq(n, 0);
    ck_status(jaw_setup_solve(s, notes, &solution), JAW_OK);
    ck_assert_ptr_nonnull(solution);
    ck_assert_uint_eq(jaw_notes_count(notes), 0);
    n = 9;
    jaw_solution_features(solution, &n);
    ck_assert_uint_eq(n, 0);
    n = 9;
    jaw_solution_zeros(solution, &n);
    ck_assert_uint_eq(n, 0);
    n = 9;
    jaw_solution_tools(solution, &n);
    ck_assert_uint_eq(n, 0);
    n = 9;
    jaw_solution_surfaces(solution, &n);
    ck_assert_uint_eq(n, 0);
    jaw_solution_free(solution);
    jaw_notes_free(notes);
    jaw_setup_free(s);
    jaw_setup_free(NULL);
    jaw_solution_free(NULL);
}
END_TEST

START_TEST(default_control)
{
    jaw_control mm = jaw_control_default(JAW_MM);
    jaw_control in = jaw_control_default(JAW_IN);
    near(mm.step, 0.001, 0, "step");
    near(in.step, 0.00254, 1e-18, "step in inches");
    near(jaw_deg(mm.angle_step), 0.0001, 1e-18, "angle");
    ck_assert(!mm.can_turn);
    ck_assert_int_eq(mm.lengths, JAW_GAUGE_LINE);
    ck_assert(isnan(mm.low.x) && isnan(mm.low.z) && isnan(mm.high.y));
}
END_TEST

START_TEST(control_is_checked)
{
    jaw_setup *s = jaw_setup_alloc();
    jaw_control good = jaw_control_default(JAW_IN), bad;
    const double no[] = {0, -1, NOT, INFINITY};
    ck_status(jaw_setup_set_control(s, &good), JAW_OK);
    for (int i = 0; i < 4; i++) {
        bad = good;
        bad.step = no[i];
        ck_status(jaw_setup_set_control(s, &bad), JAW_EDOMAIN);
        bad = good;
        bad.angle_step = no[i];
        ck_status(jaw_setup_set_control(s, &bad), JAW_EDOMAIN);
    }
    bad = good;
    bad.lengths = JAW_LENGTH_RULES;
    ck_status(jaw_setup_set_control(s, &bad), JAW_EDOMAIN);
    bad = good;
    bad.unit = (jaw_unit)5;
    ck_status(jaw_setup_set_control(s, &bad), JAW_EDOMAIN);
    near(jaw_setup_control(s)->step, good.step, 0, "as it was");
    jaw_setup_free(s);
}
END_TEST

/* Everything once, from buffers that are then written over. */
START_TEST(what_was_stated_comes_back)
{
    jaw_setup *s = jaw_setup_alloc();
    char name[8] = "one", other[8] = "two";
    size_t n, wall;
    ck_status(jaw_setup_set_title(s, name), JAW_OK);
    jaw_tip_entry tip = {.name = name, .tip = jaw_tip_make(JAW_TIP_PIN, 6),
                         .tool = 7, .place = here, .harmonic = {1, 2, 3, 4},
                         .harmonic_known = {0, 0, 0.1, 0.2}};
    tip.correlation[jaw_tip_pair(JAW_TIP_S3, JAW_TIP_C3)] = 0.5;
    ck_status(jaw_setup_add_tip(s, &tip), JAW_OK);
    jaw_feature_entry f = {.name = other, .kind = JAW_SLOT, .tip = name,
                           .size_use = JAW_SIZE_EXPECTED, .size = 12,
                           .within = 0.5, .place = here};
    ck_status(jaw_setup_add_feature(s, &f), JAW_OK);
    for (int i = 0; i < 5; i++) {
        if (i == 3)
            ck_status(jaw_setup_other_wall(s), JAW_OK);
        ck_status(jaw_setup_add_touch(s, (jaw_touch){i, -i, 2 * i},
                                      (jaw_place){i, 1, 0}), JAW_OK);
    }
    f.kind = JAW_PATTERN;
    f.tip = NULL;
    ck_status(jaw_setup_add_feature(s, &f), JAW_OK);
    jaw_hole_entry h = {{1, 2}, {NOT, NOT}, name, here};
    ck_status(jaw_setup_add_hole(s, &h), JAW_OK);
    jaw_setter_entry st = {name, NOT, 5, other, here, here, 0, 0, {0}};
    ck_status(jaw_setup_add_setter(s, &st), JAW_OK);
    jaw_tool_entry t = {12, name, 80, 6, here, 0, NULL, {0}};
    ck_status(jaw_setup_add_tool(s, &t), JAW_OK);
    t.text = NULL;
    ck_status(jaw_setup_add_tool(s, &t), JAW_OK);
    jaw_contact_entry c = {0, name, -300, other, 0.5, here, here};
    ck_status(jaw_setup_add_contact(s, &c), JAW_OK);
    jaw_zero_entry z = {.name = name, .turn_use = JAW_TURN_FEATURE,
                        .turn_feature = other, .turn_along = JAW_Y,
                        .term = {{name, 1, here}, {other, 2, here}}};
    ck_status(jaw_setup_add_zero(s, &z), JAW_OK);
    memset(name, '?', 3);
    memset(other, '?', 3);

    ck_assert_str_eq(jaw_setup_title(s), "one");
    ck_assert_str_eq(jaw_setup_tips(s, &n)[0].name, "one");
    ck_assert_uint_eq(n, 1);
    ck_assert_int_eq(jaw_setup_tips(s, &n)[0].tool, 7);
    ck_assert(jaw_setup_tips(s, &n)[0].harmonic[2] == 3);
    ck_assert(jaw_setup_tips(s, &n)[0].harmonic_known[3] == 0.2);
    ck_assert(jaw_setup_tips(s, &n)[0].correlation[9] == 0.5);
    const jaw_feature_entry *fs = jaw_setup_features(s, &n);
    ck_assert_uint_eq(n, 2);
    ck_assert_str_eq(fs[0].name, "two");
    ck_assert_str_eq(fs[0].tip, "one");
    near(fs[0].within, 0.5, 0, "within");
    const jaw_touch *ts = jaw_setup_touches(s, 0, &n, &wall);
    ck_assert_uint_eq(n, 5);
    ck_assert_uint_eq(wall, 3);
    near(ts[4].y, -4, 0, "y");
    ck_assert_int_eq(jaw_setup_touch_places(s, 0)[4].line, 4);
    jaw_setup_touches(s, 1, &n, &wall);
    ck_assert_uint_eq(n, 0);
    const jaw_hole_entry *hs = jaw_setup_holes(s, 1, &n);
    ck_assert_uint_eq(n, 1);
    ck_assert_str_eq(hs[0].feature, "one");
    ck_assert_str_eq(jaw_setup_setters(s, &n)[0].on, "two");
    ck_assert_str_eq(jaw_setup_tools(s, &n)[0].text, "one");
    ck_assert_str_eq(jaw_setup_tools(s, &n)[1].text, "");
    ck_assert_str_eq(jaw_setup_contacts(s, &n)[0].tip, "one");
    ck_assert_str_eq(jaw_setup_contacts(s, &n)[0].surface, "two");
    const jaw_zero_entry *zs = jaw_setup_zeros(s, &n);
    ck_assert_str_eq(zs[0].turn_feature, "two");
    ck_assert_str_eq(zs[0].term[JAW_X].feature, "one");
    ck_assert_ptr_null(zs[0].term[JAW_Z].feature);
    ck_status(jaw_setup_set_title(s, NULL), JAW_OK);
    ck_assert_str_eq(jaw_setup_title(s), "");
    jaw_setup_free(s);
}
END_TEST

START_TEST(rows_need_a_feature)
{
    jaw_setup *s = jaw_setup_alloc();
    jaw_hole_entry h = {{1, 2}, {3, 4}, NULL, here};
    ck_status(jaw_setup_add_touch(s, (jaw_touch){1, 2, 3}, here),
              JAW_EUNKNOWN);
    ck_status(jaw_setup_other_wall(s), JAW_EUNKNOWN);
    ck_status(jaw_setup_add_hole(s, &h), JAW_EUNKNOWN);
    jaw_setup_free(s);
}
END_TEST

/* What a calibration found, and its covariance again from what is stated. */
START_TEST(calibrated)
{
    jaw_vec2 p[16];
    bool turned[16];
    for (int i = 0; i < 16; i++) {
        double a = i % 8 * PI / 4 + 0.1 * (i / 8) + 0.02 * i;
        turned[i] = i >= 8;
        double seen = a - (turned[i] ? PI : 0);
        double reach = 3 + 0.02 * cos(seen) + 0.006 * sin(3 * seen);
        p[i] = (jaw_vec2){(25 - reach) * cos(a), (25 - reach) * sin(a)};
    }
    jaw_tip_calibration c;
    ck_status(jaw_tip_calibrate_ring(p, turned, 15, false,
                                     (jaw_known_size){50, 0.001}, 0.001, &c,
                                     NULL),
              JAW_OK);
    jaw_tip_entry e = {.name = "stylus", .tip = jaw_tip_make(JAW_TIP_BALL, 1)};
    jaw_tip_calibrated(&c, &e);
    near(e.tip.diameter, 6, 1e-9, "diameter");
    near(e.tip.repeat, 0.001, 0, "repeat");
    near(e.harmonic[0], 0.02, 1e-9, "c1");
    near(e.harmonic[3], 0.006, 1e-9, "s3");
    const double *cov = c.cov;
    for (int a = 0; a < JAW_TIP_PARTS; a++)
        for (int b = a; b < JAW_TIP_PARTS; b++, cov++) {
            double ua = a ? e.harmonic_known[a - 1] : e.diameter_known;
            double ub = b ? e.harmonic_known[b - 1] : e.diameter_known;
            double r = a == b ? 1
                              : e.correlation[jaw_tip_pair((jaw_tip_part)a,
                                                           (jaw_tip_part)b)];
            near(ua * ub * r, *cov, 1e-18, "covariance");
        }
    ck_assert(fabs(e.correlation[0]) > 1e-3); /* there is something to see */
    /* touches that do not know state nothing of it */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 3, false,
                                     (jaw_known_size){50, 0.001}, NOT, &c,
                                     NULL),
              JAW_OK);
    jaw_tip_calibrated(&c, &e);
    near(e.diameter_known, 0, 0, "not known");
    ck_assert(isnan(e.tip.repeat));
    near(e.correlation[0], 0, 0, "none");
}
END_TEST

START_TEST(refused_tips_and_features)
{
    jaw_setup *s = jaw_setup_alloc();
    const jaw_tip pin = jaw_tip_make(JAW_TIP_PIN, 6);
    const jaw_tip_entry bad_tips[] = {
        {.name = NULL, .tip = pin},
        {.name = "t", .tip = jaw_tip_make(JAW_TIP_PIN, -6)},
        {.name = "t", .tip = pin, .diameter_known = -1},
        {.name = "t", .tip = pin, .length_known = NAN},
        {.name = "t", .tip = pin, .harmonic = {0, NAN}},
        {.name = "t", .tip = pin, .harmonic = {0, 0, 0, INFINITY}},
        {.name = "t", .tip = pin, .harmonic_known = {-1}},
        {.name = "t", .tip = pin, .harmonic_known = {0, 0, 0, INFINITY}},
        {.name = "t", .tip = pin, .diameter_known = 1,
         .harmonic_known = {1}, .correlation = {1}},
        {.name = "t", .tip = pin, .diameter_known = 1,
         .harmonic_known = {1}, .correlation = {NAN}},
        {.name = "t", .tip = pin, .harmonic_known = {1}, .correlation = {0.5}},
        {.name = "t", .tip = pin, .diameter_known = 1, .correlation = {0.5}},
    };
    for (int i = 0; i < COUNT(bad_tips); i++)
        ck_status(jaw_setup_add_tip(s, &bad_tips[i]), JAW_EDOMAIN);
    const jaw_feature_entry bad[] = {
        {.name = NULL, .kind = JAW_EDGE},
        {.name = "f", .kind = JAW_FEATURE_KINDS},
        {.name = "f", .kind = (jaw_feature_kind)-1},
        {.name = "f", .kind = JAW_BORE, .size_use = JAW_SIZE_KNOWN, .size = 0},
        {.name = "f", .kind = JAW_BORE, .size_use = JAW_SIZE_KNOWN,
         .size = -1},
        {.name = "f", .kind = JAW_BORE, .size_use = JAW_SIZE_EXPECTED,
         .size = NAN},
        {.name = "f", .kind = JAW_BORE, .size_use = JAW_SIZE_EXPECTED,
         .size = INFINITY},
        {.name = "f", .kind = JAW_BORE, .size_use = JAW_SIZE_EXPECTED,
         .size = 5, .within = 0},
        {.name = "f", .kind = JAW_EDGE, .faces = (jaw_side)9},
        {.name = "f", .kind = JAW_EDGE, .moving = (jaw_side)-1},
    };
    for (int i = 0; i < COUNT(bad); i++)
        ck_assert_msg(jaw_setup_add_feature(s, &bad[i]) == JAW_EDOMAIN, "%d",
                      i);
    size_t n, m;
    jaw_setup_tips(s, &n);
    jaw_setup_features(s, &m);
    ck_assert_uint_eq(n + m, 0);
    jaw_setup_free(s);
}
END_TEST

START_TEST(refused_heights)
{
    jaw_setup *s = jaw_setup_alloc();
    const jaw_setter_entry setters[] = {
        {NULL, 1, NAN, NULL, {1, 1, 0}, {1, 1, 0}, 0, 0, {0}},
        {"s", INFINITY, NAN, NULL, {1, 1, 0}, {1, 1, 0}, 0, 0, {0}},
        {"s", NAN, INFINITY, "t", {1, 1, 0}, {1, 1, 0}, 0, 0, {0}},
        {"s", NAN, 5, NULL, {1, 1, 0}, {1, 1, 0}, 0, 0, {0}},   /* above what? */
        {"s", NAN, NAN, "t", {1, 1, 0}, {1, 1, 0}, 0, 0, {0}},  /* how high? */
        {"s", 1, NAN, NULL, {1, 1, 0}, {1, 1, 0}, -1, 0, {0}},
        {"s", NAN, 5, "t", {1, 1, 0}, {1, 1, 0}, 0, INFINITY, {0}},
    };
    const jaw_tool_entry tools[] = {
        {0, "", 1, NAN, {1, 1, 0}, 0, NULL, {0}},
        {10000, "", 1, NAN, {1, 1, 0}, 0, NULL, {0}},
        {-1, "", 1, NAN, {1, 1, 0}, 0, NULL, {0}},
        {1, "", INFINITY, NAN, {1, 1, 0}, 0, NULL, {0}},
        {1, "", 1, NAN, {1, 1, 0}, -1, NULL, {0}},
        {1, "", NAN, -INFINITY, {1, 1, 0}, 0, NULL, {0}},
    };
    const jaw_contact_entry contacts[] = {
        {1, NULL, 0, NULL, 0, {1, 1, 0}, {1, 1, 0}},
        {0, NULL, 0, "s", 0, {1, 1, 0}, {1, 1, 0}},
        {1, NULL, NAN, "s", 0, {1, 1, 0}, {1, 1, 0}},
        {1, NULL, -INFINITY, "s", 0, {1, 1, 0}, {1, 1, 0}},
        {1, NULL, 0, "s", -0.1, {1, 1, 0}, {1, 1, 0}},
        {1, NULL, 0, "s", NAN, {1, 1, 0}, {1, 1, 0}},
        {1, NULL, 0, "s", INFINITY, {1, 1, 0}, {1, 1, 0}},
    };
    for (int i = 0; i < COUNT(setters); i++)
        ck_status(jaw_setup_add_setter(s, &setters[i]), JAW_EDOMAIN);
    for (int i = 0; i < COUNT(tools); i++)
        ck_status(jaw_setup_add_tool(s, &tools[i]), JAW_EDOMAIN);
    for (int i = 0; i < COUNT(contacts); i++)
        ck_status(jaw_setup_add_contact(s, &contacts[i]), JAW_EDOMAIN);
    size_t a, b, c;
    jaw_setup_setters(s, &a);
    jaw_setup_tools(s, &b);
    jaw_setup_contacts(s, &c);
    ck_assert_uint_eq(a + b + c, 0);
    jaw_setup_free(s);
}
END_TEST

START_TEST(refused_zeros)
{
    jaw_setup *s = jaw_setup_alloc();
    const jaw_zero_entry bad[] = {
        {.name = NULL},
        {.name = "G54", .turn_use = JAW_TURN_STATED, .turn = NAN},
        {.name = "G54", .turn_use = JAW_TURN_STATED, .turn = INFINITY},
        {.name = "G54", .turn_use = JAW_TURN_FEATURE, .turn_feature = NULL},
        {.name = "G54", .turn_use = JAW_TURN_FEATURE, .turn_feature = "f",
         .turn_along = JAW_Z},
        {.name = "G54", .turn_use = JAW_TURN_FEATURE, .turn_feature = "f",
         .turn_along = (jaw_axis)-1},
        {.name = "G54", .term = {{"f", NAN, {1, 1, 0}}}},
        {.name = "G54", .term = {[JAW_Z] = {"f", INFINITY, {1, 1, 0}}}},
    };
    for (int i = 0; i < COUNT(bad); i++)
        ck_assert_msg(jaw_setup_add_zero(s, &bad[i]) == JAW_EDOMAIN, "%d", i);
    size_t n;
    jaw_setup_zeros(s, &n);
    ck_assert_uint_eq(n, 0);
    jaw_setup_free(s);
}
END_TEST

/* -------------------------------------------------------------------- store */

START_TEST(pool_keeps_addresses)
{
    jaw__pool pool = {NULL};
    enum { TEXTS = 500 };
    const char *kept[TEXTS];
    char text[3000];
    bool ok = true;
    for (int i = 0; i < TEXTS; i++) {
        memset(text, 'a' + i % 26, sizeof text);
        text[i % 7 ? i % 50 : 2500] = '\0';
        kept[i] = jaw__pool_text(&pool, text, &ok);
    }
    ck_assert(ok);
    for (int i = 0; i < TEXTS; i++) {
        size_t len = i % 7 ? (size_t)(i % 50) : 2500;
        ck_assert_uint_eq(strlen(kept[i]), len);
        ck_assert(len == 0 || kept[i][len - 1] == 'a' + i % 26);
    }
    ck_assert_ptr_null(jaw__pool_text(&pool, NULL, &ok));
    ck_assert(ok);
    ck_assert_str_eq(jaw__pool_copy(&pool, "abcdef", 3), "abc");
    ck_assert_ptr_null(jaw__pool_copy(&pool, "a", SIZE_MAX));
    ck_assert_ptr_null(jaw__pool_copy(&pool, "a", SIZE_MAX - 1));
    jaw__pool_drop(&pool);
    jaw__pool_drop(&pool);
}
END_TEST

START_TEST(arrays_grow)
{
    size_t room = 0;
    int *array = NULL;
    for (size_t n = 0; n < 3000; n++) {
        array = jaw__grow(array, n, &room, sizeof *array);
        ck_assert_ptr_nonnull(array);
        ck_assert_uint_gt(room, n);
        array[n] = (int)n;
    }
    for (size_t n = 0; n < 3000; n++)
        ck_assert_int_eq(array[n], (int)n);
    free(array);
    room = SIZE_MAX / 2;
    ck_assert_ptr_null(jaw__grow(NULL, room, &room, 8));
    ck_assert_uint_eq(room, SIZE_MAX / 2);
}
END_TEST

TCase *entries_case(void)
{
    TCase *tc = tcase_create("entries");
    tcase_add_test(tc, an_empty_setup);
    tcase_add_test(tc, default_control);
    tcase_add_test(tc, control_is_checked);
    tcase_add_test(tc, what_was_stated_comes_back);
    tcase_add_test(tc, rows_need_a_feature);
    tcase_add_test(tc, calibrated);
    tcase_add_test(tc, refused_tips_and_features);
    tcase_add_test(tc, refused_heights);
    tcase_add_test(tc, refused_zeros);
    tcase_add_test(tc, pool_keeps_addresses);
    tcase_add_test(tc, arrays_grow);
    return tc;
}
