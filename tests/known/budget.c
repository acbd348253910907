/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each uncertainty is made of: every share by hand where that is easy, and
 * everywhere their squares add up to the square of the whole (JCGM 100, 5.1.2).
 * What is known keeps its own spread, however the touches scatter. */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const jaw_budget_line *line_of(const jaw_value_trust *t,
                                      const char *text)
{
    for (size_t i = 0; i < t->n_budget; i++)
        if (strcmp(t->budget[i].text, text) == 0)
            return &t->budget[i];
    for (size_t i = 0; i < t->n_budget; i++)
        printf("%s: %g\n", t->budget[i].text, t->budget[i].u);
    ck_abort_msg("no line: %s", text);
}

static void share_is(const jaw_value_trust *t, const char *text, double want)
{
    near(line_of(t, text)->u, want, 1e-3 * want, text);
}

/* To a thousandth: the adjustment weighs one against the other a little.
 *
 * The corner lies 80 from the only touch of the stop, whose direction is that
 * of the jaw give or take 0.1 degrees; the jaw shows it over 100.  The tip's
 * radius moves x as it is. */
START_TEST(by_hand)
{
    solved s = solved_text("tip pin diameter 6 known to 0.01 repeat 0.002\n"
                           "edge jaw tip pin faces y-\n  0 -3\n  100 -3\n"
                           "edge stop tip pin faces x+\n  3 -80\n"
                           "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n"
                           "  square known to 0.1\n");
    const jaw_value_trust *x = &zero_of(&s)->trust[JAW_X];
    /* from the touch at y -80 to the corner on the wall at y 0 */
    share_is(x, "'stop' taken as square to the part", 80 * jaw_rad(0.1));
    share_is(x, "touches of 'jaw'", 80 * 0.002 * sqrt(2) / 100);
    share_is(x, "touches of 'stop'", 0.002);
    share_is(x, "stated diameter of tip 'pin'", 0.005);
    ck_assert_uint_eq(x->n_budget, 4);
    ck_assert_str_eq(x->budget[0].text, "'stop' taken as square to the part");
    for (size_t i = 0; i < x->n_budget; i++)
        ck_assert(isinf(x->budget[i].dof));
    solved_drop(&s);
}
END_TEST

START_TEST(heights_by_hand)
{
    solved s = solved_text("tip probe ball diameter 6 length 100 known to 0.03 "
                           "repeat 0.004\n"
                           "face top tip probe\n  z 40\n  z 40\n"
                           "setter block height 50 on top known to 0.02\n"
                           "tool 1\n  touched 50 on block\n"
                           "zero G54\n  z top\n");
    const jaw_value_trust *t = &tool_of(&s, 1)->trust;
    share_is(t, "stated length of tip 'probe'", 0.03);
    share_is(t, "touches of 'top'", 0.004 / sqrt(2));
    share_is(t, "stated height of 'block'", 0.02);
    share_is(t, "touches of tool 1", JAW_REPEAT_DEFAULT);
    ck_assert_uint_eq(t->n_budget, 4);
    solved_drop(&s);
}
END_TEST

/* Typed places have two parts: how true they are, and how they were read. */
START_TEST(places_by_hand)
{
    solved s = solved_text("temperature 25 known to 2 expansion 20\n"
                           "pattern plate places known to 0.02 repeat 0.01\n"
                           "  0 0 0 0\n  100 0 100.01 0\n"
                           "zero G54\n  turn plate\n  x plate at 200\n"
                           "  y plate\n");
    const jaw_value_trust *x = &zero_of(&s)->trust[JAW_X];
    share_is(x, "how true the places of 'plate' are", 0.02 / sqrt(2));
    share_is(x, "typed places of 'plate', as they repeat", 0.01 / sqrt(2));
    ck_assert_ptr_nonnull(strstr(x->budget[2].text, "temperature"));
    solved_drop(&s);
}
END_TEST

/* ------------------------------------------------------------- they add up */

