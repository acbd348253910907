/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stack in a vise. */
#include "hold_tests.h"

#include <string.h>

/* A vise as in any shop: bed at machine Z -412.5, jaws 40 high and 150 wide,
 * 200 open; parallels 28; a blank 80 x 60 x 25. */
static jaw_vise good(void)
{
    return (jaw_vise){.bed = {-412.5, 0.003},
                      .parallels = {28, 0.004},
                      .jaw_height = 40,
                      .jaw_width = 150,
                      .opening = 200,
                      .stock = {{80, 0.1}, {60, 0.1}, {25, 0.012}},
                      .least_grip = NOT};
}

START_TEST(heights_add)
{
    jaw_vise v = good();
    jaw_held h;
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, "good");
    figure_is(h.under, -384.5, 0.005, 1e-13, "under: 3-4-5");
    figure_is(h.top, -359.5, 0.013, 1e-13, "top: 5-12-13");
    near(h.grip, 12, 0, "grip");
    near(h.above, 13, 0, "above");
    ck_assert_uint_eq(h.wrong, 0);
}
END_TEST

START_TEST(without_parallels_it_stands_on_the_bed)
{
    jaw_vise v = good();
    jaw_held h, zero;
    v.parallels = (jaw_length){NOT, 0.004};
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, "none");
    figure_is(h.under, -412.5, 0.003, 1e-13, "under");
    near(h.grip, 25, 0, "all of it is gripped");
    near(h.above, -15, 0, "above");
    ck_assert_uint_eq(h.wrong, JAW_HOLD_BELOW_JAWS);
    v.parallels = (jaw_length){0, 0};
    ck_status(jaw_hold_vise(&v, &zero), JAW_OK, "zero");
    near(zero.top.value, h.top.value, 0, "0 is none");
}
END_TEST

START_TEST(exact_lengths_are_exact)
{
    jaw_vise v = good();
    jaw_held h;
    v.bed.known = v.parallels.known = v.stock[2].known = 0;
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, "exact");
    figure_is(h.top, -359.5, 0, 0, "top");
}
END_TEST

/* Raised by anything, the whole stack is. */
START_TEST(moves_with_its_bed)
{
    jaw_vise v = good(), w = good();
    jaw_held h, k;
    w.bed.value += 100;
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, "here");
    ck_status(jaw_hold_vise(&w, &k), JAW_OK, "there");
    near(k.top.value - h.top.value, 100, 1e-12, "top");
    near(k.under.value - h.under.value, 100, 1e-12, "under");
    near(k.grip, h.grip, 0, "grip");
    near(k.above, h.above, 0, "above");
}
END_TEST

START_TEST(spread_is_that_of_simulated_stacks)
{
    random_source r = random_start("spread_is_that_of_simulated_stacks", 31);
    spread top = {0, 0, 0};
    jaw_vise v = good();
    jaw_held h, k;
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, "stated");
    for (int i = 0; i < 20000; i++) {
        jaw_vise w = v;
        w.bed.value += v.bed.known * random_normal(&r);
        w.parallels.value += v.parallels.known * random_normal(&r);
        w.stock[2].value += v.stock[2].known * random_normal(&r);
        ck_status(jaw_hold_vise(&w, &k), JAW_OK, "as it is");
        spread_add(&top, k.top.value);
    }
    /* a standard deviation of 20000 is good to 0.5 %: four of those */
    near(spread_of(&top), h.top.u, 0.02 * h.top.u, "spread of the top");
    near(top.mean, h.top.value, 4 * h.top.u / sqrt(20000), "mean of the top");
}
END_TEST

