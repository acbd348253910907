/* SPDX-License-Identifier: GPL-3.0-or-later */
/* robust.h: a search for several bad touches, and what differs between
 * features; shared by robust.c (the search; plane geometry) and robust_solid.c
 * (what has no formula for the feature through few touches). */
#ifndef JAW__ROBUST_H
#define JAW__ROBUST_H

#include <jawline/trust.h>

enum { JAW__NEED_MOST = 5, JAW__SHAPE_MOST = 6 };

typedef struct jaw__robust jaw__robust;

typedef struct jaw__robust_kind {
    size_t size; /* of a touch */
    size_t need; /* touches that make one; as many unknowns */
    bool (*through)(const jaw__robust *w, const size_t pick[], double shape[]);
    double (*off)(const jaw__robust *w, size_t i, const double shape[]);
    jaw_status (*fit)(jaw__robust *w, const void *p, size_t n);
    double (*lever)(const jaw__robust *w, const void *p, size_t i,
                    double *resid);
} jaw__robust_kind;

typedef union jaw__robust_fit {
    jaw_circle circle;
    jaw_line line;
    jaw_plane plane;
    jaw_sphere sphere;
    jaw_cylinder cylinder;
    jaw_sweep sweep;
} jaw__robust_fit;

struct jaw__robust {
    const jaw__robust_kind *kind;
    const void *p;
    size_t n, h;
    double sigma;     /* stated; 0: not known */
    double known;     /* radius of a sphere or cylinder; 0: to be found */
    double *off;      /* 2 n: residuals of one set; then for a fit to use */
    double *far;      /* n: from the start */
    size_t *order;    /* n: touches, nearest first */
    void *some;       /* n touches */
    jaw__robust_fit fit, whole; /* of some; of all, where a kind needs it */
    double ssr;
};

/* jaw__robust_run: kind, p, n, sigma, and what the kind needs, are set; status
 * is that of the whole, and of all when it is not JAW_OK.
 * Status as jaw_robust_circle; on failure fit is not to be believed. */
jaw_status jaw__robust_run(jaw__robust *w, bool suspect[], jaw_robust *out,
                           jaw_status status);

#endif