#define CORNER                                                                 \
    "edge jaw tip pin faces y-\n  0 -3.001\n  50 -2.9985\n  100 -3\n"          \
    "edge stop tip pin faces x+\n  3 -20\n"                                    \
    "bore a tip pin diameter 20 known to 0.01\n  57 50\n  50.0 57.004\n"       \
    "  43 50\n"                                                                \
    "bore b tip pin diameter 20 expected within 0.01\n  157 50\n"              \
    "  150 57\n  143.002 50\n  150 43\n"                                       \
    "face top tip pin\n  0 0 10\n  90 0 10.002\n  50 60 10.001\n"              \
    "setter puck height 5 on top known to 0.01\n"                              \
    "tool 1 length 49.99 known to 0.02\n  touched -40 on puck\n"               \
    "tool 2\n  touched -30 on puck\n  touched -30.004 on puck\n"               \
    "pattern plate places known to 0.01\n  hole a at 0 0\n"                    \
    "  hole b at 100 0\n  50 50 100.003 100 \n"                                \
    "zero G54\n  turn jaw along x\n  x stop at 3\n  y jaw at 20\n  z top\n"    \
    "  square known to 0.1\n"                                                  \
    "zero G55\n  turn plate\n  x plate at 9\n  y plate at -11\n"

static const char *const sheets[] = {
    "temperature 24 known to 0.5 expansion 23.1 known to 1\n"
    "tip pin ball diameter 6 known to 0.01 repeat 0.002 length 100 known to "
    "0.01\n" CORNER,
    "tip pin ball diameter 6 length 100\n" CORNER, /* not stated */
    "tip pin ball diameter 6 repeat 0.0002 length 100\n" CORNER, /* denied */
    "tip pin ball diameter 6 repeat 0.02 length 100\n" CORNER,
};

static int adds_up(const jaw_value_trust *t, const char *name)
{
    double sum = 0;

    if (isnan(t->u))
        return 0;
    for (size_t i = 0; i < t->n_budget; i++) {
        sum = hypot(sum, t->budget[i].u);
        ck_assert(t->budget[i].u > 0 && t->budget[i].dof > 0);
        if (i > 0)
            ck_assert(t->budget[i].u <= t->budget[i - 1].u * (1 + 1e-9));
        for (size_t k = 0; k < i; k++)
            ck_assert_str_ne(t->budget[i].text, t->budget[k].text);
    }
    near(sum, t->u, 1e-9 * t->u, name);
    return 1;
}

START_TEST(squares_add_up)
{
    solved s = solved_text(sheets[_i]);
    size_t n;
    int values = 0;
    const jaw_zero_found *z = jaw_solution_zeros(s.solution, &n);
    ck_assert_uint_eq(n, 2);
    for (size_t i = 0; i < n; i++) {
        for (int axis = 0; axis < JAW_AXES; axis++)
            values += adds_up(&z[i].trust[axis], "zero");
        values += adds_up(&z[i].turn_trust, "turn");
    }
    const jaw_tool_found *t = jaw_solution_tools(s.solution, &n);
    for (size_t i = 0; i < n; i++)
        values += adds_up(&t[i].trust, "tool");
    const jaw_found *f = jaw_solution_features(s.solution, &n);
    for (size_t i = 0; i < n; i++)
        values += adds_up(&f[i].size, "size");
    ck_assert_int_eq(values, 4 + 3 + 2 + 2);
    solved_drop(&s);
}
END_TEST

/* The first number behind a word of a line. */
static double number_after(const char *line, const char *word)
{
    const char *at = strstr(line, word);

    ck_assert_msg(at != NULL, "no '%s' in %s", word, line);
    return strtod(at + strlen(word), NULL);
}

/* What is printed adds up too, to half a digit of each. */
static int check_page(char *at)
{
    double u = NAN, sum = 0, half = 0;
    int heads = 0, lines = 0;

    for (char *end; (end = strchr(at, '\n')) != NULL && end > at;
         at = end + 1) {
        *end = '\0';
        if (strstr(at, ", times ") == NULL) {
            char *share = strrchr(at, '%');
            ck_assert_ptr_nonnull(share);
            *share = '\0';
            *strrchr(at, ' ') = '\0'; /* before % */
            *strrchr(at, ' ') = '\0'; /* before the share */
            while (at[strlen(at) - 1] == ' ')
                at[strlen(at) - 1] = '\0';
            sum = hypot(sum, strtod(strrchr(at, ' '), NULL));
            half += 0.6e-5;
            lines++;
            continue;
        }
        if (heads++ > 0)
            near(sum, u, half + 0.6e-5, "printed shares");
        u = number_after(at, " u ");
        near(u * number_after(at, "times "), number_after(at, "+- "),
             0.006 * u + 1e-4, "coverage factor");
        sum = half = 0;
    }
    near(sum, u, half + 0.6e-5, "printed shares");
    ck_assert_int_gt(lines, heads);
    return heads;
}

