/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of `known to`, `repeat` of a feature, and of known things that
 * contradict what was touched. */
#include "known_tests.h"

#include <stdio.h>

static double hypot3(double a, double b, double c)
{
    return hypot(hypot(a, b), c);
}

/* --------------------------------------------------------- radius of the tip */

/* An edge moves by the whole error of the radius: u = hypot(s, D / 2). */
START_TEST(edge_feels_the_tip)
{
    solved s = solved_text("tip pin diameter 6 known to 0.04 repeat 0.003\n"
                           "edge jaw tip pin faces y-\n  y -3\n"
                           "zero G54\n  y jaw\n");
    near(zero_of(&s)->zero.y, 0, 1e-12, "y");
    near(zero_of(&s)->trust[JAW_Y].u, hypot(0.003, 0.02), 1e-12, "u");
    solved_drop(&s);
}
END_TEST

/* In the middle of a slot and in the centre of a bore it cancels. */
START_TEST(middles_do_not)
{
    solved s = solved_text("tip pin diameter 6 known to 0.04 repeat 0.003\n"
                           "slot key tip pin\n  y -3\n  /\n  y 7\n"
                           "bore hole tip pin\n  47 0\n  50 3\n  53 0\n"
                           "  50 -3\n"
                           "zero G54\n  x hole\n  y key\n");
    near(zero_of(&s)->trust[JAW_X].u, 0.003 / sqrt(2), 1e-12, "bore");
    near(zero_of(&s)->trust[JAW_Y].u, 0.003 / sqrt(2), 1e-12, "slot");
    solved_drop(&s);
}
END_TEST

/* A ring of exact size measures the tip: 4 touches at distance 7.01 and a ring
 * of 20 make its radius 2.99 as seen, of spread 0.002 / 2, against 3 of spread
 * 0.02; the edges move with it. */
START_TEST(a_ring_measures_the_tip)
{
    double seen = 1 / (0.001 * 0.001), stated = 1 / (0.02 * 0.02);
    double r = (2.99 * seen + 3.0 * stated) / (seen + stated);
    solved s = solved_text("tip pin diameter 6 known to 0.04 repeat 0.002\n"
                           "bore ring tip pin diameter 20 known\n"
                           "  57.01 50\n  50 57.01\n  42.99 50\n  50 42.99\n"
                           "edge jaw tip pin faces y-\n  0 -3\n  100 -3\n"
                           "edge stop tip pin faces x+\n  3 10\n"
                           "web bar tip pin\n  y -3\n  /\n  y 13\n"
                           "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n");
    const jaw_zero_found *z = zero_of(&s);
    near(z->zero.y, r - 3, 1e-9, "y");
    near(z->zero.x, 3 - r, 1e-9, "x, one touch, fitted again");
    near(feature_of(&s, "jaw")->as.edge.point.y, r - 3, 1e-9, "jaw");
    near(feature_of(&s, "bar")->as.walls.width, 16 - 2 * r, 1e-9, "web");
    near(z->trust[JAW_X].u,
         hypot3(0.002, 1 / sqrt(seen + stated), 10 * jaw_rad(0.02)), 2e-5,
         "u of x"); /* its arm to the corner is 10, less what the turn adds */
    solved_drop(&s);
}
END_TEST

/* -------------------------------------------------------------------- reach */

#define LOBED                                                                  \
    "tip stylus ball diameter 6 known to 0.002 length 100 repeat 0.004\n"      \
    "  runout 0.03 -0.02 known to 0.003 0.001\n"                               \
    "  lobes 0.01 0.005 known to 0.001 0.002\n"                                \
    "  correlation diameter with runout-x 0.5\n"

/* Reach toward x+: 3.04, x-: 2.96, y+: 2.975 (-0.02 and sin 270 of 0.005), y-:
 * 3.025.  Two walls, a middle, a centre, pairs: each by hand. */
