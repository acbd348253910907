/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reach.c: a tip whose reach depends on the direction in which it moved
 * (measure.h): from where each touch came, where the centre of a plain tip
 * would have stood, and how well all that is stated of a tip is known together.
 *
 * The direction of a touch is that against the wall, so it follows from what
 * was touched and need not be stated.  On a part that is turned by t a tip that
 * moves along a machine axis moves t off that, which changes the reach by at
 * most t times the slope of the harmonics: 3 * 0.01 mm * 1 degree is half a
 * micrometre.
 *
 * A ball or bar is met under a slant.  Runout moves the tip sideways, so of it
 * the level part of the wall's normal is felt, exactly; the lobes, which are
 * small beside it, are taken to do the same: nothing from straight above. */
#include "joint.h"

#include <math.h>
#include <string.h>

/* ------------------------------------------------------------------- stated */

size_t jaw_tip_pair(jaw_tip_part a, jaw_tip_part b)
{
    size_t i = a < b ? a : b, j = a < b ? b : a;

    return i * 4 - i * (i - 1) / 2 + (j - i - 1); /* i (i - 1) is 0 for 0 */
}

/* A variance of exactly known things is 0, and what is not known is no
 * statement: both leave 0. */
void jaw_tip_calibrated(const jaw_tip_calibration *cal, jaw_tip_entry *entry)
{
    double cov[15], u[JAW_TIP_PARTS], *at = entry->correlation;
    size_t diagonal = 0;

    jaw_tip_carry(cal, cov);
    for (size_t i = 0; i < JAW_TIP_PARTS; diagonal += JAW_TIP_PARTS - i++)
        u[i] = cov[diagonal] > 0 ? sqrt(cov[diagonal]) : 0;
    const double *c = cov;
    for (size_t i = 0; i < JAW_TIP_PARTS; i++, c++)
        for (size_t j = i + 1; j < JAW_TIP_PARTS; j++)
            *at++ = *++c != 0 && u[i] > 0 && u[j] > 0 ? *c / u[i] / u[j] : 0;
    entry->tip.diameter = cal->diameter;
    entry->tip.repeat = cal->repeat > 0 ? cal->repeat : (double)NAN;
    entry->diameter_known = u[0];
    memcpy(entry->harmonic, cal->harmonic, sizeof entry->harmonic);
    memcpy(entry->harmonic_known, u + 1, sizeof entry->harmonic_known);
}

static double known_of(const jaw_tip_entry *e, size_t part)
{
    return part == JAW_TIP_DIAMETER ? e->diameter_known / 2
                                    : e->harmonic_known[part - JAW_TIP_C1];
}

/* What is left of a variance by the others is rounding below this share. */
#define NOTHING_LEFT 1e-12

/* Cholesky's factor L of the correlations, row by row (Golub & Van Loan, Matrix
 * Computations, 4.2); false when they contradict one another. */
static bool factor(const jaw_tip_entry *e, const jaw__prior *p,
                   double l[JAW_TIP_PARTS][JAW_TIP_PARTS])
{
    for (size_t i = 0; i < p->n; i++)
        for (size_t j = 0; j <= i; j++) {
            double sum = i == j ? 1
                                : e->correlation[jaw_tip_pair(p->part[i],
                                                              p->part[j])];
            for (size_t k = 0; k < j; k++)
                sum -= l[i][k] * l[j][k];
            if (i == j && !(sum > NOTHING_LEFT))
                return false;
            l[i][j] = i == j ? sqrt(sum) : sum / l[j][j];
        }
    return true;
}

/* L^-1, column by column: forward substitution on unit vectors. */
static void whiten(jaw__prior *p, double l[JAW_TIP_PARTS][JAW_TIP_PARTS])
{
    for (size_t j = 0; j < p->n; j++)
        for (size_t i = j; i < p->n; i++) {
            double sum = i == j ? 1 : 0;
            for (size_t k = j; k < i; k++)
                sum -= l[i][k] * p->row[k][j];
            p->row[i][j] = sum / l[i][i];
        }
}

/* The radius comes last: then its equation is the one that an error of the
 * stated diameter alone would spoil, and the test of that equation is the test
 * of the diameter (Baarda 1968, of correlated observations). */
bool jaw__prior_of(const jaw_tip_entry *e, jaw__prior *p)
{
    double l[JAW_TIP_PARTS][JAW_TIP_PARTS];

    *p = (jaw__prior){.n = 0};
    for (size_t k = 1; k <= JAW_TIP_PARTS; k++) {
        jaw_tip_part part = (jaw_tip_part)(k % JAW_TIP_PARTS);
        if (known_of(e, part) > 0)
            p->part[p->n++] = part;
    }
    if (!factor(e, p, l))
        return false;
    whiten(p, l);
    for (size_t i = 0; i < p->n; i++) {
        double u = known_of(e, p->part[i]);
        p->sigma[i] = u * l[i][i];
        for (size_t j = 0; j <= i; j++)
            p->row[i][j] *= p->sigma[i] / known_of(e, p->part[j]);
    }
    return true;
}

