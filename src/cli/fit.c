/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fit.c: `jawline fit`: one feature from its touches, without a sheet. */
#include "cli.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct job {
    jaw_feature_kind kind;
    jaw_unit unit;
    jaw_tip tip;
    jaw_side faces;
    double diameter; /* NaN: to be found */
    double along;    /* NaN: to be found */
    bool json;
} job;

/* --------------------------------------------------------------- arguments */

bool kind_find(const char *word, const char *const also[],
               jaw_feature_kind *kind)
{
    const char *words[JAW_FEATURE_KINDS + KINDS_ALSO];
    size_t n = 0;
    for (int i = 0; i < JAW_FEATURE_KINDS; i++) {
        if (i == JAW_SWEEP || i == JAW_DIAL)
            continue; /* what an indicator says has more to it than points */
        words[n++] = jaw_feature_word((jaw_feature_kind)i);
        if (strcmp(word, words[n - 1]) == 0) {
            *kind = (jaw_feature_kind)i;
            return true;
        }
    }
    for (int i = 0; also && also[i] && i < KINDS_ALSO; i++)
        words[n++] = also[i];
    complain_unknown("unknown kind", word, jaw_word_nearest(word, words, n),
                     "it is edge, face, bore, boss, slot, web, pattern, ball "
                     "or bar");
    return false;
}

static bool two_walls(jaw_feature_kind kind)
{
    return kind == JAW_SLOT || kind == JAW_WEB;
}

static bool is_solid(jaw_feature_kind kind)
{
    return kind == JAW_BALL || kind == JAW_BAR;
}

/* Options that say nothing about this kind would be dropped in silence. */
static bool options_fit(const arguments *args, jaw_feature_kind kind)
{
    bool is_round = kind == JAW_BORE || kind == JAW_BOSS || is_solid(kind);
    bool is_long = kind == JAW_EDGE || two_walls(kind);
    const char *wrong = NULL;
    if (args->value[OPT_FACES] && kind != JAW_EDGE)
        wrong = "faces";
    if (args->value[OPT_DIAMETER] && !is_round)
        wrong = "diameter";
    if (args->value[OPT_DIRECTION] && !is_long)
        wrong = "direction";
    if (wrong) {
        complain("leave it out", "--%s says nothing about a %s", wrong,
                 jaw_feature_word(kind));
        return false;
    }
    if (args->value[OPT_TIP] && kind == JAW_PATTERN)
        complain(NULL, "--tip has no bearing on a pattern: its touches are "
                       "places, not walls");
    return true;
}

static bool faces_read(const arguments *args, job *j)
{
    const char *word = args->value[OPT_FACES];
    if (word) {
        j->faces = jaw_side_read(word);
        if (j->faces != JAW_SIDE_NONE)
            return true;
        complain("it is x+, x-, y+ or y-, outward: a jaw that looks at the "
                 "operator faces y-",
                 "--faces: unknown side `%s'", word);
        return false;
    }
    if (j->kind != JAW_EDGE || !(j->tip.diameter > 0))
        return true;
    complain("add --faces x+, x-, y+ or y-, outward: a jaw that looks at the "
             "operator faces y-",
             "which side of the edge the tip was on is not known");
    return false;
}

static bool job_read(const arguments *args, job *j)
{
    double tip = 0;
    *j = (job){.unit = JAW_MM,
               .faces = JAW_SIDE_NONE,
               .diameter = (double)NAN,
               .along = (double)NAN,
               .json = args->value[OPT_JSON] != NULL};
    if (!kind_find(args->operand[0], NULL, &j->kind) ||
        !options_fit(args, j->kind) || !option_unit(args, &j->unit) ||
        !option_length(args, OPT_TIP, j->unit, true, &tip) ||
        !option_length(args, OPT_DIAMETER, j->unit, false, &j->diameter) ||
        !option_angle(args, OPT_DIRECTION, &j->along))
        return false;
    j->tip = jaw_tip_make(j->kind == JAW_FACE || is_solid(j->kind)
                              ? JAW_TIP_BALL
                              : JAW_TIP_CYLINDER,
                          tip);
    return faces_read(args, j);
}

