/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fixture.c: `jawline fixture`: a vise or fixture that was found on the
 * table. */
#include "homed.h"

#include <math.h>
#include <stdlib.h>

static const char *const axis_word[4] = {"X", "Y", "Z", "skew"};

static number_text quantity_text(const shop *s, int k, double value, int more)
{
    return k == 3 ? angle_text(value, 3 + more) : mm_text(s, value, more);
}

/* ------------------------------------------------------------------- print */

static void put_place_of(const shop *s, const jaw_book_fixture *f,
                         const char *by)
{
    for (int k = 0; k < 4; k++) {
        const jaw_figure *a = &f->at[k];
        if (isnan(a->value))
            continue;
        printf("%-12s %12s %s", k == 2 && !isnan(f->jaw_height) ? "bed, Z"
                                                               : axis_word[k],
               quantity_text(s, k, a->value, 1).s,
               k == 3 ? "deg" : jaw_unit_word(s->unit));
        if (a->u > 0)
            printf("  +- %s (95 %%)", quantity_text(s, k, a->half95, 1).s);
        puts("");
    }
    if (by == NULL)
        puts("             no zero of the sheet stands on it, so where it lies "
             "is not noted");
}

static void put_size(const shop *s, const char *name, double mm)
{
    if (!isnan(mm))
        printf("%-12s %12s %s\n", name, mm_text(s, mm, 0).s,
               jaw_unit_word(s->unit));
}

static void put_sizes(const shop *s, const jaw_book_fixture *f)
{
    put_size(s, "jaws, width", f->jaw_width);
    put_size(s, "jaws, height", f->jaw_height);
    put_size(s, "opening", f->opening);
    put_size(s, "parallels", f->parallels);
}

static void put_since(const shop *s, const jaw_book_put_back *p)
{
    if (p->since == 0) {
        puts("\nthere is no earlier place to compare with");
        return;
    }
    printf("\nsince entry %lld\n", p->since);
    for (int k = 0; k < 4; k++) {
        if (isnan(p->by[k].value))
            continue;
        printf("%-12s %s%s +- %s: %s\n", axis_word[k],
               p->by[k].value > 0 ? "+" : "",
               quantity_text(s, k, p->by[k].value, 1).s,
               quantity_text(s, k, p->by[k].half95, 1).s,
               p->move[k] == JAW_MOVE_FIRST ? "how sure is not known"
                                            : jaw_book_move_text(p->move[k]));
    }
}

static void put_spread(const shop *s, const jaw_book_put_back *p, int k)
{
    const number_text measuring = quantity_text(s, k, p->measuring[k], 1);

    if (p->as_measured[k])
        printf("%-12s no more than measuring alone shows, %s; %.0f dof\n",
               axis_word[k], measuring.s, p->dof[k]);
    else
        printf("%-12s %s, at most %s in 95 of 100; %.0f dof; measuring alone "
               "%s\n", axis_word[k], quantity_text(s, k, p->repeat[k], 1).s,
               quantity_text(s, k, p->repeat_high[k], 1).s, p->dof[k],
               measuring.s);
}

static void put_repeat(const shop *s, const jaw_book_put_back *p)
{
    bool any = false;

    for (int k = 0; k < 4; k++) {
        if (isnan(p->repeat[k]))
            continue;
        if (!any)
            printf("\nput there %zu times: it comes back to, one standard "
                   "deviation\n", p->times);
        any = true;
        put_spread(s, p, k);
    }
    if (!any && p->since > 0)
        puts("\nput there once: what it comes back to shows when it was put "
             "back");
}

static void axis_json(const shop *s, const jaw_book_put_back *p, int k,
                      const char *name)
{
    const double scale = k == 3 ? jaw_unit_mm(s->unit) / jaw_rad(1) : 1;

    printf(", \"%s_moved\": {\"by\": ", name);
    json_number(s, p->by[k].value * scale);
    fputs(", \"half95\": ", stdout);
    json_number(s, p->by[k].half95 * scale);
    printf(", \"move\": \"%s\"}, \"%s_repeat\": {\"s\": ",
           jaw_book_move_word(p->move[k]), name);
    json_number(s, p->repeat[k] * scale);
    if (isnan(p->dof[k]))
        fputs(", \"dof\": null, \"high\": ", stdout);
    else
        printf(", \"dof\": %.0f, \"high\": ", p->dof[k]);
    json_number(s, p->repeat_high[k] * scale);
    fputs(", \"measuring\": ", stdout);
    json_number(s, p->measuring[k] * scale);
    putchar('}');
}

static void put_json(const shop *s, const jaw_book_record *r,
                     const jaw_book_put_back *p, long long id)
{
    static const char *const name[4] = {"x", "y", "z", "skew"};
    const jaw_book_fixture *f = &r->as.fixture;

    fputs("{\"name\": ", stdout);
    json_text(r->subject);
    printf(", \"unit\": \"%s\", \"entry\": %lld, \"jaw_width\": ",
           jaw_unit_word(s->unit), id);
    json_number(s, f->jaw_width);
    fputs(", \"jaw_height\": ", stdout);
    json_number(s, f->jaw_height);
    fputs(", \"parallels\": ", stdout);
    json_number(s, f->parallels);
    for (int k = 0; k < 4; k++) {
        fputs(", ", stdout);
        figure_json(s, name[k], &f->at[k], k == 3);
        axis_json(s, p, k, name[k]);
    }
    printf(", \"times\": %zu, \"move\": \"%s\", \"doubtful\": %s, "
           "\"since\": %lld}\n", p->times, jaw_book_move_word(p->all),
           p->doubtful ? "true" : "false", p->since);
}

