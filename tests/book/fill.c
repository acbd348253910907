/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a setup leaves to the book: what comes is as sure as the book has it,
 * and what is said of it.  The exact texts are in tests/errors. */
#include "../alloc/alloc.h"
#include "book_tests.h"

#include <math.h>
#include <string.h>

static shop s;
static jaw_setup *setup;
static jaw_notes *notes;

static void begin(void)
{
    shop_begin(&s);
    setup = jaw_setup_alloc();
    notes = jaw_notes_alloc();
    ck_assert(setup && notes);
}

static void end(void)
{
    jaw_notes_free(notes);
    jaw_setup_free(setup);
    shop_end(&s);
}

static void want_tool(int number, const char *holder)
{
    jaw_tool_entry e = {.number = number, .length = (double)NAN,
                        .diameter = (double)NAN,
                        .link = {.wanted = true, .holder = holder,
                                 .place = {3, 8, 0}}};
    ck_assert_int_eq(jaw_setup_add_tool(setup, &e), JAW_OK);
}

static void want_setter(const char *name, const char *on)
{
    jaw_setter_entry e = {.name = name, .top = (double)NAN,
                          .height = (double)NAN, .on = on,
                          .link = {.wanted = true, .place = {2, 8, 0}}};
    ck_assert_int_eq(jaw_setup_add_setter(setup, &e), JAW_OK);
}

static jaw_status fill(void)
{
    return jaw_book_fill(s.path, NULL, setup, notes);
}

static const jaw_tool_entry *tool(size_t i)
{
    size_t n;
    const jaw_tool_entry *t = jaw_setup_tools(setup, &n);
    ck_assert_uint_lt(i, n);
    return &t[i];
}

/* Whether some note says that. */
static bool said(jaw_severity severity, const char *words)
{
    const jaw_note *note;
    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++)
        if (note->severity == severity && strstr(note->what, words) != NULL)
            return true;
    return false;
}

/* That stands on few readings. */
static jaw_book_record seen_by(jaw_book_record h, double dof)
{
    h.as.height.dof = dof;
    h.as.height.half95 = h.as.height.u * jaw_trust_cover(0.95, dof);
    return h;
}

static jaw_book_measured measure(int number, const char *on, double reading)
{
    const double readings[] = {reading - 2e-3, reading + 1e-3, reading + 1e-3};
    jaw_book_touch t = shop_touch(number, readings, 3);
    t.text = "a mill";
    t.on = on;
    return shop_measure(&s, &t);
}

START_TEST(nothing_is_asked_for)
{
    jaw_tool_entry e = {.number = 3, .length = 60, .diameter = (double)NAN};
    ck_assert_int_eq(jaw_setup_add_tool(setup, &e), JAW_OK);
    ck_assert_int_eq(jaw_book_fill("/nowhere/at/all", NULL, setup, notes),
                     JAW_OK);
    want_tool(4, NULL);
    ck_assert_int_eq(jaw_book_fill("/nowhere/at/all", NULL, setup, notes),
                     JAW_ENOBOOK);
    ck_assert(said(JAW_ERROR, "tool 4 is to come from the book"));
    ck_assert_int_eq(jaw_notes_get(notes, 0)->place.line, 3);
    ck_assert_uint_eq(jaw_setup_waits(setup), 1);
}
END_TEST

/* The register is as sure as `jawline tool' said it was. */
START_TEST(a_length_is_as_sure_as_the_book_has_it)
{
    shop_write(&s, shop_height("setter", -250, 2e-3, 0));
    jaw_book_length l = measure(3, "setter", -190).record.as.length;
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert_uint_eq(jaw_notes_count(notes), 0);
    ck_assert(tool(0)->length == l.value);
    ck_assert_str_eq(tool(0)->text, "a mill");
    ck_assert_int_eq(tool(0)->link.at, shop_time(1));
    jaw_solution *solution;
    ck_assert_int_eq(jaw_setup_solve(setup, notes, &solution), JAW_OK);
    size_t n;
    const jaw_tool_found *t = jaw_solution_tools(solution, &n);
    ck_assert_double_eq_tol(t->trust.u, l.u, 1e-15);
    ck_assert_double_eq_tol(t->trust.half95, l.half95, 1e-15);
    ck_assert_double_eq_tol(t->trust.dof / l.dof, 1, 1e-9);
    jaw_solution_free(solution);
}
END_TEST

