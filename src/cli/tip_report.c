/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tip_report.c: what `jawline tip` found, as text and as JSON. */
#include "shop.h"
#include "tip.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* More residuals than this are no longer read; the largest are. */
enum { SHOWN = 60 };

/* ----------------------------------------------------------------- numbers */

/* A tenth of a micrometre, a hundred-thousandth of an inch. */
static int decimals(const tip_job *j)
{
    return j->unit == JAW_MM ? 4 : 5;
}

typedef struct number {
    char text[40];
} number;

enum { BEHIND = 256 }; /* what belongs to a number */

static number fixed(double value, int places)
{
    number n;
    if (jaw_number_write(value, places, n.text, sizeof n.text) != JAW_OK)
        strcpy(n.text, "?");
    return n;
}

static number length(const tip_job *j, double mm)
{
    return fixed(mm / jaw_unit_mm(j->unit), decimals(j));
}

/* Standard deviations have one digit more: their first is not always the last
 * of a length. */
static number fine(const tip_job *j, double mm)
{
    return fixed(mm / jaw_unit_mm(j->unit), decimals(j) + 1);
}

/* A row of the page: what it is, its value, what belongs to it. */
static void row_of(const char *name, number value, const char *behind)
{
    printf("%-26s%12s%s%s\n", name, value.text, *behind ? "  " : "", behind);
}

static void row(const tip_job *j, const char *name, double mm,
                const char *behind)
{
    row_of(name, length(j, mm), behind);
}

/* ------------------------------------------------------------------- doubts */

unsigned tip_flags(const tip_job *j, const tip_found *f)
{
    switch (j->kind) {
    case TIP_RING:
    case TIP_PLUG:
    case TIP_BALL:
        return f->round.flags;
    case TIP_BLOCK:
        return f->block.flags;
    default:
        return 0;
    }
}

static bool differs(const tip_job *j, const tip_found *f)
{
    return j->kind == TIP_BLOCK && f->block.differs;
}

bool tip_doubts(const tip_job *j, const tip_found *f)
{
    return jaw_flags_doubts(tip_flags(j, f)) != 0 || differs(j, f);
}

static void put_first(void)
{
    bool colour = colour_on(stdout);
    printf("%slook at this first:%s ", colour ? "\033[1;33m" : "",
           colour ? "\033[0m" : "");
}

static void put_flags(const tip_job *j, const tip_found *f, bool doubts)
{
    unsigned flags = tip_flags(j, f);
    for (unsigned flag = 1; flag && flag <= flags; flag <<= 1) {
        if (!(flags & flag) || jaw_flag_is_doubt(flag) != doubts)
            continue;
        if (doubts)
            put_first();
        else if (flag == JAW_NO_CHECK)
            continue; /* said beside what it concerns */
        else
            fputs("note: ", stdout);
        if (flag == JAW_SAME_TOUCH && f->same[0] > 0)
            printf("touch %zu is the same as touch %zu to the last digit: was "
                   "a sign lost, or a row copied?\n", f->same[0], f->same[1]);
        else
            puts(jaw_flag_text(flag));
    }
    if (doubts && differs(j, f)) {
        put_first();
        printf("the two pairs of faces say different diameters, by %s\n",
               length(j, fabs(f->block.differ)).text);
    }
}

/* ------------------------------------------------------------ calibrations */

static void put_repeat(const tip_job *j, double repeat, double seen, int spare,
                       unsigned flags)
{
    char behind[BEHIND];
    if (!isnan(j->repeat))
        row_of("repeat of one touch", fine(j, j->repeat),
               flags & JAW_RESIDUAL ? "as stated, but the touches say more"
                                    : "as stated");
    snprintf(behind, sizeof behind, "as seen, with %d touch%s to spare", spare,
             spare == 1 ? "" : "es");
    if (!isnan(seen))
        row_of(isnan(j->repeat) ? "repeat of one touch" : "  seen here",
               fine(j, seen), behind);
    if (isnan(repeat))
        puts("repeat of one touch: not known; touch more often, or state "
             "--repeat");
}

