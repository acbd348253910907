/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips calibrated in a ring or on a plug: by hand, by finite differences, and
 * every way to fail. */
#include "measure_tests.h"

#include "src/measure/model.h"

#include <string.h>

/* A ring of 50 and a tip of 6: the spindle goes 22 from the middle. */
static const jaw_vec2 cross[] = {{122, 40}, {100, 62}, {78, 40}, {100, 18}};
static const jaw_known_size ring50 = {50, 0}, plug40 = {40, 0};

START_TEST(ring_by_hand)
{
    jaw_tip_calibration c;
    double resid[4], u;
    ck_status(jaw_tip_calibrate_ring(cross, NULL, 4, false, ring50, NOT, &c,
                                     resid),
              JAW_OK);
    near(c.diameter, 6, 1e-13, "diameter");
    near(c.centre.x, 100, 1e-13, "x");
    near(c.centre.y, 40, 1e-13, "y");
    ck_assert(isnan(c.centre.z));
    ck_assert_int_eq(c.dof_touch, 1);
    ck_assert_int_eq(c.first.state, JAW_TERM_INSEPARABLE);
    ck_assert_int_eq(c.third.state, JAW_TERM_NOT_SEEN);
    near(jaw_tip_reach(&c, 1, &u), 3, 1e-13, "reach");
    near(jaw_tip_pretravel(&c, 1, &u), 0, 0, "pretravel");
    for (int i = 0; i < 4; i++)
        near(resid[i], 0, 1e-13, "residual");
}
END_TEST

START_TEST(plug_by_hand)
{
    jaw_tip_calibration c;
    ck_status(jaw_tip_calibrate_ring(cross, NULL, 4, true, plug40, NOT, &c,
                                     NULL),
              JAW_OK);
    near(c.diameter, 4, 1e-13, "diameter");
}
END_TEST

/* Right 0.006 too far: the four say +-0.0015 of it each (the circle takes the
 * rest), so ssr = 4 x 0.0015^2 with one degree of freedom, s = 0.003.  The
 * radius is a mean of four: u of the diameter 2 x 0.003 / 2. */
START_TEST(uncertainty_by_hand)
{
    jaw_vec2 p[4];
    jaw_tip_calibration c;
    jaw_known_size known = {50, 0.004};
    memcpy(p, cross, sizeof p);
    p[0].x += 0.006;
    ck_status(jaw_tip_calibrate_ring(p, NULL, 4, false, known, NOT, &c, NULL),
              JAW_OK);
    near(c.seen, 0.003, 1e-6, "seen");
    near(c.repeat, c.seen, 0, "repeat");
    near(c.diameter, 6 - 0.003, 1e-6, "diameter");
    near(c.u_diameter, 0.005, 1e-6, "u: 3, 4, 5");
    /* Welch-Satterthwaite: u^4 / (0.003^4 / 1) */
    near(c.dof, 625.0 / 81, 1e-2, "dof");
    near(c.u_centre.x, 0.003 * sqrt(0.5), 1e-6, "u centre");
    /* stated: known for ever, and not contradicted by 0.003 */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 4, false, known, 0.003, &c,
                                     NULL),
              JAW_OK);
    near(c.u_diameter, 0.005, 1e-6, "u: 3, 4, 5");
    ck_assert(isinf(c.dof) && isinf(c.dof_repeat));
    near(c.within, 1.959964 * 0.005, 1e-6, "within");
    ck_assert_uint_eq(c.flags, 0);
    /* stated ten times too small: what was seen counts, and it is said */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 4, false, known, 0.0003, &c,
                                     NULL),
              JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_RESIDUAL);
    near(c.repeat, 0.003, 1e-6, "repeat");
    near(c.dof_repeat, 1, 0, "dof of repeat");
}
END_TEST