/* From the same entry it counts from the setter, and is as sure as before; by
 * another one it does not. */
START_TEST(with_its_setter_the_height_counts_once)
{
    shop_write(&s, shop_height("setter", -250, 2e-3, 0));
    jaw_book_length l = measure(3, "setter", -190).record.as.length;
    want_setter("setter", NULL);
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert_str_eq(tool(0)->above, "setter");
    ck_assert_double_eq_tol(tool(0)->length, -190, 1e-9);
    jaw_solution *solution;
    ck_assert_int_eq(jaw_setup_solve(setup, notes, &solution), JAW_OK);
    size_t n;
    const jaw_tool_found *t = jaw_solution_tools(solution, &n);
    ck_assert_double_eq_tol(t->value, l.value, 1e-9);
    ck_assert_double_eq_tol(t->trust.u, l.u, 1e-12);
    ck_assert_double_eq_tol(t->trust.half95, l.half95, 1e-9);
    jaw_solution_free(solution);
    shop_write(&s, shop_height("setter", -250.1, 2e-3, 0));
    jaw_setup_free(setup);
    setup = jaw_setup_alloc();
    want_setter("setter", NULL);
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert_ptr_null(tool(0)->above);
    ck_assert(tool(0)->length == l.value);
}
END_TEST

static jaw_value_trust solved_trust(double *value)
{
    jaw_solution *solution;
    size_t n;
    ck_assert_int_eq(jaw_setup_solve(setup, notes, &solution), JAW_OK);
    const jaw_tool_found *t = jaw_solution_tools(solution, &n);
    jaw_value_trust trust = t->trust;
    *value = t->value;
    jaw_solution_free(solution);
    return trust;
}

/* 2026-11-26: a setter of three readings counted as known for good, and the
 * value to enter was surer than the book. */
START_TEST(a_setter_of_few_readings)
{
    shop_write(&s, seen_by(shop_height("setter", -250, 2e-3, 0), 2));
    jaw_book_length l = measure(3, "setter", -190).record.as.length;
    ck_assert_double_gt(l.half95, 2.5 * l.u);
    double value;
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    jaw_value_trust t = solved_trust(&value);
    ck_assert_double_eq_tol(t.u, l.u, 1e-12);
    ck_assert_double_eq_tol(t.half95, l.half95, 1e-9);
    jaw_setup_free(setup);
    setup = jaw_setup_alloc();
    want_setter("setter", NULL);
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    t = solved_trust(&value);
    ck_assert_double_eq_tol(value, l.value, 1e-9);
    ck_assert_double_eq_tol(t.u, l.u, 1e-12);
    ck_assert_double_eq_tol(t.half95, l.half95, 1e-9);
    ck_assert_double_eq_tol(t.dof, l.dof, 1e-6);
}
END_TEST

/* A block that stands on few readings is in the tool's own share. */
START_TEST(a_block_of_few_readings)
{
    const double readings[] = {-165.002, -164.999, -164.999};
    shop_write(&s, seen_by(shop_block("gauge", 25, 3e-3, 0), 2));
    shop_write(&s, seen_by(shop_height("setter", -250, 2e-3, 0), 2));
    jaw_book_touch touch = shop_touch(3, readings, 3);
    touch.through = "gauge";
    const jaw_book_measured m = shop_measure(&s, &touch);
    double value, dof = m.record.as.length.dof;
    want_setter("setter", NULL);
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    jaw_value_trust t = solved_trust(&value);
    ck_assert_double_eq_tol(t.u, m.record.as.length.u, 1e-12);
    ck_assert_double_eq_tol(t.dof, dof, 1e-6);
    ck_assert_double_gt(t.half95, jaw_trust_cover(0.95, dof) * t.u);
}
END_TEST