/* ---------------------------------------------------------------- direction */

static double part_along(jaw_vec2 dir, jaw_vec2 p)
{
    return dir.x * p.y - dir.y * p.x;
}

/* Which wall of two lies on the left of the direction: 1 the second. */
static int second_side(const jaw__solver *sv, size_t f, jaw_vec2 dir)
{
    const jaw__share *s = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + s->first_touch;
    jaw_touch a = t[0], b = t[s->first_wall];
    jaw_vec2 way = {isnan(a.x) ? 0 : b.x - a.x, isnan(a.y) ? 0 : b.y - a.y};

    return part_along(dir, way) > 0 ? 1 : -1;
}

jaw__came jaw__came_of(const jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];
    jaw__came c = {.kind = found->kind};

    switch (found->kind) {
    case JAW_EDGE:
        c.theta = found->as.edge.theta;
        c.sides = part_along(found->as.edge.dir, found->as.edge.normal) > 0
                      ? 1
                      : -1;
        break;
    case JAW_SLOT:
    case JAW_WEB:
        c.theta = found->as.walls.theta;
        c.sides = second_side(sv, f, found->as.walls.dir);
        break;
    case JAW_BORE:
    case JAW_BOSS:
    case JAW_BALL: jaw__centre_of_found(found, &c.centre); break;
    case JAW_BAR:
        c.theta = found->as.bar.theta;
        c.centre = (jaw_vec2){found->as.bar.point.x, found->as.bar.point.y};
        break;
    default: break; /* a face is met from above, the rest not at all */
    }
    return c;
}

double jaw__approach(const jaw__came *c, jaw_touch t, bool first)
{
    double dx = isnan(t.x) ? 0 : t.x - c->centre.x;
    double dy = isnan(t.y) ? 0 : t.y - c->centre.y;
    double side = first == (c->sides < 0) ? 1 : -1;

    switch (c->kind) {
    case JAW_EDGE: return c->theta - c->sides * M_PI / 2;
    case JAW_SLOT: return c->theta + side * M_PI / 2;
    case JAW_WEB: return c->theta - side * M_PI / 2;
    case JAW_BORE: return atan2(dy, dx);
    case JAW_BOSS:
    case JAW_BALL: return atan2(-dy, -dx);
    case JAW_BAR:
        return c->theta - (cos(c->theta) * dy - sin(c->theta) * dx < 0
                               ? -M_PI / 2
                               : M_PI / 2);
    default: return (double)NAN;
    }
}

/* ---------------------------------------------------------------------- now */

double jaw__reach_now(const jaw__solver *sv, const jaw_feature_entry *entry,
                      double angle, double *slope)
{
    jaw_tip tip = jaw__tip_now(sv, entry);
    double h[4];

    jaw__harmonics_now(sv, entry, h);
    return jaw_tip_side(&tip) + jaw_tip_harmonics(h, angle, slope);
}

void jaw__harmonics_now(const jaw__solver *sv, const jaw_feature_entry *entry,
                        double h[4])
{
    long tip = jaw__find_tip(sv->setup, entry->tip);

    for (size_t k = 0; k < 4; k++) {
        h[k] = tip == JAW__NOWHERE ? 0 : sv->setup->tips[tip].harmonic[k];
        if (tip != JAW__NOWHERE && sv->joint != NULL &&
            sv->joint->harmonic_off != NULL)
            h[k] += sv->joint->harmonic_off[4 * (size_t)tip + k];
    }
}

bool jaw__has_harmonics(const jaw_setup *setup, const jaw_feature_entry *entry)
{
    long tip = jaw__find_tip(setup, entry->tip);

    for (size_t k = 0; k < 4 && tip != JAW__NOWHERE; k++)
        if (setup->tips[tip].harmonic[k] != 0 ||
            setup->tips[tip].harmonic_known[k] > 0)
            return true;
    return false;
}

/* Moving on by what the reach has beyond the radius, a plain tip would have
 * stood where it meets the wall in the same place.  A coordinate that was not
 * read stays so. */
double jaw__meet(const jaw__solver *sv, size_t f, const jaw__came *came,
                 jaw_touch met[])
{
    const jaw__share *s = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + s->first_touch;
    double h[4], most = 0;

    jaw__harmonics_now(sv, &sv->setup->features[f], h);
    for (size_t i = 0; i < s->n_touches; i++) {
        double a = jaw__approach(came, t[i], i < s->first_wall);
        double on = isnan(a) ? 0 : jaw_tip_harmonics(h, a, NULL);
        double x = t[i].x + (on == 0 ? 0 : on * cos(a));
        double y = t[i].y + (on == 0 ? 0 : on * sin(a));
        if (!isnan(x))
            most = fmax(most, fabs(x - met[i].x));
        if (!isnan(y))
            most = fmax(most, fabs(y - met[i].y));
        met[i] = (jaw_touch){x, y, t[i].z};
    }
    return most;
}
