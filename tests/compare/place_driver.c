/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place_driver.c: solves the datums, rotary tables and stations that arrive on
 * standard input, one a line, and prints what came out, one a line;
 * place_compare.py writes the one and reads the other.
 *
 *     datum N1 N2 N3 DIAMETER REPEAT1 REPEAT2 REPEAT3 FACES2 FACES3 x y z ...
 *     rotary N SENSE REPEAT angle x y ...
 *     stations N TURN U USE_TOUCHED nominal(3) touched(3) u_xy u_z known ...
 *
 * FACES as numbers of jaw_side, NaN as nan.  Numbers are printed with 17
 * digits, the status first. */
#include <jawline/datum.h>
#include <jawline/place.h>
#include <jawline/rotary.h>

#include "driver.h"

#include <math.h>
#include <string.h>

enum { MOST = 256 };

static void do_datum(void)
{
    static jaw_touch t[3][MOST];
    static double resid[3 * MOST];
    size_t n[3] = {count(MOST), count(MOST), count(MOST)};
    jaw_tip tip = jaw_tip_make(JAW_TIP_BALL, number());
    jaw_datum d[3];
    jaw_attitude a;

    for (int k = 0; k < 3; k++)
        d[k] = (jaw_datum){t[k], n[k], &tip, JAW_SIDE_NONE, number()};
    d[1].faces = (jaw_side)number();
    d[2].faces = (jaw_side)number();
    for (int k = 0; k < 3; k++)
        for (size_t i = 0; i < n[k]; i++) {
            t[k][i].x = number();
            t[k][i].y = number();
            t[k][i].z = number();
        }
    printf("%d", (int)jaw_datum_find(&d[0], &d[1], &d[2], &a, resid));
    give(&a.turn[0][0], 9);
    give(&a.origin.x, 3);
    give(a.cov, 21);
    give(resid, n[0] + n[1] + n[2]);
    putchar('\n');
}

static void do_rotary(void)
{
    static double angle[MOST];
    static jaw_vec2 p[MOST], resid[MOST];
    size_t n = count(MOST);
    jaw_sense sense = (jaw_sense)(int)number();
    double repeat = number();
    jaw_rotary t;

    for (size_t i = 0; i < n; i++) {
        angle[i] = number();
        p[i].x = number();
        p[i].y = number();
    }
    printf("%d", (int)jaw_rotary_centre(angle, p, n, sense, repeat, &t, resid));
    printf(" %d", (int)t.sense);
    give(&t.centre.x, 2);
    give(&t.arm.x, 2);
    give(t.cov, 3);
    give(&t.rms, 1);
    give(&t.other_rms, 1);
    give(&resid[0].x, 2 * n);
    putchar('\n');
}

static void give_figure(jaw_figure f)
{
    printf(" %.17g %.17g", f.value, f.u);
}

static void do_stations(void)
{
    static jaw_station s[MOST];
    static jaw_station_found found[MOST];
    size_t n = count(MOST);
    double turn = number(), u = number(), rms;
    bool use = number() != 0;
    jaw_figure given = jaw_figure_make(turn, u, (double)INFINITY), turn_found;
    int dof;
    unsigned flags;

    for (size_t i = 0; i < n; i++) {
        double *const v[9] = {&s[i].nominal.x, &s[i].nominal.y,
                              &s[i].nominal.z, &s[i].touched.x,
                              &s[i].touched.y, &s[i].touched.z,
                              &s[i].u_xy,      &s[i].u_z,
                              &s[i].known};
        for (int k = 0; k < 9; k++)
            *v[k] = number();
    }
    printf("%d", (int)jaw_place_stations(s, n, given, use, found, &turn_found,
                                         &rms, &dof, &flags));
    give_figure(turn_found);
    printf(" %.17g %d", rms, dof);
    for (size_t i = 0; i < n; i++) {
        for (int k = 0; k < 3; k++)
            give_figure(found[i].axis[k]);
        give(&found[i].off.x, 3);
        give(&found[i].off_u.x, 3);
    }
    putchar('\n');
}

int main(void)
{
    char what[16];

    while (scanf("%15s", what) == 1) {
        if (strcmp(what, "datum") == 0)
            do_datum();
        else if (strcmp(what, "rotary") == 0)
            do_rotary();
        else if (strcmp(what, "stations") == 0)
            do_stations();
        else
            fail("datum, rotary or stations is wanted");
    }
    return EXIT_SUCCESS;
}