static void put_known(const tip_job *j, jaw_known_size known, const char *name)
{
    if (j->u_stated)
        printf("%-26s%12s  within %s (one standard deviation)\n", name,
               length(j, known.size).text, length(j, known.u).text);
    else
        row(j, name, known.size, "taken as exact (--size-u)");
}

static void put_diameter(const tip_job *j, const char *name, double diameter,
                         double within)
{
    if (isnan(within))
        row(j, name, diameter, "how sure: not known");
    else
        printf("%-26s%12s  within %s (95 %%)\n", name,
               length(j, diameter).text, length(j, within).text);
}

/* The first of those that are equal but for rounding. */
static size_t largest_of(const double *resid, size_t n)
{
    size_t at = 0;
    for (size_t i = 1; i < n; i++)
        if (fabs(resid[i]) > (1 + 1e-9) * fabs(resid[at]))
            at = i;
    return at;
}

static void put_residuals(const tip_job *j, const tip_found *f)
{
    if (tip_flags(j, f) & JAW_NO_CHECK) {
        printf("no check (%s)\n", jaw_flag_text(JAW_NO_CHECK));
        return;
    }
    printf("how far each touch lies off (+ %s):\n",
           j->kind == TIP_BLOCK ? "outward" : "away from the centre");
    for (size_t i = 0; i < f->n && i < SHOWN; i++)
        printf("  touch %-18zu%12s\n", i + 1, length(j, f->resid[i]).text);
    if (f->n > SHOWN)
        printf("  and %zu more\n", f->n - SHOWN);
    size_t at = largest_of(f->resid, f->n);
    char where[40];
    snprintf(where, sizeof where, "at touch %zu", at + 1);
    row(j, "largest", f->resid[at], where);
}

/* ---------------------------------------------------------- for the sheet */

/* The lines of the tip's entry.  Numbers carry their unit, so that they mean
 * the same in every sheet. */
enum { LINES = 15, LINE_SIZE = 256 };

typedef struct lines {
    size_t n;
    char text[LINES][LINE_SIZE];
} lines;

/* Three digits of what is not known; NaN, 0: none. */
static int places_of(const tip_job *j, double u)
{
    if (!(u > 0))
        return decimals(j) + 1;
    double places = 2 - floor(log10(u / jaw_unit_mm(j->unit)));
    return (int)fmin(fmax(places, decimals(j) + 1), 15);
}

/* What is stated, with the digits that its uncertainty is worth. */
static number stated(const tip_job *j, double mm, double u)
{
    return fixed(mm / jaw_unit_mm(j->unit), places_of(j, u) - 1);
}

static number spread(const tip_job *j, double u)
{
    return fixed(u / jaw_unit_mm(j->unit), places_of(j, u));
}

/* A repeat that shows as 0 says nothing. */
static void add_head(const tip_job *j, const jaw_tip_entry *e, lines *l)
{
    const char *unit = jaw_unit_word(j->unit);
    char known[80] = "", repeat[80] = "";
    number r = fine(j, e->tip.repeat);
    double u = e->diameter_known;
    if (!(u > 0))
        snprintf(l->text[l->n++], LINE_SIZE,
                 "# how sure its diameter is, is not known: it counts as "
                 "exact");
    else
        snprintf(known, sizeof known, " known to %s%s", spread(j, u).text,
                 unit);
    if (!isnan(e->tip.repeat) && strpbrk(r.text, "123456789"))
        snprintf(repeat, sizeof repeat, "  repeat %s%s", r.text, unit);
    jaw_tip_shape shape = tip_shape_of(j);
    bool plain = shape == JAW_TIP_CYLINDER;
    snprintf(l->text[l->n++], LINE_SIZE, "tip %.100s%s%s  diameter %s%s%s%s",
             j->name, plain ? "" : "  ",
             plain ? "" : jaw_tip_shape_word(shape),
             stated(j, e->tip.diameter, u).text, unit, known, repeat);
}

