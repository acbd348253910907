/* SPDX-License-Identifier: GPL-3.0-or-later */
/* keep.c: a solved setup into the book, and what moved since it was kept. */
#include "keep.h"

#include <stdlib.h>
#include <string.h>

/* ---------------------------------------------------------------- included */

/* As it is named from the folder of the first sheet, where it lies below it. */
static const char *name_from(const char *name, const char *first)
{
    const char *slash = strrchr(first, '/');
    size_t folder = slash ? (size_t)(slash - first) + 1 : 0;

    return strncmp(name, first, folder) == 0 ? name + folder : name;
}

static bool is_first_of_name(const sheets *all, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(all->included[k].name, all->included[i].name) == 0)
            return false;
    return true;
}

/* All included ones as jaw_book_included reads them; NULL without memory. */
static char *included_text(const sheets *all)
{
    size_t size = 1, len = 0;

    for (size_t i = 0; i < all->n; i++)
        size += all->included[i].len + strlen(all->included[i].name) + 24;
    char *text = calloc(1, size);
    for (size_t i = 0; text && i < all->n; i++) {
        const input *in = &all->included[i];
        if (!is_first_of_name(all, i))
            continue;
        len += (size_t)snprintf(text + len, size - len, "%zu %s\n", in->len,
                                name_from(in->name, all->first->name));
        memcpy(text + len, in->text, in->len);
        len += in->len;
        text[len++] = '\n';
    }
    return text;
}

/* ----------------------------------------------------------------- compare */

/* Of the book's notes those of the values belong to the sheet's; they are said
 * on the page as well. */
static jaw_status pass_on(keeping *k, size_t from, jaw_notes *notes)
{
    const jaw_note *note;
    jaw_status status = JAW_OK;

    for (size_t i = from; (note = jaw_notes_get(k->s.notes, i)) != NULL; i++)
        if (jaw_notes_add(notes, note->severity, note->status, NULL,
                          note->place, NULL, note->cure, "%s", note->what) !=
            JAW_OK)
            status = JAW_ENOMEM;
    return status;
}

static jaw_status find_last(const arguments *args, const char *since,
                            keeping *k, jaw_book_record *last)
{
    if (since)
        return jaw_book_setup_find(k->s.book, k->s.machine, since, last);
    jaw_status status =
        jaw_book_find(k->s.book, JAW_BOOK_SETUP, k->s.machine,
                      k->kept.record[0].subject, last);
    if (status == JAW_EUNKNOWN && args->command == CMD_MOVED)
        return jaw_book_setup_find(k->s.book, k->s.machine,
                                   k->kept.record[0].subject, last);
    return status;
}

/* One that was not touched anew can not have moved. */
static bool is_same(const jaw_book_setup *last, const input *in,
                    const char *included)
{
    return strlen(last->sheet) == in->len &&
           memcmp(last->sheet, in->text, in->len) == 0 &&
           strcmp(last->included, included) == 0;
}

static jaw_status compare_last(const arguments *args, const char *since,
                               const answer *a, keeping *k)
{
    jaw_book_record last;
    jaw_status status = find_last(args, since, k, &last);

    if (status == JAW_EUNKNOWN && !since && args->command != CMD_MOVED)
        return JAW_OK; /* it is the first of its title */
    if (status != JAW_OK)
        return status;
    k->same = is_same(&last.as.setup, a->all->first, k->included);
    status = jaw_book_moved_find(k->s.book, last.id, &k->kept,
                                 tip_across(a->setup), &k->moved);
    k->compared = status == JAW_OK;
    return status;
}

/* Of tools that come from it the book was asked before. */
static bool asks_rule(const arguments *args, const jaw_setup *setup)
{
    size_t n;
    const jaw_tool_entry *t = jaw_setup_tools(setup, &n);

    for (size_t i = 0; i < n; i++)
        if (t[i].link.wanted)
            return false;
    return args->command != CMD_MOVED;
}