/* -------------------------------------------------------------------- find */

static bool complain_status(jaw_status status, const arguments *args,
                            const char *named, const char *by)
{
    if (status == JAW_OK)
        return true;
    if (status == JAW_EUNKNOWN && args->value[OPT_ZERO] != NULL && by == NULL)
        complain("name one that is there with --zero",
                 "the sheet has no zero `%s'", args->value[OPT_ZERO]);
    else if (status == JAW_EUNKNOWN)
        complain("name one that is there",
                 "the sheet has no vise `%s'", args->operand[1]);
    else
        complain("let a zero stand on it, or name its fixed jaw",
                 "the sheet does not say where %s%s lies",
                 named ? named : "the fixture", named ? "," : "");
    return false;
}

/* A name that is that of no vise is the fixture's own, where there is none. */
static bool find(const arguments *args, const solved *sheet,
                 jaw_book_record *r, const char **by)
{
    const char *given = args->operands > 1 ? args->operand[1] : NULL, *named;
    size_t n;
    const jaw_task *task = jaw_setup_tasks(sheet->setup, &n);
    size_t vises = 0;

    for (size_t i = 0; i < n; i++)
        vises += task[i].kind == JAW_TASK_VISE;
    jaw_status status = jaw_book_fixture_found(
        sheet->setup, sheet->solution, vises > 0 ? given : NULL,
        args->value[OPT_ZERO], &r->as.fixture, &named, by);
    if (!complain_status(status, args, named, *by))
        return false;
    r->subject = named ? named : given;
    if (r->subject == NULL) {
        complain("add its name behind the sheet",
                 vises > 1 ? "the sheet has several vises, and which is not "
                             "said"
                           : "the sheet has no vise, and what the fixture is "
                             "called is not said");
        return false;
    }
    return name_is_good(r->subject, "fixture");
}

static void put_text(const shop *s, const jaw_book_record *r,
                     const jaw_book_put_back *p, const char *by, long long id)
{
    const jaw_book_fixture *f = &r->as.fixture;

    printf("fixture %s%s%s\n", r->subject, *f->text ? "  " : "", f->text);
    put_place_of(s, f, by);
    put_sizes(s, f);
    put_since(s, p);
    if (!p->doubtful)
        put_repeat(s, p);
    if (id > 0)
        printf("\nkept: entry %lld\n", id);
    else if (p->doubtful)
        puts("\nnothing was kept: it is in doubt");
    else
        puts("\nnothing was kept: --keep writes it into the book");
}

static int run(const arguments *args, shop *s, jaw_book_record *r,
               const char *by, const solved *sheet, int worst)
{
    bool keep = args->value[OPT_KEEP] != NULL;
    jaw_book_put_back p;
    char *text = shop_text(args, s, JAW_BOOK_FIXTURE, &r->subject, 1);
    long long id = 0;

    r->as.fixture.text = text;
    jaw_status status = text == NULL
                            ? JAW_ENOMEM
                            : jaw_book_compare_fixture(
                                  s->book, r, tip_across(sheet->setup), &p);
    if (status == JAW_OK && keep && !p.doubtful)
        status = jaw_book_fixture_keep(s->book, r, &p, &id);
    shop_tell(s);
    if (status == JAW_OK && args->value[OPT_JSON] != NULL)
        put_json(s, r, &p, id);
    else if (status == JAW_OK)
        put_text(s, r, &p, by, id);
    if (status == JAW_OK && keep && p.doubtful)
        status = jaw_book_fixture_keep(s->book, r, &p, &id); /* says why not */
    free(text);
    int answer = shop_close(s, status);
    return answer > worst ? answer : worst;
}

static int from_sheet(const arguments *args, shop *s, const solved *sheet)
{
    jaw_book_record r = {.kind = JAW_BOOK_FIXTURE, .machine = s->machine,
                         .at = s->at};
    const char *by = NULL;

    notes_print(sheet->notes, JAW_DOUBT);
    if (sheet->solution == NULL || !find(args, sheet, &r, &by))
        return shop_leave(s);
    int status = exit_from_solution(sheet->solution, sheet->notes,
                                    sheet->status);
    if (!sheet_keeps(args, status)) {
        shop_close(s, JAW_OK);
        return status;
    }
    r.as.fixture.unit = jaw_setup_control(sheet->setup)->unit;
    r.as.fixture.stood = args->value[OPT_STOOD] != NULL;
    r.as.fixture.fresh = args->value[OPT_NEW] != NULL;
    return run(args, s, &r, by, sheet, status);
}

int command_fixture(const arguments *args)
{
    bool keep = args->value[OPT_KEEP] != NULL;
    solved sheet;
    shop s;
    int answer;

    if (args->operands < 1 || args->operands > 2) {
        complain("such as `jawline fixture vise.jaw'; `jawline fixtures' lists "
                 "what the book has",
                 "one SHEET, and perhaps a NAME, is wanted");
        return EXIT_USAGE;
    }
    if (args->value[OPT_STOOD] != NULL && args->value[OPT_NEW] != NULL) {
        complain("leave one of them out",
                 "what --stood where it was is not --new there");
        return EXIT_USAGE;
    }
    if (!shop_open(args, keep ? JAW_BOOK_WRITE : JAW_BOOK_READ, &s))
        return EXIT_USAGE;
    if (solved_read(args, args->operand[0], JAW_LENGTH_RULES, true, &sheet))
        answer = from_sheet(args, &s, &sheet);
    else
        answer = shop_leave(&s);
    solved_drop(&sheet);
    return answer;
}
