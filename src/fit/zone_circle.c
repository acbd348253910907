/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone_circle.c: the narrowest ring that holds all touches (ISO 12181-1:
 * minimum zone reference circles), of all rings and not of those near some
 * start.
 *
 * A ring can only be the narrowest near its own centre when two touches lie on
 * the outer and two on the inner circle (Rivlin, Computing 21 (1979) 93-104;
 * Ebara et al., as below): its centre is where a line of equal distance to two
 * farthest touches crosses one of equal distance to two nearest.  Of few
 * touches all those places are found one by one: along each line of two
 * farthest, from end to end, all nearest.  Lines without end lead to strips.
 *
 * The narrowest ring of some touches is no wider than that of all.  So a few
 * are chosen, and those that their narrowest ring leaves out join them, until
 * it leaves out none: then no ring of all is narrower.
 *
 * Ebara, Fukuyama, Nakano & Nakanishi, Proc. 1st Can. Conf. Comput. Geom.
 * (1989): roundness by Voronoi diagrams. */
#include "zone.h"

#include <stdlib.h>

/* Centres on the bisector of two touches a and b: foot + t n.  For any touch p
 * its squared distance from there is that of a and b and
 * lift - 2 t lean, where lift = (p - a).(p - b) and lean = n.(p - a), both
 * formed from differences: nothing is lost however far the centre. */
typedef struct bisector {
    jaw_vec2 a, b, foot, n;
    double half; /* of the distance from a to b */
} bisector;

typedef struct ring {
    double width; /* scaled, as all here */
    bisector on;
    double t;     /* -HUGE_VAL, HUGE_VAL: a strip */
    double outer, inner, fall; /* radii; the difference of their squares */
    double excess; /* of the outer one's square over that of a and b; 0 but for
                      rounding */
    size_t touch[4]; /* two on the outer circle, then on the inner one */
    size_t touches;
} ring;

typedef struct spot {
    size_t touch;
    double lift, lean;
} spot;

typedef struct search {
    const jaw_vec2 *p, *q; /* of jaw__zone_flat */
    size_t n;
    double extent, alike, slack;
    spot *spot;        /* the chosen ones */
    size_t count, room;
    double least;      /* width of rings of the chosen */
    ring best, strip;
} search;

/* ------------------------------------------------------ rings of the chosen */

static double dot(jaw_vec2 a, jaw_vec2 b)
{
    return a.x * b.x + a.y * b.y;
}

static jaw_vec2 from_to(jaw_vec2 a, jaw_vec2 b)
{
    return (jaw_vec2){b.x - a.x, b.y - a.y};
}

static bisector bisector_of(jaw_vec2 a, jaw_vec2 b)
{
    const jaw_vec2 d = from_to(a, b);
    const double h = hypot(d.x, d.y);
    bisector on = {a, b, {a.x + d.x / 2, a.y + d.y / 2}, {1, 0}, h / 2};

    if (h > 0)
        on.n = (jaw_vec2){-d.y / h, d.x / h};
    return on;
}

static void look(const bisector *on, jaw_vec2 p, double *lift, double *lean)
{
    const jaw_vec2 d = from_to(on->a, p);

    *lift = dot(d, from_to(on->b, p));
    *lean = dot(d, on->n);
}

static jaw_vec2 centre_of(const ring *r)
{
    return (jaw_vec2){r->on.foot.x + r->t * r->on.n.x,
                      r->on.foot.y + r->t * r->on.n.y};
}

/* Of rings as narrow, the smallest; then the one farthest to the left, then
 * the lowest; of what is one place but for rounding, the narrower. */
static bool first_of(const ring *a, const ring *b, double extent)
{
    const jaw_vec2 ca = centre_of(a), cb = centre_of(b);
    const double same = JAW__SAME * (a->outer + b->outer);
    const double near = JAW__SAME * extent + same;
    const int size = jaw__ranked(a->outer, b->outer, same);
    const int x = jaw__ranked(ca.x, cb.x, near);
    const int y = jaw__ranked(ca.y, cb.y, near);

    if (size != 0)
        return size < 0;
    return x != 0 ? x < 0 : y != 0 ? y < 0 : a->width < b->width;
}

