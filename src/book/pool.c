/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pool.c: how well a reading comes back: the spread of these readings and of
 * earlier ones of the same kind, pooled; and what rounding to the step of a
 * display leaves beside it. */
#include "change.h"

#include <jawline/measure.h>

#include <math.h>

/* ------------------------------------------------------------------ pooling */

jaw__pool jaw__pool_of(const double reading[], size_t n)
{
    jaw_spread spread;

    if (jaw_measure_spread(reading, n, &spread) != JAW_OK)
        return (jaw__pool){0, 0};
    return (jaw__pool){spread.s * spread.s * (double)(n - 1), (double)(n - 1)};
}

/* The readings of one entry, before those of the next begin. */
static void add_pool(jaw__pool *p, const double reading[], size_t n)
{
    jaw__pool one = jaw__pool_of(reading, n);

    p->ss += one.ss;
    p->dof += one.dof;
}

/* Readings of one entry beyond these say nothing more of a spread. */
enum { READINGS_POOLED = 50 };

/* Rows of entry and reading, those of an entry together. */
static int pool_rows(sqlite3_stmt *stmt, jaw__pool *p)
{
    double reading[READINGS_POOLED];
    sqlite3_int64 last = 0;
    size_t n = 0;
    int code;

    while ((code = sqlite3_step(stmt)) == SQLITE_ROW) {
        sqlite3_int64 id = sqlite3_column_int64(stmt, 0);
        if (id != last) {
            add_pool(p, reading, n);
            n = 0;
        }
        last = id;
        if (n < READINGS_POOLED)
            reading[n++] = sqlite3_column_double(stmt, 1);
    }
    add_pool(p, reading, n);
    return code;
}

/* The newest 40 of a kind among the newest 400 entries, so that it takes the
 * same time in any book: read twice each, 40 degrees of freedom, and the spread
 * is known to 1 / sqrt(80), a ninth; 400 is our choice.  What
 * may be a slip of the pen is left out: one of its readings may be mistyped. */
#define NO_SLIP                                                                \
    "  AND instr(e.doubts, 'scatter') = 0 AND instr(e.doubts, 'outside') = 0"  \
    "  AND instr(e.doubts, 'unit-jump') = 0 AND instr(e.doubts, 'digits') = 0" \
    "  AND instr(e.doubts, 'too-long') = 0 AND instr(e.doubts, 'negative') = 0"
#define POOLED(table, where)                                                   \
    "SELECT r.id, r.value FROM (SELECT e.id FROM"                              \
    "  (SELECT * FROM entry ORDER BY id DESC LIMIT 400) e"                     \
    "  JOIN " table " k ON k.id = e.id"                                        \
    "  WHERE e.kind = '" table "' AND e.machine = ?1" where                    \
    NO_SLIP "  AND NOT " JAW__UNDONE(e)                                        \
    "  ORDER BY e.id DESC LIMIT 40) l"                                         \
    " JOIN reading r ON r.id = l.id ORDER BY r.id, r.n"

static jaw_status pool_by(jaw_book *book, const char *sql, const char *machine,
                          const char *on, bool between, jaw__pool *p)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(book, sql, &status);

    *p = (jaw__pool){0, 0};
    if (stmt == NULL)
        return status;
    jaw__book_bind(stmt, 1, machine);
    if (on != NULL) {
        jaw__book_bind(stmt, 2, on);
        sqlite3_bind_int(stmt, 3, between);
    }
    status = jaw__book_failed(book, pool_rows(stmt, p));
    sqlite3_finalize(stmt);
    return status;
}

jaw_status jaw__pool_lengths(jaw_book *book, const char *machine,
                             const char *on, bool between, jaw__pool *p)
{
    return pool_by(book,
                   POOLED("length", " AND k.touched = ?2"
                                    " AND (k.\"between\" > 0) = ?3"),
                   machine, on, between, p);
}

jaw_status jaw__pool_diameters(jaw_book *book, const char *machine,
                               jaw__pool *p)
{
    return pool_by(book, POOLED("diameter", ""), machine, NULL, false, p);
}

/* ------------------------------------------------------------------- spread */

/* Readings that come out alike still lie a rounding apart: with few of them to
 * be seen, one such square at least. */
void jaw__pool_repeat(double stated, jaw__pool own, jaw__pool earlier,
                      double step, double *repeat, double *repeat_dof)
{
    double dof = own.dof + earlier.dof;
    double ss = fmax(own.ss + earlier.ss, step * step / 12);

    *repeat = stated;
    *repeat_dof = isnan(stated) ? (double)NAN : (double)INFINITY;
    if (isnan(stated) && dof > 0) {
        *repeat = sqrt(ss / dof);
        *repeat_dof = dof;
    }
}

double jaw__length_u(const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;
    double n = r->n_readings > 0 ? (double)r->n_readings : 1;

    if (!isnan(l->u))
        return l->u;
    return hypot(JAW_BOOK_REPEAT / sqrt(n), isnan(l->known) ? 0 : l->known);
}

/* Two spreads that should be one: F test (trust.h), at the level at which
 * everything here is doubted. */
bool jaw__pool_scatters(jaw__pool own, jaw__pool earlier, double step)
{
    double least = step * step / 12; /* of a reading that is rounded */

    if (own.dof < 1 || earlier.dof < 1)
        return false;
    double usual = fmax(earlier.ss / earlier.dof, least);
    return own.ss / own.dof >
           usual * jaw_trust_f(JAW_TRUST_ALPHA, own.dof, earlier.dof);
}

/* Rounding is a rectangle of width step (JCGM 100, F.2.2.1).  What readings
 * have of it in common falls with their spread sigma, for then they are rounded
 * now up and now down: of its Fourier series the slowest term falls by
 * exp(-2 (pi sigma / step)^2), the others faster (Widrow & Kollar, Quantization
 * Noise, 2008, 4; from memory).  The rest differs from reading to reading: a
 * spread that was seen holds it already, a stated one does not. */
double jaw__rounding_u(double step, double repeat, double repeat_dof, size_t n)
{
    const double pi = acos(-1);
    double all = step * step / 12;

    if (isnan(repeat))
        return sqrt(all);
    bool seen = !isinf(repeat_dof);
    double sigma2 = fmax(repeat * repeat - (seen ? all : 0), 0);
    double common = all * exp(-4 * pi * pi * sigma2 / (step * step));
    return sqrt(common + (seen ? 0 : (all - common) / (double)n));
}