/* What is changed of a good vise, and the bits that must come. */
static const struct {
    const char *name;
    double rise, length, across, height, least;
    unsigned wrong;
} stacks[] = {
    {"good", 28, 80, 60, 25, NOT, 0},
    {"grip 3 is enough", 37, 80, 60, 25, NOT, 0},
    {"grip 2.9", 37.1, 80, 60, 25, NOT, JAW_HOLD_LITTLE_GRIP},
    {"grip 2.9, 2.5 asked for", 37.1, 80, 60, 25, 2.5, 0},
    {"grip 0.1, 0 asked for", 39.9, 80, 60, 25, 0, 0},
    {"grip 12, 15 asked for", 28, 80, 60, 25, 15, JAW_HOLD_LITTLE_GRIP},
    {"a thin blank", 28, 80, 60, 2, NOT,
     JAW_HOLD_LITTLE_GRIP | JAW_HOLD_BELOW_JAWS},
    {"flush", 28, 80, 60, 12, NOT, 0},
    {"just below", 28, 80, 60, 11.99, NOT, JAW_HOLD_BELOW_JAWS},
    {"just opens", 28, 80, 200, 25, NOT, 0},
    {"too wide", 28, 80, 200.1, 25, NOT, JAW_HOLD_TOO_WIDE},
    {"twice the jaws", 28, 300, 60, 25, NOT, 0},
    {"longer", 28, 301, 60, 25, NOT, JAW_HOLD_LONG},
    {"nothing is known of it", 28, NOT, NOT, 25, NOT, 0},
    {"all at once", 38, 400, 300, 1, NOT,
     JAW_HOLD_LONG | JAW_HOLD_TOO_WIDE | JAW_HOLD_BELOW_JAWS |
         JAW_HOLD_LITTLE_GRIP},
};

START_TEST(what_is_wrong_is_said)
{
    jaw_vise v = good();
    jaw_held h;
    v.parallels.value = stacks[_i].rise;
    v.stock[0].value = stacks[_i].length;
    v.stock[1].value = stacks[_i].across;
    v.stock[2].value = stacks[_i].height;
    v.least_grip = stacks[_i].least;
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, stacks[_i].name);
    ck_assert_msg(h.wrong == stacks[_i].wrong, "%s: %#x, want %#x",
                  stacks[_i].name, h.wrong, stacks[_i].wrong);
    /* from the bed up to the jaws' top, and from there to the stock's */
    near(h.above, stacks[_i].rise + stacks[_i].height - 40, 1e-12,
         stacks[_i].name);
    near(h.grip, stacks[_i].height - fmax(h.above, 0), 1e-12,
         stacks[_i].name);
    v.opening = v.jaw_width = NOT;
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, stacks[_i].name);
    ck_assert(!(h.wrong & (JAW_HOLD_TOO_WIDE | JAW_HOLD_LONG)));
}
END_TEST

START_TEST(every_bit_has_its_message)
{
    static const struct {
        unsigned bit;
        const char *word;
    } said[] = {
        {JAW_HOLD_PARALLELS_HIGH, "parallels"},
        {JAW_HOLD_LITTLE_GRIP, "grip"},
        {JAW_HOLD_BELOW_JAWS, "cutter"},
        {JAW_HOLD_TOO_WIDE, "wider"},
        {JAW_HOLD_LONG, "beyond"},
    };
    unsigned all = 0;
    for (int i = 0; i < COUNT(said); i++) {
        const char *text = jaw_hold_text(said[i].bit);
        ck_assert_ptr_nonnull(text);
        ck_assert_ptr_nonnull(strstr(text, said[i].word));
        all |= said[i].bit;
    }
    ck_assert_uint_eq(all, 31);
    ck_assert_ptr_null(jaw_hold_text(0));
    ck_assert_ptr_null(jaw_hold_text(3));
    ck_assert_ptr_null(jaw_hold_text(32));
}
END_TEST

static void held_is_nan(const jaw_held *h, const char *name)
{
    figure_is_nan(h->top, name);
    figure_is_nan(h->under, name);
    ck_assert_msg(isnan(h->grip) && isnan(h->above), "%s", name);
}

START_TEST(parallels_at_the_top_of_the_jaws)
{
    static const double rise[] = {40, 40.001, 1000};
    jaw_vise v = good();
    jaw_held h;
    v.parallels.value = rise[_i];
    ck_status(jaw_hold_vise(&v, &h), JAW_ECONFLICT, "high");
    held_is_nan(&h, "high");
    ck_assert_uint_eq(h.wrong, JAW_HOLD_PARALLELS_HIGH);
    v.parallels.value = nextafter(40, 0);
    ck_status(jaw_hold_vise(&v, &h), JAW_OK, "just below");
    ck_assert_uint_eq(h.wrong, JAW_HOLD_LITTLE_GRIP);
}
END_TEST

/* One number at a time is put in the place that stands second. */
enum { BED, BED_U, RISE, RISE_U, HEIGHT, WIDTH, OPENING, LENGTH, ACROSS_U,
       STOCK, STOCK_U, LEAST };