static void offer(search *s, const ring *next)
{
    s->least = fmin(s->least, next->width);
    if (s->best.width > s->least + s->alike ||
        (next->width <= s->least + s->alike &&
         first_of(next, &s->best, s->extent)))
        s->best = *next;
}

/* The ring at t, its inner circle through spot i, and through one more; at an
 * end of the line the one more lies on its outer circle. */
static void offer_at(search *s, const ring *edge, double t, const spot *i,
                     const spot *more)
{
    ring next = *edge;

    next.t = t;
    next.outer = hypot(edge->on.half, t);
    next.outer += next.excess / (2 * next.outer);
    next.fall = fmax(next.excess + 2 * t * i->lean - i->lift, 0);
    const double share = next.fall / next.outer / next.outer;
    next.inner = next.outer * sqrt(fmax(1 - share, 0));
    next.width = next.fall / (next.outer + next.inner);
    next.touch[2] = i->touch;
    next.touches = 3;
    if (more)
        next.touch[next.touches++] = more->touch;
    offer(s, &next);
}

static void offer_strip(search *s, const ring *edge, double t, const spot *i)
{
    if (!(fabs(i->lean) < s->strip.width))
        return;
    s->strip = *edge;
    s->strip.t = t;
    s->strip.width = fabs(i->lean);
}

/* Of the chosen, which is nearest at t; of those as near, the one that comes
 * nearer fastest as t grows. */
static const spot *nearest_at(const search *s, double t)
{
    const spot *best = NULL;

    for (size_t k = 0; k < s->count; k++) {
        const spot *i = &s->spot[k];
        if (!best) {
            best = i;
            continue;
        }
        const double gain = (best->lift - i->lift) -
                            2 * t * (best->lean - i->lean);
        if (isinf(t) ? i->lean < best->lean ||
                           (i->lean <= best->lean && i->lift < best->lift)
                     : gain > 0 || (gain >= 0 && i->lean > best->lean))
            best = i;
    }
    return best;
}

/* The next one to be nearest as t grows from *t, and where; NULL: none. */
static const spot *next_nearest(const search *s, const spot *now, double *t)
{
    const spot *best = NULL;
    double soonest = HUGE_VAL;

    for (size_t k = 0; k < s->count; k++) {
        const spot *i = &s->spot[k];
        if (!(i->lean > now->lean))
            continue;
        const double at = fmax((i->lift - now->lift) /
                               (2 * (i->lean - now->lean)), *t);
        if (at < soonest || (best && at <= soonest && i->lean > best->lean)) {
            soonest = at;
            best = i;
        }
    }
    *t = soonest;
    return best;
}

/* All rings whose outer circle passes through the two touches of the edge,
 * which are farthest from low to high; stop: those which end this. */
static void follow(search *s, const ring *edge, const double end[2],
                   const spot *const stop[2])
{
    double t = end[0];
    const spot *now = nearest_at(s, t);

    if (isinf(t))
        offer_strip(s, edge, t, now);
    else
        offer_at(s, edge, t, now, stop[0]);
    for (;;) {
        const spot *next = next_nearest(s, now, &t);
        if (!next || t > end[1])
            break;
        offer_at(s, edge, t, now, next);
        now = next;
    }
    if (isinf(end[1]))
        offer_strip(s, edge, end[1], now);
    else
        offer_at(s, edge, end[1], now, stop[1]);
}

/* From where to where no corner of the hull is farther than the two; false
 * when nowhere.  Touches on one circle make ends that cross by rounding: then
 * what the farthest is farther must be rounding too, and is not forgotten. */
