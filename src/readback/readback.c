/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readback.c: is it what it should be, and if not, which whole value is it: of
 * another register, from before, in the other unit, with the other sign. */
#include "readback.h"

#include <math.h>

static const struct {
    const char *word;
    int rank;
} kinds[JAW_READ_KINDS] = {
#define ROW(name, word, rank) {word, rank},
    JAW_READ_LIST(ROW)
#undef ROW
};

enum { RANKS = 3 }; /* of slips without a changed sign */

const char *jaw_readback_word(jaw_readback_kind kind)
{
    return (unsigned)kind < JAW_READ_KINDS ? kinds[kind].word : NULL;
}

int jaw_readback_rank(jaw_readback_kind kind)
{
    return (unsigned)kind < JAW_READ_KINDS ? kinds[kind].rank : -1;
}

/* ----------------------------------------------------------------- numbers */

/* mm or rad in one of what the control displays. */
static double displayed(const jaw_readback_value *v, jaw_unit unit, double x)
{
    return v->angle ? jaw_deg(x) : x / jaw_unit_mm(unit);
}

/* To nine decimals: x may come through inches or degrees, and is then off by
 * some of its last binary digits, far less than half of the ninth decimal. */
static int64_t whole(double x)
{
    return 10 * (int64_t)llround(x * 1e9);
}

/* Less than half a step apart. */
static bool same(int64_t a, int64_t b, int64_t step)
{
    int64_t d = a > b ? a - b : b - a;
    return 2 * d < step;
}

jaw__fit jaw__slip_cut(const jaw__slip *s, int64_t num, int64_t den, int64_t q)
{
    if (s->shown > INT64_MAX / 2 / den)
        return JAW__OTHER;
    int64_t less = num - s->shown * den; /* what was cut off, times den */
    if (less == 0)
        return JAW__SAME;
    /* One digit that is left fits one value in nine by chance. */
    return s->shown % q == 0 && s->shown >= 10 * q && 2 * less >= -q * den &&
                   less < q * den
               ? JAW__CUT
               : JAW__OTHER;
}

/* ----------------------------------------------------------------- reasons */

/* The sign, then the rank, then whether something was cut off. */
static int order(const jaw__slip *s, const jaw_readback_reason *reason)
{
    return 2 * (kinds[reason->kind].rank + (s->sign_too ? RANKS : 0)) +
           reason->cut;
}

void jaw__slip_add(jaw__slip *s, jaw_readback_reason reason)
{
    jaw_readback_found *f = s->found;
    int at = order(s, &reason);

    if (at > s->best)
        return;
    if (at < s->best)
        f->n = 0;
    s->best = at;
    reason.sign_too = s->sign_too;
    if (f->n < JAW_READ_MOST)
        f->reason[f->n++] = reason;
}

static void add_kind(jaw__slip *s, jaw_readback_kind kind)
{
    jaw__slip_add(s, (jaw_readback_reason){.kind = kind});
}

/* The finest decimal that is told apart. */
enum { FINEST = 10 };

/* The control's own decimals; those that it has in the other unit; all that
 * there are, when the figure was given with its unit. */
static bool cut_in_unit(const jaw__slip *s, jaw_unit unit, int64_t num,
                        int64_t den)
{
    int64_t other = unit == JAW_MM ? s->q / 10 : s->q * 10;

    return jaw__slip_cut(s, num, den, s->q) ||
           jaw__slip_cut(s, num, den, s->step) ||
           jaw__slip_cut(s, num, den, other) ||
           jaw__slip_cut(s, num, den, FINEST);
}

static void find_inch(jaw__slip *s, jaw_unit unit)
{
    if (cut_in_unit(s, unit, s->should * 254, 10))
        jaw__slip_add(s, (jaw_readback_reason){.kind = JAW_READ_INCH,
                                               .power = 1});
    if (cut_in_unit(s, unit, s->should * 10, 254))
        jaw__slip_add(s, (jaw_readback_reason){.kind = JAW_READ_INCH,
                                               .power = -1});
}

/* One register among all that are compared. */
typedef struct one {
    const jaw_readback_value *all, *v;
    size_t n;
    jaw_unit unit;
    int64_t should, shown, step; /* with their signs */
} one;

