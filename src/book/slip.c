/* SPDX-License-Identifier: GPL-3.0-or-later */
/* slip.c: numbers that a slip of the hand spoilt: inch for mm, a lost sign; of
 * marks and fixtures x for y too; and marks that moved against one another, of
 * which one was touched wrong or is loose. */
#include "homing.h"
#include "moved.h"

#include <math.h>
#include <string.h>

/* What makes the one number of the other leaves less than a hundredth of what
 * it jumped by, which chance does in one of a hundred. */
static bool explains(double now, double before, double off)
{
    return fabs(now - before) < off / 100;
}

jaw_book_slip jaw__slip_of(double before, double now, double u)
{
    const double off = fabs(now - before), k = JAW_MM_PER_INCH;

    if (!(off > u * JAW_TRUST_LIMIT))
        return JAW_SLIP_NONE;
    if (explains(now * k, before, off) || explains(now / k, before, off))
        return JAW_SLIP_INCH;
    return explains(-now, before, off) ? JAW_SLIP_SIGN : JAW_SLIP_NONE;
}

const char *jaw__times_of(double before, double now)
{
    return fabs(now) > fabs(before) ? "25.4 times" : "a 25.4th of";
}

static const char *const axis_name[3] = {"x", "y", "z"};

/* The value of such a coordinate, told. */
static bool slip_of(jaw_book *book, const char *name, const char *axis,
                    double before, double now, double u)
{
    jaw_book_slip slip = jaw__slip_of(before, now, u);

    if (slip == JAW_SLIP_INCH)
        jaw__book_say(book, SAY_MARK_UNIT, axis, name,
                      jaw__times_of(before, now));
    else if (slip == JAW_SLIP_SIGN)
        jaw__book_say(book, SAY_MARK_SIGN, axis, name);
    return slip != JAW_SLIP_NONE;
}

static bool is_swapped(const jaw_mark *m, double u)
{
    double off = hypot(m->after.x - m->before.x, m->after.y - m->before.y);

    return off > u * JAW_TRUST_LIMIT &&
           explains(hypot(m->after.x - m->before.y, m->after.y - m->before.x),
                    0, off);
}

/* Of a mark whose axis no other mark checks, or that goes not along with the
 * others. */
typedef struct doubtable {
    bool plane, height;
    const jaw_book_machine *machine;
    jaw_unit unit;
} doubtable;

/* One coordinate that is mistyped leaves the others where they were.  An axis
 * that was homed a turn of its screw too far does so too, by a round number: of
 * one mark alone the two can not be told apart. */
static bool digits_of(jaw_book *book, const char *name, const jaw_mark *m,
                      const doubtable *d)
{
    const double before[3] = {m->before.x, m->before.y, m->before.z};
    const double after[3] = {m->after.x, m->after.y, m->after.z};
    const double xy = JAW_TRUST_LIMIT * hypot(m->u_xy[0], m->u_xy[1]);
    const double z = JAW_TRUST_LIMIT * hypot(m->u_z[0], m->u_z[1]);
    const double noise[3] = {xy, xy, z};
    int moved = 0, one = 0;
    char text[60];

    for (int k = 0; k < 3; k++) {
        if (!(fabs(after[k] - before[k]) > noise[k]))
            continue;
        moved++;
        one = k;
    }
    const jaw__typing typing = {
        before[one], jaw_round_to_step(after[one], d->machine->step),
        noise[one], d->machine->step, d->unit, true};
    if (m->wall || moved != 1 || !(one == 2 ? d->height : d->plane) ||
        !jaw__typed_slip(&typing, text))
        return false;
    jaw__book_say(book, SAY_MARK_DIGITS, axis_name[one], name, text);
    return true;
}

static bool slips(jaw_book *book, const char *name, const jaw_mark *m,
                  const doubtable *d)
{
    const double u = hypot(m->u_xy[0], m->u_xy[1]);
    const double u_z = hypot(m->u_z[0], m->u_z[1]);

    if (!m->wall && is_swapped(m, u)) {
        jaw__book_say(book, SAY_MARK_SWAPPED, name);
        return true;
    }
    /* of a wall, what lies along it may be anywhere */
    bool x = (!m->wall || fabs(sin(m->theta[0])) > 0.5) &&
             slip_of(book, name, "x", m->before.x, m->after.x, u);
    bool y = (!m->wall || fabs(cos(m->theta[0])) > 0.5) &&
             slip_of(book, name, "y", m->before.y, m->after.y, u);
    bool z = slip_of(book, name, "z", m->before.z, m->after.z, u_z);
    return x || y || z || digits_of(book, name, m, d);
}

