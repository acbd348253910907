/* SPDX-License-Identifier: GPL-3.0-or-later */
/* homing.c: marks that were found again after a homing, against what the book
 * has of them: by what the machine moved, and whether it did. */
#include "homing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NO_NUMBER ((double)NAN)

/* -------------------------------------------------------- what is compared */

typedef struct base {
    const long long *start;
    jaw_book_mark mark;
    long long id, at;
    unsigned axes;
    bool old; /* before the stretch of what it shows */
} base;

/* The newest reading that began something, or was the first of its mark. */
static bool take_base(void *user, const jaw_book_record *r)
{
    base *b = user;
    if (r->undone || r->as.mark.move == JAW_MOVE_STAYED ||
        r->as.mark.move == JAW_MOVE_UNCLEAR)
        return true;
    b->axes = jaw__book_mark_axes(&r->as.mark);
    for (int k = 0; k < 3; k++)
        if (b->axes >> k & 1 && jaw__book_session(r) < b->start[k])
            b->old = true;
    b->mark = r->as.mark;
    b->mark.feature = "";
    b->id = r->id;
    b->at = r->at;
    return false;
}

static bool same_coordinates(const jaw_book_mark *a, const jaw_book_mark *b)
{
    return isnan(a->at[0].value) == isnan(b->at[0].value) &&
           isnan(a->direction.value) == isnan(b->direction.value);
}

static void put_place(const jaw_book_mark *m, jaw_vec3 *p)
{
    *p = (jaw_vec3){m->at[0].value, m->at[1].value, m->at[2].value};
}

jaw_mark jaw__book_pair(const jaw_book_mark *before, const jaw_book_mark *now)
{
    const jaw_book_mark *m[2] = {before, now};
    jaw_mark k = {.wall = !isnan(now->direction.value)};

    put_place(before, &k.before);
    put_place(now, &k.after);
    if (isnan(k.before.z) || isnan(k.after.z))
        k.before.z = k.after.z = NO_NUMBER;
    for (int i = 0; i < 2; i++) {
        k.u_xy[i] = fmax(jaw__book_figure_spread(&m[i]->at[0]),
                         jaw__book_figure_spread(&m[i]->at[1]));
        k.u_z[i] = jaw__book_figure_spread(&m[i]->at[2]);
        k.theta[i] = m[i]->direction.value;
        k.u_theta[i] = m[i]->direction.u > 0
                           ? jaw__book_figure_spread(&m[i]->direction)
                           : NO_NUMBER;
    }
    return k;
}

/* For all that is carried along an axis the one mark that is there longest is
 * enough; but all axes must be shown. */
static long long first_of(const long long oldest[3])
{
    long long first = 0;

    for (int k = 0; k < 3; k++)
        if (oldest[k] > first)
            first = oldest[k];
    return first;
}

static void take_oldest(const base *b, long long oldest[3])
{
    for (int k = 0; k < 3; k++)
        if (b->axes >> k & 1 && (oldest[k] == 0 || b->id < oldest[k]))
            oldest[k] = b->id;
}

/* What the book has of each mark, as pairs. */
static jaw_status find_pairs(jaw_book *book, jaw_book_record mark[],
                             const bool fresh[], jaw_book_homing *h,
                             jaw_mark pair[], size_t which[])
{
    long long start[3], oldest[3] = {0, 0, 0};
    jaw_status status = jaw__book_stretch(book, mark[0].machine, start);

    for (size_t i = 0; i < h->n && status == JAW_OK; i++) {
        base b = {.start = start};
        if (fresh != NULL && fresh[i])
            continue;
        status = jaw_book_history(book, JAW_BOOK_MARK, mark[i].machine,
                                  mark[i].subject, 0, take_base, &b);
        if (status == JAW_OK && b.old)
            jaw__book_say(book, SAY_MARK_OLD, mark[i].subject);
        if (status != JAW_OK || b.id == 0 || b.old)
            continue;
        if (!same_coordinates(&b.mark, &mark[i].as.mark))
            return jaw__book_say(book, SAY_MARK_OTHER, mark[i].subject);
        mark[i].as.mark.since = h->marked[i].since = b.id;
        h->marked[i].at = b.at;
        put_place(&b.mark, &h->marked[i].before);
        which[h->n_compared] = i;
        pair[h->n_compared++] = jaw__book_pair(&b.mark, &mark[i].as.mark);
        take_oldest(&b, oldest);
    }
    h->first = first_of(oldest);
    return status;
}