/* Whether what `of` shows is the value to be entered in `v`. */
static bool holds(const one *o, const jaw_readback_value *of,
                  const jaw_readback_value *v, int64_t sign)
{
    double shown = displayed(of, o->unit, of->shown);
    double should = displayed(v, o->unit, v->value);

    return fabs(shown) <= JAW__READ_LARGEST && !isnan(should) &&
           same(sign * whole(shown), whole(should),
                whole(displayed(v, o->unit, v->step)));
}

static void find_others(const one *o, jaw__slip *s)
{
    for (size_t i = 0; i < o->n; i++) {
        const jaw_readback_value *v = &o->all[i];
        if (v == o->v || !holds(o, o->v, v, s->sign_too ? -1 : 1))
            continue;
        bool both = !s->sign_too && holds(o, v, o->v, 1);
        jaw__slip_add(s, (jaw_readback_reason){
                             .kind = both ? JAW_READ_EXCHANGED
                                          : JAW_READ_OTHER,
                             .other = i});
    }
}

static void find_before(const one *o, jaw__slip *s)
{
    double before = displayed(o->v, o->unit, o->v->before);

    if (fabs(before) <= JAW__READ_LARGEST &&
        same(o->shown, whole(before), o->step))
        add_kind(s, JAW_READ_STALE);
}

static void find_whole(const one *o, jaw__slip *s)
{
    int64_t off = o->shown - o->should;

    if (off >= -o->step && off <= o->step)
        add_kind(s, JAW_READ_LAST_DIGIT);
    if (same(-o->shown, o->should, o->step))
        add_kind(s, JAW_READ_SIGN);
    if (o->shown == 0)
        add_kind(s, JAW_READ_NOTHING);
    find_before(o, s);
}

/* Slips that leave the sign as it is, or change it as well. */
static void find_slips(const one *o, jaw__slip *s)
{
    bool changed = (o->should < 0) != (o->shown < 0);

    find_others(o, s);
    if (o->should == 0 || o->shown == 0 || changed != s->sign_too)
        return;
    if (!o->v->angle)
        find_inch(s, o->unit);
    jaw__slip_digits(s);
}

static int64_t size_of(int64_t x)
{
    return x < 0 ? -x : x;
}

static void find_reasons(const one *o, jaw_readback_found *found)
{
    jaw__slip s = {.should = size_of(o->should),
                   .shown = size_of(o->shown),
                   .q = JAW__READ_SCALE,
                   .step = o->step,
                   .best = 4 * RANKS,
                   .found = found};

    s.decimals = jaw_step_decimals(displayed(o->v, o->unit, o->v->step));
    for (int i = 0; i < s.decimals; i++)
        s.q /= 10;
    find_whole(o, &s);
    find_slips(o, &s);
    if (found->n > 0 || o->shown == 0)
        return;
    s.sign_too = true;
    find_slips(o, &s);
}

/* ----------------------------------------------------------------- compare */

static bool is_possible(const jaw_readback_value *v, jaw_unit unit)
{
    double step = displayed(v, unit, v->step);

    return step >= 1e-9 && step <= JAW__READ_LARGEST && !(v->half95 < 0) &&
           !(fabs(displayed(v, unit, v->value)) > JAW__READ_LARGEST);
}

static void compare_one(one o, jaw_readback_found *found)
{
    const jaw_readback_value *v = o.v;
    double shown = displayed(v, o.unit, v->shown);

    if (isnan(v->value))
        return;
    found->state = isnan(shown) ? JAW_READ_MISSING : JAW_READ_OFF;
    found->off = v->shown - v->value;
    found->within = fabs(found->off) <= v->half95;
    if (!(fabs(shown) <= JAW__READ_LARGEST))
        return;
    o.should = whole(displayed(v, o.unit, v->value));
    o.shown = whole(shown);
    o.step = whole(displayed(v, o.unit, v->step));
    if (same(o.shown, o.should, o.step))
        found->state = JAW_READ_GOOD;
    else
        find_reasons(&o, found);
}

jaw_status jaw_readback_compare(const jaw_readback_value value[], size_t n,
                                jaw_unit unit, jaw_readback_found found[])
{
    jaw_status status = JAW_OK;

    for (size_t i = 0; i < n; i++) {
        found[i] = (jaw_readback_found){.off = (double)NAN};
        if (!is_possible(&value[i], unit))
            status = JAW_EDOMAIN;
    }
    for (size_t i = 0; status == JAW_OK && i < n; i++)
        compare_one((one){.all = value, .v = &value[i], .n = n, .unit = unit},
                    &found[i]);
    return status;
}
