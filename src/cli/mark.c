/* SPDX-License-Identifier: GPL-3.0-or-later */
/* mark.c: `jawline mark`: marks found again after a homing. */
#include "homed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct job {
    const arguments *args;
    shop s;
    solved sheet;
    bool has_sheet;
    jaw_book_record mark[JAW_MARKS_MAX];
    char name[JAW_MARKS_MAX][JAW_BOOK_NAME_SIZE];
    jaw_vec3 *typed[JAW_MARKS_MAX]; /* readings by hand, n_typed of each */
    size_t n_typed[JAW_MARKS_MAX];
    double *reading[JAW_MARKS_MAX];
    size_t n;
    int status; /* of the sheet */
} job;

/* --------------------------------------------------------------------- new */

static jaw_book_record *add_mark(job *j, const char *name)
{
    if (j->n == JAW_MARKS_MAX) {
        complain("name those that count", "there are more than %d marks",
                 JAW_MARKS_MAX);
        return NULL;
    }
    if (!name_is_good(name, "mark"))
        return NULL;
    jaw_book_record *r = &j->mark[j->n];
    snprintf(j->name[j->n], sizeof j->name[j->n], "%s", name);
    *r = (jaw_book_record){.kind = JAW_BOOK_MARK, .machine = j->s.machine,
                           .subject = j->name[j->n++], .at = j->s.at};
    return r;
}

static bool put_reading(job *j, size_t i, double value)
{
    size_t n = j->mark[i].n_readings;
    double *more = realloc(j->reading[i], (n + 1) * sizeof *more);

    if (more == NULL)
        return no_memory();
    more[n] = value;
    j->mark[i].reading = j->reading[i] = more;
    j->mark[i].n_readings = n + 1;
    return true;
}

/* ------------------------------------------------------------------- sheet */

/* Name is one of a list with commas. */
static bool is_listed(const char *list, const char *name)
{
    size_t len = strlen(name);

    for (const char *at = list; at != NULL; at = strchr(at, ',')) {
        at += *at == ',';
        if (strncmp(at, name, len) == 0 && (at[len] == ',' || !at[len]))
            return true;
    }
    return false;
}

static bool can_be_mark(jaw_feature_kind kind)
{
    return kind != JAW_PATTERN && kind != JAW_BAR && kind != JAW_SWEEP;
}

static bool is_wanted(const job *j, const jaw_feature_entry *e)
{
    const arguments *args = j->args;

    if (is_listed(args->value[OPT_WITHOUT], e->name))
        return false;
    for (int i = 1; i < args->operands; i++)
        if (strcmp(args->operand[i], e->name) == 0)
            return true;
    return args->operands == 1 && can_be_mark(e->kind);
}

static bool is_feature(const job *j, const char *name, size_t len)
{
    size_t n;
    const jaw_feature_entry *e = jaw_setup_features(j->sheet.setup, &n);
    const char *words[64];
    size_t n_words = 0;

    for (size_t i = 0; i < n; i++) {
        if (strlen(e[i].name) == len && strncmp(e[i].name, name, len) == 0)
            return true;
        if (n_words < 64)
            words[n_words++] = e[i].name;
    }
    char *copy = strndup(name, len);
    complain_unknown("the sheet has no feature", copy ? copy : "?",
                     copy ? jaw_word_nearest(copy, words, n_words) : NULL,
                     "name a bore, boss, ball, edge, slot, web or face of it");
    free(copy);
    return false;
}

/* Each name that was given is one of the sheet. */
static bool names_are_there(const job *j)
{
    const char *without = j->args->value[OPT_WITHOUT];

    for (int i = 1; i < j->args->operands; i++)
        if (!is_feature(j, j->args->operand[i], strlen(j->args->operand[i])))
            return false;
    while (without != NULL && *without != '\0') {
        size_t len = strcspn(without, ",");
        if (!is_feature(j, without, len))
            return false;
        without += len + (without[len] == ',');
    }
    return true;
}

static bool put_touches(job *j, size_t feature)
{
    size_t n, first_wall;
    const jaw_touch *t =
        jaw_setup_touches(j->sheet.setup, feature, &n, &first_wall);

    for (size_t i = 0; i < n; i++) {
        const double at[3] = {t[i].x, t[i].y, t[i].z};
        for (int k = 0; k < 3; k++)
            if (isfinite(at[k]) && !put_reading(j, j->n - 1, at[k]))
                return false;
    }
    return true;
}