START_TEST(above_a_surface_of_the_sheet)
{
    measure(5, "bed", -170);
    want_tool(5, NULL);
    ck_assert_int_eq(fill(), JAW_EUNKNOWN);
    ck_assert(said(JAW_ERROR, "only above 'bed'"));
    jaw_setter_entry bed = {.name = "bed", .top = (double)NAN,
                            .height = (double)NAN};
    ck_assert_int_eq(jaw_setup_add_setter(setup, &bed), JAW_OK);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert(said(JAW_ASSUMPTION, "the book knows tool 5 only above 'bed': "
                                   "that is taken to be this sheet's"));
    ck_assert_str_eq(tool(0)->above, "bed");
    ck_assert_double_eq_tol(tool(0)->length, -170, 1e-9);
}
END_TEST

static void write_mark(double z, jaw_book_move move, long long since)
{
    const jaw_figure none = jaw_figure_make((double)NAN, (double)NAN,
                                            (double)NAN);
    jaw_book_record r = {.kind = JAW_BOOK_MARK, .machine = "mill",
                         .subject = "top", .at = shop_time(9)};
    r.as.mark = (jaw_book_mark){
        .feature = "", .direction = none, .move = move, .since = since,
        .at = {none, none, jaw_figure_make(z, 0.003, (double)INFINITY)}};
    shop_write(&s, r);
}

/* 2026-11-26: a height of the machine from before a homing was taken as it
 * was, and nothing said. */
START_TEST(above_a_surface_before_a_homing)
{
    jaw_setter_entry bed = {.name = "bed", .top = (double)NAN,
                            .height = (double)NAN};
    measure(5, "bed", -170);
    ck_assert_int_eq(jaw_setup_add_setter(setup, &bed), JAW_OK);
    want_tool(5, NULL);
    write_mark(-300, JAW_MOVE_FIRST, 0);
    write_mark(-300.001, JAW_MOVE_STAYED, 1);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert(!said(JAW_DOUBT, "and since then the machine moved"));
    write_mark(-299.5, JAW_MOVE_MOVED, 1);
    jaw_setup_free(setup);
    setup = jaw_setup_alloc();
    ck_assert_int_eq(jaw_setup_add_setter(setup, &bed), JAW_OK);
    want_tool(5, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert(said(JAW_DOUBT, "and since then the machine moved, or was homed "
                              "with no mark that shows its Z, entry "));
    measure(5, "bed", -169.5);
    jaw_setup_free(setup);
    setup = jaw_setup_alloc();
    ck_assert_int_eq(jaw_setup_add_setter(setup, &bed), JAW_OK);
    want_tool(5, NULL);
    jaw_notes_free(notes);
    notes = jaw_notes_alloc();
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert(!said(JAW_DOUBT, "and since then the machine moved"));
}
END_TEST

/* One reading, and nobody said how well it comes back. */
START_TEST(a_length_without_a_spread)
{
    const double reading = -190;
    shop_write(&s, shop_height("setter", -250, 2e-3, 0));
    jaw_book_touch t = shop_touch(3, &reading, 1);
    jaw_book_measured m = shop_measure(&s, &t);
    ck_assert(isnan(m.record.as.length.u));
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_OK);
    ck_assert(said(JAW_ASSUMPTION,
                   "the book does not know how sure the length of tool 3 is: "
                   "0.010 mm is taken for one reading"));
    double known = m.record.as.length.known;
    ck_assert_double_eq_tol(tool(0)->length_known,
                            hypot(JAW_BOOK_REPEAT, known), 1e-15);
    ck_assert(tool(0)->link.seen == 0);
}
END_TEST