/* ------------------------------------------------------------------ points */

static bool is_slash(const char *arg)
{
    return strcmp(arg, "/") == 0;
}

/* A number, and unless it may stand bare a comma further on. */
static bool is_point(const char *arg, bool bare)
{
    size_t len = strcspn(arg, ","), used;
    double value;
    return (bare || arg[len] == ',') && !strpbrk(arg, "\n\r#") &&
           jaw_number_read(arg, len, &value, &used) == JAW_OK;
}

bool input_find(const arguments *args, bool bare, input *in)
{
    int n = args->operands - 1, points = 0;
    char **arg = args->operand + 1;
    for (int i = 0; i < n; i++)
        points += is_point(arg[i], bare) || is_slash(arg[i]);
    if (n > 0 && points == n)
        return operands_join(arg, n, "POINT", in);
    if (n == 1)
        return input_read(arg[0], in);
    if (n == 0 && !isatty(STDIN_FILENO))
        return input_read("-", in);
    if (n == 0) {
        complain("give POINTs such as 12.5,3.1, a FILE, or - and type them",
                 "no touches");
        return false;
    }
    for (int i = 0; i < n; i++)
        if (!is_point(arg[i], bare) && !is_slash(arg[i])) {
            complain("give only POINTs such as 12.5,3.1, or one FILE",
                     "`%s' is no POINT", arg[i]);
            break;
        }
    return false;
}

/* -------------------------------------------------------------------- rows */

/* For one wall it would mean that a second one was touched. */
int input_slash(const input *in)
{
    const char *p = in->text, *end = in->text + in->len;
    for (int line = 1; p < end; line++) {
        const char *stop = memchr(p, '\n', (size_t)(end - p));
        stop = stop ? stop : end;
        while (p < stop && (*p == ' ' || *p == '\t'))
            p++;
        if (p < stop && *p++ == '/') {
            while (p < stop && strchr(" \t\r", *p))
                p++;
            if (p == stop || *p == '#')
                return line;
        }
        p = stop + 1;
    }
    return 0;
}

static jaw_status rows_read(const job *j, const input *in, jaw_rows **rows,
                            jaw_notes *notes)
{
    int least = j->kind == JAW_PATTERN                     ? 4
                : j->kind == JAW_FACE || is_solid(j->kind) ? 3
                                                           : 2;
    int most = j->kind == JAW_PATTERN ? 4 : 3;
    jaw_status status = jaw_rows_read_text(in->text, in->len, in->name, j->unit,
                                           least, most, rows, notes);
    int line = two_walls(j->kind) ? 0 : input_slash(in);
    if (status != JAW_OK || line == 0)
        return status;
    size_t first = jaw_notes_count(notes);
    jaw_notes_add(notes, JAW_ERROR, JAW_ESYNTAX, "", (jaw_place){line, 0, 0}, "",
                  "take it out, or fit a slot or web",
                  "`/' parts two walls, and a %s has none to part",
                  jaw_feature_word(j->kind));
    jaw_notes_locate(notes, first, 0, in->name, in->text, in->len);
    return JAW_ESYNTAX;
}

/* Touches of both walls, the first wall in front; of a pattern the places on
 * the drawing and those touched. */
typedef struct touches {
    jaw_touch *t;
    jaw_vec2 *nominal, *touched;
    double *resid;
    size_t n, first;
} touches;

static void touches_drop(touches *to)
{
    free(to->t);
    free(to->nominal);
    free(to->touched);
    free(to->resid);
}