START_TEST(three_touches_are_no_check)
{
    jaw_tip_calibration c;
    ck_status(jaw_tip_calibrate_ring(cross, NULL, 3, false, ring50, NOT, &c,
                                     NULL),
              JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_NO_CHECK);
    near(c.diameter, 6, 1e-12, "diameter");
    ck_assert(isnan(c.u_diameter) && isnan(c.repeat) && isnan(c.rms));
    ck_status(jaw_tip_calibrate_ring(cross, NULL, 3, false, ring50, 0.002, &c,
                                     NULL),
              JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_NO_CHECK);
    /* of three touches at 0, 90, 180 degrees the radius is the mean of the
     * first and the last */
    near(c.u_diameter, 2 * 0.002 * sqrt(0.5), 1e-12, "u");
}
END_TEST

/* The tip's centre stands 0.01 off the spindle axis toward +x.  At position 0
 * it meets the right wall 0.01 early, turned by half 0.01 late. */
START_TEST(runout_by_hand)
{
    static const jaw_vec2 p[] = {{21.99, 0}, {0, 22}, {-22.01, 0}, {0, -22},
                                 {22.01, 0}, {0, 22}, {-21.99, 0}, {0, -22}};
    static const bool turned[8] = {0, 0, 0, 0, 1, 1, 1, 1};
    jaw_tip_calibration c;
    double u;
    ck_status(jaw_tip_calibrate_ring(p, turned, 8, false, ring50, NOT, &c,
                                     NULL),
              JAW_OK);
    ck_assert_int_eq(c.first.state, JAW_TERM_KEPT);
    /* at right angles alone the third harmonic is the first over again */
    ck_assert_int_eq(c.third.state, JAW_TERM_NOT_SEEN);
    near(c.harmonic[0], 0.01, 1e-13, "c1");
    near(c.harmonic[1], 0, 1e-13, "s1");
    near(c.diameter, 6, 1e-12, "diameter");
    near(c.centre.x, 0, 1e-13, "centre");
    near(jaw_tip_reach(&c, 0, &u), 3.01, 1e-12, "toward the offset");
    near(jaw_tip_reach(&c, PI, &u), 2.99, 1e-12, "away from it");
    near(jaw_tip_pretravel(&c, 0, &u), -0.01, 1e-12, "pretravel");
    ck_assert_int_eq(c.dof_touch, 3);
    /* not turned: the same vector is taken for the centre's */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 4, false, ring50, NOT, &c, NULL),
              JAW_OK);
    ck_assert_int_eq(c.first.state, JAW_TERM_INSEPARABLE);
    near(c.centre.x, -0.01, 1e-8, "centre with the runout");
    near(c.diameter, 6, 3e-6, "diameter"); /* 0.01^2 / 44 */
    /* all turned is not turned between */
    ck_status(jaw_tip_calibrate_ring(p, turned + 4, 4, false, ring50, NOT, &c,
                                     NULL),
              JAW_OK);
    ck_assert_int_eq(c.first.state, JAW_TERM_INSEPARABLE);
}
END_TEST

/* On a plug the tip moves inward: at the right of it toward -x, where the
 * offset toward +x is away from the wall. */
START_TEST(runout_on_a_plug)
{
    static const jaw_vec2 p[] = {{21.99, 0}, {0, 22}, {-22.01, 0}, {0, -22},
                                 {22.01, 0}, {0, 22}, {-21.99, 0}, {0, -22}};
    static const bool turned[8] = {0, 0, 0, 0, 1, 1, 1, 1};
    jaw_tip_calibration c;
    ck_status(jaw_tip_calibrate_ring(p, turned, 8, true, plug40, NOT, &c,
                                     NULL),
              JAW_OK);
    near(c.harmonic[0], 0.01, 1e-13, "c1");
    near(c.diameter, 4, 1e-12, "diameter");
    near(jaw_tip_reach(&c, PI, NULL), 1.99, 1e-12, "moving toward -x");
}
END_TEST

