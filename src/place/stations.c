/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stations.c: where every station is, touched or not, and how far each touched
 * one lies off what the others say of it.
 *
 * A station really stands at P = fit + k, touched at P + e, with k and e of
 * standard deviation `known` and u.  Of touched less fit = k + e the share
 * known^2 / (known^2 + u^2) is most likely k, so that much of it is added to
 * the fit; what is then left to be unsure of has variance
 *     (1 - share)^2 var(fit) + share u^2
 * (Henderson, Biometrics 31 (1975) 423-447). */
#include "place.h"

#include <jawline/feature.h>

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#define NO_NUMBER ((double)NAN)
#define ENDLESS ((double)INFINITY)

typedef struct plate {
    const jaw_station *station;
    size_t n;
    jaw_figure turn;
    bool use_touched;
    jaw__touched all, but_one; /* they share their arrays: filled in turn */
    jaw__lie lie;
    jaw__rise rise;
} plate;

static bool has_xy(const jaw_station *s)
{
    return !isnan(s->touched.x);
}

static bool has_z(const jaw_station *s)
{
    return !isnan(s->touched.z);
}

/* ------------------------------------------------------------------- given */

static jaw_status check_station(const jaw_station *s)
{
    if (!isfinite(s->nominal.x) || !isfinite(s->nominal.y) ||
        !isfinite(s->nominal.z) || isinf(s->touched.x) ||
        isinf(s->touched.y) || isinf(s->touched.z) || isnan(s->known) ||
        isnan(s->touched.x) != isnan(s->touched.y))
        return JAW_ENOTFINITE;
    if (!(s->known >= 0) || isinf(s->known))
        return JAW_EDOMAIN;
    if (has_xy(s) && !isnan(s->u_xy) && !(s->u_xy > 0 && isfinite(s->u_xy)))
        return JAW_EDOMAIN;
    if (has_z(s) && !isnan(s->u_z) && !(s->u_z > 0 && isfinite(s->u_z)))
        return JAW_EDOMAIN;
    return JAW_OK;
}

/* A spread is known of all touched ones or of none. */
static jaw_status check_spreads(const jaw_station s[], size_t n)
{
    size_t xy = 0, xy_known = 0, z = 0, z_known = 0;

    for (size_t i = 0; i < n; i++) {
        xy += has_xy(&s[i]);
        xy_known += has_xy(&s[i]) && !isnan(s[i].u_xy);
        z += has_z(&s[i]);
        z_known += has_z(&s[i]) && !isnan(s[i].u_z);
    }
    return (xy_known == 0 || xy_known == xy) && (z_known == 0 || z_known == z)
               ? JAW_OK
               : JAW_EDOMAIN;
}

static jaw_status check(const plate *p)
{
    if (isinf(p->turn.value))
        return JAW_ENOTFINITE;
    if (!isnan(p->turn.value) && !(p->turn.u >= 0 && isfinite(p->turn.u)))
        return JAW_EDOMAIN;
    for (size_t i = 0; i < p->n; i++) {
        jaw_status status = check_station(&p->station[i]);
        if (status != JAW_OK)
            return status;
    }
    return check_spreads(p->station, p->n);
}

/* ------------------------------------------------------------------ weights */

static double weight_of(double u, double known)
{
    return isnan(u) ? 1 : 1 / (u * u + known * known);
}

static void add_station(const jaw_station *s, jaw__touched *t)
{
    if (has_xy(s)) {
        t->from[t->n] = (jaw_vec2){s->nominal.x, s->nominal.y};
        t->to[t->n] = (jaw_vec2){s->touched.x, s->touched.y};
        t->weight[t->n++] = weight_of(s->u_xy, s->known);
        t->spread_known = !isnan(s->u_xy);
    }
    if (has_z(s)) {
        t->rise[t->n_z] = s->touched.z - s->nominal.z;
        t->weight_z[t->n_z++] = weight_of(s->u_z, s->known);
        t->z_spread_known = !isnan(s->u_z);
    }
}