START_TEST(tops_and_blocks)
{
    shop_write(&s, shop_height("setter", -250, 2e-3, 0));
    shop_write(&s, shop_block("gauge", 25, 0, 0));
    want_setter("setter", NULL);
    want_setter("gauge", "setter");
    ck_assert_int_eq(fill(), JAW_OK);
    size_t n;
    const jaw_setter_entry *e = jaw_setup_setters(setup, &n);
    ck_assert(e[0].top == -250 && e[0].top_known == 2e-3);
    ck_assert(isnan(e[0].height) && e[0].link.seen == 0);
    ck_assert(e[1].height == 25 && e[1].height_known == 0);
    ck_assert(isnan(e[1].top) && e[1].link.seen == 0);
}
END_TEST

/* What is there is filled in although something else is missing. */
START_TEST(all_that_is_missing_is_told_at_once)
{
    shop_write(&s, shop_length(3, 60, 0));
    want_tool(8, NULL);
    want_tool(3, NULL);
    want_tool(3, "er20");
    want_setter("puck", NULL);
    ck_assert_int_eq(fill(), JAW_EUNKNOWN);
    ck_assert_uint_eq(jaw_notes_at_least(notes, JAW_ERROR), 3);
    ck_assert_uint_eq(jaw_setup_waits(setup), 3);
    ck_assert(tool(1)->length == 60);
}
END_TEST

START_TEST(the_only_machine_is_meant)
{
    char name[JAW_BOOK_NAME_SIZE];
    ck_assert_int_eq(jaw_book_machine_pick(s.book, name, sizeof name), JAW_OK);
    ck_assert_str_eq(name, "mill");
    jaw_book_record m = shop_machine("lathe");
    shop_write(&s, m);
    ck_assert_int_eq(jaw_book_machine_pick(s.book, name, sizeof name), JAW_OK);
    ck_assert_str_eq(name, "lathe");
    m.machine = "drill";
    shop_write(&s, m);
    ck_assert_int_eq(jaw_book_machine_pick(s.book, name, sizeof name),
                     JAW_ECONFLICT);
    want_tool(3, NULL);
    ck_assert_int_eq(fill(), JAW_ECONFLICT);
}
END_TEST

/* ---------------------------------------------------------- without memory */

START_TEST(filling_without_memory)
{
    shop_write(&s, shop_height("setter", -250, 2e-3, 0));
    measure(3, "setter", -190);
    for (long k = 0;; k += k < 60 ? 3 : 41) {
        jaw_setup_free(setup);
        setup = jaw_setup_alloc();
        want_setter("setter", NULL);
        want_tool(3, NULL);
        alloc_fail_after(k);
        jaw_status status = fill();
        bool failed = alloc_failed();
        alloc_fail_never();
        if (!shop_lacked(k, failed, status))
            break;
        if (status == JAW_OK)
            ck_assert_uint_eq(jaw_setup_waits(setup), 0);
    }
}
END_TEST

TCase *fill_case(void)
{
    TCase *tc = tcase_create("fill");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_test(tc, nothing_is_asked_for);
    tcase_add_test(tc, a_length_is_as_sure_as_the_book_has_it);
    tcase_add_test(tc, with_its_setter_the_height_counts_once);
    tcase_add_test(tc, a_setter_of_few_readings);
    tcase_add_test(tc, a_block_of_few_readings);
    tcase_add_test(tc, above_a_surface_of_the_sheet);
    tcase_add_test(tc, above_a_surface_before_a_homing);
    tcase_add_test(tc, a_length_without_a_spread);
    tcase_add_test(tc, tops_and_blocks);
    tcase_add_test(tc, all_that_is_missing_is_told_at_once);
    tcase_add_test(tc, the_only_machine_is_meant);
    if (alloc_works())
        tcase_add_test(tc, filling_without_memory);
    return tc;
}
