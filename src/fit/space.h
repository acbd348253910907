/* SPDX-License-Identifier: GPL-3.0-or-later */
/* space.h: touches in space as a whole, and seen from a near point along three
 * axes.  Shared by the fits of spheres and cylinders; not public. */
#ifndef JAW_FIT_SPACE_H
#define JAW_FIT_SPACE_H

#include <jawline/fit.h>

#include "exact.h"
#include "view.h"

/* Loops over a few columns: unrolled, their numbers stay in registers. */
#if defined(__GNUC__) && !defined(__clang__)
#define JAW__UNROLL _Pragma("GCC unroll 16")
#elif defined(__clang__)
#define JAW__UNROLL _Pragma("clang loop unroll(full)")
#else
#define JAW__UNROLL
#endif

typedef struct jaw__space {
    const jaw_vec3 *p;
    size_t n;
    double unit;  /* coordinates are multiplied by this */
    double noise; /* what rounding does to a singular value, in units */
    jaw_vec3 m;   /* mean of the touches, rounded, in units */
} jaw__space;

/* Means of products of the coordinates from m, pairs in the order
 * xx xy xz yy yz zz. */
typedef struct jaw__bulk {
    double two[6];
    double three[3][6]; /* x, y, z times a pair */
    double four[6][6];  /* a pair times a pair */
    double axis[3][3];  /* rows: principal axes, greatest extent first */
    double extent[3];   /* mean squares along them */
    double reach;       /* root mean square distance from m */
} jaw__bulk;

/* jaw__space_make: JAW_OK, JAW_ENOTFINITE. */
jaw_status jaw__space_make(jaw__space *space, const jaw_vec3 p[], size_t n);
void jaw__bulk_make(const jaw__space *space, jaw__bulk *bulk);

/* jaw__space_is_flat: all in one plane, line or place. */
bool jaw__space_is_flat(const jaw__space *space, const jaw__bulk *bulk);

static inline double jaw__dot3(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static inline void jaw__cross(const double a[3], const double b[3],
                              double c[3])
{
    c[0] = a[1] * b[2] - a[2] * b[1];
    c[1] = a[2] * b[0] - a[0] * b[2];
    c[2] = a[0] * b[1] - a[1] * b[0];
}

static inline void jaw__normalise(double a[3])
{
    const double by = 1 / sqrt(jaw__dot3(a, a));

    for (int i = 0; i < 3; i++)
        a[i] *= by;
}

/* jaw__pairs: a b^T as a pair's product takes it: sum over i, j of a_i b_j x_i
 * x_j = pairs . (xx xy xz yy yz zz). */
static inline void jaw__pairs(const double a[3], const double b[3],
                              double pairs[6])
{
    pairs[0] = a[0] * b[0];
    pairs[1] = a[0] * b[1] + a[1] * b[0];
    pairs[2] = a[0] * b[2] + a[2] * b[0];
    pairs[3] = a[1] * b[1];
    pairs[4] = a[1] * b[2] + a[2] * b[1];
    pairs[5] = a[2] * b[2];
}

enum { JAW__SOLVE_MOST = 6 };

/* jaw__solve: m x = y for y in x, of n unknowns: m, symmetric, of which the
 * lower triangle counts, taken apart in place as L D L^T.  False when it is not
 * positive: pivots must be more than `least`.  Columns need not be brought to
 * one length first: that would change all that comes of them by the same
 * factors, and no digit but the last.  An n that the compiler knows unrolls the
 * loops. */
LANES_FN bool jaw__solve(int n, double m[JAW__SOLVE_MOST][JAW__SOLVE_MOST],
                         const double least[], double x[])
{
    JAW__UNROLL
    for (int i = 0; i < n; i++) {
        if (!(m[i][i] > least[i]))
            return false;
        const double by = 1 / m[i][i];
        JAW__UNROLL
        for (int k = n - 1; k > i; k--) {
            const double share = m[k][i] * by;
            JAW__UNROLL
            for (int l = i + 1; l <= k; l++)
                m[k][l] -= share * m[l][i];
            x[k] -= share * x[i];
            m[k][i] = share;
        }
        x[i] *= by;
    }
    JAW__UNROLL
    for (int i = n - 2; i >= 0; i--)
        JAW__UNROLL
        for (int k = i + 1; k < n; k++)
            x[i] -= m[k][i] * x[k];
    return true;
}

/* From where and along what to look.  m + foot = o + what a double has not
 * room for; that part is seen along the axes too. */
typedef struct jaw__seat {
    double o[3], axis[3][3], low[3];
} jaw__seat;

static inline jaw__seat jaw__seat_make(const jaw__space *space,
                                       const double foot[3],
                                       const double axis[3][3])
{
    const double m[3] = {space->m.x, space->m.y, space->m.z};
    double low[3];
    jaw__seat seat;

    for (int i = 0; i < 3; i++) {
        seat.o[i] = jaw__differ(m[i], -foot[i], &low[i]);
        for (int k = 0; k < 3; k++)
            seat.axis[i][k] = axis[i][k];
    }
    for (int i = 0; i < 3; i++)
        seat.low[i] = jaw__dot3(axis[i], low);
    return seat;
}

LANES_FN void jaw__load(const jaw_vec3 *p, size_t count, lanes d[3])
{
    jaw_vec3 q[JAW__LANES];

    if (count >= JAW__LANES) {
        lanes_load_solid(p, 1, &d[0], &d[1], &d[2]);
        return;
    }
    for (size_t i = 0; i < JAW__LANES; i++)
        q[i] = p[i < count ? i : 0];
    lanes_load_solid(q, 1, &d[0], &d[1], &d[2]);
}

/* Touches p[0 .. count): t along axis[0], u along axis[1], v along axis[2].  v
 * is right to its own last digits (see view.h). */
LANES_FN void jaw__look_space(const jaw__space *space, const jaw__seat *seat,
                              const jaw_vec3 *p, size_t count, lanes *t,
                              lanes *u, lanes *v)
{
    const lanes k = lanes_all(space->unit);
    lanes d[3], low, e, rest, sum;

    jaw__load(p, count, d);
    *t = lanes_all(-seat->low[0]);
    *u = lanes_all(-seat->low[1]);
    rest = lanes_all(-seat->low[2]);
    sum = lanes_all(0);
    JAW__UNROLL
    for (int i = 0; i < 3; i++) {
        const lanes normal = lanes_all(seat->axis[2][i]);
        d[i] = lanes_differ(d[i] * k, lanes_all(seat->o[i]), &low);
        *t = lanes_add(*t, lanes_all(seat->axis[0][i]), d[i]);
        *u = lanes_add(*u, lanes_all(seat->axis[1][i]), d[i]);
        lanes part = lanes_product(normal, d[i], &e);
        rest += e;
        sum = i ? lanes_differ(sum, -part, &e) : part;
        rest = i ? rest + e : rest;
        rest = lanes_add(rest, normal, low);
    }
    *v = sum + rest;
}

#endif