/* All but station `skip` (n: all). */
static void fill(const plate *p, size_t skip, jaw__touched *t)
{
    t->n = t->n_z = 0;
    for (size_t i = 0; i < p->n; i++)
        if (i != skip)
            add_station(&p->station[i], t);
}

/* ------------------------------------------------------------------ figures */

/* One coordinate of one station. */
typedef struct coordinate {
    double fit, var, var_given; /* what the plate says */
    double dof;
    double touched, u, known;   /* touched: NaN when it was not */
    double scale2;              /* of a touch when u is not known */
} coordinate;

static jaw_figure adjusted(const coordinate *c, bool use_touched)
{
    const double k2 = c->known * c->known, u2 = c->u * c->u;

    if (isnan(c->touched))
        return jaw__figure_of(c->fit, c->var, c->dof, c->var_given + k2);
    if (use_touched)
        return isnan(c->u) ? jaw__figure_of(c->touched, c->scale2, c->dof, 0)
                           : jaw__figure_of(c->touched, u2, ENDLESS, 0);
    if (isnan(c->u))
        return jaw__figure_of(c->fit, c->var, c->dof, c->var_given + k2);
    const double share = k2 / (k2 + u2), rest = 1 - share;
    return jaw__figure_of(c->fit + share * (c->touched - c->fit),
                     rest * rest * c->var, c->dof,
                     rest * rest * c->var_given + share * u2);
}

static double off_u_of(const coordinate *c)
{
    const double own = isnan(c->u) ? c->scale2
                                   : c->u * c->u + c->known * c->known;

    return sqrt(c->var + c->var_given + own);
}

/* x, y and z of a station as the plate has them. */
static void coordinates(const jaw_station *s, const jaw__lie *lie,
                        const jaw__rise *rise, coordinate c[3])
{
    const jaw_vec2 nominal = {s->nominal.x, s->nominal.y};
    const jaw_vec2 p = jaw__lie_at(lie, nominal);
    double var[2], given[2];

    jaw__lie_var(lie, nominal, var, given);
    c[0] = (coordinate){p.x, var[0], given[0], lie->dof_of, s->touched.x,
                        s->u_xy, s->known, lie->scale2};
    c[1] = (coordinate){p.y, var[1], given[1], lie->dof_of, s->touched.y,
                        s->u_xy, s->known, lie->scale2};
    c[2] = (coordinate){rise->rise + s->nominal.z, rise->scale2 * rise->q, 0,
                        rise->dof_of, s->touched.z, s->u_z, s->known,
                        rise->scale2};
}

/* ------------------------------------------------------------------ results */

static void clear(jaw_station_found *found)
{
    const jaw_vec3 nowhere = {NO_NUMBER, NO_NUMBER, NO_NUMBER};

    *found = (jaw_station_found){.place = nowhere,
                                 .off = nowhere,
                                 .off_u = nowhere};
    for (int k = 0; k < 3; k++)
        found->axis[k] = jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);
}

static void put_place(const plate *p, size_t i, jaw_station_found *found)
{
    coordinate c[3];

    coordinates(&p->station[i], &p->lie, &p->rise, c);
    for (int k = 0; k < 3; k++)
        found->axis[k] = adjusted(&c[k], p->use_touched);
    found->place = (jaw_vec3){found->axis[0].value, found->axis[1].value,
                              found->axis[2].value};
}

/* The touch against the plate as it lies without it. */
static void put_off(plate *p, size_t i, jaw_station_found *found)
{
    const jaw_station *s = &p->station[i];
    jaw__lie lie;
    jaw__rise rise;
    coordinate c[3];

    fill(p, i, &p->but_one);
    const bool plane = has_xy(s) &&
                       jaw__lie_find(&p->but_one, p->turn, &lie) == JAW_OK;
    const bool height = jaw__rise_find(&p->but_one, &rise) && has_z(s);
    if (!plane)
        lie = p->lie;
    coordinates(s, &lie, &rise, c);
    if (plane) {
        found->off.x = s->touched.x - c[0].fit;
        found->off.y = s->touched.y - c[1].fit;
        found->off_u.x = off_u_of(&c[0]);
        found->off_u.y = off_u_of(&c[1]);
    }
    if (height) {
        found->off.z = s->touched.z - c[2].fit;
        found->off_u.z = off_u_of(&c[2]);
    }
}