static bool touches_alloc(const job *j, size_t n, touches *to)
{
    *to = (touches){.n = n};
    to->resid = calloc(n + 1, sizeof *to->resid);
    if (j->kind == JAW_PATTERN) {
        to->nominal = calloc(n + 1, sizeof *to->nominal);
        to->touched = calloc(n + 1, sizeof *to->touched);
        return to->resid && to->nominal && to->touched;
    }
    to->t = calloc(n + 1, sizeof *to->t);
    return to->resid && to->t;
}

static bool touches_make(const job *j, const jaw_rows *rows, touches *to)
{
    size_t n;
    const jaw_row *row = jaw_rows_get(rows, &n);
    if (!touches_alloc(j, n, to)) {
        touches_drop(to);
        return no_memory();
    }
    /* these rows are a ball's centre; the library wants its lowest point */
    double down = j->kind == JAW_FACE || is_solid(j->kind)
                      ? j->tip.diameter / 2
                      : 0;
    for (size_t i = 0; i < n; i++) {
        const double *v = row[i].value;
        to->first += row[i].group == 0;
        if (j->kind == JAW_PATTERN) {
            to->nominal[i] = (jaw_vec2){v[0], v[1]};
            to->touched[i] = (jaw_vec2){v[2], v[3]};
        } else {
            to->t[i] = (jaw_touch){v[0], v[1], v[2] - down};
        }
    }
    return true;
}

/* ------------------------------------------------------------------- solve */

/* Every kind's result begins elsewhere; what the report judges by is common. */
#define COMMON(found, part)                                                    \
    ((found)->flags = (found)->as.part.flags,                                  \
     (found)->rms = (found)->as.part.rms, (found)->dof = (found)->as.part.dof)

static void solve_round(const job *j, const touches *to, jaw_found *found)
{
    found->status =
        (j->kind == JAW_BORE ? jaw_feature_bore : jaw_feature_boss)(
            to->t, to->n, &j->tip, j->diameter, &found->as.round, to->resid);
    COMMON(found, round);
}

static void solve_walls(const job *j, const touches *to, jaw_found *found)
{
    found->status = (j->kind == JAW_SLOT ? jaw_feature_slot : jaw_feature_web)(
        to->t, to->first, to->t + to->first, to->n - to->first, &j->tip,
        j->along, &found->as.walls, to->resid);
    COMMON(found, walls);
}

static void solve_kind(const job *j, const touches *to, jaw_found *found)
{
    switch (j->kind) {
    case JAW_EDGE:
        found->status = jaw_feature_edge(to->t, to->n, &j->tip, j->faces,
                                         j->along, &found->as.edge, to->resid);
        COMMON(found, edge);
        break;
    case JAW_FACE:
        found->status = jaw_feature_face(to->t, to->n, &j->tip,
                                         &found->as.face, to->resid);
        COMMON(found, face);
        break;
    case JAW_BORE:
    case JAW_BOSS:
        solve_round(j, to, found);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        solve_walls(j, to, found);
        break;
    case JAW_BALL:
        found->status = jaw_feature_ball(to->t, to->n, &j->tip, j->diameter,
                                         &found->as.ball, to->resid);
        COMMON(found, ball);
        break;
    case JAW_BAR:
        found->status = jaw_feature_bar(to->t, to->n, &j->tip, j->diameter,
                                        &found->as.bar, to->resid);
        COMMON(found, bar);
        break;
    default:
        found->status = jaw_feature_pattern(to->nominal, to->touched, to->n,
                                            &found->as.pattern, to->resid);
        COMMON(found, pattern);
        break;
    }
}

/* The first of those that are equal but for rounding: four touches of a bore
 * always have equal residuals, and which one is named should not depend on the
 * machine that computes them. */
static size_t largest_of(const double *resid, size_t n)
{
    size_t at = 0;
    for (size_t i = 1; i < n; i++)
        if (fabs(resid[i]) > (1 + 1e-9) * fabs(resid[at]))
            at = i;
    return at;
}