static void add_length(const tip_job *j, lines *l)
{
    const char *unit = jaw_unit_word(j->unit);
    char known[80] = "";
    if (isnan(j->length))
        return;
    if (j->length_u > 0)
        snprintf(known, sizeof known, " known to %s%s",
                 spread(j, j->length_u).text, unit);
    snprintf(l->text[l->n++], LINE_SIZE, "  length %s%s%s",
             stated(j, j->length, j->length_u).text, unit, known);
}

static void add_harmonic(const tip_job *j, const jaw_tip_entry *e, int first,
                         const char *word, lines *l)
{
    const double *h = e->harmonic + first, *u = e->harmonic_known + first;
    const char *unit = jaw_unit_word(j->unit);
    if (u[0] > 0 && u[1] > 0)
        snprintf(l->text[l->n++], LINE_SIZE,
                 "  %s %s%s %s%s known to %s%s %s%s", word,
                 stated(j, h[0], u[0]).text, unit, stated(j, h[1], u[1]).text,
                 unit, spread(j, u[0]).text, unit, spread(j, u[1]).text, unit);
}

static void add_correlations(const jaw_tip_entry *e, lines *l)
{
    static const char *const words[JAW_TIP_PARTS] = {
        "diameter", "runout-x", "runout-y", "lobes-cos", "lobes-sin"};
    for (int a = 0; a < JAW_TIP_PARTS; a++)
        for (int b = a + 1; b < JAW_TIP_PARTS; b++) {
            number c = fixed(e->correlation[jaw_tip_pair((jaw_tip_part)a,
                                                         (jaw_tip_part)b)],
                             3);
            if (strpbrk(c.text, "123456789"))
                snprintf(l->text[l->n++], LINE_SIZE,
                         "  correlation %s with %s %s", words[a], words[b],
                         c.text);
        }
}

/* A block has no calibration of its own kind, but the same two shares. */
static void entry_of(const tip_job *j, const tip_found *f, jaw_tip_entry *e)
{
    const jaw_tip_block *b = &f->block;
    double within = b->within_both / jaw_trust_cover(0.95, (double)INFINITY);
    *e = (jaw_tip_entry){.name = j->name};
    if (j->kind != TIP_BLOCK) {
        jaw_tip_calibrated(&f->round, e);
        return;
    }
    e->tip.diameter = b->both;
    e->tip.repeat = b->repeat;
    e->diameter_known = within > 0 ? within : 0;
}

static void lines_of(const tip_job *j, const tip_found *f, lines *l)
{
    jaw_tip_entry e;
    entry_of(j, f, &e);
    l->n = 0;
    add_head(j, &e, l);
    add_length(j, l);
    add_harmonic(j, &e, 0, "runout", l);
    add_harmonic(j, &e, 2, "lobes", l);
    add_correlations(&e, l);
}

static void put_lines(const tip_job *j, const tip_found *f)
{
    lines l;
    lines_of(j, f, &l);
    puts("\nfor the sheet:");
    for (size_t i = 0; i < l.n; i++)
        puts(l.text[i]);
}

/* ------------------------------------------------------------------ rounds */

/* What was not looked for is not known; only what was tried can be said not to
 * be there. */
static void put_state(const char *name, jaw_tip_term_state state)
{
    const char *why = state == JAW_TERM_INSEPARABLE
                          ? "the spindle was not turned half a turn"
                      : state == JAW_TERM_DROPPED
                          ? "the touches do not support one"
                          : "too few touches or directions";
    printf("%-26s%12s  %s\n", name,
           state == JAW_TERM_DROPPED ? "none seen" : "not known", why);
}

/* An angle for a person: [0, 360), whole turns and rounding taken off. */
static number direction(double rad)
{
    double deg = fmod(jaw_deg(rad) + 720, 360);
    return fixed(deg > 359.95 ? 0 : deg, 1);
}

