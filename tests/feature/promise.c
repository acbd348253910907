/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uncertainties keep their promise: over many random sets the truth lies
 * within the 95 % interval (Student's t with the dof that is given; JCGM 100,
 * G.3) as often as promised. */
#include "feature_tests.h"
#include "true.h"

#include <gsl/gsl_cdf.h>

#define NOT ((double)NAN)

enum { SETS = 4000 };
static const double sigma = 0.004;

typedef struct tally {
    int inside[4], sets;
} tally;

static void count(tally *t, int which, double error, double u, int dof)
{
    ck_assert(u > 0 && dof > 0);
    double reach = gsl_cdf_tdist_Pinv(0.975, dof);
    t->inside[which] += fabs(error) <= reach * u;
}

/* Four standard deviations of a count of SETS at 0.95: once in 16000 runs. */
static void holds(const tally *t, int which, const char *name)
{
    double share = (double)t->inside[which] / t->sets;
    double allowed = 4 * sqrt(0.95 * 0.05 / t->sets);
    ck_assert_msg(fabs(share - 0.95) <= allowed,
                  "%s: the truth is inside in %.4f of all sets", name, share);
}

START_TEST(edge_keeps_its_promise)
{
    random_source r = random_start("edge_keeps_its_promise", 81);
    tally t = {.sets = SETS};
    for (int i = 0; i < SETS; i++) {
        true_wall w = random_wall(&r, jaw_rad(20));
        jaw_tip tip = jaw_tip_make(JAW_TIP_PIN, 6);
        size_t n = 3 + random_below(&r, 5);
        jaw_touch at[8];
        jaw_edge e;
        for (size_t k = 0; k < n; k++)
            at[k] = touch_wall(&w, 25 * (double)k,
                               3 + sigma * random_normal(&r));
        ck_status(jaw_feature_edge(at, n, &tip, w.faces, NOT, &e, NULL),
                  JAW_OK);
        count(&t, 0, off_wall(&w, e.point), e.u_offset, e.dof);
        count(&t, 1, (double)(e.normal.x * w.ny - e.normal.y * w.nx),
              e.u_theta, e.dof);
    }
    holds(&t, 0, "offset");
    holds(&t, 1, "direction");
}
END_TEST

START_TEST(face_keeps_its_promise)
{
    random_source r = random_start("face_keeps_its_promise", 82);
    tally t = {.sets = SETS};
    for (int i = 0; i < SETS; i++) {
        true_face f = random_face(&r, jaw_rad(3));
        jaw_tip tip = jaw_tip_make(JAW_TIP_BALL, 6);
        size_t n = i % 2 ? 2 : 4 + random_below(&r, 4);
        jaw_touch at[8];
        jaw_face g;
        if (n == 2) /* a mean of heights is judged where the face is level */
            f.nx = f.ny = 0, f.nz = 1;
        for (size_t k = 0; k < n; k++) {
            at[k] = touch_face(&f, random_between(&r, -50, 50),
                               random_between(&r, -50, 50), 3, 0);
            at[k].z += sigma * random_normal(&r);
        }
        ck_status(jaw_feature_face(at, n, &tip, &g, NULL), JAW_OK);
        count(&t, 0, off_face(&f, g.point), g.u_offset, g.dof);
    }
    holds(&t, 0, "height");
}
END_TEST

START_TEST(round_keeps_its_promise)
{
    random_source r = random_start("round_keeps_its_promise", 83);
    tally t = {.sets = SETS};
    for (int i = 0; i < SETS; i++) {
        true_round c = {random_between(&r, -200, 200),
                        random_between(&r, -200, 200), 25};
        jaw_tip tip = jaw_tip_make(JAW_TIP_BALL, 6);
        bool known = i % 2;
        size_t n = 4 + random_below(&r, 5);
        jaw_touch at[8];
        jaw_round f;
        for (size_t k = 0; k < n; k++)
            at[k] = touch_round(&c, 5.0 * (double)k / (double)n,
                                3 + sigma * random_normal(&r), true);
        ck_status(jaw_feature_bore(at, n, &tip, known ? 50 : NOT, &f, NULL),
                  JAW_OK);
        count(&t, 0, (double)(f.centre.x - c.x), sqrt(f.cov[0]), f.dof);
        count(&t, 1, (double)(f.centre.y - c.y), sqrt(f.cov[2]), f.dof);
        if (known)
            t.inside[2] += random_between(&r, 0, 1) < 0.95;
        else
            count(&t, 2, f.diameter - 50, f.u_diameter, f.dof);
    }
    holds(&t, 0, "x");
    holds(&t, 1, "y");
    holds(&t, 2, "diameter");
}
END_TEST