/* What to do about it, by kind. */
static const char *cure_of(const job *j, jaw_status status)
{
    static const char *const few[JAW_FEATURE_KINDS] = {
        [JAW_EDGE] = "touch the wall in two places or more, far apart; or one "
                     "touch and --faces or --direction",
        [JAW_FACE] = "touch it in three places or more that do not lie on one "
                     "line",
        [JAW_BORE] = "touch it in three places or more, spread round the wall",
        [JAW_BOSS] = "touch it in three places or more, spread round the wall",
        [JAW_SLOT] = "touch both walls, with a lone `/' between the touches of "
                     "the one and of the other",
        [JAW_WEB] = "touch both walls, with a lone `/' between the touches of "
                    "the one and of the other",
        [JAW_PATTERN] = "touch two places or more, far apart",
        [JAW_BALL] = "touch it in four places or more, round it and on top",
        [JAW_BAR] = "touch both sides and the top at both ends, and once more "
                    "between them"};
    switch (status) {
    case JAW_EFEW:
    case JAW_ERANK:
    case JAW_ENOCONV:
        return few[j->kind];
    case JAW_ESIZE:
        return "check --tip and --diameter, and that the touches are in the "
               "order that you think";
    case JAW_ESIDE:
        if (j->kind == JAW_BAR)
            return "a bar that stands is a boss; or z is in another column";
        return "check --faces against the touches: the wall should run square "
               "to it";
    case JAW_EUNKNOWN:
        return "add --faces x+, x-, y+ or y-";
    default:
        return "";
    }
}

static void complain_unsolved(const job *j, jaw_status status, size_t n)
{
    complain(cure_of(j, status), "no %s: %s (%zu touch%s given)",
             jaw_feature_word(j->kind), jaw_status_text(status), n,
             n == 1 ? "" : "es");
}

static int found_print(const job *j, const jaw_found *found)
{
    jaw_report_style style = {.colour = !j->json && colour_on(stdout)};
    char *text = (j->json ? jaw_report_feature_json : jaw_report_feature_text)(
        found, j->unit, style);
    if (!text) {
        no_memory();
        return EXIT_USAGE;
    }
    fputs(text, stdout);
    free(text);
    return jaw_flags_doubts(found->flags) ? EXIT_DOUBT : EXIT_STANDS;
}

static int solve_touches(const job *j, const touches *to)
{
    jaw_found found = {.kind = j->kind,
                       .resid = to->resid,
                       .n = to->n,
                       .repeat = JAW_REPEAT_DEFAULT};
    solve_kind(j, to, &found);
    if (found.status != JAW_OK) {
        complain_unsolved(j, found.status, to->n);
        return exit_from(found.status);
    }
    found.largest = largest_of(to->resid, to->n);
    return found_print(j, &found);
}

static int solve_input(const job *j, const input *in, jaw_notes *notes)
{
    jaw_rows *rows = NULL;
    touches to;
    int status = EXIT_USAGE;
    jaw_status read = rows_read(j, in, &rows, notes);
    notes_print(notes, JAW_DOUBT);
    if (read == JAW_ENOMEM)
        no_memory();
    if (read == JAW_OK && touches_make(j, rows, &to)) {
        status = solve_touches(j, &to);
        touches_drop(&to);
    }
    jaw_rows_free(rows);
    return status;
}

int command_fit(const arguments *args)
{
    job j;
    input in;
    if (args->operands < 1) {
        complain("such as `jawline fit bore 10,0 0,10 -10,0'; see `jawline fit "
                 "--help'",
                 "which KIND of feature is not said");
        return EXIT_USAGE;
    }
    if (!job_read(args, &j) || !input_find(args, false, &in))
        return EXIT_USAGE;
    jaw_notes *notes = jaw_notes_alloc();
    int status = EXIT_USAGE;
    if (notes)
        status = solve_input(&j, &in, notes);
    else
        no_memory();
    jaw_notes_free(notes);
    input_drop(&in);
    return status;
}