START_TEST(reach_by_direction)
{
    solved s = solved_text(LOBED
                           "edge jaw tip stylus faces y-\n"
                           "  0 -2.975\n  100 -2.975\n"
                           "edge stop tip stylus faces x+\n  2.96 -10\n"
                           "bore pilot tip stylus\n  66.96 0\n  60 7.025\n"
                           "  52.96 0\n  60 -6.975\n"
                           "boss post tip stylus\n  x 63.04\n  x 36.96\n"
                           "  y 63.025\n  y 36.975\n"
                           "slot key tip stylus\n  x 6.96\n  /\n  x -6.96\n"
                           "face top tip stylus\n  0 0 50\n  9 0 50\n  0 9 50\n"
                           "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n"
                           "  z top\n");
    const jaw_zero_found *z = zero_of(&s);
    near(z->zero.y, 0, 1e-9, "y");
    near(z->zero.x, 0, 1e-9, "x");
    near(z->zero.z, -50, 1e-9, "a face is met from above");
    jaw_vec2 pilot = feature_of(&s, "pilot")->as.round.centre;
    /* 66.96 + 3.04, 52.96 - 2.96; 7.025 + 2.975, -6.975 - 3.025 */
    near(pilot.x, 60, 1e-9, "pilot x");
    near(pilot.y, 0, 1e-9, "pilot y");
    jaw_vec2 post = feature_of(&s, "post")->as.round.centre;
    near(post.x, (63.04 - 2.96 + 36.96 + 3.04) / 2, 1e-9, "post x");
    near(post.y, (63.025 - 3.025 + 36.975 + 2.975) / 2, 1e-9, "post y");
    near(feature_of(&s, "key")->as.walls.middle.x,
         (6.96 + 3.04 - 6.96 - 2.96) / 2, 1e-9, "key");
    near(feature_of(&s, "key")->as.walls.width, 13.92 + 6, 1e-9, "width");
    solved_drop(&s);
}
END_TEST

/* Toward x- the reach is D / 2 - c1 - c3: variance 0.001^2 + 0.003^2 + 0.001^2
 * less twice 0.5 x 0.001 x 0.003; two touches of 0.004 beside it. */
START_TEST(reach_is_carried)
{
    solved s = solved_text(LOBED
                           "edge stop tip stylus faces x+\n"
                           "  2.96 -10\n  2.96 10\n"
                           "bore pilot tip stylus\n  x 67.04\n  x 52.96\n"
                           "  y 7.025\n  y -6.975\n"
                           "zero G54\n  x stop\n  y pilot\n");
    const jaw_zero_found *z = zero_of(&s);
    near(z->trust[JAW_X].u,
         sqrt(1e-6 + 9e-6 + 1e-6 - 3e-6 + 16e-6 / 2), 1e-8, "u of x");
    /* the middle of y+ and y-: s1 and -s3 of it */
    near(z->trust[JAW_Y].u, sqrt(1e-6 + 4e-6 + 16e-6 / 2), 1e-8, "u of y");
    solved_drop(&s);
}
END_TEST

/* Four touches in a ring show the diameter; the runout hides in the centre. */
START_TEST(a_ring_does_not_show_runout)
{
    solved s = solved_text("tip stylus ball diameter 6 known to 0.02 "
                           "repeat 0.001\n"
                           "  runout 0.03 0 known to 0.02 0.02\n"
                           "bore ring tip stylus diameter 20 known\n"
                           "  56.975 50\n  50 57.005\n  42.965 50\n"
                           "  50 42.995\n"
                           "edge stop tip stylus faces x+\n  3 10\n  3 90\n"
                           "zero G54\n  x stop\n");
    near(zero_of(&s)->zero.x, 3 - (2.995 - 0.03), 1e-4, "the diameter is seen");
    near(zero_of(&s)->trust[JAW_X].u, 0.02, 2e-4, "the runout is not");
    solved_drop(&s);
}
END_TEST

/* Out of round by five repeats: half of each correction is left to the next
 * round, and it settles all the same. */
START_TEST(settles_slowly)
{
    solved s = solved_text("tip stylus ball diameter 6 known to 0.02 "
                           "repeat 0.001\n"
                           "  runout 0.03 0 known to 0.02 0.02\n"
                           "bore ring tip stylus diameter 20 known\n"
                           "  56.97 50\n  50 57.01\n  42.97 50\n  50 42.99\n"
                           "zero G54\n  x ring\n");
    ck_assert(zero_of(&s)->trust[JAW_X].u > 0.02);
    ck_assert_int_eq(said(&s, "can not be adjusted"), 0);
    solved_drop(&s);
}
END_TEST

/* ------------------------------------------------------------------- heights */

