/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place.h: shared inside src/place: how a plate lies, in the plane and in
 * height, as its touched stations but one say. */
#ifndef JAW__PLACE_H
#define JAW__PLACE_H

#include <jawline/place.h>

/* Touched stations as the fits want them: in the plane, and in height. */
typedef struct jaw__touched {
    jaw_vec2 *from, *to; /* nominal and touched */
    double *weight;      /* 1 / variance; 1 when u is not known */
    size_t n;
    bool spread_known;
    size_t n_z;
    double *rise;        /* touched z less nominal z */
    double *weight_z;
    bool z_spread_known;
} jaw__touched;

/* The plate in the plane: place = at + R (nominal - about).  q are cofactors
 * (variances when the spread is known, times s^2 when not). */
typedef struct jaw__lie {
    jaw_vec2 about, at;
    double turn, c, s;
    double q_turn, u_turn_given, q_shift;
    double ssr; /* weighted, with that of a given turn */
    double scale2; /* 1, or the variance that the residuals show; NaN */
    double dof_of; /* INFINITY, or of scale2 */
    int dof;
} jaw__lie;

/* jaw__lie_find: from all touched places.
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK */
jaw_status jaw__lie_find(const jaw__touched *t, jaw_figure turn,
                         jaw__lie *lie);
jaw_vec2 jaw__lie_at(const jaw__lie *lie, jaw_vec2 nominal);
/* jaw__lie_var: of that place, x and y: what the touches leave unknown (dof_of)
 * and what a turn that is kept brings along (known). */
void jaw__lie_var(const jaw__lie *lie, jaw_vec2 nominal, double touches[2],
                  double given[2]);

/* The plate in height: place = rise + nominal z. */
typedef struct jaw__rise {
    double rise, q, ssr, scale2, dof_of;
    int dof;
} jaw__rise;

/* jaw__rise_find: false when none was touched: all is NaN then. */
bool jaw__rise_find(const jaw__touched *t, jaw__rise *rise);

/* jaw__too_much: more than known spreads leave of a weighted sum of squares. */
bool jaw__too_much(double ssr, int dof);

/* walls.c: marks in the plane of which some are walls. */
typedef struct jaw__walls {
    jaw_vec2 about;     /* before: there shift and turn are independent */
    jaw_vec2 shift;     /* as small as the walls leave it */
    double by[2], q[2]; /* along each axis, and variance; NaN: not shown */
    double turn, q_turn;
    bool turns;         /* a turn is shown; else it is 0 */
    double chi2;        /* of shift and turn, over `found` unknowns */
    double ssr;
    int found, dof;
} jaw__walls;

/* jaw__walls_find: marks that have x and y; JAW_OK, JAW_ERANK.
 * jaw__walls_off: after less where it was carried. */
jaw_status jaw__walls_find(const jaw_mark mark[], size_t n, jaw__walls *w);
jaw_vec2 jaw__walls_off(const jaw__walls *w, const jaw_mark *mark);

/* jaw__figure_of: a value whose uncertainty has a share of some degrees of
 * freedom and one that is known. */
jaw_figure jaw__figure_of(double value, double variance, double dof,
                          double known_variance);

#endif