/* The one mark without which the others agree; n: none, or not one alone. */
static size_t culprit(const jaw_mark pair[], size_t n)
{
    jaw_mark rest[JAW_MARKS_MAX];
    jaw_moved moved;
    size_t found = n;

    for (size_t i = 0; i < n; i++) {
        memcpy(rest, pair, i * sizeof *pair);
        memcpy(rest + i, pair + i + 1, (n - i - 1) * sizeof *pair);
        if (jaw_place_moved(rest, n - 1, &moved, NULL) != JAW_OK ||
            (moved.flags & (JAW_RESIDUAL | JAW_NO_CHECK)))
            continue;
        if (found < n)
            return n;
        found = i;
    }
    return found;
}

static double size_of(jaw_vec3 off)
{
    double x = isnan(off.x) ? 0 : hypot(off.x, off.y);

    return isnan(off.z) ? x : hypot(x, off.z);
}

static void say_apart(jaw_book *book, const jaw_book_machine *machine,
                      const jaw_mark pair[], const size_t which[],
                      const jaw_vec3 resid[], const jaw_book_homing *h)
{
    size_t n = h->n_compared, one = culprit(pair, n), worst = 0;
    jaw_unit unit = h->mark[which[0]].as.mark.unit;

    for (size_t i = 1; i < n; i++)
        if (size_of(resid[i]) > size_of(resid[worst]))
            worst = i;
    if (one < n)
        jaw__book_say(book, SAY_MARK_ODD, h->mark[which[one]].subject);
    else
        jaw__book_say(book, SAY_MARK_APART,
                      h->mark[which[worst]].subject,
                      jaw__book_mm(size_of(resid[worst]), unit, machine).s);
}

void jaw__book_slips(jaw_book *book, const jaw_book_machine *machine,
                     const jaw_mark pair[], const size_t which[],
                     const jaw_vec3 resid[], jaw_book_homing *h)
{
    bool scatter = h->doubtful, apart = h->moved.flags & JAW_RESIDUAL;
    doubtable d = {
        .plane = apart || (h->moved.flags & JAW_NO_CHECK),
        .height = apart || jaw__marks_high(pair, h->n_compared) == 1,
        .machine = machine, .unit = h->mark[which[0]].as.mark.unit};

    for (size_t i = 0; i < h->n_compared; i++)
        if (slips(book, h->mark[which[i]].subject, &pair[i], &d))
            h->doubtful = true;
    if ((h->doubtful && !scatter) || !(h->moved.flags & JAW_RESIDUAL))
        return;
    h->doubtful = true;
    say_apart(book, machine, pair, which, resid, h);
}

/* ---------------------------------------------------------------- fixtures */

/* A unit that was taken for the other makes all of it so many times as large,
 * the tip too; a sign that was lost leaves the tip's half diameter where it
 * was, as a register's (moved.c).  Where nothing says how sure a place is, the
 * last digit that is shown stands for it.  A skew comes back on either side of
 * square. */
static jaw_book_slip slip_at(const jaw_book_shift *s, double step)
{
    if (s->slip != JAW_SLIP_NONE)
        return s->slip;
    return jaw__slip_of(s->before.value, s->after.value, fmax(s->u, step));
}

static bool fixture_swapped(const jaw_book_shift s[], double step)
{
    const jaw_mark m = {
        .before = {s[0].before.value, s[1].before.value, (double)NAN},
        .after = {s[0].after.value, s[1].after.value, (double)NAN}};

    return is_swapped(&m, fmax(fmax(s[0].u, s[1].u), step));
}

bool jaw__book_fixture_slips(jaw_book *book, const char *name,
                             const jaw_book_fixture *last,
                             const jaw_book_fixture *now, double tip,
                             double step)
{
    jaw_book_shift s[3] = {{.axis = 0}, {.axis = 1}, {.axis = 2}};
    bool any = false;

    for (int k = 0; k < 3; k++) {
        s[k].before = last->at[k];
        s[k].after = now->at[k];
    }
    jaw__shifts_judge(s, 3, tip);
    if (fixture_swapped(s, step)) {
        jaw__book_say(book, SAY_FIXTURE_SWAPPED, name);
        return true;
    }
    for (int k = 0; k < 3; k++) {
        const char *word = jaw_book_axis_word((unsigned)k);
        jaw_book_slip slip = slip_at(&s[k], step);
        if (slip == JAW_SLIP_INCH)
            jaw__book_say(book, SAY_FIXTURE_UNIT, word, name,
                          jaw__times_of(last->at[k].value, now->at[k].value));
        else if (slip == JAW_SLIP_SIGN)
            jaw__book_say(book, SAY_FIXTURE_SIGN, word, name);
        any = any || slip != JAW_SLIP_NONE;
    }
    return any;
}
