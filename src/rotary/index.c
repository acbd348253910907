/* SPDX-License-Identifier: GPL-3.0-or-later */
/* index.c: what a known centre line is good for: how it leans, and where a
 * point goes when the table is indexed.  Covariance: JCGM 100, 5.1 and 5.2. */
#include <jawline/rotary.h>

#include <math.h>

#define NO_NUMBER ((double)NAN)

/* ------------------------------------------------------------------- tilt */

static jaw_figure lean(double from, double to, double var_from, double var_to,
                       const jaw_rotary place[2], double apart)
{
    const double slope = (to - from) / apart;
    const double u[2] = {sqrt(var_from), sqrt(var_to)};
    const double dof[2] = {place[0].dof_of, place[1].dof_of};
    /* derivative of the arc tangent */
    const double each = fabs(1 / apart) / (1 + slope * slope);

    return jaw_figure_make(atan(slope), each * hypot(u[0], u[1]),
                           jaw_trust_effective_dof(u, dof, 2));
}

jaw_status jaw_rotary_tilt(const jaw_rotary place[2], double apart,
                           jaw_figure tilt[2])
{
    const jaw_rotary *a = &place[0], *b = &place[1];
    jaw_status status = JAW_OK;

    if (!isfinite(a->centre.x) || !isfinite(a->centre.y) ||
        !isfinite(b->centre.x) || !isfinite(b->centre.y) || !isfinite(apart))
        status = JAW_ENOTFINITE;
    else if (apart == 0)
        status = JAW_EDOMAIN;
    if (status != JAW_OK) {
        tilt[0] = tilt[1] = jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);
        return status;
    }
    tilt[0] = lean(a->centre.x, b->centre.x, a->cov[0], b->cov[0], place,
                   apart);
    tilt[1] = lean(a->centre.y, b->centre.y, a->cov[2], b->cov[2], place,
                   apart);
    return JAW_OK;
}

/* ------------------------------------------------------------------ index */

/* *sum += m v m^T with v by its upper triangle */
static void carry(const double m[2][2], const double v[3], double sum[3])
{
    const double a[2][2] = {
        {m[0][0] * v[0] + m[0][1] * v[1], m[0][0] * v[1] + m[0][1] * v[2]},
        {m[1][0] * v[0] + m[1][1] * v[1], m[1][0] * v[1] + m[1][1] * v[2]}};

    sum[0] += a[0][0] * m[0][0] + a[0][1] * m[0][1];
    sum[1] += a[0][0] * m[1][0] + a[0][1] * m[1][1];
    sum[2] += a[1][0] * m[1][0] + a[1][1] * m[1][1];
}

static jaw_status check(const jaw_rotary *table, jaw_vec2 p,
                        const double *cov_p, double from, double to)
{
    if (table->sense != JAW_SENSE_RIGHT && table->sense != JAW_SENSE_LEFT)
        return JAW_EDOMAIN;
    if (!isfinite(table->centre.x) || !isfinite(table->centre.y) ||
        !isfinite(p.x) || !isfinite(p.y) || !isfinite(from) || !isfinite(to))
        return JAW_ENOTFINITE;
    if (cov_p != NULL && !(isfinite(cov_p[0]) && isfinite(cov_p[1]) &&
                           isfinite(cov_p[2])))
        return JAW_ENOTFINITE;
    return JAW_OK;
}

jaw_status jaw_rotary_index(const jaw_rotary *table, jaw_vec2 p,
                            const double cov_p[3], double from, double to,
                            jaw_vec2 *out, double cov[3])
{
    jaw_status status = check(table, p, cov_p, from, to);
    double sum[3] = {0, 0, 0};

    *out = (jaw_vec2){NO_NUMBER, NO_NUMBER};
    for (int k = 0; cov != NULL && k < 3; k++)
        cov[k] = NO_NUMBER;
    if (status != JAW_OK)
        return status;
    const double turn = (double)table->sense * (to - from);
    const double c = cos(turn), s = sin(turn), h = sin(turn / 2);
    const double dx = p.x - table->centre.x, dy = p.y - table->centre.y;
    /* R - 1: what does not turn stays where it is to the last digit */
    const double less[2][2] = {{-2 * h * h, -s}, {s, -2 * h * h}};
    const double full[2][2] = {{c, -s}, {s, c}};
    out->x = p.x + less[0][0] * dx + less[0][1] * dy;
    out->y = p.y + less[1][0] * dx + less[1][1] * dy;
    if (cov == NULL)
        return JAW_OK;
    carry(less, table->cov, sum);
    if (cov_p != NULL)
        carry(full, cov_p, sum);
    for (int k = 0; k < 3; k++)
        cov[k] = sum[k];
    return JAW_OK;
}
