/* SPDX-License-Identifier: GPL-3.0-or-later */
/* selftest.c: `jawline selftest`: this build against published answers. */
#include "cli.h"
#include "selftest.h"

#include <math.h>
#include <string.h>

enum { ROWS_MAX = 16 };

static size_t pairs(const published_case *c, size_t columns, size_t first,
                    jaw_vec2 p[ROWS_MAX])
{
    for (size_t i = 0; i < c->n; i++) {
        p[i].x = c->data[columns * i + first];
        p[i].y = c->data[columns * i + first + 1];
    }
    return c->n;
}

static jaw_status run_circle(const published_case *c, double got[])
{
    jaw_vec2 p[ROWS_MAX] = {{0, 0}};
    jaw_circle circle;
    jaw_status status =
        jaw_fit_circle(p, pairs(c, 2, 0, p), &circle, NULL);
    got[0] = circle.x;
    got[1] = circle.y;
    got[2] = circle.r;
    got[3] = circle.ssr;
    return status;
}

static jaw_status run_line(const published_case *c, double got[])
{
    jaw_vec2 p[ROWS_MAX] = {{0, 0}};
    jaw_line line;
    jaw_status status = jaw_fit_line(p, pairs(c, 2, 0, p), &line, NULL);
    got[0] = line.theta;
    got[1] = line.normal.x * line.p.x + line.normal.y * line.p.y;
    got[2] = line.ssr;
    return status;
}

static jaw_status run_plane(const published_case *c, double got[])
{
    jaw_vec3 p[ROWS_MAX] = {{0, 0, 0}};
    jaw_plane plane;
    for (size_t i = 0; i < c->n; i++)
        p[i] = (jaw_vec3){c->data[3 * i], c->data[3 * i + 1],
                          c->data[3 * i + 2]};
    jaw_status status = jaw_fit_plane(p, c->n, &plane, NULL);
    got[0] = plane.normal.x;
    got[1] = plane.normal.y;
    got[2] = plane.normal.z;
    got[3] = plane.normal.x * plane.p.x + plane.normal.y * plane.p.y +
             plane.normal.z * plane.p.z;
    got[4] = plane.ssr;
    return status;
}

static jaw_status run_rigid(const published_case *c, double got[])
{
    jaw_vec2 from[ROWS_MAX] = {{0, 0}}, to[ROWS_MAX] = {{0, 0}};
    jaw_rigid rigid;
    size_t n = pairs(c, 4, 0, from);
    pairs(c, 4, 2, to);
    jaw_status status = jaw_fit_rigid(from, to, NULL, n, &rigid, NULL);
    got[0] = rigid.frame.turn;
    got[1] = rigid.frame.origin.x;
    got[2] = rigid.frame.origin.y;
    got[3] = rigid.ssr;
    got[4] = rigid.scale;
    return status;
}

static jaw_status run_pattern(const published_case *c, double got[])
{
    jaw_vec2 nominal[ROWS_MAX] = {{0, 0}}, touched[ROWS_MAX] = {{0, 0}};
    double resid[ROWS_MAX];
    jaw_pattern pattern;
    size_t n = pairs(c, 4, 0, nominal);
    pairs(c, 4, 2, touched);
    jaw_status status =
        jaw_feature_pattern(nominal, touched, n, &pattern, resid);
    got[0] = pattern.frame.origin.x;
    got[1] = pattern.frame.origin.y;
    got[2] = pattern.frame.turn;
    got[3] = pattern.scale;
    got[4] = 0;
    for (size_t i = 0; i < n; i++)
        got[4] = fmax(got[4], resid[i]);
    return status;
}

static jaw_status run_skew(const published_case *c, double got[])
{
    const double *d = c->data;
    jaw_frame frame = jaw_frame_make((jaw_vec2){d[0], d[1]}, jaw_rad(d[2]));
    jaw_vec2 machine = jaw_machine_from_work(&frame, (jaw_vec2){d[3], d[4]});
    got[0] = machine.x;
    got[1] = machine.y;
    return JAW_OK;
}