static double rms_of(const plate *p)
{
    double ssr = 0;

    for (size_t i = 0; i < p->all.n; i++) {
        jaw_vec2 at = jaw__lie_at(&p->lie, p->all.from[i]);
        double x = p->all.to[i].x - at.x, y = p->all.to[i].y - at.y;
        ssr += x * x + y * y;
    }
    return sqrt(ssr / (double)p->all.n);
}

static unsigned flags_of(const plate *p)
{
    jaw_pattern pattern;
    unsigned flags = p->lie.dof < 1 ? JAW_NO_CHECK : 0;

    if (p->all.n >= 2 && jaw_feature_pattern(p->all.from, p->all.to, p->all.n,
                                             &pattern, NULL) == JAW_OK)
        flags |= pattern.flags & (JAW_SCALE_OFF | JAW_MIRRORED);
    if ((p->all.spread_known && jaw__too_much(p->lie.ssr, p->lie.dof)) ||
        (p->all.z_spread_known && jaw__too_much(p->rise.ssr, p->rise.dof)))
        flags |= JAW_RESIDUAL;
    return flags;
}

/* -------------------------------------------------------------------- whole */

static jaw_status solve(plate *p, jaw_station_found found[],
                        jaw_figure *turn_found, double *rms, int *dof,
                        unsigned *flags)
{
    fill(p, p->n, &p->all);
    jaw_status status = jaw__lie_find(&p->all, p->turn, &p->lie);
    if (status != JAW_OK)
        return status;
    jaw__rise_find(&p->all, &p->rise);
    *turn_found = jaw__figure_of(p->lie.turn, p->lie.scale2 * p->lie.q_turn,
                            p->lie.dof_of,
                            p->lie.u_turn_given * p->lie.u_turn_given);
    *dof = p->lie.dof;
    *rms = *dof > 0 ? rms_of(p) : NO_NUMBER;
    *flags = flags_of(p);
    for (size_t i = 0; i < p->n; i++) {
        put_place(p, i, &found[i]);
        put_off(p, i, &found[i]);
    }
    return JAW_OK;
}

enum { NUMBERS_EACH = 7 }; /* of a station: from, to, weight, rise, weight_z */

static jaw_status solve_in_memory(plate *p, jaw_station_found found[],
                                  jaw_figure *turn_found, double *rms,
                                  int *dof, unsigned *flags)
{
    const size_t each = NUMBERS_EACH * sizeof(double), n = p->n;
    double *memory = n > SIZE_MAX / each ? NULL : malloc(n * each);

    if (memory == NULL)
        return JAW_ENOMEM;
    p->all = (jaw__touched){.from = (jaw_vec2 *)memory,
                            .to = (jaw_vec2 *)(memory + 2 * n),
                            .weight = memory + 4 * n,
                            .rise = memory + 5 * n,
                            .weight_z = memory + 6 * n};
    p->but_one = p->all;
    jaw_status status = solve(p, found, turn_found, rms, dof, flags);
    free(memory);
    return status;
}

jaw_status jaw_place_stations(const jaw_station station[], size_t n,
                              jaw_figure turn, bool use_touched,
                              jaw_station_found found[], jaw_figure *turn_found,
                              double *rms, int *dof, unsigned *flags)
{
    plate p = {.station = station,
               .n = n,
               .turn = turn,
               .use_touched = use_touched};
    jaw_status status = n < 1 ? JAW_EFEW : check(&p);

    for (size_t i = 0; i < n; i++)
        clear(&found[i]);
    *turn_found = jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);
    *rms = NO_NUMBER;
    *dof = 0;
    *flags = 0;
    if (status == JAW_OK)
        status = solve_in_memory(&p, found, turn_found, rms, dof, flags);
    return status;
}