/* ------------------------------------------------------------------- moved */

static jaw_book_move move_of(jaw_movement m)
{
    return m == JAW_MOVED     ? JAW_MOVE_MOVED
           : m == JAW_STAYED ? JAW_MOVE_STAYED
                             : JAW_MOVE_UNCLEAR;
}

/* The worse of plane and height, where they are known. */
static jaw_book_move judge(const jaw_moved *m)
{
    bool plane = !isnan(m->shift[0].value) || !isnan(m->shift[1].value);
    bool high = !isnan(m->shift[2].value);
    jaw_book_move a = plane ? move_of(m->plane) : JAW_MOVE_FIRST;
    jaw_book_move b = high ? move_of(m->height) : JAW_MOVE_FIRST;

    return a > b ? a : b; /* first, within noise, not clear, moved */
}

size_t jaw__marks_high(const jaw_mark pair[], size_t n)
{
    size_t high = 0;

    for (size_t i = 0; i < n; i++)
        high += isnan(pair[i].before.z) ? 0 : 1;
    return high;
}

static void say_moved(jaw_book *book, const jaw_book_machine *m,
                      const jaw_mark pair[], const jaw_book_homing *h)
{
    if (h->doubtful)
        return;
    if (h->moved.flags & JAW_NO_CHECK)
        jaw__book_say(book, SAY_MARK_ALONE);
    if (h->moved.flags & JAW_DIRECTION_ASSUMED)
        jaw__book_say(book, SAY_MARK_NO_TURN);
    bool x = !isnan(h->moved.shift[0].value);
    if (x != !isnan(h->moved.shift[1].value))
        jaw__book_say(book, SAY_MARK_ALONG, x ? "X" : "Y", x ? "Y" : "X",
                      jaw__book_mm(JAW_MOVED_UNSEEN, m->unit, m).s);
    if (isnan(h->moved.shift[2].value))
        jaw__book_say(book, SAY_MARK_NO_HEIGHT);
    else if (jaw__marks_high(pair, h->n_compared) == 1)
        jaw__book_say(book, SAY_MARK_ALONE_HIGH);
    if (h->move == JAW_MOVE_UNCLEAR)
        jaw__book_say(book, SAY_MARK_UNCLEAR);
}

/* Touches that disagree say little, however much noise is made of that. */
static void doubt_scatter(jaw_book *book, jaw_book_homing *h)
{
    for (size_t i = 0; i < h->n; i++) {
        if (!(h->mark[i].doubts & JAW_BOOK_SCATTER))
            continue;
        h->doubtful = true;
        jaw__book_say(book, SAY_MARK_SCATTER, h->mark[i].subject);
    }
}

static jaw_status doubt_names(jaw_book *book, const bool fresh[],
                              jaw_book_homing *h)
{
    char near[JAW_BOOK_NAME_SIZE];
    jaw_status status = JAW_OK;

    for (size_t i = 0; i < h->n && status == JAW_OK; i++) {
        if (fresh != NULL && fresh[i])
            continue;
        status = jaw__book_near(book, JAW_BOOK_MARK, h->mark[0].machine,
                                h->mark, h->n, h->mark[i].subject, near);
        if (status != JAW_OK || near[0] == '\0')
            continue;
        h->doubtful = true;
        jaw__book_say(book, SAY_MARK_NEAR, h->mark[i].subject, near);
    }
    return status;
}

static jaw_status doubt(jaw_book *book, const bool fresh[], jaw_book_homing *h)
{
    doubt_scatter(book, h);
    return doubt_names(book, fresh, h);
}