static jaw_status solve_sheet(const char *text, jaw_setup *setup, double got[])
{
    size_t n;
    jaw_solution *solution = NULL;
    jaw_status status =
        jaw_sheet_read_text(text, strlen(text), "", setup, NULL);
    if (status == JAW_OK)
        status = jaw_setup_solve(setup, NULL, &solution);
    if (status == JAW_OK) {
        const jaw_zero_found *zero = jaw_solution_zeros(solution, &n);
        got[0] = n > 0 ? zero->zero.x : (double)NAN;
        got[1] = n > 0 ? zero->zero.y : (double)NAN;
        got[2] = n > 0 ? zero->zero.z : (double)NAN;
        got[3] = n > 0 ? zero->skew : (double)NAN;
        const jaw_tool_found *tools = jaw_solution_tools(solution, &n);
        for (size_t i = 0; i < 2 && i < n; i++)
            got[4 + i] = tools[i].value;
    }
    jaw_solution_free(solution);
    return status;
}

static jaw_status run_sheet(const published_case *c, double got[])
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_status status =
        setup ? solve_sheet(c->sheet, setup, got) : JAW_ENOMEM;
    jaw_setup_free(setup);
    return status;
}

static jaw_status run_case(const published_case *c, double got[])
{
    if (c->n > ROWS_MAX)
        return JAW_EDOMAIN;
    switch (c->kind) {
    case PUBLISHED_CIRCLE:
        return run_circle(c, got);
    case PUBLISHED_LINE:
        return run_line(c, got);
    case PUBLISHED_PLANE:
        return run_plane(c, got);
    case PUBLISHED_RIGID:
        return run_rigid(c, got);
    case PUBLISHED_PATTERN:
        return run_pattern(c, got);
    case PUBLISHED_SKEW:
        return run_skew(c, got);
    case PUBLISHED_SHEET:
        return run_sheet(c, got);
    case PUBLISHED_INCH:
        got[0] = jaw_unit_mm(JAW_IN);
        return JAW_OK;
    }
    return JAW_EDOMAIN;
}

/* Which of the compared numbers is the worst against what is allowed. */
static size_t worst_want(const published_case *c, const double got[])
{
    size_t worst = 0;
    double most = -1;
    for (size_t i = 0; i < PUBLISHED_WANTS && c->want[i].what; i++) {
        double off = fabs(got[i] - c->want[i].want);
        double share = off <= c->want[i].allowed ? off / c->want[i].allowed
                                                 : (double)INFINITY;
        if (isnan(share)) /* 0 of 0 */
            share = 0;
        if (*c->want[i].what && share > most) {
            most = share;
            worst = i;
        }
    }
    return worst;
}

static bool check_case(const published_case *c, FILE *out)
{
    double got[PUBLISHED_WANTS];
    for (size_t i = 0; i < PUBLISHED_WANTS; i++)
        got[i] = (double)NAN;
    jaw_status status = run_case(c, got);
    const published_want *want = &c->want[worst_want(c, got)];
    double off = fabs(got[want - c->want] - want->want);
    bool good = status == JAW_OK && off <= want->allowed;
    fprintf(out, "%-6s  ", good ? "ok" : "FAILED");
    if (status == JAW_OK)
        fprintf(out, "%7.1e of %7.1e  ", off, want->allowed);
    else
        fprintf(out, "%s  ", jaw_status_text(status));
    fprintf(out, "%s (%s)\n", c->name, c->source);
    return good;
}

size_t selftest_run(const published_case cases[], size_t n, FILE *out)
{
    size_t good = 0;
    fputs("        largest difference of what is allowed\n", out);
    for (size_t i = 0; i < n; i++)
        good += check_case(&cases[i], out);
    fprintf(out, "%zu of %zu cases agree\n", good, n);
    return n - good;
}

int command_selftest(const arguments *args)
{
    if (args->operands > 0) {
        complain("selftest takes none", "`%s' says nothing here",
                 args->operand[0]);
        return EXIT_USAGE;
    }
    size_t bad = selftest_run(published_cases, published_count, stdout);
    return bad ? EXIT_UNSOLVED : EXIT_STANDS;
}
