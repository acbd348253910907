/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a setup leaves to a record: it waits, is filled in, and then counts as
 * sure as the record says: by itself to the last digit, together with touches
 * by simulation. */
#include "setup_tests.h"
#include "tests/feature/random.h"

#include <jawline/report.h>
#include <stdlib.h>
#include <string.h>

static jaw_setup *setup;
static jaw_notes *notes;
static jaw_solution *solution;

static void begin(void)
{
    setup = jaw_setup_alloc();
    notes = jaw_notes_alloc();
    solution = NULL;
    ck_assert(setup && notes);
}

static void end(void)
{
    jaw_solution_free(solution);
    jaw_notes_free(notes);
    jaw_setup_free(setup);
}

static jaw_status solve_it(void)
{
    jaw_solution_free(solution);
    return jaw_setup_solve(setup, notes, &solution);
}

static jaw_tool_found tool_of(size_t i)
{
    size_t n;
    const jaw_tool_found *t = jaw_solution_tools(solution, &n);
    ck_assert_uint_lt(i, n);
    return t[i];
}

static jaw_tool_entry waiting(int number)
{
    return (jaw_tool_entry){.number = number, .length = NOT, .diameter = NOT,
                            .place = {4, 1, 0},
                            .link = {.wanted = true, .place = {4, 8, 0}}};
}

/* A length that stands on a seen share and a known one. */
static jaw_tool_entry filled(int number, double value, double seen, double dof,
                             double known)
{
    double u[] = {seen, known}, free[] = {dof, INFINITY};
    jaw_tool_entry e = waiting(number);
    e.length = value;
    e.length_known = hypot(seen, known);
    e.link.entry = 7;
    e.link.at = 1772434800000;
    e.link.value = value;
    e.link.u = e.length_known;
    e.link.dof = jaw_trust_effective_dof(u, free, 2);
    e.link.half95 = jaw_trust_within(seen, dof, known);
    e.link.seen = isinf(dof) ? 0 : seen;
    e.link.seen_dof = isinf(dof) ? 0 : dof;
    return e;
}

START_TEST(what_waits_is_not_solved)
{
    jaw_tool_entry t = waiting(3);
    jaw_setter_entry s = {.name = "puck", .top = NOT, .height = NOT,
                          .link = {.wanted = true}};
    jaw_setter_entry on = {.name = "gauge", .top = NOT, .height = NOT,
                           .on = "puck", .link = {.wanted = true}};
    jaw_tip_entry tip = {.name = "stylus",
                         .tip = jaw_tip_make(JAW_TIP_BALL, NOT),
                         .link = {.wanted = true}};
    ck_status(jaw_setup_add_tool(setup, &t), JAW_OK);
    ck_status(jaw_setup_add_setter(setup, &s), JAW_OK);
    ck_status(jaw_setup_add_setter(setup, &on), JAW_OK);
    ck_status(jaw_setup_add_tip(setup, &tip), JAW_OK);
    ck_assert_uint_eq(jaw_setup_waits(setup), 4);
    ck_status(solve_it(), JAW_EUNKNOWN);
    ck_assert_ptr_nonnull(solution);
    size_t n;
    jaw_solution_tools(solution, &n);
    ck_assert_uint_eq(n, 0);
    ck_assert_str_eq(jaw_notes_get(notes, 0)->what,
                     "4 lengths, heights or tips are to come from a book, and "
                     "none was asked");
    jaw_report_style style = {.explain = true};
    char *text = jaw_report_text(setup, solution, notes, style);
    char *json = jaw_report_json(setup, solution, notes, style);
    ck_assert(text && json && strstr(text, "not solved"));
    free(text);
    free(json);
}
END_TEST

