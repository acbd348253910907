/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of round.c: bore and boss, free and known, and opposite pairs. */
#include "feature_tests.h"
#include "true.h"

#include "tests/near.h"

#define NOT ((double)NAN)

static jaw_tip tip_of(double diameter)
{
    return jaw_tip_make(JAW_TIP_BALL, diameter);
}

typedef jaw_status find(const jaw_touch t[], size_t n, const jaw_tip *tip,
                        double known, jaw_round *found, double resid[]);

static void round_is_nan(const jaw_round *f, const char *name)
{
    const double x[] = {f->centre.x, f->centre.y, f->diameter,
                        f->cov[0],   f->cov[1],   f->cov[2],
                        f->u_diameter, f->rms};
    all_nan(x, COUNT(x), name);
    ck_assert_uint_eq(f->flags, 0);
}

/* ------------------------------------------------------------------ by hand */

/* definitions.md: bore radius = fitted radius + r, boss radius = fitted - r.
 * Centres on a circle of radius 25 about (100, 50) by 7, 24, 25. */
static const jaw_touch ring[] = {{125, 50, NAN}, {107, 74, NAN},
                                 {75, 50, NAN},  {93, 26, NAN}};

START_TEST(radius_is_added_or_taken_away)
{
    jaw_tip tip = tip_of(6);
    jaw_round f;
    double resid[4];
    ck_status(jaw_feature_bore(ring, 4, &tip, NOT, &f, resid), JAW_OK);
    near(f.centre.x, 100, 1e-13, "x");
    near(f.centre.y, 50, 1e-13, "y");
    near(f.diameter, 56, 1e-13, "bore");
    ck_assert_int_eq(f.dof, 1);
    ck_assert_uint_eq(f.flags, 0);
    ck_status(jaw_feature_boss(ring, 4, &tip, NOT, &f, resid), JAW_OK);
    near(f.centre.x, 100, 1e-13, "x");
    near(f.diameter, 44, 1e-13, "boss");
    for (int k = 0; k < 4; k++)
        near(resid[k], 0, 1e-13, "residual");
}
END_TEST

START_TEST(three_touches_are_no_check)
{
    jaw_tip tip = tip_of(6);
    jaw_round f;
    ck_status(jaw_feature_bore(ring, 3, &tip, NOT, &f, NULL), JAW_OK);
    near(f.diameter, 56, 1e-13, "diameter");
    ck_assert_int_eq(f.dof, 0);
    ck_assert_uint_eq(f.flags, JAW_NO_CHECK);
    ck_assert(isnan(f.rms) && isnan(f.u_diameter) && isnan(f.cov[0]));
}
END_TEST

/* A known diameter makes three touches a check: a ring of 56 on ones that fit
 * it, then with one touch 0.03 too far out. */
START_TEST(known_diameter_is_a_check)
{
    jaw_touch t[] = {ring[0], ring[1], ring[2]};
    jaw_tip tip = tip_of(6);
    jaw_round f;
    double resid[3];
    ck_status(jaw_feature_bore(t, 3, &tip, 56, &f, resid), JAW_OK);
    near(f.centre.x, 100, 1e-12, "x");
    near(f.centre.y, 50, 1e-12, "y");
    near(f.diameter, 56, 0, "as stated");
    near(f.u_diameter, 0, 0, "known is sure");
    ck_assert_int_eq(f.dof, 1);
    ck_assert_uint_eq(f.flags, 0);
    ck_status(jaw_feature_boss(t, 3, &tip, 44, &f, resid), JAW_OK);
    near(f.centre.x, 100, 1e-12, "x of a boss");
    near(f.diameter, 44, 0, "boss as stated");

    /* Outward at 0 and 180 degrees the shift cancels the far one. */
    t[0].x += 0.03;
    ck_status(jaw_feature_bore(t, 3, &tip, 56, &f, resid), JAW_OK);
    near(f.centre.x, 100.015, 1e-4, "x in the middle");
    near(resid[0], 0.015, 1e-3, "outside positive");
    ck_assert(f.rms > 0.01);
}
END_TEST

/* Four touches at the quarters, one 0.04 too far out: the centre moves by half
 * of it, the radius grows by a quarter, and each residual is a quarter. */
