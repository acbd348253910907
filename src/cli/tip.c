/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tip.c: `jawline tip`: a tip calibrated on a thing of known size, and how
 * well one place is found again. */
#include "tip.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *word;
    int least, most;
} kinds[] = {
#define ROW(id, word, least, most) {word, least, most},
    TIP_KIND_LIST(ROW)
#undef ROW
};

const char *tip_kind_word(tip_kind kind)
{
    return kinds[kind].word;
}

/* --------------------------------------------------------------- arguments */

static bool kind_read(const char *word, tip_kind *kind)
{
    const char *words[TIP_KINDS];
    for (int i = 0; i < TIP_KINDS; i++) {
        words[i] = kinds[i].word;
        *kind = (tip_kind)i;
        if (strcmp(word, words[i]) == 0)
            return true;
    }
    complain_unknown("unknown kind", word,
                     jaw_word_nearest(word, words, TIP_KINDS),
                     "it is ring, plug, ball, block, repeat, reversal or kept");
    return false;
}

/* As the sheet has it: a letter, then letters, digits, - and _. */
static bool name_read(const arguments *args, const char **name)
{
    static const char letters[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    static const char all[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_";
    *name = args->value[OPT_NAME] ? args->value[OPT_NAME] : "stylus";
    if (strspn(*name, letters) > 0 && (*name)[strspn(*name, all)] == '\0')
        return true;
    complain("a name is a letter, then letters, digits, - and _",
             "--name: `%s' is no name", *name);
    return false;
}

static bool has_size(tip_kind kind)
{
    return kind != TIP_REPEAT && kind != TIP_REVERSAL && kind != TIP_KEPT;
}

static bool shape_read(const arguments *args, tip_job *j)
{
    const char *words[JAW_TIP_SHAPES], *word = args->value[OPT_SHAPE];
    j->shape_stated = word != NULL;
    for (int i = 0; word && i < JAW_TIP_SHAPES; i++) {
        words[i] = jaw_tip_shape_word((jaw_tip_shape)i);
        j->shape = (jaw_tip_shape)i;
        if (strcmp(word, words[i]) == 0)
            return true;
    }
    if (!word)
        return true;
    complain_unknown("unknown shape", word,
                     jaw_word_nearest(word, words, JAW_TIP_SHAPES),
                     "it is cylinder, ball, pin or cutter");
    return false;
}

jaw_tip_shape tip_shape_of(const tip_job *j)
{
    if (j->shape_stated)
        return j->shape;
    return j->kind == TIP_BALL ? JAW_TIP_BALL : JAW_TIP_CYLINDER;
}

/* Options that belong to what is kept. */
static bool kept_fit(const arguments *args, tip_kind kind)
{
    static const option_id kept[] = {OPT_BOOK, OPT_MACHINE, OPT_AT, OPT_NEW};

    if (kind == TIP_KEPT || args->value[OPT_KEEP])
        return true;
    for (size_t i = 0; i < sizeof kept / sizeof kept[0]; i++)
        if (args->value[kept[i]]) {
            complain("add --keep, or leave it out",
                     "--%s says nothing about what is not kept",
                     option_word(kept[i]));
            return false;
        }
    return true;
}

/* The last option that says nothing about this kind; OPTIONS: there is none. */
static option_id odd_option(const arguments *args, tip_kind kind)
{
    static const option_id sizes[] = {OPT_SIZE,   OPT_SIZE_U,   OPT_REPEAT,
                                      OPT_SHAPE,  OPT_LENGTH,   OPT_LENGTH_U,
                                      OPT_KEEP,   OPT_NEW,      OPT_AT};
    option_id odd = OPTIONS;

    if (args->value[OPT_SIZE_2] && kind != TIP_BLOCK)
        return OPT_SIZE_2;
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++)
        if (!has_size(kind) && args->value[sizes[i]])
            odd = sizes[i];
    return odd;
}

/* Options that say nothing about this kind would be dropped in silence. */
static bool options_fit(const arguments *args, tip_kind kind)
{
    option_id odd = odd_option(args, kind);

    if (!kept_fit(args, kind))
        return false;
    if (odd != OPTIONS) {
        complain("leave it out", kind == TIP_KEPT
                                     ? "--%s says nothing about what is %s"
                                     : "--%s says nothing about a %s",
                 option_word(odd), kinds[kind].word);
        return false;
    }
    if (has_size(kind) && !args->value[OPT_SIZE]) {
        complain("add --size, what is written on it or on its certificate",
                 "the size of the %s is not known", kinds[kind].word);
        return false;
    }
    return true;
}

static bool job_read(const arguments *args, tip_job *j)
{
    double u = 0;
    *j = (tip_job){.unit = JAW_MM,
                   .json = args->value[OPT_JSON] != NULL,
                   .u_stated = args->value[OPT_SIZE_U] != NULL,
                   .keep = args->value[OPT_KEEP] != NULL,
                   .fresh = args->value[OPT_NEW] != NULL,
                   .length = (double)NAN,
                   .repeat = (double)NAN};
    if (!kind_read(args->operand[0], &j->kind) || !options_fit(args, j->kind) ||
        !name_read(args, &j->name) || !option_unit(args, &j->unit) ||
        !option_length(args, OPT_SIZE, j->unit, false, &j->known[0].size) ||
        !option_length(args, OPT_SIZE_U, j->unit, true, &u) ||
        !option_length(args, OPT_REPEAT, j->unit, false, &j->repeat) ||
        !shape_read(args, j) ||
        !option_length(args, OPT_LENGTH, j->unit, false, &j->length) ||
        !option_length(args, OPT_LENGTH_U, j->unit, true, &j->length_u))
        return false;
    j->known[1].size = j->known[0].size;
    j->known[0].u = j->known[1].u = u;
    return option_length(args, OPT_SIZE_2, j->unit, false, &j->known[1].size);
}

/* -------------------------------------------------------------------- rows */

/* One mistake in a row, with its place. */
static jaw_status row_wrong(const input *in, jaw_place place, jaw_notes *notes,
                            const char *cure, const char *what)
{
    size_t first = jaw_notes_count(notes);
    jaw_notes_add(notes, JAW_ERROR, JAW_ESYNTAX, "", place, "", cure, "%s",
                  what);
    jaw_notes_locate(notes, first, 0, in->name, in->text, in->len);
    return JAW_ESYNTAX;
}

/* 0 or 1: whether the spindle was turned; -1: neither. */
static int turned_of(const tip_job *j, const jaw_row *row)
{
    double deg = row->n < 3 ? 0 : row->value[2] / jaw_unit_mm(j->unit);
    if (fabs(deg) < 1e-9)
        return 0;
    return fabs(deg - 180) < 1e-9 ? 1 : -1;
}

static jaw_status check_row(const tip_job *j, const input *in,
                            const jaw_row *row, const jaw_row *first,
                            jaw_notes *notes)
{
    bool is_round = j->kind == TIP_RING || j->kind == TIP_PLUG;
    if (is_round && turned_of(j, row) < 0)
        return row_wrong(in, row->place, notes,
                         "it is 0 or 180; leave a height out",
                         "the third number says how the spindle stood");
    if (!has_size(j->kind) && row->n != first->n)
        return row_wrong(in, row->place, notes, "write as many in every row",
                         "this row has not as many numbers as the first");
    return JAW_OK;
}

static jaw_status check_rows(const tip_job *j, const input *in,
                             const jaw_rows *rows, jaw_notes *notes)
{
    size_t n;
    const jaw_row *row = jaw_rows_get(rows, &n);
    bool groups = j->kind == TIP_BLOCK || j->kind == TIP_REVERSAL;
    int line = groups ? 0 : input_slash(in);
    if (line > 0)
        return row_wrong(in, (jaw_place){line, 0, 0}, notes,
                         "take it out; a spindle that was turned is a third "
                         "number",
                         "`/' parts faces or ways, and there are none here");
    for (size_t i = 0; i < n; i++) {
        jaw_status status = check_row(j, in, &row[i], &row[0], notes);
        if (status != JAW_OK)
            return status;
    }
    return JAW_OK;
}

/* ------------------------------------------------------------------- solve */

/* Where a group of rows begins: of all its rows those before. */
static size_t group_at(const jaw_row *row, size_t n, size_t group)
{
    size_t i = 0;
    while (i < n && (size_t)row[i].group < group)
        i++;
    return i;
}

static size_t group_count(const jaw_row *row, size_t n)
{
    return n > 0 ? (size_t)row[n - 1].group + 1 : 0;
}

static jaw_status solve_round(const tip_job *j, const jaw_row *row,
                              tip_found *f)
{
    jaw_vec2 *p = calloc(f->n + 1, sizeof *p);
    bool *turned = calloc(f->n + 1, sizeof *turned);
    jaw_status status = JAW_ENOMEM;
    for (size_t i = 0; p && turned && i < f->n; i++) {
        p[i] = (jaw_vec2){row[i].value[0], row[i].value[1]};
        turned[i] = turned_of(j, &row[i]) > 0;
        f->turned = f->turned || turned[i] != turned[0];
    }
    if (p && turned)
        status = jaw_tip_calibrate_ring(p, turned, f->n, j->kind == TIP_PLUG,
                                        j->known[0], j->repeat, &f->round,
                                        f->resid);
    free(p);
    free(turned);
    return status;
}

static jaw_status solve_ball(const tip_job *j, const jaw_row *row,
                             tip_found *f)
{
    jaw_vec3 *p = calloc(f->n + 1, sizeof *p);
    if (!p)
        return JAW_ENOMEM;
    for (size_t i = 0; i < f->n; i++)
        p[i] = (jaw_vec3){row[i].value[0], row[i].value[1], row[i].value[2]};
    jaw_status status = jaw_tip_calibrate_ball(p, f->n, j->known[0], j->repeat,
                                               &f->round, f->resid);
    free(p);
    return status;
}

static jaw_status solve_block(const tip_job *j, const jaw_row *row,
                              tip_found *f)
{
    size_t groups = group_count(row, f->n);
    if (groups != 2 && groups != 4)
        return JAW_EFEW;
    jaw_vec2 *p = calloc(f->n + 1, sizeof *p);
    if (!p)
        return JAW_ENOMEM;
    for (size_t i = 0; i < f->n; i++)
        p[i] = (jaw_vec2){row[i].value[0], row[i].value[1]};
    jaw_tip_faces pair[2];
    for (size_t k = 0; k < groups / 2; k++) {
        size_t low = group_at(row, f->n, 2 * k);
        size_t high = group_at(row, f->n, 2 * k + 1);
        size_t end = group_at(row, f->n, 2 * k + 2);
        pair[k] = (jaw_tip_faces){p + low, p + high, high - low, end - high,
                                  j->known[k]};
    }
    jaw_status status = jaw_tip_calibrate_block(pair, groups / 2, j->repeat,
                                                &f->block, f->resid);
    free(p);
    return status;
}

/* Readings of one group, less where they should be; v has room for all. */
static void readings(const tip_found *f, const jaw_row *row, size_t from,
                     size_t to, double v[])
{
    for (size_t i = from; i < to; i++)
        v[i] = row[i].value[0] - (f->nominal ? row[i].value[1] : 0);
}

static jaw_status solve_repeat(const jaw_row *row, tip_found *f, double v[])
{
    jaw_status status = f->n < 2 ? JAW_EFEW : JAW_OK;
    f->columns = f->n > 0 ? row[0].n : 1;
    for (int k = 0; k < f->columns && status == JAW_OK; k++) {
        for (size_t i = 0; i < f->n; i++)
            v[i] = row[i].value[k];
        status = jaw_measure_spread(v, f->n, &f->spread[k]);
    }
    return status;
}

static jaw_status solve_reversal(const jaw_row *row, tip_found *f, double v[])
{
    size_t groups = group_count(row, f->n);
    if (groups < 2 || groups % 2 != 0)
        return JAW_EFEW;
    f->places = groups / 2;
    f->nominal = row[0].n == 2;
    f->reversal = calloc(f->places, sizeof *f->reversal);
    if (!f->reversal)
        return JAW_ENOMEM;
    for (size_t k = 0; k < f->places; k++) {
        size_t up = group_at(row, f->n, 2 * k);
        size_t down = group_at(row, f->n, 2 * k + 1);
        size_t end = group_at(row, f->n, 2 * k + 2);
        readings(f, row, up, end, v);
        jaw_status status = jaw_measure_reversal(
            v + up, down - up, v + down, end - down, &f->reversal[k]);
        if (status != JAW_OK)
            return status;
    }
    return jaw_measure_positioning(f->reversal, f->places, &f->axis);
}

static jaw_status solve_kind(const tip_job *j, const jaw_row *row,
                             tip_found *f)
{
    switch (j->kind) {
    case TIP_RING:
    case TIP_PLUG:
        return solve_round(j, row, f);
    case TIP_BALL:
        return solve_ball(j, row, f);
    case TIP_BLOCK:
        return solve_block(j, row, f);
    case TIP_REPEAT:
        return solve_repeat(row, f, f->resid);
    default:
        return solve_reversal(row, f, f->resid);
    }
}

static const char *cure_of(const tip_job *j, jaw_status status)
{
    static const char *const few[TIP_KINDS] = {
        [TIP_RING] = "touch it in three places or more, spread all round",
        [TIP_PLUG] = "touch it in three places or more, spread all round",
        [TIP_BALL] = "touch it in four places or more, over the upper half "
                     "and not all at one height",
        [TIP_BLOCK] = "touch two opposite faces, or two such pairs, with a "
                      "lone `/' between the touches of one face and of the "
                      "next",
        [TIP_REPEAT] = "touch the place twice or more",
        [TIP_REVERSAL] = "reach the place twice or more moving up, then after "
                         "a lone `/' twice or more moving down"};
    switch (status) {
    case JAW_EFEW:
    case JAW_ERANK:
    case JAW_ENOCONV:
        return few[j->kind];
    case JAW_ESIZE:
        return j->kind == TIP_RING
                   ? "check --size, and that it was touched from inside"
                   : "check --size, and that it was touched from outside";
    default:
        return "";
    }
}

/* The same to the last digit, of one face, and with the spindle as it was. */
static bool is_same(const tip_job *j, const jaw_row *a, const jaw_row *b)
{
    bool high = j->kind == TIP_BALL;
    bool round = j->kind == TIP_RING || j->kind == TIP_PLUG;

    return a->value[0] == b->value[0] && a->value[1] == b->value[1] &&
           a->group == b->group && (!high || a->value[2] == b->value[2]) &&
           (!round || turned_of(j, a) == turned_of(j, b));
}

/* The first touch that is there twice, where the calibration says so. */
static void find_same(const tip_job *j, const jaw_row *row, tip_found *f)
{
    for (size_t i = 1; has_size(j->kind) && i < f->n; i++)
        for (size_t k = 0; k < i; k++)
            if (is_same(j, &row[i], &row[k])) {
                f->same[0] = i + 1;
                f->same[1] = k + 1;
                return;
            }
}

static int solve_rows(const arguments *args, const tip_job *j,
                      const jaw_rows *rows)
{
    tip_found f = {0};
    const jaw_row *row = jaw_rows_get(rows, &f.n);
    jaw_status status = JAW_ENOMEM;
    f.resid = calloc(f.n + 1, sizeof *f.resid);
    if (f.resid)
        status = solve_kind(j, row, &f);
    int answer = exit_from(status);
    if (status == JAW_OK && (tip_flags(j, &f) & JAW_SAME_TOUCH))
        find_same(j, row, &f);
    if (status == JAW_OK && tip_doubts(j, &f))
        answer = EXIT_DOUBT;
    if (status == JAW_OK && j->keep) {
        int kept = tip_keep(args, j, row, &f);
        answer = kept > answer ? kept : answer;
    }
    if (status == JAW_OK && !tip_report(j, &f))
        status = JAW_ENOMEM;
    if (status == JAW_ENOMEM) {
        no_memory();
        answer = EXIT_USAGE;
    } else if (status != JAW_OK) {
        complain(cure_of(j, status), "no %s: %s (%zu touch%s given)",
                 kinds[j->kind].word, jaw_status_text(status), f.n,
                 f.n == 1 ? "" : "es");
    }
    free(f.resid);
    free(f.reversal);
    return answer;
}

static int solve_input(const arguments *args, const tip_job *j,
                       const input *in, jaw_notes *notes)
{
    jaw_rows *rows = NULL;
    int answer = EXIT_USAGE;
    jaw_status status = jaw_rows_read_text(in->text, in->len, in->name, j->unit,
                                           kinds[j->kind].least,
                                           kinds[j->kind].most, &rows, notes);
    if (status == JAW_OK)
        status = check_rows(j, in, rows, notes);
    notes_print(notes, JAW_DOUBT);
    if (status == JAW_ENOMEM)
        no_memory();
    if (status == JAW_OK)
        answer = solve_rows(args, j, rows);
    jaw_rows_free(rows);
    return answer;
}

int command_tip(const arguments *args)
{
    tip_job j;
    input in;
    if (args->operands < 1) {
        complain("such as `jawline tip ring --size 50 TOUCHES'; see `jawline "
                 "tip --help'",
                 "which KIND of calibration is not said");
        return EXIT_USAGE;
    }
    if (!job_read(args, &j))
        return EXIT_USAGE;
    if (j.kind == TIP_KEPT)
        return tip_list(args, &j);
    if (!input_find(args, !has_size(j.kind), &in))
        return EXIT_USAGE;
    jaw_notes *notes = jaw_notes_alloc();
    int answer = EXIT_USAGE;
    if (notes)
        answer = solve_input(args, &j, &in, notes);
    else
        no_memory();
    jaw_notes_free(notes);
    input_drop(&in);
    return answer;
}