static bool find_ends(const search *s, const size_t corner[], size_t h,
                      double end[2], const spot *stop[2], double *excess)
{
    for (size_t k = 0; k < h; k++) {
        const spot *i = &s->spot[corner[k]];
        const int side = i->lean > 0 ? 0 : 1;
        if (i->lean == 0 && i->lift > 0)
            return false;
        if (i->lean == 0)
            continue;
        const double at = i->lift / (2 * i->lean);
        if (side == 0 ? at <= end[0] : at >= end[1])
            continue;
        end[side] = at;
        stop[side] = i;
    }
    if (end[0] <= end[1])
        return true;
    const double t = end[0] / 2 + end[1] / 2;
    const double slack = 4 * s->slack * (s->extent + fabs(t));
    for (size_t k = 0; k < h; k++) {
        const spot *i = &s->spot[corner[k]];
        *excess = fmax(*excess, i->lift - 2 * t * i->lean);
    }
    end[0] = end[1] = t;
    return *excess <= slack;
}

static void follow_pair(search *s, const size_t corner[], size_t h, size_t a,
                        size_t b)
{
    ring edge = {.touch = {s->spot[a].touch, s->spot[b].touch}};
    double end[2] = {-HUGE_VAL, HUGE_VAL};
    const spot *stop[2] = {NULL, NULL};

    edge.on = bisector_of(s->q[edge.touch[0]], s->q[edge.touch[1]]);
    for (size_t k = 0; k < h; k++) {
        spot *i = &s->spot[corner[k]];
        look(&edge.on, s->q[i->touch], &i->lift, &i->lean);
    }
    s->spot[a].lift = s->spot[a].lean = s->spot[b].lift = s->spot[b].lean = 0;
    if (!find_ends(s, corner, h, end, stop, &edge.excess))
        return;
    for (size_t k = 0; k < s->count; k++)
        if (k != a && k != b)
            look(&edge.on, s->q[s->spot[k].touch], &s->spot[k].lift,
                 &s->spot[k].lean);
    follow(s, &edge, end, stop);
}

/* The narrowest ring and strip of the chosen. */
static jaw_status solve_chosen(search *s)
{
    size_t *corner = calloc(s->count + 1, sizeof *corner), h = 0;
    jaw_vec2 *p = calloc(s->count, sizeof *p);
    jaw_status status = corner && p ? JAW_OK : JAW_ENOMEM;

    for (size_t k = 0; status == JAW_OK && k < s->count; k++)
        p[k] = s->p[s->spot[k].touch];
    if (status == JAW_OK)
        status = jaw__hull2(p, s->count, corner, &h);
    s->least = s->best.width = s->strip.width = HUGE_VAL;
    for (size_t i = 0; i < h; i++)
        for (size_t k = i + 1; k < h; k++)
            follow_pair(s, corner, h, corner[i], corner[k]);
    free(corner);
    free(p);
    return status;
}

/* -------------------------------------------------- those that are left out */

enum { SECTORS = 8 };

static int sector_of(jaw_vec2 d)
{
    return (d.x < 0) + 2 * (d.y < 0) + 4 * (fabs(d.x) < fabs(d.y));
}

/* Adds a touch to the chosen when it is not among them; *added counts. */
static bool choose(search *s, size_t touch, size_t *added)
{
    for (size_t k = 0; k < s->count; k++)
        if (s->spot[k].touch == touch)
            return true;
    if (s->count == s->room) {
        const size_t room = s->room > 0 ? 2 * s->room : 4 * SECTORS;
        spot *more = realloc(s->spot, room * sizeof *more);
        if (!more)
            return false;
        s->spot = more;
        s->room = room;
    }
    s->spot[s->count++] = (spot){touch, 0, 0};
    (*added)++;
    return true;
}

typedef struct bounds {
    double high, low; /* of what is neither outside nor inside */
    jaw_vec2 about;   /* sectors are counted about it */
} bounds;

/* A touch's square, less that of the outer circle; of a strip how far it lies
 * beyond the outer border. */
static double height_of(const ring *r, jaw_vec2 p)
{
    double lift, lean;

    look(&r->on, p, &lift, &lean);
    return isinf(r->t) ? (r->t > 0 ? -lean : lean) : lift - 2 * r->t * lean;
}

/* Of each sector the touch farthest outside the limits and the one farthest
 * inside join the chosen. */