static jaw_status compare(const arguments *args, const char *since,
                          const answer *a, keeping *k)
{
    jaw_status status = JAW_OK;

    if (args->value[OPT_KEEP] != NULL)
        status = jaw_book_setup_near(k->s.book, k->s.machine,
                                     k->kept.record[0].subject);
    shop_tell(&k->s); /* what came before */
    size_t from = jaw_notes_count(k->s.notes);
    if (status == JAW_OK)
        status = jaw_book_kept_old(k->s.book, &k->kept, &k->old);
    if (status == JAW_OK)
        status = jaw_book_kept_fits(k->s.book, &k->kept, a->setup,
                                    asks_rule(args, a->setup));
    if (status == JAW_OK)
        status = compare_last(args, since, a, k);
    if (status != JAW_OK)
        return status;
    status = pass_on(k, from, a->notes);
    k->s.told = jaw_notes_count(k->s.notes);
    return status;
}

bool keep_begin(const arguments *args, jaw_book_use use, const char *since,
                const answer *a, keeping *k)
{
    *k = (keeping){0};
    if (!since && *jaw_setup_title(a->setup) == '\0') {
        complain(args->command == CMD_MOVED
                     ? "write `title NAME' at the top of the sheet, or say "
                       "which kept one is meant"
                     : "write `title NAME' at the top of the sheet",
                 "a setup is kept under its title, and this one has none");
        return false;
    }
    k->open = shop_open(args, use, &k->s);
    if (!k->open)
        return false;
    k->included = included_text(a->all);
    if (!k->included || jaw_book_kept_make(a->setup, a->solution, k->s.machine,
                                           &k->kept) != JAW_OK)
        return no_memory();
    jaw_status status = compare(args, since, a, k);
    if (status == JAW_ENOMEM)
        return no_memory();
    return status == JAW_OK;
}

int keep_end(keeping *k)
{
    int status = k->open ? shop_close(&k->s, JAW_OK) : EXIT_USAGE;

    free(k->included);
    jaw_book_kept_free(&k->kept);
    jaw_book_moved_free(&k->moved);
    return status;
}

/* ------------------------------------------------------------------- write */

static unsigned doubts_of(const keeping *k, bool doubted)
{
    unsigned doubts = doubted ? JAW_BOOK_DOUBTED : 0;

    for (size_t i = 0; i < k->moved.n; i++) {
        if (k->moved.shift[i].kind == JAW_SHIFT_REAL)
            doubts |= JAW_BOOK_CHANGED;
        if (k->moved.shift[i].slip == JAW_SLIP_INCH)
            doubts |= JAW_BOOK_UNIT_JUMP;
    }
    return doubts;
}

bool keep_write(keeping *k, const answer *a, const char *report,
                bool doubted)
{
    jaw_book_record *first = k->kept.record;
    jaw_status status = JAW_ENOMEM;

    for (size_t i = 0; i < k->kept.n; i++)
        first[i].at = k->s.at;
    first->doubts = doubts_of(k, doubted);
    if (report) {
        first->as.setup.file = a->all->first->name;
        first->as.setup.sheet = a->all->first->text;
        first->as.setup.included = k->included;
        first->as.setup.report = report;
        status = jaw_book_add_all(k->s.book, first, k->kept.n, &k->entry);
    }
    first->as.setup.file = first->as.setup.sheet = "";
    first->as.setup.included = first->as.setup.report = "";
    if (status == JAW_ENOMEM)
        return no_memory();
    return status == JAW_OK;
}

/* ------------------------------------------------------------------- print */

bool moved_print(const keeping *k)
{
    const jaw_book_setup *now = &k->kept.record[0].as.setup;
    jaw_report_style style = {.colour = colour_on(stdout)};
    char *text = jaw_report_moved_text(&k->moved, now, style);

    if (!text)
        return no_memory();
    printf("Since entry %lld, kept %s (UTC), %s\n", k->moved.before,
           date_text(k->moved.at).s,
           now->unit == JAW_IN ? "inch" : "millimetres");
    fputs(k->moved.n > 0 ? text
                         : "  nothing: no work zero and no length is in it\n",
          stdout);
    if (k->same)
        puts("  the sheet is the one that was kept then, to the letter: "
             "nothing was touched anew");
    free(text);
    return true;
}

bool moved_json(const keeping *k)
{
    if (!k->compared) {
        fputs("null", stdout);
        return true;
    }
    char *text = jaw_report_moved_json(&k->moved,
                                       &k->kept.record[0].as.setup);
    if (!text)
        return no_memory();
    fwrite(text, 1, strcspn(text, "\n"), stdout);
    free(text);
    return true;
}