static void put_harmonics(const tip_job *j, const jaw_tip_calibration *c)
{
    const double *h = c->harmonic;
    char behind[BEHIND];
    if (c->first.state == JAW_TERM_KEPT) {
        snprintf(behind, sizeof behind,
                 "toward %s deg; turns with the spindle",
                 direction(atan2(h[1], h[0])).text);
        row(j, "runout", hypot(h[0], h[1]), behind);
    } else {
        put_state("runout", c->first.state);
    }
    if (c->third.state == JAW_TERM_KEPT) {
        double peak = atan2(h[3], h[2]) / 3, third = jaw_rad(120);
        snprintf(behind, sizeof behind, "reaches most at %s, %s, %s deg",
                 direction(peak).text, direction(peak + third).text,
                 direction(peak - third).text);
        row(j, "three-sided pre-travel", hypot(h[2], h[3]), behind);
    } else {
        put_state("three-sided pre-travel", c->third.state);
    }
}

/* How far a touch from one direction is off when only the diameter is used. */
static double worst_pretravel(const jaw_tip_calibration *c)
{
    double most = 0;
    for (int deg = 0; deg < 360; deg++)
        most = fmax(most, fabs(jaw_tip_pretravel(c, jaw_rad(deg), NULL)));
    return most;
}

static void put_round(const tip_job *j, const tip_found *f)
{
    const jaw_tip_calibration *c = &f->round;
    printf("tip on a %s, %zu touches%s, %s\n", tip_kind_word(j->kind), f->n,
           f->turned ? ", spindle turned half a turn between" : "",
           jaw_unit_word(j->unit));
    put_known(j, j->known[0], "known diameter");
    put_diameter(j, "effective diameter", c->diameter, c->within);
    if (j->kind != TIP_BALL)
        put_harmonics(j, c);
    put_repeat(j, c->repeat, c->seen, c->dof_touch, c->flags);
    row(j, "centre                  x", c->centre.x, "");
    row(j, "                        y", c->centre.y, "");
    if (j->kind == TIP_BALL)
        row(j, "                        z", c->centre.z, "");
    put_residuals(j, f);
    double off = worst_pretravel(c);
    if (off > 0)
        printf("note: by the diameter alone a touch is off by up to %s, by its "
               "direction\n",
               length(j, off).text);
}

/* ------------------------------------------------------------------- blocks */

static void put_block(const tip_job *j, const tip_found *f)
{
    const jaw_tip_block *b = &f->block;
    printf("tip on a block, %zu touches, %s\n", f->n, jaw_unit_word(j->unit));
    for (size_t k = 0; k < b->n; k++) {
        char name[BEHIND];
        put_known(j, j->known[k], b->n == 1 ? "known width"
                                  : k == 0  ? "known width, first"
                                            : "known width, second");
        snprintf(name, sizeof name, "diameter along %s deg",
                 fixed(jaw_deg(b->theta[k]), 2).text);
        put_diameter(j, name, b->diameter[k], b->within[k]);
    }
    if (b->n == 2)
        put_diameter(j, "mean of both", b->both, b->within_both);
    put_repeat(j, b->repeat, b->seen, b->dof_touch, b->flags);
    put_residuals(j, f);
}

/* ------------------------------------------------------ repeat and reversal */

static void put_spread(const tip_job *j, const jaw_spread *s)
{
    char behind[BEHIND];
    snprintf(behind, sizeof behind, "between %s and %s (95 %%)",
             fine(j, s->low).text, fine(j, s->high).text);
    row(j, "  mean", s->mean, "");
    row_of("  standard deviation", fine(j, s->s), behind);
    row(j, "  range", s->range, "ISO 230-10 repeatability (from memory)");
}