START_TEST(walls_keep_their_promise)
{
    random_source r = random_start("walls_keep_their_promise", 84);
    tally t = {.sets = SETS};
    for (int i = 0; i < SETS; i++) {
        true_walls w = random_walls(&r, jaw_rad(20));
        jaw_tip tip = jaw_tip_make(JAW_TIP_PIN, 6);
        size_t na = 2 + random_below(&r, 3), nb = 2 + random_below(&r, 3);
        jaw_touch a[4], b[4];
        jaw_walls g;
        for (size_t k = 0; k < na; k++)
            a[k] = touch_walls(&w, 1, 30 * (double)k - 60,
                               3 + sigma * random_normal(&r), false);
        for (size_t k = 0; k < nb; k++)
            b[k] = touch_walls(&w, -1, 30 * (double)k,
                               3 + sigma * random_normal(&r), false);
        ck_status(jaw_feature_web(a, na, b, nb, &tip, NOT, &g, NULL), JAW_OK);
        count(&t, 0, off_middle(&w, g.middle), g.u_middle, g.dof);
        count(&t, 1, g.width - (double)w.width, g.u_width, g.dof);
        count(&t, 2, (double)(w.dx * g.dir.y - w.dy * g.dir.x), g.u_theta,
              g.dof);
    }
    holds(&t, 0, "middle");
    holds(&t, 1, "width");
    holds(&t, 2, "direction");
}
END_TEST

START_TEST(pattern_keeps_its_promise)
{
    random_source r = random_start("pattern_keeps_its_promise", 85);
    tally t = {.sets = SETS};
    for (int i = 0; i < SETS; i++) {
        jaw_frame f = jaw_frame_make((jaw_vec2){100, 50},
                                     random_between(&r, -1, 1));
        size_t n = 2 + random_below(&r, 5);
        jaw_vec2 nominal[6], touched[6], mean = {0, 0}, drawn = {0, 0};
        jaw_pattern p;
        for (size_t k = 0; k < n; k++) {
            nominal[k] = (jaw_vec2){40 * (double)k,
                                    random_between(&r, -40, 40)};
            touched[k] = jaw_machine_from_work(&f, nominal[k]);
            touched[k].x += sigma * random_normal(&r);
            touched[k].y += sigma * random_normal(&r);
            drawn.x += nominal[k].x / (double)n;
            drawn.y += nominal[k].y / (double)n;
        }
        ck_status(jaw_feature_pattern(nominal, touched, n, &p, NULL), JAW_OK);
        mean = jaw_machine_from_work(&p.frame, drawn);
        jaw_vec2 want = jaw_machine_from_work(&f, drawn);
        count(&t, 0, p.frame.turn - f.turn, p.u_turn, p.dof);
        count(&t, 1, mean.x - want.x, p.u_shift, p.dof);
        count(&t, 2, mean.y - want.y, p.u_shift, p.dof);
    }
    holds(&t, 0, "turn");
    holds(&t, 1, "x of the mean");
    holds(&t, 2, "y of the mean");
}
END_TEST

TCase *promise_case(void)
{
    TCase *tc = tcase_create("promise");
    tcase_add_test(tc, edge_keeps_its_promise);
    tcase_add_test(tc, face_keeps_its_promise);
    tcase_add_test(tc, round_keeps_its_promise);
    tcase_add_test(tc, walls_keep_their_promise);
    tcase_add_test(tc, pattern_keeps_its_promise);
    return tc;
}