START_TEST(only_what_waits_is_filled_in)
{
    jaw_tool_entry t = waiting(3), good = filled(3, 60, 1e-3, 2, 2e-3);
    jaw_tool_entry stated = {.number = 4, .length = 50, .diameter = NOT};
    ck_status(jaw_setup_fill_tool(setup, 0, &good), JAW_EUNKNOWN);
    ck_status(jaw_setup_add_tool(setup, &t), JAW_OK);
    ck_status(jaw_setup_add_tool(setup, &stated), JAW_OK);
    ck_status(jaw_setup_fill_tool(setup, 1, &good), JAW_EUNKNOWN);
    ck_status(jaw_setup_fill_tool(setup, 2, &good), JAW_EUNKNOWN);
    ck_status(jaw_setup_fill_setter(setup, 0, &(jaw_setter_entry){0}),
              JAW_EUNKNOWN);
    ck_status(jaw_setup_fill_tip(setup, 0, &(jaw_tip_entry){0}), JAW_EUNKNOWN);
    jaw_tool_entry bad = good;
    bad.link.seen = -1;
    ck_status(jaw_setup_fill_tool(setup, 0, &bad), JAW_EDOMAIN);
    bad = good;
    bad.length = INFINITY;
    ck_status(jaw_setup_fill_tool(setup, 0, &bad), JAW_EDOMAIN);
    bad = good;
    bad.link.seen_dof = NOT;
    ck_status(jaw_setup_fill_tool(setup, 0, &bad), JAW_EDOMAIN);
    ck_status(jaw_setup_fill_tool(setup, 0, &good), JAW_OK);
    ck_assert_uint_eq(jaw_setup_waits(setup), 0);
    ck_status(jaw_setup_fill_tool(setup, 0, &good), JAW_EUNKNOWN);
}
END_TEST

/* A block stands on something, a surface does not. */
START_TEST(setters_and_tips_are_as_good_as_stated_ones)
{
    jaw_setter_entry s = {.name = "puck", .top = NOT, .height = NOT,
                          .on = "bed", .link = {.wanted = true}};
    jaw_tip_entry t = {.name = "stylus",
                       .tip = jaw_tip_make(JAW_TIP_BALL, NOT),
                       .link = {.wanted = true}};
    ck_status(jaw_setup_add_setter(setup, &s), JAW_OK);
    ck_status(jaw_setup_add_tip(setup, &t), JAW_OK);
    s.link.entry = t.link.entry = 3;
    ck_status(jaw_setup_fill_setter(setup, 0, &s), JAW_EDOMAIN);
    ck_status(jaw_setup_fill_tip(setup, 0, &t), JAW_EDOMAIN);
    s.height = 25;
    t.tip.diameter = 4;
    ck_status(jaw_setup_fill_setter(setup, 0, &s), JAW_OK);
    ck_status(jaw_setup_fill_tip(setup, 0, &t), JAW_OK);
}
END_TEST

/* Where nothing else adds, the register is as sure as the record. */
START_TEST(a_register_is_as_sure_as_its_record)
{
    static const struct {
        double seen, dof, known;
    } row[] = {{1e-3, 2, 0}, {1e-3, 1, 2e-3}, {0.5e-3, 39, 2e-3},
               {2e-3, 4, 0.3e-3}, {1e-3, (double)INFINITY, 1e-3}};
    jaw_tool_entry e = waiting(3);
    ck_status(jaw_setup_add_tool(setup, &e), JAW_OK);
    e = filled(3, 60.0 / 7, row[_i].seen, row[_i].dof, row[_i].known);
    ck_status(jaw_setup_fill_tool(setup, 0, &e), JAW_OK);
    ck_status(solve_it(), JAW_OK);
    jaw_tool_found t = tool_of(0);
    near(t.value, e.length, 1e-12, "value");
    near(t.trust.u, e.link.u, 1e-12, "u");
    near(t.trust.half95, e.link.half95, 1e-12, "half95");
    if (isinf(row[_i].dof))
        ck_assert(isinf(t.trust.dof));
    else
        near(t.trust.dof / e.link.dof, 1, 1e-9, "dof");
    ck_assert(isnan(t.since) && isnan(t.since_limit));
    ck_assert_uint_eq(t.trust.n_budget, 1);
    ck_assert_str_eq(t.trust.budget[0].text,
                     "length of tool 3, from the book");
}
END_TEST