static void put_repeat_line(const tip_job *j, double repeat)
{
    number r = fine(j, repeat);
    if (strpbrk(r.text, "123456789"))
        printf("\nfor the sheet, behind the tip's diameter:\nrepeat %s%s\n",
               r.text, jaw_unit_word(j->unit));
    else
        puts("\nthe readings do not scatter: there is no repeat to state; read "
             "finer");
}

static void put_repeats(const tip_job *j, const tip_found *f)
{
    static const char *const names[] = {"x", "y", "z"};
    double most = 0;
    printf("one place touched %zu times, %s\n", f->n, jaw_unit_word(j->unit));
    for (int k = 0; k < f->columns; k++) {
        if (f->columns > 1)
            printf("%s\n", names[k]);
        put_spread(j, &f->spread[k]);
        most = fmax(most, f->spread[k].s);
    }
    put_repeat_line(j, most);
}

static void put_place(const tip_job *j, const jaw_reversal *r)
{
    char behind[BEHIND];
    row(j, "  mean, moving up", r->up.mean, "");
    row(j, "  mean, moving down", r->down.mean, "");
    snprintf(behind, sizeof behind, "%s",
             r->real ? "real (95 %)" : "not told from none (95 %)");
    row(j, "  reversal, up less down", r->reversal, behind);
    row(j, "  repeatability up", r->repeat_up, "4 s");
    row(j, "  repeatability down", r->repeat_down, "4 s");
    row(j, "  repeatability of both", r->repeat_both,
        "2 s up + 2 s down + reversal, or more");
}

static void put_axis(const tip_job *j, const tip_found *f)
{
    const jaw_positioning *a = &f->axis;
    puts("the axis, from all places");
    row(j, "  reversal, largest", a->reversal, "");
    row(j, "  reversal, mean", a->reversal_mean, "");
    row(j, "  repeatability up", a->repeat_up, "");
    row(j, "  repeatability down", a->repeat_down, "");
    row(j, "  repeatability of both", a->repeat_both, "");
    if (!f->nominal)
        return;
    row(j, "  range of the means", a->mean_range, "");
    row(j, "  systematic deviation", a->systematic, "");
    row(j, "  accuracy", a->accuracy, "");
}

static double pooled(const tip_found *f)
{
    double sum = 0, dof = 0;
    for (size_t k = 0; k < f->places; k++) {
        const jaw_spread *s[] = {&f->reversal[k].up, &f->reversal[k].down};
        for (int i = 0; i < 2; i++) {
            sum += s[i]->s * s[i]->s * (double)(s[i]->n - 1);
            dof += (double)(s[i]->n - 1);
        }
    }
    return sqrt(sum / dof);
}

static void put_reversals(const tip_job *j, const tip_found *f)
{
    printf("%zu place%s reached from both ways, %s, terms of ISO 230-2 (from "
           "memory)\n",
           f->places, f->places == 1 ? "" : "s", jaw_unit_word(j->unit));
    for (size_t k = 0; k < f->places; k++) {
        if (f->places > 1)
            printf("place %zu\n", k + 1);
        put_place(j, &f->reversal[k]);
    }
    if (f->places > 1)
        put_axis(j, f);
    put_repeat_line(j, pooled(f));
}

static void put_text(const tip_job *j, const tip_found *f)
{
    put_flags(j, f, true);
    if (j->kind == TIP_REPEAT) {
        put_repeats(j, f);
    } else if (j->kind == TIP_REVERSAL) {
        put_reversals(j, f);
    } else if (j->kind == TIP_BLOCK) {
        put_block(j, f);
        put_flags(j, f, false);
        put_lines(j, f);
    } else {
        put_round(j, f);
        put_flags(j, f, false);
        put_lines(j, f);
    }
}

/* -------------------------------------------------------------------- kept */

static void put_moved(const tip_job *j, const char *name, double moved,
                      double limit)
{
    if (isnan(moved))
        return;
    printf("%-12s moved by %s: %s; up to %s is noise\n", name,
           fine(j, moved).text, moved > limit ? "it changed" : "noise",
           fine(j, limit).text);
}

