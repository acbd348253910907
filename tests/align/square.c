/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A square, reversed, on axes that are not square. */
#include "align_tests.h"

static const double at[] = {0, 30, 60, 90};

/* A machine whose Y axis stands at 90 degrees + m from its X axis; a place is
 * x X + y Y.  A square lies on it: its arms in the directions first and second
 * (rad, ccw from X), both through the corner. */
typedef struct machine {
    jaw_vec2 x, y;
} machine;

static jaw_vec2 on(const machine *m, double x, double y)
{
    return (jaw_vec2){x * m->x.x + y * m->y.x, x * m->x.y + y * m->y.y};
}

/* Sweeps a wall that faces + along the first axis (along_y false: along X, the
 * plunger pointing down Y) or + along X (along_y). */
static jaw_swept_wall sweep(const machine *m, double direction, bool along_y)
{
    world_wall w = {{0, 0}, direction};
    double reading[4];
    jaw_swept_wall s;
    for (int i = 0; i < 4; i++) {
        jaw_vec2 body = along_y ? on(m, 100, at[i]) : on(m, at[i], 100);
        jaw_vec2 way = along_y ? (jaw_vec2){-m->x.x, -m->x.y}
                               : (jaw_vec2){-m->y.x, -m->y.y};
        reading[i] = world_indicator(&w, body, way);
    }
    ck_status(jaw_align_wall(at, reading, 4, along_y ? JAW_SIDE_XPLUS
                                                     : JAW_SIDE_YPLUS,
                             0.001, &s, NULL), JAW_OK, "sweep");
    return s;
}

/* turned over about its second arm (the first then points to minus) or about
 * its first */
START_TEST(square_of_the_world)
{
    random_source r = random_start("square_of_the_world", 91 + (uint64_t)_i);
    for (int k = 0; k < 500; k++) {
        double m = random_between(&r, -0.01, 0.01);
        double s = random_between(&r, -0.01, 0.01);
        double lay = random_between(&r, -0.01, 0.01);
        double lay2 = random_between(&r, -0.01, 0.01);
        machine w = {{1, 0}, {-sin(m), cos(m)}};
        jaw_swept_wall arm[2], base[2];
        jaw_reversed_square f;
        base[0] = sweep(&w, lay, false);
        arm[0] = sweep(&w, lay + PI / 2 + s, true);
        /* a square that lies on its other face is its own mirror image */
        double first = _i ? lay2 : PI + lay2;
        double second = _i ? lay2 - (PI / 2 + s) : PI + lay2 - (PI / 2 + s);
        base[1] = sweep(&w, first, false);
        arm[1] = sweep(&w, second, true);
        ck_status(jaw_align_square(arm, base, 200, &f), JAW_OK, "square");
        near(f.machine.value, m, 5e-6, "machine");
        near(f.square.value, s, 5e-6, "square");
        /* how far the Y axis has gone to X- over 200 mm of it across */
        near(f.over, 200 * -w.y.x / w.y.y, 1e-3, "over");
        ck_assert_uint_eq(f.flags, 0);
        /* changed round */
        jaw_swept_wall a[2] = {arm[1], arm[0]}, b[2] = {base[1], base[0]};
        jaw_reversed_square g;
        ck_status(jaw_align_square(a, b, NOT, &g), JAW_OK, "changed round");
        near(g.machine.value, f.machine.value, 1e-16, "machine");
        near(g.square.value, -f.square.value, 1e-16, "square");
        ck_assert(isnan(g.over));
    }
}
END_TEST

/* The first arm laid true: the base need not be swept, and this is said. */
START_TEST(square_laid_true)
{
    double m = 0.0003, s = -0.0001;
    machine w = {{1, 0}, {-sin(m), cos(m)}};
    jaw_swept_wall arm[2] = {sweep(&w, PI / 2 + s, true),
                             sweep(&w, PI / 2 - s, true)};
    jaw_reversed_square f;
    ck_status(jaw_align_square(arm, NULL, 100, &f), JAW_OK, "true");
    near(f.machine.value, m, 1e-10, "machine");
    near(f.square.value, s, 1e-10, "square");
    ck_assert_uint_eq(f.flags, JAW_DIRECTION_ASSUMED);
    near(f.machine.u, arm[0].skew.u / sqrt(2), 1e-12, "two of it, halved");
    near(f.square.u, f.machine.u, 0, "the same");
    ck_assert(isinf(f.machine.dof));
}
END_TEST

