/* SPDX-License-Identifier: GPL-3.0-or-later */
/* long.c: the line through very many touches when no residuals are wanted.  A
 * sample says from where and in which direction to look; one pass over all of
 * them then is enough, since what lies across that direction is small and its
 * squares carry no rounding of what lies along. */
#include "long.h"

/* Of what lies across, so much may go away with the turn that is left: half
 * cancels no digit worth the name. */
#define TURN_SHARE 0.5
enum { PASSES_MAX = 3 };

/* About the means. */
static void centre(jaw__strips *s, size_t count)
{
    const double n = (double)count;

    s->u /= n;
    s->v /= n;
    s->uu -= n * s->u * s->u;
    s->uv -= n * s->u * s->v;
    s->vv -= n * s->v * s->v;
}

static jaw_vec2 moved(jaw_vec2 m, jaw__turn t, const jaw__strips *s)
{
    return (jaw_vec2){m.x + (t.c * s->u - t.s * s->v),
                      m.y + (t.s * s->u + t.c * s->v)};
}

static void settle(jaw__parallel *fit, const jaw__strips *s, jaw_vec2 m,
                   const jaw__touches *t)
{
    fit->sides = 1;
    fit->view[0] = (jaw__view){.p = t->p, .n = t->n, .unit = 1, .m = m};
    fit->sums[0] = (jaw__sums){s->u, s->v, s->uu, s->uv, s->vv};
    fit->noise = jaw__noise(s->size, t->n);
}

bool jaw__long_line(const jaw_vec2 p[], size_t n, const jaw__passes *passes,
                    jaw__parallel *fit)
{
    const jaw__touches all = {p, n, 1};
    jaw__touches look = {p, JAW__SAMPLE, n / JAW__SAMPLE};
    jaw_vec2 m;

    if (n < JAW__MANY)
        return false;
    m = *p;
    fit->seen = (jaw__turn){1, 0};
    for (int pass = 0; pass < PASSES_MAX; pass++) {
        jaw__strips s = passes->strips(&look, m, fit->seen.c, fit->seen.s);
        centre(&s, look.n);
        if (!(s.size > JAW__SMALLEST && s.size < JAW__LARGEST) ||
            !(s.uu + s.vv > JAW__SMALLEST * JAW__SMALLEST))
            return false;
        fit->more = jaw__turn_principal(s.uu, s.uv, s.vv);
        double gain = s.uv * fit->more.s / fit->more.c;
        if (look.n == n && gain <= TURN_SHARE * s.vv) {
            settle(fit, &s, m, &all);
            return jaw__parallel_settle(fit, s.uu, s.uv, s.vv) == JAW_OK;
        }
        m = moved(m, fit->seen, &s);
        fit->seen = jaw__turn_by(fit->seen, fit->more);
        look = all;
    }
    return false;
}