static void put_change(const tip_job *j, const jaw_book_tip_change *c)
{
    if (c->last_id == 0) {
        puts("change       there is no earlier one to compare with");
        return;
    }
    if (j->fresh) {
        puts("change       another tip: nothing is compared");
        return;
    }
    printf("change       %s%s since entry %lld of %s", c->differ > 0 ? "+" : "",
           length(j, c->differ).text, c->last_id, date_text(c->last_at).s);
    if (isnan(c->limit))
        puts(": how sure both are is not known, so nothing can be told");
    else
        printf(": %s; up to %s is noise\n",
               fabs(c->differ) > c->limit ? "it changed" : "noise",
               fine(j, c->limit).text);
    if (c->same_size && j->known[0].u > 0)
        puts("             taken as touched on the same thing, whose error is "
             "in both");
    put_moved(j, "runout", c->runout, c->runout_limit);
    put_moved(j, "pre-travel", c->lobes, c->lobes_limit);
}

/* The newest, as a table. */
static void put_history(const tip_job *j, const tip_kept *k)
{
    for (size_t i = 0; i < k->n; i++) {
        const tip_entry *e = &k->entry[i];
        printf("%8lld  %s  diameter %s", e->id, date_text(e->at).s,
               length(j, e->diameter).text);
        if (!isnan(e->half95))
            printf("  within %s", length(j, e->half95).text);
        if (!isnan(e->runout))
            printf("  runout %s", length(j, e->runout).text);
        puts(e->undone ? "  (undone)" : "");
    }
}

static void put_kept(const tip_job *j, const tip_found *f)
{
    const tip_kept *k = &f->kept;
    printf("\nkept as entry %lld: tip '%s' on %s\n", k->id, j->name,
           k->machine);
    printf("in a sheet   tip %s from book\n", j->name);
    printf("shape        %s%s\n", jaw_tip_shape_word(k->shape),
           k->shape_taken ? ", as it was kept last" : "");
    if (isnan(j->length))
        puts("length       not stated (--length): a sheet says it, or which "
             "tool the tip is");
    put_change(j, &k->change);
    put_history(j, k);
}

/* -------------------------------------------------------------------- JSON */

/* An object being filled; a value that could not be had sets failed. */
typedef struct object {
    json_t *json;
    double unit; /* mm */
    bool failed;
} object;

static void put(object *o, const char *key, json_t *value)
{
    if (json_object_set_new(o->json, key, value) != 0)
        o->failed = true;
}

/* + 0.0 takes the sign off a zero */
static json_t *real(double value)
{
    return isfinite(value) ? json_real(value + 0.0) : json_null();
}

static void put_mm(object *o, const char *key, double mm)
{
    put(o, key, real(mm / o->unit));
}

static json_t *list(const double v[], size_t n, double unit)
{
    json_t *array = json_array();
    for (size_t i = 0; array && i < n; i++)
        if (json_array_append_new(array, real(v[i] / unit)) != 0) {
            json_decref(array);
            return NULL;
        }
    return array;
}

static void json_flags(object *o, const tip_job *j, const tip_found *f)
{
    json_t *array = json_array();
    unsigned flags = tip_flags(j, f);
    for (unsigned flag = 1; flag && flag <= flags; flag <<= 1)
        if ((flags & flag) &&
            json_array_append_new(array, json_string(jaw_flag_word(flag))) != 0)
            o->failed = true;
    put(o, "flags", array);
}

static void json_term(object *o, const char *key, const jaw_tip_term *t)
{
    object term = {json_object(), o->unit, false};
    put(&term, "state", json_string(jaw_tip_term_word(t->state)));
    put_mm(&term, "cos", t->c);
    put_mm(&term, "sin", t->s);
    put(&term, "f", real(t->f));
    put(&term, "limit", real(t->limit));
    o->failed = o->failed || term.failed;
    put(o, key, term.json);
}

