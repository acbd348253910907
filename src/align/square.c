/* SPDX-License-Identifier: GPL-3.0-or-later */
/* square.c: the squareness of two axes, and of a square, by reversal (Evans,
 * Hocken & Estler, CIRP Annals 45/2 (1996) 617-634).
 *
 * All angles ccw from the first axis; the second axis stands at 90 + m, the
 * square's arms include 90 + s.  First position, both arms pointing to plus:
 * the first arm at b, the second at b + 90 + s, so it is swept with the skew
 * a = b + s - m.  Turned over, the first arm points to 180 + b and the second,
 * now clockwise of it, to 180 + b - 90 - s: a = b - s - m. */
#include "align.h"

#include <math.h>

/* The parts whose uncertainty goes in: one or two walls, twice. */
typedef struct parts {
    size_t n;
    double lean[2]; /* of the second arm against the first */
    double u[4], dof[4];
    unsigned flags;
} parts;

static jaw_status give_up(jaw_status status, jaw_reversed_square *found)
{
    const double none = JAW__ALIGN_NAN;
    const jaw_figure nothing = jaw_figure_make(none, none, none);

    *found = (jaw_reversed_square){.machine = nothing, .square = nothing,
                                   .over = none};
    return status;
}

static void add(parts *p, const jaw_swept_wall *wall)
{
    p->u[p->n] = wall->skew.u;
    p->dof[p->n] = wall->skew.dof;
    p->flags |= wall->flags;
    p->n++;
}

static parts gather(const jaw_swept_wall arm[2], const jaw_swept_wall base[2])
{
    parts p = {.flags = base ? 0 : JAW_DIRECTION_ASSUMED};

    for (int k = 0; k < 2; k++) {
        p.lean[k] = arm[k].skew.value - (base ? base[k].skew.value : 0);
        add(&p, &arm[k]);
        if (base)
            add(&p, &base[k]);
    }
    return p;
}

/* Half a sum and half a difference share one uncertainty: half of all parts
 * together (JCGM 100, 5.1.2; dof by G.4.1). */
static double combined(const parts *p, double *dof)
{
    double sum = 0, least = INFINITY;

    for (size_t k = 0; k < p->n; k++) {
        sum = hypot(sum, p->u[k]);
        least = fmin(least, p->dof[k]);
    }
    *dof = sum > 0 ? jaw_trust_effective_dof(p->u, p->dof, p->n) : least;
    return sum / 2;
}

jaw_status jaw_align_square(const jaw_swept_wall arm[2],
                            const jaw_swept_wall base[2], double length,
                            jaw_reversed_square *found)
{
    const parts p = gather(arm, base);
    jaw_status status = jaw__repeat_check(length);
    double dof, u = combined(&p, &dof);

    if (status != JAW_OK)
        return give_up(status, found);
    if (!isfinite(p.lean[0]) || !isfinite(p.lean[1]))
        return give_up(JAW_ENOTFINITE, found);
    *found = (jaw_reversed_square){.flags = p.flags};
    found->machine = jaw_figure_make(-(p.lean[0] + p.lean[1]) / 2, u, dof);
    found->square = jaw_figure_make((p.lean[0] - p.lean[1]) / 2, u, dof);
    found->over = length * tan(found->machine.value);
    return JAW_OK;
}