START_TEST(residuals_by_hand)
{
    jaw_touch t[] = {{20.04, 0, NOT}, {0, 20, NOT}, {-20, 0, NOT},
                     {0, -20, NOT}};
    jaw_tip tip = tip_of(4);
    jaw_round f;
    double resid[4];
    ck_status(jaw_feature_bore(t, 4, &tip, NOT, &f, resid), JAW_OK);
    near(f.centre.x, 0.02, 2e-5, "x");
    near(f.centre.y, 0, 1e-14, "y");
    near(f.diameter, 44.02, 4e-5, "diameter");
    near(resid[0], 0.01, 2e-5, "outside positive");
    near(resid[1], -0.01, 2e-5, "inside negative");
    near(resid[2], 0.01, 2e-5, "outside positive");
    near(f.rms, 0.01, 2e-5, "rms");
}
END_TEST

/* Halved readings: the radius and where the chord lies cancel
 * (definitions.md: middle of two opposite touches). */
START_TEST(opposite_pairs)
{
    static const int order[][4] = {{0, 1, 2, 3}, {2, 0, 3, 1}, {3, 2, 1, 0}};
    jaw_touch pair[] = {{80.5, NOT, NOT}, {119.5, NOT, NOT}, {NOT, 31, NOT},
                        {NOT, 69, NOT}};
    find *const kinds[] = {jaw_feature_bore, jaw_feature_boss};
    for (int k = 0; k < 2; k++)
        for (int o = 0; o < 3; o++) {
            jaw_touch t[4];
            jaw_round f;
            jaw_tip tip = tip_of(6);
            double resid[4] = {7, 7, 7, 7};
            for (int i = 0; i < 4; i++)
                t[i] = pair[order[o][i]];
            ck_status(kinds[k](t, 4, &tip, NOT, &f, resid), JAW_OK);
            near(f.centre.x, 100, 0, "x");
            near(f.centre.y, 50, 0, "y");
            ck_assert(isnan(f.diameter) && isnan(f.rms));
            ck_assert_int_eq(f.dof, 0);
            ck_assert_uint_eq(f.flags, JAW_NO_CHECK | JAW_SIZE_NOT_SEEN |
                                           JAW_SAME_PLACE);
            all_nan(resid, 4, "residual of a pair");
        }
}
END_TEST

/* Chords beside the centre: 20 from it, half length 15 on a radius of 25. */
START_TEST(pairs_need_not_pass_the_centre)
{
    jaw_touch t[] = {{100 - 15, NOT, NOT}, {100 + 15, NOT, NOT},
                     {NOT, 50 - 7, NOT}, {NOT, 50 + 7, NOT}};
    jaw_tip tip = tip_of(6);
    jaw_round f;
    ck_status(jaw_feature_bore(t, 4, &tip, NOT, &f, NULL), JAW_OK);
    near(f.centre.x, 100, 0, "x");
    near(f.centre.y, 50, 0, "y");
}
END_TEST

/* ------------------------------------------------------------------- status */

#define X(v) {v, NAN, NAN}
#define Y(v) {NAN, v, NAN}