/* reach = 3 + 0.004 cos 3a + 0.003 sin 3a, eight directions. */
START_TEST(third_harmonic_by_hand)
{
    jaw_vec2 p[8];
    jaw_tip_calibration c;
    double u, amplitude = 0;
    for (int i = 0; i < 8; i++) {
        double a = i * PI / 4, reach = 3 + 0.004 * cos(3 * a) +
                                       0.003 * sin(3 * a);
        p[i] = (jaw_vec2){(25 - reach) * cos(a), (25 - reach) * sin(a)};
    }
    ck_status(jaw_tip_calibrate_ring(p, NULL, 8, false, ring50, NOT, &c, NULL),
              JAW_OK);
    ck_assert_int_eq(c.third.state, JAW_TERM_KEPT);
    near(c.harmonic[0], 0, 0, "c1 is not fitted");
    near(c.harmonic[2], 0.004, 1e-12, "c3");
    near(c.harmonic[3], 0.003, 1e-12, "s3");
    near(c.diameter, 6, 1e-12, "diameter");
    for (double a = 0; a < 7; a += 0.01)
        amplitude = fmax(amplitude, jaw_tip_pretravel(&c, a, &u));
    near(amplitude, 0.005, 1e-5, "3, 4, 5");
    /* with the spread stated: variance of each harmonic is 2 / n of it */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 8, false, ring50, 0.001, &c,
                                     NULL),
              JAW_OK);
    near(c.cov[12], 0.001 * 0.001 / 4, 1e-9, "variance of c3");
    jaw_tip_pretravel(&c, 0.3, &u);
    near(u, 0.0005, 1e-6, "u of the pretravel");
    jaw_tip_reach(&c, 0.3, &u);
    near(u, sqrt(0.0005 * 0.0005 + 0.001 * 0.001 / 8), 1e-6, "u of the reach");
    /* one below the noise is not kept, and counts for nothing */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 8, false, ring50, 0.02, &c,
                                     NULL),
              JAW_OK);
    ck_assert_int_eq(c.third.state, JAW_TERM_DROPPED);
    near(c.third.c, 0.004, 1e-12, "as it was tried");
    /* F(2, infinity) at 0.01 is -ln 0.01: chi-square of 2 is exponential */
    near(c.third.limit, -log(0.01), 1e-12, "limit");
    /* sum of the harmonic's squares 8 x 0.005^2 / 2, over 2 x 0.02^2 */
    near(c.third.f, 0.125, 1e-4, "F");
    near(jaw_tip_pretravel(&c, 0.3, &u), 0, 0, "dropped");
}
END_TEST

/* The harmonics by themselves, their slope against differences, and the
 * covariance that later touches get. */
START_TEST(carried)
{
    const double h[4] = {0.02, -0.013, 0.006, 0.004};
    jaw_vec2 p[8];
    jaw_tip_calibration c;
    double slope, cov[15];
    near(jaw_tip_harmonics(h, 0, NULL), 0.026, 1e-16, "cosines");
    near(jaw_tip_harmonics(h, PI / 2, NULL), -0.017, 1e-16, "sines");
    for (double a = -4; a < 4; a += 0.1) {
        jaw_tip_harmonics(h, a, &slope);
        near(slope, (jaw_tip_harmonics(h, a + 1e-5, NULL) -
                     jaw_tip_harmonics(h, a - 1e-5, NULL)) / 2e-5,
             1e-10, "slope");
    }
    for (int i = 0; i < 8; i++) {
        double a = i * PI / 4, r = 22 + 0.001 * (i == 0) - 0.05 * cos(3 * a);
        p[i] = (jaw_vec2){r * cos(a), r * sin(a)};
    }
    jaw_known_size sure = {50, 0.0005};
    ck_status(jaw_tip_calibrate_ring(p, NULL, 8, false, sure, NOT, &c, NULL),
              JAW_OK);
    ck_assert_int_eq(c.third.state, JAW_TERM_KEPT);
    jaw_tip_carry(&c, cov);
    /* Student's t at 95 % with 3 to spare, JCGM 100, Table G.2 */
    double wider = 3.1824463 / 1.9599640;
    near(cov[12], c.cov[12] * wider * wider, 1e-6 * cov[12], "c3");
    near(cov[0], 25e-8 + (c.cov[0] - 25e-8) * wider * wider, 1e-6 * cov[0],
         "diameter");
    ck_assert(sqrt(cov[0]) * 1.9599640 > c.within); /* not too short */
    ck_status(jaw_tip_calibrate_ring(p, NULL, 8, false, sure, 0.002, &c, NULL),
              JAW_OK);
    jaw_tip_carry(&c, cov);
    for (int i = 0; i < 15; i++)
        near(cov[i], c.cov[i], 1e-18, "a repeat that is stated");
    ck_status(jaw_tip_calibrate_ring(p, NULL, 3, false, sure, NOT, &c, NULL),
              JAW_OK);
    jaw_tip_carry(&c, cov);
    ck_assert(isnan(cov[0]));
}
END_TEST