START_TEST(printed_shares_add_up)
{
    solved s = solved_text(sheets[_i]);
    char *page = jaw_report_text(s.setup, s.solution, s.notes,
                                 (jaw_report_style){.explain = true});
    char *at = strstr(page, "What each +- is made of");
    ck_assert_ptr_nonnull(at);
    ck_assert_int_eq(check_page(strchr(at, '\n') + 1), 4 + 3 + 2);
    free(page);
    page = text_of(&s);
    ck_assert_ptr_null(strstr(page, "is made of"));
    free(page);
    solved_drop(&s);
}
END_TEST

/* --------------------------------------------- what is known keeps its own */

/* Six touches on the jaw, a hundred times farther off than stated. */
#define ROUGH                                                                  \
    "edge jaw tip pin faces y-\n  0 -3.03\n  20 -2.97\n  40 -3.02\n"           \
    "  60 -2.97\n  80 -3.04\n  100 -2.97\n"

/* Of touches that deny what is stated of them the squareness says nothing. */
START_TEST(denied_touches_leave_squareness)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.0003\n" ROUGH
                           "edge stop tip pin faces x+\n  3 -80\n"
                           "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n"
                           "  square known to 0.1\n");
    const jaw_value_trust *x = &zero_of(&s)->trust[JAW_X];
    const char *square = "'stop' taken as square to the part";
    near(line_of(x, square)->u, 80 * jaw_rad(0.1), 1e-3 * x->u, square);
    ck_assert(isinf(line_of(x, square)->dof));
    ck_assert(line_of(x, "touches of 'stop'")->u > 0.01);
    near(line_of(x, "touches of 'stop'")->dof, 4, 1e-6, "dof");
    solved_drop(&s);
}
END_TEST

/* Two ways to a height, both of what is known to 0.05; beside it a wall whose
 * touches scatter.  The slip that goes unseen is one of what is known:
 *     delta_0 sqrt(u1^2 + u2^2) V / u1^2,  1 / V = 1 / u1^2 + 1 / u2^2
 * u1 being the length's and u2 that of the top with the touch on it. */
START_TEST(unnoticed_of_what_is_known)
{
    solved s = solved_text("tip stylus ball diameter 6 length 100 known to "
                           "0.05 repeat 0.002\n"
                           "setter puck top -60 known to 0.05\n"
                           "  touched 40 with stylus\n"
                           "face top tip stylus\n  z 70\n  z 70\n"
                           "tip pin diameter 6\n" ROUGH "zero G54\n  z top\n"
                           "  turn jaw along x\n  y jaw\n");
    double u1 = 0.05, u2 = hypot(0.05, 0.002);
    double v = 1 / (1 / (u1 * u1) + 1 / (u2 * u2));
    ck_assert_double_gt(jaw_solution_total(s.solution).s0, 5);
    near(zero_of(&s)->trust[JAW_Z].unnoticed,
         JAW_TRUST_SHIFT * hypot(u1, u2) * v / (u1 * u1), 1e-6, "unnoticed");
    ck_assert_int_eq(zero_of(&s)->trust[JAW_Z].where.line, 3);
    solved_drop(&s);
}
END_TEST

TCase *budget_case(void)
{
    TCase *tc = tcase_create("budget");
    tcase_add_test(tc, by_hand);
    tcase_add_test(tc, heights_by_hand);
    tcase_add_test(tc, places_by_hand);
    tcase_add_loop_test(tc, squares_add_up, 0, COUNT(sheets));
    tcase_add_loop_test(tc, printed_shares_add_up, 0, COUNT(sheets));
    tcase_add_test(tc, denied_touches_leave_squareness);
    tcase_add_test(tc, unnoticed_of_what_is_known);
    return tc;
}