static const struct {
    const char *name;
    jaw_touch t[5];
    size_t n;
    double diameter, known;
    jaw_status bore, boss;
} wrong[] = {
    {"none", {{0, 0, 0}}, 0, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"one", {{1, 2, 0}}, 1, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"two", {{1, 2, 0}, {30, 2, 0}}, 2, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"two, known", {{1, 2, 0}, {30, 2, 0}}, 2, 6, 40, JAW_EFEW, JAW_EFEW},
    {"on a line", {{0, 0, 0}, {10, 10, 0}, {20, 20, 0}}, 3, 6, NAN, JAW_ERANK,
     JAW_ERANK},
    {"two places", {{0, 0, 0}, {10, 0, 0}, {10, 0, 1}, {0, 0, 1}}, 4, 6, NAN,
     JAW_ERANK, JAW_ERANK},
    {"one place", {{5, 5, 0}, {5, 5, 0}, {5, 5, 0}}, 3, 6, NAN, JAW_ERANK,
     JAW_ERANK},
    {"infinite x", {{INFINITY, 0, 0}, {9, 0, 0}, {5, 5, 0}}, 3, 6, NAN,
     JAW_ENOTFINITE, JAW_ENOTFINITE},
    {"infinite y alone", {X(1), X(2), Y(1), Y(INFINITY)}, 4, 6, NAN,
     JAW_ENOTFINITE, JAW_ENOTFINITE},
    {"one lacks y", {{1, 0, 0}, {9, 0, 0}, X(5)}, 3, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"one lacks both", {X(1), X(2), Y(1), {NAN, NAN, 3}}, 4, 6, NAN,
     JAW_ENOTFINITE, JAW_ENOTFINITE},
    {"x alone", {X(1), X(9)}, 2, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"y alone", {Y(1), Y(9)}, 2, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"one y", {X(1), X(9), Y(5)}, 3, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"three x", {X(1), X(9), X(5), Y(1), Y(9)}, 5, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"three y", {X(1), X(9), Y(5), Y(1), Y(9)}, 5, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"the same x twice", {X(5), X(5), Y(1), Y(9)}, 4, 6, NAN, JAW_ERANK,
     JAW_ERANK},
    {"the same y twice", {X(1), X(5), Y(9), Y(9)}, 4, 6, NAN, JAW_ERANK,
     JAW_ERANK},
    {"negative tip", {{1, 0, 0}, {9, 0, 0}, {5, 5, 0}}, 3, -6, NAN,
     JAW_EDOMAIN, JAW_EDOMAIN},
    {"tip nan", {{1, 0, 0}, {9, 0, 0}, {5, 5, 0}}, 3, NAN, NAN,
     JAW_ENOTFINITE, JAW_ENOTFINITE},
    {"known zero", {{1, 0, 0}, {9, 0, 0}, {5, 5, 0}}, 3, 6, 0, JAW_EDOMAIN,
     JAW_EDOMAIN},
    {"known negative", {{1, 0, 0}, {9, 0, 0}, {5, 5, 0}}, 3, 6, -8,
     JAW_EDOMAIN, JAW_EDOMAIN},
    {"known infinite", {{1, 0, 0}, {9, 0, 0}, {5, 5, 0}}, 3, 6, INFINITY,
     JAW_EDOMAIN, JAW_EDOMAIN},
    {"smaller than the tip", {{5, 0, 0}, {0, 5, 0}, {-5, 0, 0}}, 3, 12, NAN,
     JAW_OK, JAW_ESIZE},
    {"as large as the tip", {{5, 0, 0}, {0, 5, 0}, {-5, 0, 0}, {0, -5, 0}}, 4,
     10.000001, NAN, JAW_OK, JAW_ESIZE},
    {"the tip does not fit", {{5, 0, 0}, {0, 5, 0}, {-5, 0, 0}}, 3, 12, 11,
     JAW_ESIZE, JAW_OK},
    {"the tip just fits", {{5, 0, 0}, {0, 5, 0}, {-5, 0, 0}}, 3, 12, 12,
     JAW_ESIZE, JAW_OK},
};

START_TEST(status_provoked)
{
    find *const kinds[] = {jaw_feature_bore, jaw_feature_boss};
    jaw_status want[] = {wrong[_i].bore, wrong[_i].boss};
    for (int k = 0; k < 2; k++) {
        jaw_tip tip = tip_of(wrong[_i].diameter);
        double resid[5] = {7, 7, 7, 7, 7};
        jaw_round f;
        jaw_status got = kinds[k](wrong[_i].t, wrong[_i].n, &tip,
                                  wrong[_i].known, &f, resid);
        if (want[k] == JAW_OK)
            continue; /* the other kind of the pair is what is asked */
        ck_assert_msg(got == want[k], "%s: got \"%s\"", wrong[_i].name,
                      jaw_status_text(got));
        round_is_nan(&f, wrong[_i].name);
        all_nan(resid, wrong[_i].n, wrong[_i].name);
        for (size_t i = wrong[_i].n; i < 5; i++)
            near(resid[i], 7, 0, "beyond n");
    }
}
END_TEST

/* Touches that bend the same way less and less: the best circle grows without
 * end.  Four corners of a saddle fit a line better than any circle. */
START_TEST(no_circle_is_best)
{
    jaw_touch t[] = {{-30, 1, NOT}, {-10, -1, NOT}, {10, 1, NOT},
                     {30, -1, NOT}};
    jaw_tip tip = tip_of(6);
    jaw_round f;
    double resid[4];
    ck_status(jaw_feature_bore(t, 4, &tip, NOT, &f, resid), JAW_ENOCONV);
    round_is_nan(&f, "no circle");
    all_nan(resid, 4, "no circle");
}
END_TEST

START_TEST(flags_of_short_arcs_and_same_touches)
{
    true_round c = {20, -30, 25};
    jaw_tip tip = tip_of(6);
    jaw_touch t[5];
    jaw_round f;
    for (int k = 0; k < 4; k++)
        t[k] = touch_round(&c, 0.05 * k, 3, true);
    ck_status(jaw_feature_bore(t, 4, &tip, NOT, &f, NULL), JAW_OK);
    ck_assert_uint_eq(f.flags, JAW_WEAK);
    for (int k = 0; k < 4; k++)
        t[k] = touch_round(&c, 1.5 * k, 3, true);
    t[4] = t[1];
    ck_status(jaw_feature_bore(t, 5, &tip, NOT, &f, NULL), JAW_OK);
    ck_assert_uint_eq(f.flags, JAW_SAME_TOUCH);
}
END_TEST