static void has_setter(const char *name, double top, double known, bool linked)
{
    jaw_setter_entry s = {.name = name, .top = top, .height = NOT,
                          .top_known = known,
                          .link = {.wanted = linked, .entry = 2}};
    ck_status(jaw_setup_add_setter(setup, &s), JAW_OK);
}

static void contact(int number, double reading, const char *surface)
{
    jaw_contact_entry c = {.tool = number, .reading = reading,
                           .surface = surface, .place = {6, 3, 0}};
    ck_status(jaw_setup_add_contact(setup, &c), JAW_OK);
}

/* What is wrong with the setter is in each length, and not in a difference. */
START_TEST(a_setter_that_two_were_measured_on_counts_once)
{
    jaw_control c = jaw_control_default(JAW_MM);
    jaw_tool_entry a = filled(3, 60 - 250, 1e-3, 4, 0);
    jaw_tool_entry b = filled(4, 70 - 250, 2e-3, 6, 0);
    a.above = b.above = "puck";
    has_setter("puck", -250, 0.1, true);
    ck_status(jaw_setup_add_tool(setup, &a), JAW_OK);
    ck_status(jaw_setup_add_tool(setup, &b), JAW_OK);
    ck_status(solve_it(), JAW_OK);
    near(tool_of(0).value, 60, 1e-9, "length");
    near(tool_of(0).trust.u, hypot(0.1, 1e-3), 1e-9, "u of a length");
    c.lengths = JAW_REFERENCE_TOOL;
    c.reference = 3;
    ck_status(jaw_setup_set_control(setup, &c), JAW_OK);
    ck_status(solve_it(), JAW_OK);
    near(tool_of(1).value, 10, 1e-9, "difference");
    near(tool_of(1).trust.u, hypot(1e-3, 2e-3), 1e-9, "u of a difference");
    const double u[] = {1e-3, 2e-3}, dof[] = {4, 6};
    double free = jaw_trust_effective_dof(u, dof, 2);
    near(tool_of(1).trust.dof, free, 1e-6, "dof of a difference");
    near(tool_of(1).trust.half95, jaw_trust_among(u, dof, 2, 0), 1e-9,
         "half95 of a difference");
}
END_TEST

/* With a surface whose height nobody knows there are differences. */
START_TEST(above_a_surface_of_any_height)
{
    jaw_control c = jaw_control_default(JAW_MM);
    jaw_tool_entry a = filled(3, -190, 1e-3, 4, 0);
    jaw_tool_entry b = filled(4, -180, 1e-3, 4, 0);
    a.above = b.above = "bed";
    has_setter("bed", NOT, 0, false);
    ck_status(jaw_setup_add_tool(setup, &a), JAW_OK);
    ck_status(jaw_setup_add_tool(setup, &b), JAW_OK);
    ck_status(solve_it(), JAW_EUNKNOWN);
    ck_assert(isnan(tool_of(0).value));
    c.lengths = JAW_REFERENCE_TOOL;
    c.reference = 3;
    ck_status(jaw_setup_set_control(setup, &c), JAW_OK);
    ck_status(solve_it(), JAW_OK);
    near(tool_of(1).value, 10, 1e-9, "difference");
}
END_TEST

/* ------------------------------------------------------------ by simulation */

/* A tool's record: true 60, its readings' spread found with 3 degrees of
 * freedom; and a touch here that repeats as setup takes it to.  Length and
 * difference by one draw. */
