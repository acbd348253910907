/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each allocation of each report fails once: NULL, and nothing is lost. */
#include "report_tests.h"

#include <stdlib.h>

#include "tests/alloc/alloc.h"

static const jaw_report_style style = {.explain = true};

/* One report, made from what page_setup prepared; false when it was NULL. */
typedef bool attempt(void);

static jaw_setup *setup;
static jaw_solution *solution;
static jaw_notes *notes;
static jaw_readback_value value[6];
static jaw_readback_found compared[6];

static void prepare(void)
{
    setup = corner_setup(true);
    notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_setup_solve(setup, notes, &solution), JAW_OK);
    some_readback(value, compared);
}

static void clear(void)
{
    jaw_solution_free(solution);
    jaw_setup_free(setup);
    jaw_notes_free(notes);
}

static bool done(char *text)
{
    bool made = text != NULL;
    free(text);
    return made;
}

static bool page_text(void)
{
    return done(jaw_report_text(setup, solution, notes, style));
}

static bool page_json(void)
{
    return done(jaw_report_json(setup, solution, notes, style));
}

static bool bore_text(void)
{
    double resid[4] = {0, 0, 0, 0};
    jaw_found found = some_bore(resid);
    return done(jaw_report_feature_text(&found, JAW_MM, style));
}

static bool bore_json(void)
{
    double resid[4] = {0, 0, 0, 0};
    jaw_found found = some_bore(resid);
    return done(jaw_report_feature_json(&found, JAW_MM, style));
}

static bool note_text(void)
{
    static const jaw_note note = {
        JAW_ERROR, JAW_ESYNTAX, {1, 2, 0}, "f", "w", "c", "line"};
    return done(jaw_report_note(&note, style));
}

static bool readback(bool json)
{
    jaw_readback r = {"Clamp", JAW_MM, value, compared, 6, NULL};
    return done(json ? jaw_report_readback_json(&r)
                     : jaw_report_readback_text(&r, style));
}

static bool readback_text(void)
{
    return readback(false);
}

static bool readback_json(void)
{
    return readback(true);
}

static bool moved_text(void)
{
    return done(jaw_report_moved_text(some_moved(), some_setup(), style));
}

static bool moved_json(void)
{
    return done(jaw_report_moved_json(some_moved(), some_setup()));
}

static attempt *const attempts[] = {page_text,     page_json,  bore_text,
                                    bore_json,     note_text,  readback_text,
                                    readback_json, moved_text, moved_json};

START_TEST(fail_each)
{
    long k = 0;
    prepare();
    for (;; k++) {
        alloc_fail_after(k);
        bool made = attempts[_i]();
        bool failed = alloc_failed();
        long live = alloc_live();
        alloc_fail_never();
        ck_assert_int_eq(live, 0);
        ck_assert_msg(made == !failed, "allocation %ld: made %d, failed %d", k,
                      made, failed);
        if (!failed)
            break;
    }
    ck_assert_int_gt(k, 0);
    clear();
}
END_TEST

TCase *alloc_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("alloc");
    tcase_add_loop_test(tc, fail_each, 0,
                        (int)(sizeof attempts / sizeof attempts[0]));
    return tc;
}
