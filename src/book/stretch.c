/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stretch.c: since when the machine stands as it was homed.  Whoever keeps
 * marks has homed the machine, as far as anybody can tell: what no mark was
 * compared along may have moved unseen, and what was found before is of no use
 * there. */
#include "homing.h"

#include <src/base/grow.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

long long jaw__book_session(const jaw_book_record *r)
{
    return r->part_of > 0 ? r->part_of : r->id;
}

unsigned jaw__book_mark_axes(const jaw_book_mark *m)
{
    const double theta = m->direction.value;
    unsigned axes = isnan(m->at[2].value) ? 0 : 4;

    if (isnan(m->at[0].value))
        return axes;
    if (fabs(cos(theta)) >= JAW_MOVED_ALONG)
        return 2;
    if (fabs(sin(theta)) >= JAW_MOVED_ALONG)
        return 1;
    return isnan(theta) ? axes | 3 : 3;
}

/* ------------------------------------------------------------- what is kept */

typedef struct session {
    long long id;
    bool moved;
    unsigned axes; /* along which a mark was compared */
} session;

typedef struct store {
    jaw_status status;
    session *one;
    size_t n, room;
    char (*name)[JAW_BOOK_NAME_SIZE];
    size_t n_names, room_names;
} store;

static bool take_name(void *user, const jaw_book_record *r)
{
    store *s = user;
    void *name = jaw__grow(s->name, s->n_names, &s->room_names,
                           sizeof *s->name);

    if (name == NULL) {
        s->status = JAW_ENOMEM;
        return false;
    }
    s->name = name;
    snprintf(s->name[s->n_names++], sizeof *s->name, "%s", r->subject);
    return true;
}

static session *session_of(store *s, long long id)
{
    for (size_t i = s->n; i > 0; i--)
        if (s->one[i - 1].id == id)
            return &s->one[i - 1];
    void *one = jaw__grow(s->one, s->n, &s->room, sizeof *s->one);
    if (one == NULL) {
        s->status = JAW_ENOMEM;
        return NULL;
    }
    s->one = one;
    s->one[s->n] = (session){.id = id};
    return &s->one[s->n++];
}

/* Newest first.  Before one that says that the machine moved nothing counts. */
static bool take(void *user, const jaw_book_record *r)
{
    const jaw_book_mark *m = &r->as.mark;
    store *s = user;

    if (r->undone)
        return true;
    session *one = session_of(s, jaw__book_session(r));
    if (one == NULL)
        return false;
    if (m->move == JAW_MOVE_MOVED)
        one->moved = true;
    else if (m->move != JAW_MOVE_FIRST)
        one->axes |= jaw__book_mark_axes(m);
    return !one->moved;
}

/* ------------------------------------------------------------------ stretch */

/* The first marks of all begin nothing: no homing need have come before. */
static void take_starts(const store *s, long long start[3])
{
    long long oldest = s->n > 0 ? s->one[0].id : 0;

    for (size_t i = 0; i < s->n; i++)
        oldest = s->one[i].id < oldest ? s->one[i].id : oldest;
    for (size_t i = 0; i < s->n; i++)
        for (int k = 0; k < 3; k++)
            if ((s->one[i].moved ||
                 (!(s->one[i].axes >> k & 1) && s->one[i].id > oldest)) &&
                s->one[i].id > start[k])
                start[k] = s->one[i].id;
}

jaw_status jaw__book_stretch(jaw_book *book, const char *machine,
                             long long start[3])
{
    store s = {.status = JAW_OK};
    jaw_status status = jaw_book_current(book, JAW_BOOK_MARK, machine,
                                         take_name, &s);

    start[0] = start[1] = start[2] = 0;
    for (size_t i = 0; i < s.n_names && status == JAW_OK; i++)
        status = jaw_book_history(book, JAW_BOOK_MARK, machine, s.name[i], 0,
                                  take, &s);
    if (status == JAW_OK)
        status = s.status;
    take_starts(&s, start);
    free(s.one);
    free(s.name);
    return status;
}