static const struct {
    const char *name;
    int where;
    double value;
    jaw_status status;
} spoilt[] = {
    {"no bed", BED, NOT, JAW_EUNKNOWN},
    {"bed infinite", BED, FAR, JAW_ENOTFINITE},
    {"bed below", BED, -1000, JAW_OK},
    {"bed's u", BED_U, -0.001, JAW_EDOMAIN},
    {"bed's u nan", BED_U, NOT, JAW_ENOTFINITE},
    {"bed's u infinite", BED_U, FAR, JAW_ENOTFINITE},
    {"parallels negative", RISE, -1, JAW_EDOMAIN},
    {"parallels infinite", RISE, FAR, JAW_ENOTFINITE},
    {"parallels' u", RISE_U, -1, JAW_EDOMAIN},
    {"no jaw height", HEIGHT, NOT, JAW_EUNKNOWN},
    {"jaw height 0", HEIGHT, 0, JAW_EDOMAIN},
    {"jaw height negative", HEIGHT, -40, JAW_EDOMAIN},
    {"jaw height infinite", HEIGHT, FAR, JAW_ENOTFINITE},
    {"no width", WIDTH, NOT, JAW_OK},
    {"width 0", WIDTH, 0, JAW_EDOMAIN},
    {"width infinite", WIDTH, FAR, JAW_ENOTFINITE},
    {"no opening", OPENING, NOT, JAW_OK},
    {"opening 0", OPENING, 0, JAW_EDOMAIN},
    {"no length", LENGTH, NOT, JAW_OK},
    {"length 0", LENGTH, 0, JAW_EDOMAIN},
    {"length infinite", LENGTH, -FAR, JAW_ENOTFINITE},
    {"stock's y u", ACROSS_U, -1, JAW_EDOMAIN},
    {"no stock", STOCK, NOT, JAW_EUNKNOWN},
    {"stock 0", STOCK, 0, JAW_EDOMAIN},
    {"stock negative", STOCK, -25, JAW_EDOMAIN},
    {"stock infinite", STOCK, FAR, JAW_ENOTFINITE},
    {"stock's u", STOCK_U, NOT, JAW_ENOTFINITE},
    {"least grip negative", LEAST, -1, JAW_EDOMAIN},
    {"least grip infinite", LEAST, FAR, JAW_ENOTFINITE},
};

START_TEST(vise_status)
{
    jaw_vise v = good();
    jaw_held h;
    double *const where[] = {
        [BED] = &v.bed.value,          [BED_U] = &v.bed.known,
        [RISE] = &v.parallels.value,   [RISE_U] = &v.parallels.known,
        [HEIGHT] = &v.jaw_height,      [WIDTH] = &v.jaw_width,
        [OPENING] = &v.opening,        [LENGTH] = &v.stock[0].value,
        [ACROSS_U] = &v.stock[1].known, [STOCK] = &v.stock[2].value,
        [STOCK_U] = &v.stock[2].known, [LEAST] = &v.least_grip,
    };
    *where[spoilt[_i].where] = spoilt[_i].value;
    ck_status(jaw_hold_vise(&v, &h), spoilt[_i].status, spoilt[_i].name);
    if (spoilt[_i].status == JAW_OK) {
        ck_assert(isfinite(h.top.value));
        return;
    }
    held_is_nan(&h, spoilt[_i].name);
    ck_assert_uint_eq(h.wrong, 0);
}
END_TEST

TCase *vise_case(void)
{
    TCase *tc = tcase_create("vise");
    tcase_add_test(tc, heights_add);
    tcase_add_test(tc, without_parallels_it_stands_on_the_bed);
    tcase_add_test(tc, exact_lengths_are_exact);
    tcase_add_test(tc, moves_with_its_bed);
    tcase_add_test(tc, spread_is_that_of_simulated_stacks);
    tcase_add_loop_test(tc, what_is_wrong_is_said, 0, COUNT(stacks));
    tcase_add_test(tc, every_bit_has_its_message);
    tcase_add_loop_test(tc, parallels_at_the_top_of_the_jaws, 0, 3);
    tcase_add_loop_test(tc, vise_status, 0, COUNT(spoilt));
    return tc;
}