START_TEST(lengths_and_tops)
{
    solved s = solved_text(
        "tip probe ball diameter 6 length 100 known to 0.03 repeat 0.004\n"
        "face top tip probe\n  z 40\n"
        "setter puck top -60 known to 0.02\n"
        "setter block height 50 on puck known to 0.01\n"
        "tool 1 touched 10 on puck\n"
        "tool 2 touched 55 on block\n"
        "tool 3 length 80 known to 0.07\n"
        "zero G54\n  z top\n");
    near(zero_of(&s)->trust[JAW_Z].u, hypot(0.03, 0.004), 1e-12, "Z");
    near(tool_of(&s, 1)->trust.u, hypot(0.02, JAW_REPEAT_DEFAULT), 1e-12,
         "tool on a top");
    near(tool_of(&s, 2)->trust.u, hypot3(0.02, 0.01, JAW_REPEAT_DEFAULT),
         1e-12, "tool on a block on it");
    near(tool_of(&s, 3)->trust.u, 0.07, 1e-12, "stated length");
    near(tool_of(&s, 1)->value, 70, 1e-12, "length");
    solved_drop(&s);
}
END_TEST

/* Two ways to one length: the weighted mean, of the smaller spread. */
START_TEST(two_ways_that_agree)
{
    double a = 1 / (0.02 * 0.02 + 0.005 * 0.005), b = 1 / (0.03 * 0.03);
    solved s = solved_text("setter puck top -60 known to 0.02\n"
                           "tool 1 length 70.02 known to 0.03\n"
                           "  touched 10 on puck\n");
    near(tool_of(&s, 1)->value, (70 * a + 70.02 * b) / (a + b), 1e-9, "mean");
    near(tool_of(&s, 1)->trust.u, 1 / sqrt(a + b), 1e-12, "u");
    ck_assert_uint_eq(jaw_notes_at_least(s.notes, JAW_DOUBT), 0);
    solved_drop(&s);
}
END_TEST

START_TEST(two_ways_that_do_not)
{
    solved s = solved_text("setter puck top -60 known to 0.02\n"
                           "tool 1 length 71 known to 0.03\n"
                           "  touched 10 on puck\n");
    says(&s, JAW_DOUBT, 4, "the readings of tool 1 disagree by 1.000 mm");
    solved_drop(&s);
}
END_TEST

START_TEST(two_heights_that_do_not)
{
    solved s = solved_text("tip probe ball diameter 6 length 100 repeat 0.004\n"
                           "face top tip probe\n  z 40\n"
                           "setter block height 50 on top known to 0.01\n"
                           "  top -9 known to 0.01\n");
    says(&s, JAW_DOUBT, 6, "the height of 'block' disagrees by 1.000 mm");
    solved_drop(&s);
}
END_TEST

/* --------------------------------------------------------------------- sizes */

#define RING "  57.01 50\n  50 57.01\n  42.99 50\n  50 42.99\n"

/* Radius 10.01 as seen, of spread 0.004 / 2, and 10 of spread 0.002. */
START_TEST(size_known_to)
{
    double seen = 1 / (0.002 * 0.002), stated = 1 / (0.002 * 0.002);
    solved s = solved_text("tip pin diameter 6 repeat 0.004\n"
                           "bore ring tip pin diameter 20 known to 0.004\n" RING
                           "zero G54\n  x ring\n  y ring\n");
    near(feature_of(&s, "ring")->as.round.diameter,
         2 * (10.01 * seen + 10 * stated) / (seen + stated), 1e-9, "diameter");
    near(zero_of(&s)->zero.x, 50, 1e-9, "x");
    solved_drop(&s);
}
END_TEST

/* The same ring, 0.02 larger than known: no touch lies off, the size does. */
START_TEST(size_known_against_touches)
{
    static const char *const word[] = {"known", "known to 0.001"};
    char text[400];
    snprintf(text, sizeof text,
             "tip pin diameter 6 repeat 0.002\n"
             "bore ring tip pin diameter 20 %s\n%s"
             "zero G54\n  x ring\n  y ring\n",
             word[_i], RING);
    solved s = solved_text(text);
    says(&s, JAW_DOUBT, 4, "show a diameter 0.020 mm away from the known one");
    ck_assert_int_eq(said(&s, "lies"), 0);
    ck_assert_uint_ne(feature_of(&s, "ring")->flags & JAW_SIZE_OFF, 0);
    solved_drop(&s);
}
END_TEST

