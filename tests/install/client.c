/* SPDX-License-Identifier: GPL-3.0-or-later */
/* client.c: what anybody's program may do with the installed library, knowing
 * nothing but its headers and what pkg-config says. */
#include <jawline.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int failures;

static void near(double got, double want, double tol, const char *name)
{
    if (fabs(got - want) <= tol)
        return;
    failures++;
    printf("%s: got %.10g, want %.10g\n", name, got, want);
}

/* Gander, Golub & Strebel, BIT 34 (1994) 558-578, first example; seven digits
 * as in the programs to Chernov, Circular and Linear Regression (2010). */
static void published_circle(void)
{
    static const jaw_vec2 p[] = {{1, 7}, {2, 6}, {5, 8},
                                 {7, 7}, {9, 5}, {3, 7}};
    jaw_circle c;
    jaw_status status = jaw_fit_circle(p, sizeof p / sizeof p[0], &c, NULL);
    if (status != JAW_OK) {
        failures++;
        printf("circle: %s\n", jaw_status_text(status));
        return;
    }
    near(c.x, 4.739782, 0.5e-6, "circle x");
    near(c.y, 2.983533, 0.5e-6, "circle y");
    near(c.r, 4.714226, 0.5e-6, "circle r");
    near(c.rms, 0.4523271, 0.5e-7, "circle rms");
}

/* The wall is one radius (2 mm) behind the tip's centre, the face one length
 * (100 mm) below the gauge line. */
static const char sheet[] = "title  Finder bracket\n"
                            "unit   mm\n"
                            "control  step 0.001  turn yes\n"
                            "tip ball  ball  diameter 4  length 100\n"
                            "edge back  tip ball  faces y-\n"
                            "  -210.000  -52.000\n"
                            "  -150.000  -52.000\n"
                            "edge left  tip ball  faces x+\n"
                            "  -228.000  -70.000\n"
                            "face top   tip ball\n"
                            "  z -80.125\n"
                            "zero G54\n"
                            "  turn  back along x\n"
                            "  x     left  at 0\n"
                            "  y     back  at 0\n"
                            "  z     top   at 0\n";

static void solved(const jaw_solution *solution)
{
    size_t n;
    const jaw_zero_found *zero = jaw_solution_zeros(solution, &n);
    near((double)n, 1, 0, "work zeros");
    if (n != 1)
        return;
    near(zero->enter.x, -230, 1e-9, "G54 x");
    near(zero->enter.y, -50, 1e-9, "G54 y");
    near(zero->enter.z, -180.125, 1e-9, "G54 z");
    near(zero->turn, 0, 1e-12, "G54 turn");
}

static void said(const jaw_setup *setup, const jaw_solution *solution,
                 const jaw_notes *notes)
{
    char *text = jaw_report_text(setup, solution, notes,
                                 (jaw_report_style){.explain = true});
    char *json = jaw_report_json(setup, solution, notes,
                                 (jaw_report_style){.explain = false});
    if (!text || !strstr(text, "G54") || !strstr(text, "-180.125")) {
        failures++;
        printf("the report lacks a value:\n%s\n", text ? text : "");
    }
    if (!json || json[0] != '{') {
        failures++;
        printf("no JSON object:\n%s\n", json ? json : "");
    }
    free(text);
    free(json);
}

static void sheet_from_memory(void)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *solution = NULL;
    jaw_status status =
        jaw_sheet_read_text(sheet, strlen(sheet), "memory", setup, notes);
    if (status == JAW_OK)
        status = jaw_setup_solve(setup, notes, &solution);
    if (status == JAW_OK) {
        solved(solution);
        said(setup, solution, notes);
    } else {
        failures++;
        printf("sheet: %s\n", jaw_status_text(status));
    }
    for (size_t i = 0; i < jaw_notes_count(notes); i++) {
        char *note = jaw_report_note(jaw_notes_get(notes, i),
                                     (jaw_report_style){.colour = false});
        if (status != JAW_OK && note)
            fputs(note, stdout);
        free(note);
    }
    jaw_solution_free(solution);
    jaw_notes_free(notes);
    jaw_setup_free(setup);
}

int main(void)
{
    published_circle();
    sheet_from_memory();
    return failures == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
