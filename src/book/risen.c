/* SPDX-License-Identifier: GPL-3.0-or-later */
/* risen.c: by what the machine's Z moved since an entry was written: what was
 * read above the part, or above a surface of unknown height, rose with it. */
#include "homing.h"

#include <src/base/grow.h>

#include <math.h>
#include <stdlib.h>

typedef struct marks {
    jaw_book_record *mark; /* n of them, in the order of writing */
    size_t n, room;
    bool failed;
} marks;

static bool take(void *user, const jaw_book_record *r)
{
    marks *m = user;

    jaw_book_record *more = jaw__grow(m->mark, m->n, &m->room, sizeof *more);

    m->failed = more == NULL;
    if (m->failed)
        return false;
    m->mark = more;
    m->mark[m->n++] = *r; /* of its texts none is looked at */
    return true;
}

static jaw_status find_marks(jaw_book *book, const char *machine,
                             long long after, marks *m)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT " JAW__ENTRY_COLUMNS " FROM entry e JOIN mark k ON k.id = e.id"
        " WHERE e.kind = 'mark' AND e.machine = ?1 AND e.id > ?2"
        " AND k.move = 'moved'"
        " AND NOT " JAW__UNDONE(e) " ORDER BY e.id",
        &status);

    if (stmt == NULL)
        return status;
    sqlite3_bind_text(stmt, 1, machine, -1, SQLITE_TRANSIENT);
    sqlite3_bind_int64(stmt, 2, after);
    status = jaw__book_each(book, stmt, take, m);
    return status == JAW_OK && m->failed ? JAW_ENOMEM : status;
}

/* n marks that were found together. */
static jaw_status take_homing(jaw_book *book, const jaw_book_record mark[],
                              size_t n, jaw_book_rise *rise)
{
    jaw_mark pair[JAW_MARKS_MAX];
    jaw_book_record base;
    jaw_moved moved;

    for (size_t i = 0; i < n; i++) {
        jaw_status status = jaw_book_get(book, mark[i].as.mark.since, &base);
        if (status != JAW_OK)
            return status;
        pair[i] = jaw__book_pair(&base.as.mark, &mark[i].as.mark);
    }
    jaw_status status = jaw_place_moved(pair, n, &moved, NULL);
    if (status != JAW_OK || moved.height == JAW_STAYED)
        return status;
    rise->n++;
    rise->marks = jaw__book_session(&mark[0]);
    rise->by += moved.shift[2].value;
    return JAW_OK;
}

jaw_status jaw_book_rise_since(jaw_book *book, const char *machine,
                               long long after, jaw_book_rise *rise)
{
    marks m = {.n = 0};
    jaw_status status = find_marks(book, machine, after, &m);

    *rise = (jaw_book_rise){.n = 0};
    for (size_t i = 0, n; i < m.n && status == JAW_OK; i += n) {
        for (n = 1; i + n < m.n && n < JAW_MARKS_MAX; n++)
            if (jaw__book_session(&m.mark[i + n]) !=
                jaw__book_session(&m.mark[i]))
                break;
        status = take_homing(book, &m.mark[i], n, rise);
    }
    free(m.mark);
    if (status != JAW_OK)
        *rise = (jaw_book_rise){.by = (double)NAN};
    return status;
}

jaw_status jaw_book_rise_tell(jaw_book *book, const char *machine, int number,
                              const char *datum, const jaw_book_rise *rise)
{
    jaw_book_machine m;
    bool known;
    jaw_status status = jaw_book_machine_of(book, machine, &m, &known);

    if (status == JAW_OK && isnan(rise->by))
        jaw__book_say(book, SAY_RISEN_UNSHOWN, number, datum, rise->marks);
    else if (status == JAW_OK)
        jaw__book_say(book, SAY_RISEN, number, datum,
                      jaw__book_mm(rise->by, m.unit, &m).s, rise->marks);
    return status;
}