static jaw_status compare(jaw_book *book, const jaw_book_machine *m,
                          const jaw_mark pair[], const size_t which[],
                          jaw_book_homing *h)
{
    jaw_vec3 resid[JAW_MARKS_MAX];
    jaw_status status = jaw_place_moved(pair, h->n_compared, &h->moved, resid);

    if (status == JAW_ERANK)
        return jaw__book_say(book, SAY_MARK_RANK);
    if (status != JAW_OK)
        return status;
    for (size_t i = 0; i < h->n_compared; i++)
        h->marked[which[i]].off = resid[i];
    h->move = judge(&h->moved);
    jaw__book_slips(book, m, pair, which, resid, h);
    say_moved(book, m, pair, h);
    return JAW_OK;
}

/* ------------------------------------------------------------------- whole */

static jaw_status check_marks(jaw_book *book, jaw_book_record mark[], size_t n)
{
    if (n < 1 || n > JAW_MARKS_MAX)
        return jaw__book_say(book, SAY_MARK_MANY, JAW_MARKS_MAX);
    for (size_t i = 0; i < n; i++) {
        mark[i].as.mark.move = JAW_MOVE_FIRST;
        mark[i].as.mark.since = 0;
        const char *wrong = mark[i].kind == JAW_BOOK_MARK
                                ? jaw__book_wrong(&mark[i])
                                : "it is no mark";
        if (wrong == NULL && strcmp(mark[i].machine, mark[0].machine) != 0)
            wrong = "marks that are found together are of one machine";
        for (size_t k = 0; k < i && wrong == NULL; k++)
            if (strcmp(mark[i].subject, mark[k].subject) == 0)
                wrong = "a mark is found once at a time";
        if (wrong != NULL)
            return jaw__book_say(book, SAY_BAD_ENTRY,
                                 mark[i].subject ? mark[i].subject : "a mark",
                                 wrong);
    }
    return JAW_OK;
}

static bool make_room(const jaw_book_record mark[], size_t n,
                      jaw_book_homing *h)
{
    const jaw_vec3 none = {NO_NUMBER, NO_NUMBER, NO_NUMBER};

    h->mark = mark;
    h->n = n;
    h->marked = calloc(n + 1, sizeof *h->marked);
    for (size_t i = 0; h->marked != NULL && i < n; i++)
        h->marked[i] = (jaw_book_marked){.before = none, .off = none};
    return h->marked != NULL;
}

jaw_status jaw_book_homed(jaw_book *book, jaw_book_record mark[],
                          const bool fresh[], size_t n, long long homed,
                          jaw_book_homing *h)
{
    jaw_mark pair[JAW_MARKS_MAX];
    size_t which[JAW_MARKS_MAX];
    jaw_book_machine m;
    bool known;
    jaw_status status = check_marks(book, mark, n);

    *h = (jaw_book_homing){.n = 0};
    jaw_place_moved(NULL, 0, &h->moved, NULL); /* NaN: nothing is compared */
    if (status != JAW_OK)
        return status;
    if (!make_room(mark, n, h))
        return JAW_ENOMEM;
    status = jaw_book_machine_of(book, mark[0].machine, &m, &known);
    if (status == JAW_OK)
        status = find_pairs(book, mark, fresh, h, pair, which);
    if (status == JAW_OK)
        status = doubt(book, fresh, h);
    if (status == JAW_OK && h->n_compared > 0)
        status = compare(book, &m, pair, which, h);
    for (size_t i = 0; i < h->n_compared; i++)
        mark[which[i]].as.mark.move = h->move;
    if (status == JAW_OK && !h->doubtful &&
        (h->move == JAW_MOVE_MOVED || h->move == JAW_MOVE_UNCLEAR))
        status = jaw__book_carry(book, &m, homed, h);
    return status;
}

void jaw_book_homing_free(jaw_book_homing *h)
{
    for (size_t i = 0; i < h->n_texts; i++)
        free(h->text[i]);
    free(h->text);
    free(h->carried);
    free(h->marked);
    *h = (jaw_book_homing){.n = 0};
}