/* Moved, turned, scaled, reordered: the diameter follows or stays. */
START_TEST(ring_moves_with_the_machine)
{
    random_source r = random_start("ring_moves_with_the_machine", 901);
    for (int set = 0; set < 200; set++) {
        jaw_vec2 p[12], q[12], w[12];
        bool turned[12], back[12];
        jaw_tip_calibration c, d;
        double angle = random_between(&r, -3, 3);
        for (int i = 0; i < 12; i++) {
            double a = 2 * PI * i / 12, rho = 20 + 0.01 * random_normal(&r);
            turned[i] = i % 2;
            p[i] = (jaw_vec2){rho * cos(a), rho * sin(a)};
            q[11 - i] = (jaw_vec2){
                300 + rho * cos(a + angle), -200 + rho * sin(a + angle)};
            back[11 - i] = turned[i];
            w[i] = (jaw_vec2){p[i].x * 0.25, p[i].y * 0.25};
        }
        ck_status(jaw_tip_calibrate_ring(p, turned, 12, false, ring50, NOT, &c,
                                         NULL),
                  JAW_OK);
        ck_status(jaw_tip_calibrate_ring(q, back, 12, false, ring50, NOT, &d,
                                         NULL),
                  JAW_OK);
        near(d.diameter, c.diameter, 1e-11, "moved");
        near(d.u_diameter, c.u_diameter, 1e-11, "moved, u");
        near(d.first.f, c.first.f, 1e-6 * (1 + c.first.f), "moved, F");
        ck_status(jaw_tip_calibrate_ring(w, turned, 12, false,
                                         (jaw_known_size){12.5, 0}, NOT, &d,
                                         NULL),
                  JAW_OK);
        near(4 * d.diameter, c.diameter, 1e-11, "scaled");
    }
}
END_TEST

/* -------------------------------------------------------------- derivatives */

/* Central differences: with third derivatives of up to 40 (mm / rad^3) a step
 * of 1e-4 leaves 7e-8, and rounding less. */
static void differentiate(double (*touch)(const void *, const double[], size_t,
                                          double[]),
                          const void *data, const double x[], size_t unknowns,
                          size_t i)
{
    double dg[JAW__MODEL_MAX], other[JAW__MODEL_MAX], y[JAW__MODEL_MAX];
    const double h = 1e-4;
    touch(data, x, i, dg);
    for (size_t k = 0; k < unknowns; k++) {
        memcpy(y, x, sizeof y);
        y[k] = x[k] + h;
        double above = touch(data, y, i, other);
        y[k] = x[k] - h;
        double below = touch(data, y, i, other);
        near(dg[k], (above - below) / (2 * h), 1e-7, "derivative");
    }
}