/* ------------------------------------------------------- what holds for any */

typedef struct case_of_round {
    true_round truth;
    bool bore, known;
    jaw_touch t[12];
    size_t n;
    jaw_tip tip;
    jaw_round f;
    double resid[12];
} case_of_round;

static jaw_status solve(const case_of_round *c, const jaw_touch t[],
                        double scale, jaw_round *f, double resid[])
{
    jaw_tip tip = c->tip;
    double known = c->known ? 2 * (double)c->truth.radius * scale : NOT;
    tip.diameter *= scale;
    tip.paper *= scale;
    return c->bore ? jaw_feature_bore(t, c->n, &tip, known, f, resid)
                   : jaw_feature_boss(t, c->n, &tip, known, f, resid);
}

/* A wall touched all round, each place somewhere in its share of the turn. */
static case_of_round any_round(random_source *r, double noise)
{
    case_of_round c = {
        .truth = {random_between(r, -500, 500), random_between(r, -500, 500),
                  random_between(r, 8, 80)},
        .bore = random_below(r, 2) == 1,
        .known = random_below(r, 2) == 1,
        .n = 3 + random_below(r, 10),
        .tip = jaw_tip_make((jaw_tip_shape)random_below(r, JAW_TIP_SHAPES),
                            random_between(r, 0, 12)),
    };
    c.tip.paper = random_below(r, 2) ? 0 : random_between(r, 0, 0.2);
    double start = random_between(r, -4, 4);
    for (size_t k = 0; k < c.n; k++) {
        double share = 2 * PI / (double)c.n;
        double angle = start + ((double)k + random_between(r, 0, 0.6)) * share;
        c.t[k] = touch_round(&c.truth, angle, c.tip.diameter / 2 + c.tip.paper,
                             c.bore);
        c.t[k].x += noise * random_normal(r);
        c.t[k].y += noise * random_normal(r);
    }
    ck_status(solve(&c, c.t, 1, &c.f, c.resid), JAW_OK);
    return c;
}

START_TEST(truth_comes_back)
{
    random_source r = random_start("truth_comes_back", 41);
    for (int i = 0; i < 5000; i++) {
        case_of_round c = any_round(&r, 0);
        near(c.f.centre.x, (double)c.truth.x, 1e-11, "x");
        near(c.f.centre.y, (double)c.truth.y, 1e-11, "y");
        near(c.f.diameter, 2 * (double)c.truth.radius, 2e-11, "diameter");
        ck_assert_int_eq(c.f.dof, (int)c.n - (c.known ? 2 : 3));
        for (size_t k = 0; k < c.n; k++)
            near(c.resid[k], 0, 1e-11, "residual");
    }
}
END_TEST

START_TEST(order_turn_shift_and_unit)
{
    random_source r = random_start("order_turn_shift_and_unit", 42);
    for (int i = 0; i < 2000; i++) {
        case_of_round c = any_round(&r, 0.01);
        jaw_frame f = jaw_frame_make(
            (jaw_vec2){random_between(&r, -90, 90),
                       random_between(&r, -90, 90)},
            random_between(&r, -4, 4));
        double unit = random_below(&r, 2) ? 1 / JAW_MM_PER_INCH : 1;
        jaw_touch t[12];
        jaw_round g;
        double resid[12];
        for (size_t k = 0; k < c.n; k++) {
            jaw_vec2 m = jaw_machine_from_work(
                &f, (jaw_vec2){c.t[k].x, c.t[k].y});
            t[c.n - 1 - k] = (jaw_touch){m.x * unit, m.y * unit, NOT};
        }
        ck_status(solve(&c, t, unit, &g, resid), JAW_OK);
        jaw_vec2 p = jaw_machine_from_work(&f, c.f.centre);
        near(g.centre.x / unit, p.x, 1e-11, "x");
        near(g.centre.y / unit, p.y, 1e-11, "y");
        near(g.diameter / unit, c.f.diameter, 2e-11, "diameter");
        for (size_t k = 0; k < c.n; k++)
            near(resid[c.n - 1 - k] / unit, c.resid[k], 1e-11, "residual");
        if (c.f.dof == 0)
            continue;
        near((g.cov[0] + g.cov[2]) / unit / unit, c.f.cov[0] + c.f.cov[2],
             1e-12, "trace of the covariance");
    }
}
END_TEST