static jaw_status choose_left_out(search *s, const ring *r,
                                  const bounds *limits, size_t *added)
{
    size_t out[2 * SECTORS];
    double most[2 * SECTORS];
    bool good = true;

    *added = 0;
    for (int k = 0; k < 2 * SECTORS; k++)
        most[k] = k < SECTORS ? limits->high : -limits->low;
    for (int k = 0; k < 2 * SECTORS; k++)
        out[k] = JAW__NONE;
    for (size_t i = 0; i < s->n; i++) {
        const double g = height_of(r, s->q[i]);
        if (!(g > limits->high) && !(g < limits->low))
            continue;
        const int k = sector_of(from_to(limits->about, s->q[i]));
        if (g > most[k]) {
            most[k] = g;
            out[k] = i;
        }
        if (-g > most[k + SECTORS]) {
            most[k + SECTORS] = -g;
            out[k + SECTORS] = i;
        }
    }
    for (int k = 0; good && k < 2 * SECTORS; k++)
        good = out[k] == JAW__NONE || choose(s, out[k], added);
    return good ? JAW_OK : JAW_ENOMEM;
}

/* To begin with: in each sector the farthest and the nearest from the centre of
 * the best circle, or from the middle. */
static jaw_status choose_first(search *s)
{
    const bounds none = {-HUGE_VAL, HUGE_VAL, {0, 0}};
    jaw_vec2 at = {0, 0};
    jaw_circle c;
    size_t added;

    if (jaw_fit_circle(s->q, s->n, &c, NULL) == JAW_OK)
        at = (jaw_vec2){c.x, c.y};
    const ring start = {.on = bisector_of(at, at)};
    return choose_left_out(s, &start, &none, &added);
}

/* Sectors about the centre tell most, unless all touches lie in one. */
static bounds bounds_of(const search *s, const ring *r)
{
    bounds out = {s->slack, -r->width - s->slack, {0, 0}};

    if (isinf(r->t))
        return out;
    out.high = r->excess + 2 * s->slack * r->outer;
    out.low = r->excess - r->fall - s->slack * (r->outer + r->inner);
    if (r->outer < s->extent)
        out.about = centre_of(r);
    return out;
}

/* A ring must be narrower than a strip by more than rounding.  JAW_ERANK: it
 * is not. */
static jaw_status narrow_down(search *s)
{
    jaw_status status = choose_first(s);

    while (status == JAW_OK) {
        size_t added;
        status = solve_chosen(s);
        if (status != JAW_OK)
            break;
        const bool is_strip = s->strip.width <= s->best.width + s->alike;
        const ring *r = is_strip ? &s->strip : &s->best;
        const bounds limits = bounds_of(s, r);
        status = choose_left_out(s, r, &limits, &added);
        if (status == JAW_OK && added == 0)
            return is_strip ? JAW_ERANK : JAW_OK;
    }
    return status;
}

/* ----------------------------------------------------------------- the zone */

static void write_zone(const jaw__zone_flat *f, const ring *r, jaw_zone *zone)
{
    jaw__zone_round(zone, f, centre_of(r), r->inner, r->outer, r->width);
    jaw__zone_held_by(zone, r->touch, r->touches);
}

static jaw_status find_ring(const jaw__zone_flat *f, jaw_zone *zone)
{
    search s = {.p = f->p, .q = f->q, .n = f->n, .extent = f->extent,
                .alike = JAW__ALIKE * f->extent,
                .slack = JAW__SLACK * f->extent};
    const jaw_status status = narrow_down(&s);

    if (status == JAW_OK)
        write_zone(f, &s.best, zone);
    free(s.spot);
    return status;
}

jaw_status jaw_zone_circle(const jaw_vec2 p[], size_t n, jaw_zone *zone)
{
    jaw__zone_flat f;
    jaw_status status = jaw__zone_flat_make(&f, p, n, 3);

    if (status == JAW_OK)
        status = find_ring(&f, zone);
    free(f.p);
    return status == JAW_OK ? status : jaw__zone_give_up(status, zone);
}