START_TEST(derivatives_of_a_ring)
{
    random_source r = random_start("derivatives_of_a_ring", 902);
    static const bool turned[] = {false, true};
    for (int set = 0; set < 400; set++) {
        jaw_vec2 p[2];
        double x[JAW__MODEL_MAX];
        jaw__ring ring = {.p = p,
                          .mean = {1, 2},
                          .turned = turned,
                          .outside = set % 2,
                          .terms = (unsigned)set / 2 % 4};
        for (int i = 0; i < 2; i++) {
            double a = random_between(&r, -3, 3);
            p[i] = (jaw_vec2){1 + 20 * cos(a), 2 + 20 * sin(a)};
        }
        for (int k = 0; k < JAW__MODEL_MAX; k++)
            x[k] = random_between(&r, -0.5, 0.5);
        differentiate(jaw__ring_touch, &ring, x,
                      4 + 2 * (ring.terms % 2 + ring.terms / 2),
                      (size_t)set % 2);
    }
}
END_TEST

START_TEST(derivatives_of_a_ball)
{
    random_source r = random_start("derivatives_of_a_ball", 903);
    for (int set = 0; set < 200; set++) {
        jaw_vec3 p = {10 + random_between(&r, -9, 9), random_between(&r, -9, 9),
                      random_between(&r, 3, 20)};
        jaw__ball ball = {.p = &p, .mean = {1, 2, 3}};
        double x[JAW__MODEL_MAX] = {0.1, -0.2, -4, 6, 20};
        differentiate(jaw__ball_touch, &ball, x, 5, 0);
    }
}
END_TEST

START_TEST(derivatives_of_faces)
{
    random_source r = random_start("derivatives_of_faces", 904);
    for (int set = 0; set < 200; set++) {
        jaw_vec2 p[4];
        for (int i = 0; i < 4; i++)
            p[i] = (jaw_vec2){random_between(&r, -20, 20),
                              random_between(&r, -20, 20)};
        jaw_tip_faces pair[2] = {{p, p + 1, 1, 1, {20, 0}},
                                 {p + 2, p + 3, 1, 1, {20, 0}}};
        jaw__faces f = {.pair = pair,
                        .n = 2,
                        .mean = {{1, 2}, {3, 4}},
                        .assumed = {set % 2, set / 2 % 2},
                        .theta = {0.1, 1.6}};
        f.first[1] = f.assumed[0] ? 3 : 4;
        double x[JAW__MODEL_MAX] = {0.1, 3, 20, 0.02, 0.1, 3, 20, 0.02};
        for (size_t i = 0; i < 4; i++)
            differentiate(jaw__faces_touch, &f, x,
                          f.first[1] + (f.assumed[1] ? 3 : 4), i);
    }
}
END_TEST

/* ----------------------------------------------------------------- statuses */

static const struct {
    const char *name;
    size_t n;
    jaw_vec2 p[4];
    jaw_known_size known;
    double repeat;
    jaw_status status;
} wrong[] = {
    {"no touch", 0, {{0, 0}}, {50, 0}, NAN, JAW_EFEW},
    {"two touches", 2, {{22, 0}, {0, 22}}, {50, 0}, NAN, JAW_EFEW},
    {"nan", 4, {{22, 0}, {0, NAN}, {-22, 0}, {0, -22}}, {50, 0}, NAN,
     JAW_ENOTFINITE},
    {"inf", 4, {{22, 0}, {0, 22}, {-INFINITY, 0}, {0, -22}}, {50, 0}, NAN,
     JAW_ENOTFINITE},
    {"size nan", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {NAN, 0}, NAN,
     JAW_ENOTFINITE},
    {"size u inf", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {50, INFINITY},
     NAN, JAW_ENOTFINITE},
    {"size zero", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {0, 0}, NAN,
     JAW_EDOMAIN},
    {"size u negative", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {50, -1e-3},
     NAN, JAW_EDOMAIN},
    {"repeat zero", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {50, 0}, 0,
     JAW_EDOMAIN},
    {"repeat negative", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {50, 0},
     -1e-3, JAW_EDOMAIN},
    {"repeat infinite", 4, {{22, 0}, {0, 22}, {-22, 0}, {0, -22}}, {50, 0},
     INFINITY, JAW_ENOTFINITE},
    {"one line", 4, {{0, 0}, {1, 1}, {2, 2}, {3, 3}}, {50, 0}, NAN, JAW_ERANK},
    {"one place", 4, {{1, 1}, {1, 1}, {1, 1}, {1, 1}}, {50, 0}, NAN, JAW_ERANK},
    {"two places", 4, {{1, 1}, {9, 1}, {1, 1}, {9, 1}}, {50, 0}, NAN,
     JAW_ERANK},
    {"tip larger than the ring", 4, {{26, 0}, {0, 26}, {-26, 0}, {0, -26}},
     {50, 0}, NAN, JAW_ESIZE},
    /* an arc that bends less than it scatters: no circle is best */
    {"no circle", 4, {{0, 0}, {0, 1}, {1, 0}, {1, 1}}, {1.0, 0}, NAN,
     JAW_ESIZE},
    {"three of a line and one", 4, {{-1, 0}, {0, 1e-3}, {1, 0}, {0, -1e-3}},
     {50, 0}, NAN, JAW_ENOCONV},
};

