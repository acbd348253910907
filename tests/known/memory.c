/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation fails once, from the text of a sheet to its reports: out of
 * memory is said, nothing leaks, and no value is half known. */
#include "known_tests.h"

#include "tests/alloc/alloc.h"

#include <stdlib.h>
#include <string.h>

/* Everything that is known to something, set aside, warm, or a touch more. */
static const char sheet[] =
    "unit mm\ncontrol step 0.001 turn yes angle-step 0.0001\n"
    "temperature 24 known to 0.5 expansion 23.1 known to 1\n"
    "tip pin ball diameter 6 known to 0.01 repeat 0.002 length 100 known to "
    "0.01\n"
    "edge jaw tip pin faces y- repeat 0.001\n  0 -3\n  100 -3\n"
    "  50 -4 set aside\n  60 -4 set aside\n"
    "edge stop tip pin faces x+\n  3 -20\n"
    "bore a tip pin diameter 20 known to 0.01\n  57 50\n  50 57\n  43 50\n"
    "bore b tip pin diameter 20 expected within 0.01\n  157 50\n  150 57\n"
    "  143 50\n  150 43\n"
    "face top tip pin\n  0 0 10\n"
    "setter puck height 5 on top known to 0.01\n"
    "tool 1 length 50 known to 0.02\n  touched -40 on puck\n"
    "pattern plate places known to 0.01\n  hole a at 0 0\n  hole b at 100 0\n"
    "  7 7 8 8 set aside\n"
    "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n  z top\n"
    "  square known to 0.1\n"
    "zero G55\n  turn plate\n  x plate\n  y plate\n";

static bool reports(const solved *s)
{
    char *text = jaw_report_text(s->setup, s->solution, s->notes,
                                 (jaw_report_style){.explain = true});
    char *json = jaw_report_json(s->setup, s->solution, s->notes,
                                 (jaw_report_style){.explain = true});
    bool good = text && json;
    free(text);
    free(json);
    return good;
}

/* True when all went well. */
static bool work(solved *s)
{
    if (!s->setup || !s->notes)
        return false;
    if (jaw_sheet_read_text(sheet, strlen(sheet), "f", s->setup, s->notes) !=
        JAW_OK)
        return false;
    if (jaw_setup_solve(s->setup, s->notes, &s->solution) != JAW_OK)
        return false;
    return reports(s);
}

START_TEST(without_memory)
{
    bool failed = true;

    for (long k = 0; failed; k++) {
        (_i == 1 ? alloc_fail_always_after : alloc_fail_after)(k);
        solved s = {jaw_setup_alloc(), jaw_notes_alloc(), NULL};
        bool good = work(&s);
        failed = alloc_failed();
        alloc_fail_never();
        solved_drop(&s);
        ck_assert_msg(good == !failed, "allocation %ld", k);
        ck_assert_int_eq(alloc_live(), 0);
    }
}
END_TEST

TCase *memory_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("memory");
    tcase_add_loop_test(tc, without_memory, 0, 2);
    return tc;
}
