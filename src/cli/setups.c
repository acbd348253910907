/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setups.c: `jawline setups`: what was kept, and one of it as it was then. */
#include "shop.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct job {
    shop *s;
    bool json, first;
    bool carried;      /* only what marks carried since */
    long long shown;   /* the one that is shown, when others are listed */
} job;

/* -------------------------------------------------------------------- list */

static bool put_register(void *user, const jaw_book_record *r)
{
    job *j = user;

    if (j->json) {
        fputs(j->first ? "" : ", ", stdout);
        json_text(r->subject);
    } else {
        printf("%s%s", j->first ? "" : " ", r->subject);
    }
    j->first = false;
    return true;
}

static void put_registers(job *j, long long id)
{
    job inner = *j;

    inner.first = true;
    jaw_book_parts(j->s->book, id, put_register, &inner);
    if (inner.first && !j->json)
        fputs("no register", stdout);
}

static void json_head(job *j, const jaw_book_record *r)
{
    printf("{\"entry\": %lld, \"at\": %lld, \"title\": ", r->id, r->at);
    json_text(r->subject);
    fputs(", \"machine\": ", stdout);
    json_text(r->machine);
    fputs(", \"doubts\": ", stdout);
    json_doubts(r->doubts);
    printf(", \"undone\": %s", r->undone ? "true" : "false");
    fputs(", \"registers\": [", stdout);
    put_registers(j, r->id);
    fputs("]", stdout);
}

static bool list_one(void *user, const jaw_book_record *r)
{
    job *j = user;

    if (j->json) {
        fputs(j->first ? "" : ", ", stdout);
        json_head(j, r);
        fputs("}", stdout);
    } else {
        if (j->first)
            puts(" entry  at (UTC)          title, registers");
        printf("%6lld  %s  %s\n", r->id, date_text(r->at).s, r->subject);
        fputs("                          ", stdout);
        put_registers(j, r->id);
        put_entry_end(r);
        putchar('\n');
    }
    j->first = false;
    return true;
}

static jaw_status list_all(job *j)
{
    j->first = true;
    if (j->json)
        fputs("{\"setups\": [", stdout);
    jaw_status status = jaw_book_current(j->s->book, JAW_BOOK_SETUP,
                                         j->s->machine, list_one, j);
    if (j->json)
        puts("]}");
    else if (j->first && status == JAW_OK)
        printf("no setup is kept in the book for `%s'; `jawline solve SHEET "
               "--keep' keeps one\n", j->s->machine);
    return status;
}

/* --------------------------------------------------------------------- one */

static bool list_older(void *user, const jaw_book_record *r)
{
    job *j = user;

    if (r->id >= j->shown)
        return true;
    printf("%s entry %lld of %s%s", j->first ? "before that:" : ",", r->id,
           date_text(r->at).s, r->undone ? " (undone)" : "");
    j->first = false;
    return true;
}

static void put_now(const char *word, double value, double step, double one)
{
    if (!isnan(value))
        printf("%s%s %s", *word ? " " : "", word,
               step_text(value, step, one).s);
}

/* What marks carried since: what is kept does not hold any more. */
static bool put_carried(void *user, const jaw_book_record *r)
{
    job *j = user;
    const jaw_book_zero *z = &r->as.zero;
    const jaw_book_offset *o = &r->as.offset;
    bool zero = r->kind == JAW_BOOK_ZERO;
    jaw_unit unit = zero ? z->unit : o->unit;

    if (r->part_of == j->shown)
        return true;
    printf("carried since by entry %lld, it is now, %s: %s", r->part_of,
           jaw_unit_word(unit), r->subject);
    for (int i = 0; zero && i < 3; i++)
        put_now(jaw_book_axis_word((unsigned)i), z->at[i].value, z->step,
                jaw_unit_mm(unit));
    if (zero && z->turns)
        put_now("turn", z->at[3].value, z->angle_step, jaw_rad(1));
    if (!zero)
        put_now("", o->length.value, o->step, jaw_unit_mm(unit));
    putchar('\n');
    return true;
}

static jaw_status show_text(job *j, const jaw_book_record *r)
{
    printf("entry %lld on %s, kept %s (UTC) from %s", r->id, r->machine,
           date_text(r->at).s, r->as.setup.file);
    put_entry_end(r);
    putchar('\n');
    j->first = true;
    j->shown = r->id;
    jaw_status status =
        jaw_book_history(j->s->book, JAW_BOOK_SETUP, r->machine, r->subject,
                         0, list_older, j);
    fputs(j->first ? "" : "\n", stdout);
    if (status == JAW_OK)
        status = jaw_book_parts_now(j->s->book, r->id, put_carried, j);
    printf("\n%s", r->as.setup.report);
    return status;
}

/* Lengths in the control's unit, turns in degrees, as in every report. */
static void json_figure(const char *name, const jaw_figure *f, jaw_unit unit)
{
    const bool turn = strcmp(name, "turn_deg") == 0;
    const shop s = {.unit = turn ? JAW_MM : unit};
    const double values[] = {f->value, f->u, f->half95};
    static const char *const of[] = {"", "_u", "_half95"};

    for (int i = 0; i < 3; i++) {
        printf(", \"%s%s\": ", name, of[i]);
        json_number(&s, turn ? jaw_deg(values[i]) : values[i]);
    }
}

static bool json_value(void *user, const jaw_book_record *r)
{
    static const char *const name[] = {"x", "y", "z", "turn_deg"};
    job *j = user;

    if (j->carried && r->part_of == j->shown)
        return true;
    printf("%s{\"register\": ", j->first ? "" : ", ");
    json_text(r->subject);
    for (int i = 0; r->kind == JAW_BOOK_ZERO && i < 4; i++)
        json_figure(name[i], &r->as.zero.at[i], r->as.zero.unit);
    if (r->kind == JAW_BOOK_OFFSET)
        json_figure("length", &r->as.offset.length, r->as.offset.unit);
    if (j->carried)
        printf(", \"carried_by\": %lld", r->part_of);
    fputs("}", stdout);
    j->first = false;
    return true;
}