static void json_round(object *o, const tip_job *j, const tip_found *f)
{
    const jaw_tip_calibration *c = &f->round;
    const double centre[] = {c->centre.x, c->centre.y, c->centre.z};
    size_t n = j->kind == TIP_BALL ? 3 : 2;
    put_mm(o, "size", j->known[0].size);
    put_mm(o, "size_u", j->known[0].u);
    put_mm(o, "diameter", c->diameter);
    put_mm(o, "u", c->u_diameter);
    put(o, "dof", real(c->dof));
    put_mm(o, "within", c->within);
    json_term(o, "first", &c->first);
    json_term(o, "third", &c->third);
    put(o, "harmonic", list(c->harmonic, 4, o->unit));
    put(o, "covariance", list(c->cov, 15, o->unit * o->unit));
    put(o, "centre", list(centre, n, o->unit));
    put_mm(o, "repeat", c->repeat);
    put_mm(o, "seen", c->seen);
    put(o, "dof_touch", json_integer(c->dof_touch));
}

static void json_block(object *o, const tip_job *j, const tip_found *f)
{
    const jaw_tip_block *b = &f->block;
    const double size[] = {j->known[0].size, j->known[1].size};
    const double deg[] = {jaw_deg(b->theta[0]), jaw_deg(b->theta[1])};
    put(o, "size", list(size, b->n, o->unit));
    put_mm(o, "size_u", j->known[0].u);
    put(o, "diameter", list(b->diameter, b->n, o->unit));
    put(o, "u", list(b->u_diameter, b->n, o->unit));
    put(o, "dof", list(b->dof, b->n, 1));
    put(o, "within", list(b->within, b->n, o->unit));
    put(o, "direction_deg", list(deg, b->n, 1));
    put_mm(o, "both", b->both);
    put_mm(o, "within_both", b->within_both);
    put_mm(o, "differ", b->differ);
    put(o, "differs", json_boolean(b->differs));
    put_mm(o, "repeat", b->repeat);
    put_mm(o, "seen", b->seen);
    put(o, "dof_touch", json_integer(b->dof_touch));
}

static void json_sheet(object *o, const tip_job *j, const tip_found *f)
{
    json_t *array = json_array();
    lines l;
    lines_of(j, f, &l);
    for (size_t i = 0; i < l.n; i++)
        if (json_array_append_new(array, json_string(l.text[i])) != 0)
            o->failed = true;
    put(o, "sheet", array);
}

static json_t *json_spread(const jaw_spread *s, double unit)
{
    object o = {json_object(), unit, false};
    put(&o, "n", json_integer((json_int_t)s->n));
    put_mm(&o, "mean", s->mean);
    put_mm(&o, "s", s->s);
    put_mm(&o, "range", s->range);
    put_mm(&o, "s_low", s->low);
    put_mm(&o, "s_high", s->high);
    if (!o.failed)
        return o.json;
    json_decref(o.json);
    return NULL;
}

static json_t *json_place(const jaw_reversal *r, double unit)
{
    object o = {json_object(), unit, false};
    put(&o, "up", json_spread(&r->up, unit));
    put(&o, "down", json_spread(&r->down, unit));
    put_mm(&o, "reversal", r->reversal);
    put_mm(&o, "u", r->u_reversal);
    put(&o, "dof", real(r->dof));
    put(&o, "real", json_boolean(r->real));
    put_mm(&o, "repeat_up", r->repeat_up);
    put_mm(&o, "repeat_down", r->repeat_down);
    put_mm(&o, "repeat_both", r->repeat_both);
    if (!o.failed)
        return o.json;
    json_decref(o.json);
    return NULL;
}