static jaw_tool_found draw(random_source *r, bool on_setter)
{
    double spread = 0, error[4], mean = 0;
    for (int i = 0; i < 4; i++) {
        error[i] = 4e-3 * random_normal(r);
        mean += error[i] / 4;
    }
    for (int i = 0; i < 4; i++)
        spread += (error[i] - mean) * (error[i] - mean) / 3;
    begin();
    jaw_tool_entry e = filled(3, 60 + mean, sqrt(spread / 4), 3, 0);
    if (on_setter) {
        double top = 1e-3 * random_normal(r);
        e.above = "puck";
        e.length += -250 + top; /* as it was read there */
        has_setter("puck", -250, 1e-3, true);
        contact(3, 60 - 250 + top +
                       JAW_REPEAT_DEFAULT * random_normal(r), "puck");
    } else {
        has_setter("puck", -250, 0, false);
        contact(3, 60 - 250 + JAW_REPEAT_DEFAULT * random_normal(r),
                "puck");
    }
    ck_status(jaw_setup_add_tool(setup, &e), JAW_OK);
    ck_status(solve_it(), JAW_OK);
    jaw_tool_found t = tool_of(0);
    end();
    return t;
}

START_TEST(intervals_hold_and_noise_is_noise)
{
    enum { SETS = 6000 };
    random_source r = random_start("links", 20260302 + (uint64_t)_i);
    int held = 0, alarms = 0;
    for (int k = 0; k < SETS; k++) {
        jaw_tool_found t = draw(&r, _i == 1);
        held += fabs(t.value - 60) <= t.trust.half95;
        ck_assert(t.since_limit > 0);
        alarms += fabs(t.since) > t.since_limit;
    }
    /* weights by a spread of three degrees of freedom take a little of it, and
     * what is on the safe side gives some */
    ck_assert_msg(held >= 0.942 * SETS && held <= 0.975 * SETS,
                  "%d of %d held", held, SETS);
    ck_assert_msg(alarms >= 0.005 * SETS && alarms <= 0.015 * SETS,
                  "%d of %d alarms", alarms, SETS);
}
END_TEST

/* Worn by a tenth: told first, with the entry that it stands against. */
START_TEST(a_tool_that_is_no_longer_what_it_was)
{
    jaw_tool_entry e = filled(3, 60, 1e-3, 10, 0);
    has_setter("puck", -250, 0, false);
    contact(3, 59.9 - 250, "puck");
    ck_status(jaw_setup_add_tool(setup, &e), JAW_OK);
    ck_status(solve_it(), JAW_OK);
    near(tool_of(0).since, -0.1, 1e-9, "since");
    ck_assert(tool_of(0).flags & JAW_RESIDUAL);
    const jaw_note *note = NULL;
    for (size_t i = 0; jaw_notes_get(notes, i) != NULL && note == NULL; i++)
        if (strstr(jaw_notes_get(notes, i)->what, "tool 3 is shorter"))
            note = jaw_notes_get(notes, i);
    ck_assert_ptr_nonnull(note);
    ck_assert_int_eq(note->severity, JAW_DOUBT);
    ck_assert_str_eq(note->what, "tool 3 is shorter by 0.100 mm than the book "
                                 "has it (entry 7)");
}
END_TEST

TCase *links_case(void)
{
    TCase *tc = tcase_create("links");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_test(tc, what_waits_is_not_solved);
    tcase_add_test(tc, only_what_waits_is_filled_in);
    tcase_add_test(tc, setters_and_tips_are_as_good_as_stated_ones);
    tcase_add_loop_test(tc, a_register_is_as_sure_as_its_record, 0, 5);
    tcase_add_test(tc, a_setter_that_two_were_measured_on_counts_once);
    tcase_add_test(tc, above_a_surface_of_any_height);
    tcase_add_test(tc, a_tool_that_is_no_longer_what_it_was);
    return tc;
}

TCase *links_drawn_case(void)
{
    TCase *tc = tcase_create("links, by simulation");
    tcase_add_loop_test(tc, intervals_hold_and_noise_is_noise, 0, 2);
    return tc;
}