/* One touch off by itself is not laid on the size. */
START_TEST(a_touch_against_a_known_size)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.002\n"
                           "bore ring tip pin diameter 20 known\n"
                           "  57 50\n  54.9497474683 54.9497474683\n  50 57\n"
                           "  45.0502525317 54.9497474683\n  43 50\n"
                           "  45.0502525317 45.0502525317\n  50 43.04\n"
                           "  54.9497474683 45.0502525317\n");
    says(&s, JAW_DOUBT, 11, "touch 7 of bore 'ring' lies");
    ck_assert_int_eq(said(&s, "known one"), 0);
    solved_drop(&s);
}
END_TEST

/* The tip is stated as 6 give or take 0.002 and a ring says 5.98. */
START_TEST(tip_against_a_ring)
{
    solved s = solved_text("tip pin diameter 6 known to 0.002 repeat 0.01\n"
                           "bore ring tip pin diameter 20 known\n" RING
                           "bore ring2 tip pin diameter 20 known\n" RING
                           "bore ring3 tip pin diameter 20 known\n" RING
                           "bore ring4 tip pin diameter 20 known\n" RING
                           "bore ring5 tip pin diameter 20 known\n" RING);
    says(&s, JAW_DOUBT, 3, "the touches with tip 'pin' show its diameter as");
    solved_drop(&s);
}
END_TEST

/* ----------------------------------------------------- places and squareness */

/* Two typed places: the turn's spread is that of two places over their span,
 * each of hypot(places, repeat). */
START_TEST(places_known_to)
{
    solved s = solved_text("pattern plate places known to 0.02 repeat 0.001\n"
                           "  0 0 10 20\n  100 0 110 20\n"
                           "zero G54\n  turn plate\n  x plate\n  y plate\n");
    double each = hypot(0.02, 0.001);
    near(zero_of(&s)->trust[JAW_X].u, each / sqrt(2), 1e-12, "x");
    near(zero_of(&s)->turn_trust.u, each * sqrt(2) / 100, 1e-12, "turn");
    ck_assert_int_eq(said(&s, "give or take"), 0);
    solved_drop(&s);
}
END_TEST

/* One touch on the stop, 80 from the corner along it. */
START_TEST(square_known_to)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.000001\n"
                           "edge jaw tip pin faces y-\n  0 -3\n  100 -3\n"
                           "edge stop tip pin faces x+\n  3 -80\n"
                           "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n"
                           "  square known to 0.1\n");
    near(zero_of(&s)->trust[JAW_X].u, 80 * jaw_rad(0.1), 1e-5, "x");
    says(&s, JAW_ASSUMPTION, 11, "stated as known to 0.100 deg");
    ck_assert_int_eq(said(&s, "give or take"), 0);
    solved_drop(&s);
}
END_TEST

/* Its own repeat weighs a feature's touches, whatever the tip states. */
START_TEST(repeat_of_a_feature)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.5\n"
                           "edge jaw tip pin faces y- repeat 0.003\n"
                           "  y -3\n  y -3.001\n"
                           "edge stop tip pin faces x+\n  x 3\n"
                           "zero G54\n  x stop\n  y jaw\n");
    near(zero_of(&s)->trust[JAW_Y].u, 0.003 / sqrt(2), 1e-12, "own");
    near(zero_of(&s)->trust[JAW_X].u, 0.5, 1e-12, "the tip's");
    solved_drop(&s);
}
END_TEST

TCase *known_case(void)
{
    TCase *tc = tcase_create("known");
    tcase_add_test(tc, edge_feels_the_tip);
    tcase_add_test(tc, middles_do_not);
    tcase_add_test(tc, a_ring_measures_the_tip);
    tcase_add_test(tc, reach_by_direction);
    tcase_add_test(tc, reach_is_carried);
    tcase_add_test(tc, a_ring_does_not_show_runout);
    tcase_add_test(tc, settles_slowly);
    tcase_add_test(tc, lengths_and_tops);
    tcase_add_test(tc, two_ways_that_agree);
    tcase_add_test(tc, two_ways_that_do_not);
    tcase_add_test(tc, two_heights_that_do_not);
    tcase_add_test(tc, size_known_to);
    tcase_add_loop_test(tc, size_known_against_touches, 0, 2);
    tcase_add_test(tc, a_touch_against_a_known_size);
    tcase_add_test(tc, tip_against_a_ring);
    tcase_add_test(tc, places_known_to);
    tcase_add_test(tc, square_known_to);
    tcase_add_test(tc, repeat_of_a_feature);
    return tc;
}