/* From inside or from outside: the same centre, two tips' diameters apart. */
START_TEST(other_side_of_the_tip)
{
    random_source r = random_start("other_side_of_the_tip", 43);
    for (int i = 0; i < 2000; i++) {
        case_of_round c = any_round(&r, 0.01);
        jaw_round bore, boss;
        if (!c.bore || c.truth.radius < 2 * c.tip.diameter + 1)
            continue;
        ck_status(jaw_feature_bore(c.t, c.n, &c.tip, NOT, &bore, NULL),
                  JAW_OK);
        ck_status(jaw_feature_boss(c.t, c.n, &c.tip, NOT, &boss, NULL),
                  JAW_OK);
        near(boss.centre.x, bore.centre.x, 0, "x");
        near(boss.centre.y, bore.centre.y, 0, "y");
        near(boss.diameter + 2 * c.tip.diameter + 4 * c.tip.paper,
             bore.diameter, 1e-12, "diameter");
    }
}
END_TEST

/* Pairs of a true circle, through chords anywhere. */
START_TEST(pairs_of_a_true_circle)
{
    random_source r = random_start("pairs_of_a_true_circle", 44);
    for (int i = 0; i < 2000; i++) {
        true_round c = {random_between(&r, -500, 500),
                        random_between(&r, -500, 500),
                        random_between(&r, 8, 80)};
        bool bore = random_below(&r, 2) == 1;
        double a = random_between(&r, -1.4, 1.4);
        double b = random_between(&r, -1.4, 1.4) + PI / 2;
        jaw_tip tip = tip_of(6);
        jaw_touch t[] = {
            touch_round(&c, a, 3, bore), touch_round(&c, PI - a, 3, bore),
            touch_round(&c, b, 3, bore), touch_round(&c, -b, 3, bore)};
        jaw_round f;
        t[0].y = t[1].y = t[2].x = t[3].x = NOT;
        ck_status(bore ? jaw_feature_bore(t, 4, &tip, NOT, &f, NULL)
                       : jaw_feature_boss(t, 4, &tip, NOT, &f, NULL), JAW_OK);
        near(f.centre.x, (double)c.x, 1e-12, "x");
        near(f.centre.y, (double)c.y, 1e-12, "y");
    }
}
END_TEST

START_TEST(nothing_else_is_touched)
{
    random_source r = random_start("nothing_else_is_touched", 45);
    for (int i = 0; i < 500; i++) {
        case_of_round c = any_round(&r, 0.01), before = c;
        jaw_round f;
        ck_status(solve(&c, c.t, 1, &f, NULL), JAW_OK);
        ck_assert_mem_eq(c.t, before.t, sizeof c.t);
        ck_assert_mem_eq(&f, &c.f, sizeof f);
    }
}
END_TEST

START_TEST(many_touches)
{
    enum { MANY = 700 };
    static jaw_touch t[MANY];
    static double resid[MANY];
    true_round c = {210, -90, 40};
    jaw_tip tip = tip_of(6);
    jaw_round f;
    for (size_t k = 0; k < MANY; k++)
        t[k] = touch_round(&c, 2.4 * (double)k, 3, true);
    for (size_t n = 60; n <= MANY; n += n < 70 ? 1 : 90)
        for (int known = 0; known < 2; known++) {
            ck_status(jaw_feature_bore(t, n, &tip, known ? 80 : NOT, &f,
                                       resid), JAW_OK);
            near(f.centre.x, 210, 1e-11, "x");
            near(f.centre.y, -90, 1e-11, "y");
            near(resid[n - 1], 0, 1e-11, "last residual");
            ck_assert_int_eq(f.dof, (int)n - 3 + known);
        }
}
END_TEST

TCase *round_case(void)
{
    TCase *tc = tcase_create("round");
    tcase_add_test(tc, radius_is_added_or_taken_away);
    tcase_add_test(tc, three_touches_are_no_check);
    tcase_add_test(tc, known_diameter_is_a_check);
    tcase_add_test(tc, residuals_by_hand);
    tcase_add_test(tc, opposite_pairs);
    tcase_add_test(tc, pairs_need_not_pass_the_centre);
    tcase_add_loop_test(tc, status_provoked, 0, COUNT(wrong));
    tcase_add_test(tc, no_circle_is_best);
    tcase_add_test(tc, flags_of_short_arcs_and_same_touches);
    tcase_add_test(tc, truth_comes_back);
    tcase_add_test(tc, order_turn_shift_and_unit);
    tcase_add_test(tc, other_side_of_the_tip);
    tcase_add_test(tc, pairs_of_a_true_circle);
    tcase_add_test(tc, nothing_else_is_touched);
    tcase_add_test(tc, many_touches);
    return tc;
}