static bool take_feature(job *j, size_t i, const jaw_feature_entry *e,
                         const jaw_found *found)
{
    jaw_book_record *r = add_mark(j, e->name);

    if (r == NULL)
        return false;
    jaw_status status = jaw_book_mark_found(found, &r->as.mark);
    r->as.mark.unit = jaw_setup_control(j->sheet.setup)->unit;
    if (jaw_flags_doubts(found->flags) != 0)
        r->doubts = JAW_BOOK_SCATTER;
    if (status == JAW_OK)
        return put_touches(j, i);
    if (status == JAW_ERANK)
        complain("give both x and y of its touches",
                 "where along it the %s `%s' was touched is not said",
                 jaw_feature_word(e->kind), e->name);
    else if (!can_be_mark(e->kind))
        complain("take a bore, boss, ball, edge, slot, web or face",
                 "the %s `%s' can not be a mark", jaw_feature_word(e->kind),
                 e->name);
    else if (found->status == JAW_OK)
        complain("say how long its tip is, with length",
                 "how high the %s `%s' is does not follow",
                 jaw_feature_word(e->kind), e->name);
    else
        complain("see what is said of it above",
                 "the mark `%s' was not found", e->name);
    j->status = EXIT_UNSOLVED;
    return false;
}

static bool take_features(job *j)
{
    size_t n;
    const jaw_feature_entry *e = jaw_setup_features(j->sheet.setup, &n);
    const jaw_found *found = jaw_solution_features(j->sheet.solution, &n);

    if (!names_are_there(j))
        return false;
    for (size_t i = 0; i < n; i++)
        if (is_wanted(j, &e[i]) && !take_feature(j, i, &e[i], &found[i]))
            return false;
    if (j->n == 0)
        complain("a bore, boss, ball, edge, slot, web or face",
                 "the sheet `%s' has no mark", j->args->operand[0]);
    return j->n > 0;
}

static bool from_sheet(job *j)
{
    solved *sheet = &j->sheet;

    j->has_sheet = true;
    if (!solved_read(j->args, j->args->operand[0], JAW_LENGTH_RULES, true,
                     sheet))
        return false;
    notes_print(sheet->notes, JAW_DOUBT);
    if (sheet->solution == NULL)
        return false;
    j->status = exit_from_solution(sheet->solution, sheet->notes,
                                   sheet->status);
    return take_features(j);
}

/* ------------------------------------------------------------------- typed */

static bool is_typed(const char *operand)
{
    return strchr(operand, '=') != NULL;
}

/* X,Y or X,Y,Z; an empty one is not read. */
static bool read_place(const shop *s, const char *text, jaw_vec3 *p)
{
    double at[3] = {(double)NAN, (double)NAN, (double)NAN};
    char part[60];
    int k = 0;

    for (;; k++) {
        size_t len = strcspn(text, ",");
        if (k == 3 || len >= sizeof part)
            return false;
        memcpy(part, text, len);
        part[len] = '\0';
        if (len > 0 && !length_read(part, s->unit, &at[k]))
            return false;
        text += len;
        if (*text++ == '\0')
            break;
    }
    *p = (jaw_vec3){at[0], at[1], at[2]};
    return k > 0;
}

static bool take_typed(job *j, const char *operand)
{
    char name[JAW_BOOK_NAME_SIZE];
    size_t len = strcspn(operand, "="), i = 0;
    jaw_vec3 p;

    if (len >= sizeof name || !read_place(&j->s, operand + len + 1, &p)) {
        complain("such as post=-150.032,40.001,-310.004; a bore has no height: "
                 "hole=150,40; a face nothing else: top=,,-250",
                 "`%s' is no place of a mark", operand);
        return false;
    }
    memcpy(name, operand, len);
    name[len] = '\0';
    while (i < j->n && strcmp(j->name[i], name) != 0)
        i++;
    if (i == j->n && add_mark(j, name) == NULL)
        return false;
    const double at[3] = {p.x, p.y, p.z};
    jaw_vec3 *more = realloc(j->typed[i], (j->n_typed[i] + 1) * sizeof *more);
    if (more == NULL)
        return no_memory();
    more[j->n_typed[i]++] = p;
    j->typed[i] = more;
    for (int k = 0; k < 3; k++)
        if (!isnan(at[k]) && !put_reading(j, i, at[k]))
            return false;
    return true;
}