/* A blade on the table and the quill moved along Z, seen from Y-: X to the
 * right, Z up, so Z takes the place of Y. */
START_TEST(square_of_a_column)
{
    double m = -0.0004, s = 0.0002; /* Z leans to X+: less than 90 degrees */
    machine w = {{1, 0}, {-sin(m), cos(m)}};
    jaw_swept_wall arm[2] = {sweep(&w, PI / 2 + s, true),
                             sweep(&w, PI / 2 - s, true)};
    jaw_reversed_square f;
    ck_status(jaw_align_square(arm, NULL, 300, &f), JAW_OK, "column");
    ck_assert(w.y.x > 0);
    near(f.over, -300 * w.y.x / w.y.y, 1e-6, "towards X+ is negative");
}
END_TEST

/* JCGM 100, G.4.1: four equal parts of dof each have 4 dof together; all stated
 * have infinitely many. */
START_TEST(square_uncertainty)
{
    jaw_swept_wall arm[2] = {{.skew = {0, 3e-6, 4, 1}},
                             {.skew = {0, 3e-6, 4, 1}}};
    jaw_swept_wall base[2] = {{.skew = {0, 3e-6, 4, 1}},
                              {.skew = {0, 3e-6, 4, 1}}};
    jaw_reversed_square f;
    ck_status(jaw_align_square(arm, base, NOT, &f), JAW_OK, "alike");
    near(f.machine.u, 3e-6, 1e-20, "half of twice");
    near(f.machine.dof, 16, 1e-12, "dof");
    near(f.machine.half95 / f.machine.u, 2.12, 0.5e-2, "t of 16 (Table G.2)");
    for (int k = 0; k < 2; k++)
        arm[k].skew.u = base[k].skew.u = 0;
    ck_status(jaw_align_square(arm, base, NOT, &f), JAW_OK, "exact");
    near(f.machine.u, 0, 0, "u");
    near(f.machine.half95, 0, 0, "half95");
    near(f.machine.dof, 4, 0, "dof");
    arm[1].skew.u = NOT;
    arm[1].flags = JAW_NO_CHECK;
    base[0].flags = JAW_STEEP;
    ck_status(jaw_align_square(arm, base, NOT, &f), JAW_OK, "one not known");
    all_nan((double[]){f.machine.u, f.machine.half95, f.square.u}, 3, "u");
    near(f.machine.value, 0, 0, "value");
    ck_assert_uint_eq(f.flags, JAW_NO_CHECK | JAW_STEEP);
}
END_TEST

START_TEST(square_status)
{
    static const double length[] = {0, -1, FAR, 100, 100};
    static const jaw_status want[] = {JAW_EDOMAIN, JAW_EDOMAIN, JAW_ENOTFINITE,
                                      JAW_ENOTFINITE, JAW_ENOTFINITE};
    jaw_swept_wall good = {.skew = {0.001, 1e-6, 3, 3e-6}}, failed;
    jaw_swept_wall arm[2] = {good, good}, base[2] = {good, good};
    jaw_reversed_square f;
    ck_status(jaw_align_wall(at, at, 1, JAW_SIDE_YPLUS, NOT, &failed, NULL),
              JAW_EFEW, "a wall that failed");
    if (_i == 3)
        arm[1] = failed;
    if (_i == 4)
        base[0] = failed;
    ck_status(jaw_align_square(arm, base, length[_i], &f), want[_i], "square");
    figure_is_nan(f.machine, "machine");
    figure_is_nan(f.square, "square");
    ck_assert(isnan(f.over));
    ck_assert_uint_eq(f.flags, 0);
}
END_TEST

TCase *square_case(void)
{
    TCase *tc = tcase_create("square");
    tcase_add_loop_test(tc, square_of_the_world, 0, 2);
    tcase_add_test(tc, square_laid_true);
    tcase_add_test(tc, square_of_a_column);
    tcase_add_test(tc, square_uncertainty);
    tcase_add_loop_test(tc, square_status, 0, 5);
    return tc;
}