static void json_slice(const char *text, size_t len)
{
    char *copy = strndup(text, len);

    json_text(copy ? copy : "");
    free(copy);
}

static void json_included(const char *at)
{
    const char *name, *text;
    size_t name_len, text_len;
    bool first = true;

    while (jaw_book_included(&at, &name, &name_len, &text, &text_len)) {
        fputs(first ? "{\"name\": " : ", {\"name\": ", stdout);
        json_slice(name, name_len);
        fputs(", \"text\": ", stdout);
        json_slice(text, text_len);
        fputs("}", stdout);
        first = false;
    }
}

static jaw_status show_json(job *j, const jaw_book_record *r)
{
    const jaw_book_setup *s = &r->as.setup;

    json_head(j, r);
    printf(", \"unit\": \"%s\", \"lengths\": \"%s\", \"values\": [",
           jaw_unit_word(s->unit), jaw_length_word(s->lengths));
    j->first = true;
    jaw_status status = jaw_book_parts(j->s->book, r->id, json_value, j);
    fputs("], \"carried\": [", stdout);
    j->first = j->carried = true;
    j->shown = r->id;
    if (status == JAW_OK)
        status = jaw_book_parts_now(j->s->book, r->id, json_value, j);
    fputs("], \"file\": ", stdout);
    json_text(s->file);
    fputs(", \"sheet\": ", stdout);
    json_text(s->sheet);
    fputs(", \"included\": [", stdout);
    json_included(s->included);
    fputs("], \"report\": ", stdout);
    json_text(s->report);
    puts("}");
    return status;
}

/* ------------------------------------------------------------------- files */

/* A file that is there already is left alone. */
static bool write_file(const char *path, const char *text, size_t len)
{
    errno = 0;
    FILE *f = fopen(path, "wx");
    bool good = f != NULL && fwrite(text, 1, len, f) == len;

    if (f != NULL && fclose(f) != 0)
        good = false;
    if (good)
        return true;
    complain(errno == EEXIST ? "name another one"
                             : "see to its folder and to the disk",
             "`%s' can not be written: %s", path,
             errno ? strerror(errno) : "it is not whole");
    if (f != NULL)
        remove(path);
    return false;
}

/* Whether a sheet lies beside the one that includes it, or below. */
static bool is_below(const char *name, size_t len)
{
    if (len == 0 || name[0] == '/')
        return false;
    for (size_t i = 0; i + 1 < len; i++)
        if (name[i] == '.' && name[i + 1] == '.' &&
            (i == 0 || name[i - 1] == '/') &&
            (i + 2 == len || name[i + 2] == '/'))
            return false;
    return true;
}

static char *path_beside(const char *file, const char *name, size_t len)
{
    const char *slash = strrchr(file, '/');
    size_t folder = slash ? (size_t)(slash - file) + 1 : 0;
    char *path = calloc(1, folder + len + 1);

    if (path != NULL) {
        memcpy(path, file, folder);
        memcpy(path + folder, name, len);
    }
    return path;
}

static bool write_included(const char *file, const char *name, size_t len,
                           const char *text, size_t text_len)
{
    if (!is_below(name, len)) {
        complain("`jawline setups TITLE --json' has its text",
                 "the sheet includes `%.*s', which lies elsewhere and is not "
                 "written", (int)len, name);
        return false;
    }
    char *path = path_beside(file, name, len);
    if (path == NULL)
        return no_memory();
    bool good = write_file(path, text, text_len);
    if (good)
        printf("written: %s\n", path);
    free(path);
    return good;
}

static bool write_sheet(const jaw_book_setup *s, const char *file)
{
    const char *at = s->included, *name, *text;
    size_t name_len, text_len;
    bool standard = strcmp(file, "-") == 0, good = true;

    if (standard)
        fputs(s->sheet, stdout);
    else if (!write_file(file, s->sheet, strlen(s->sheet)))
        return false;
    else
        printf("written: %s\n", file);
    while (jaw_book_included(&at, &name, &name_len, &text, &text_len)) {
        if (standard)
            complain("--sheet FILE writes it beside FILE",
                     "the sheet includes `%.*s', which is kept too",
                     (int)name_len, name);
        else if (!write_included(file, name, name_len, text, text_len))
            good = false;
    }
    return good;
}

/* ------------------------------------------------------------------ command */

static jaw_status show(job *j, const arguments *args)
{
    const char *file = args->value[OPT_SHEET];
    jaw_book_record r;
    jaw_status status = jaw_book_setup_find(j->s->book, j->s->machine,
                                            args->operand[0], &r);

    if (status != JAW_OK)
        return status;
    if (file)
        return write_sheet(&r.as.setup, file) ? JAW_OK : JAW_EIO;
    return j->json ? show_json(j, &r) : show_text(j, &r);
}

int command_setups(const arguments *args)
{
    shop s;
    job j = {.s = &s, .json = args->value[OPT_JSON] != NULL};

    if (args->operands > 1 || (args->value[OPT_SHEET] && args->operands < 1)) {
        complain("see `jawline setups --help'",
                 args->operands > 1 ? "`setups' takes one title or entry"
                                    : "which setup's sheet is not said");
        return EXIT_USAGE;
    }
    if (!shop_open(args, JAW_BOOK_READ, &s))
        return EXIT_USAGE;
    return shop_close(&s, args->operands > 0 ? show(&j, args) : list_all(&j));
}