static bool weigh_typed(job *j)
{
    jaw_book_typed typed[JAW_MARKS_MAX] = {{NULL, 0}};
    jaw_book_mark mark[JAW_MARKS_MAX];
    double repeat = (double)NAN;

    for (size_t i = 0; i < j->n; i++)
        typed[i] = (jaw_book_typed){j->typed[i], j->n_typed[i]};
    if (!option_length(j->args, OPT_REPEAT, j->s.unit, false, &repeat))
        return false;
    jaw_status status = jaw_book_mark_typed(typed, j->n, repeat,
                                            j->s.about.step, mark);
    if (status == JAW_EUNKNOWN)
        complain("give each mark twice or more, or state --repeat",
                 "how well a reading comes back is not known");
    else if (status != JAW_OK)
        complain("x and y, or z, or all three, each time the same ones",
                 "a mark is not read in the same coordinates each time, or in "
                 "x or y alone");
    for (size_t i = 0; i < j->n; i++) {
        j->mark[i].as.mark = mark[i];
        j->mark[i].as.mark.unit = j->s.unit;
    }
    return status == JAW_OK;
}

static bool from_hand(job *j)
{
    if (j->args->value[OPT_WITHOUT] != NULL) {
        complain("leave its place away",
                 "--without leaves out features of a sheet");
        return false;
    }
    for (int i = 0; i < j->args->operands; i++) {
        const char *operand = j->args->operand[i];
        if (!is_typed(operand)) {
            complain("either a SHEET and its features, or NAME=X,Y,Z",
                     "`%s' has no place behind it", operand);
            return false;
        }
        if (!take_typed(j, operand))
            return false;
    }
    return weigh_typed(j);
}

/* ----------------------------------------------------------------- command */

static jaw_status compare(job *j, jaw_book_homing *h, long long *id)
{
    bool fresh[JAW_MARKS_MAX];
    long long homed = 0;
    bool keep = j->args->value[OPT_KEEP] != NULL;

    for (size_t i = 0; i < j->n; i++)
        fresh[i] = j->args->value[OPT_NEW] != NULL;
    if (!shop_time(j->args, OPT_HOMED, &homed))
        return JAW_ESYNTAX;
    jaw_status status =
        jaw_book_homed(j->s.book, j->mark, fresh, j->n, homed, h);
    if (status == JAW_OK && keep && !h->doubtful)
        status = jaw_book_homing_keep(j->s.book, h, id);
    return status;
}

static int run(job *j)
{
    jaw_book_homing h = {.n = 0};
    long long id = 0;
    jaw_status status = compare(j, &h, &id);

    shop_tell(&j->s);
    if (status == JAW_OK)
        (j->args->value[OPT_JSON] ? homed_json : homed_print)(&j->s, &h, id);
    if (status == JAW_OK && h.doubtful && j->args->value[OPT_KEEP] != NULL)
        status = jaw_book_homing_keep(j->s.book, &h, &id); /* says why not */
    jaw_book_homing_free(&h);
    int answer = shop_close(&j->s, status);
    return answer > j->status ? answer : j->status;
}

static void job_drop(job *j)
{
    for (size_t i = 0; i < j->n; i++) {
        free(j->typed[i]);
        free(j->reading[i]);
    }
    if (j->has_sheet)
        solved_drop(&j->sheet);
}

int command_mark(const arguments *args)
{
    job j = {.args = args};
    bool keep = args->value[OPT_KEEP] != NULL;
    int answer;

    if (args->operands < 1) {
        complain("such as `jawline mark marks.jaw' or `jawline mark "
                 "post=-150.032,40.001,-310.004'; `jawline marks' lists them",
                 "which marks is not said");
        return EXIT_USAGE;
    }
    if (!shop_open(args, keep ? JAW_BOOK_WRITE : JAW_BOOK_READ, &j.s))
        return EXIT_USAGE;
    bool ok = is_typed(args->operand[0]) ? from_hand(&j) : from_sheet(&j);
    if (ok && sheet_keeps(args, j.status)) {
        answer = run(&j);
    } else {
        answer = shop_leave(&j.s);
        answer = j.status > answer ? j.status : answer;
    }
    job_drop(&j);
    return answer;
}