START_TEST(ring_can_fail)
{
    jaw_tip_calibration c;
    double resid[4];
    jaw_status s = jaw_tip_calibrate_ring(wrong[_i].p, NULL, wrong[_i].n, false,
                                          wrong[_i].known, wrong[_i].repeat,
                                          &c, resid);
    ck_assert_msg(s == wrong[_i].status, "%s: %s", wrong[_i].name,
                  jaw_status_text(s));
    calibration_is_nan(&c);
    all_nan(resid, wrong[_i].n, wrong[_i].name);
}
END_TEST

START_TEST(term_words)
{
    ck_assert_pstr_eq(jaw_tip_term_word(JAW_TERM_KEPT), "kept");
    ck_assert_pstr_eq(jaw_tip_term_word(JAW_TERM_INSEPARABLE), "inseparable");
    for (int i = 0; i < JAW_TERM_STATES; i++)
        ck_assert_ptr_nonnull(jaw_tip_term_text((jaw_tip_term_state)i));
    ck_assert_ptr_null(jaw_tip_term_word((jaw_tip_term_state)-1));
    ck_assert_ptr_null(jaw_tip_term_text(JAW_TERM_STATES));
}
END_TEST

/* A short arc says little of the diameter, and it is said. */
START_TEST(short_arc_is_weak)
{
    jaw_vec2 p[6];
    jaw_tip_calibration c;
    for (int i = 0; i < 6; i++)
        p[i] = (jaw_vec2){22 * cos(0.06 * i), 22 * sin(0.06 * i)};
    ck_status(jaw_tip_calibrate_ring(p, NULL, 6, false, ring50, 0.002, &c,
                                     NULL),
              JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_WEAK);
    ck_assert(c.u_diameter > 20 * 0.002);
    ck_assert_int_eq(c.third.state, JAW_TERM_NOT_SEEN);
}
END_TEST

TCase *ring_case(void)
{
    TCase *tc = tcase_create("ring");
    tcase_add_test(tc, ring_by_hand);
    tcase_add_test(tc, plug_by_hand);
    tcase_add_test(tc, uncertainty_by_hand);
    tcase_add_test(tc, three_touches_are_no_check);
    tcase_add_test(tc, runout_by_hand);
    tcase_add_test(tc, runout_on_a_plug);
    tcase_add_test(tc, third_harmonic_by_hand);
    tcase_add_test(tc, ring_moves_with_the_machine);
    tcase_add_test(tc, derivatives_of_a_ring);
    tcase_add_test(tc, derivatives_of_a_ball);
    tcase_add_test(tc, derivatives_of_faces);
    tcase_add_loop_test(tc, ring_can_fail, 0, COUNT(wrong));
    tcase_add_test(tc, term_words);
    tcase_add_test(tc, short_arc_is_weak);
    tcase_add_test(tc, carried);
    return tc;
}