static void json_reversals(object *o, const tip_found *f)
{
    const jaw_positioning *a = &f->axis;
    json_t *array = json_array();
    for (size_t k = 0; k < f->places; k++)
        if (json_array_append_new(array, json_place(&f->reversal[k],
                                                    o->unit)) != 0)
            o->failed = true;
    put(o, "places", array);
    put_mm(o, "reversal", a->reversal);
    put_mm(o, "reversal_mean", a->reversal_mean);
    put_mm(o, "repeat_up", a->repeat_up);
    put_mm(o, "repeat_down", a->repeat_down);
    put_mm(o, "repeat_both", a->repeat_both);
    double none = (double)NAN;
    put_mm(o, "mean_range", f->nominal ? a->mean_range : none);
    put_mm(o, "systematic", f->nominal ? a->systematic : none);
    put_mm(o, "accuracy", f->nominal ? a->accuracy : none);
    put_mm(o, "repeat", pooled(f));
}

static void json_repeats(object *o, const tip_found *f)
{
    json_t *array = json_array();
    for (int k = 0; k < f->columns; k++)
        if (json_array_append_new(array,
                                  json_spread(&f->spread[k], o->unit)) != 0)
            o->failed = true;
    put(o, "columns", array);
}

static json_t *json_entry(const tip_entry *e, double unit)
{
    object o = {json_object(), unit, false};
    put(&o, "entry", json_integer(e->id));
    put(&o, "at_ms", json_integer(e->at));
    put_mm(&o, "diameter", e->diameter);
    put_mm(&o, "within", e->half95);
    put_mm(&o, "runout", e->runout);
    put(&o, "undone", json_boolean(e->undone));
    if (!o.failed)
        return o.json;
    json_decref(o.json);
    return NULL;
}

static void json_kept(object *o, const tip_kept *k)
{
    object kept = {json_object(), o->unit, false};
    json_t *array = json_array();
    put(&kept, "entry", json_integer(k->id));
    put(&kept, "machine", json_string(k->machine));
    put(&kept, "shape", json_string(jaw_tip_shape_word(k->shape)));
    put(&kept, "last",
        k->change.last_id ? json_integer(k->change.last_id) : json_null());
    put_mm(&kept, "differ", k->change.differ);
    put_mm(&kept, "noise", k->change.limit);
    put_mm(&kept, "runout_moved", k->change.runout);
    put_mm(&kept, "runout_noise", k->change.runout_limit);
    put_mm(&kept, "lobes_moved", k->change.lobes);
    put_mm(&kept, "lobes_noise", k->change.lobes_limit);
    put(&kept, "changed", json_boolean(k->change.changed));
    for (size_t i = 0; i < k->n; i++)
        if (json_array_append_new(array, json_entry(&k->entry[i], o->unit)))
            kept.failed = true;
    put(&kept, "history", array);
    o->failed = o->failed || kept.failed;
    put(o, "kept", kept.json);
}

static bool put_json(const tip_job *j, const tip_found *f)
{
    object o = {json_object(), jaw_unit_mm(j->unit), false};
    put(&o, "kind", json_string(tip_kind_word(j->kind)));
    put(&o, "unit", json_string(jaw_unit_word(j->unit)));
    if (j->kind == TIP_REPEAT)
        json_repeats(&o, f);
    else if (j->kind == TIP_REVERSAL)
        json_reversals(&o, f);
    else if (j->kind == TIP_BLOCK)
        json_block(&o, j, f);
    else
        json_round(&o, j, f);
    if (j->kind != TIP_REPEAT && j->kind != TIP_REVERSAL) {
        put(&o, "residuals", list(f->resid, f->n, o.unit));
        json_flags(&o, j, f);
        json_sheet(&o, j, f);
    }
    if (f->kept.done)
        json_kept(&o, &f->kept);
    char *text = o.failed ? NULL
                          : json_dumps(o.json, JSON_REAL_PRECISION(17));
    json_decref(o.json);
    if (text)
        puts(text);
    free(text);
    return text != NULL;
}

bool tip_report(const tip_job *j, const tip_found *f)
{
    if (j->json)
        return put_json(j, f);
    put_text(j, f);
    if (f->kept.done)
        put_kept(j, f);
    return true;
}
