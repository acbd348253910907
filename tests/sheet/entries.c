/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text in, setup out: each entry with each of its fields. */
#include "sheet_tests.h"

#include "tests/near.h"

#include <stdio.h>

#define IN(x) ((x) * 25.4)

START_TEST(title_and_control)
{
    outcome g = sheet_text("title  Focuser plate, side 1  # the big one\n"
                       "unit in\n"
                       "control step 0.0005 angle-step 0.001 turn yes\n"
                       "  lengths reference-tool 7\n"
                       "  travel x -20 0 travel z -16.5 1mm\n");
    got_good(&g);
    ck_assert_uint_eq(jaw_notes_count(g.notes), 0);
    ck_assert_str_eq(jaw_setup_title(g.setup), "Focuser plate, side 1");
    const jaw_control *c = jaw_setup_control(g.setup);
    ck_assert_int_eq(c->unit, JAW_IN);
    near(c->step, IN(0.0005), 1e-18, "step");
    near(c->angle_step, jaw_rad(0.001), 1e-20, "angle step");
    ck_assert(c->can_turn);
    ck_assert_int_eq(c->lengths, JAW_REFERENCE_TOOL);
    ck_assert_int_eq(c->reference, 7);
    near(c->low.x, IN(-20), 0, "low x");
    near(c->high.x, 0, 0, "high x");
    ck_assert(isnan(c->low.y) && isnan(c->high.y));
    near(c->low.z, IN(-16.5), 0, "low z");
    near(c->high.z, 1, 0, "high z");
    got_drop(&g);
}
END_TEST

START_TEST(title_in_quotes)
{
    outcome g = sheet_text("title \"Plate #2\"\nunit mm\ncontrol step 0.01\n");
    got_good(&g);
    ck_assert_str_eq(jaw_setup_title(g.setup), "Plate #2");
    got_drop(&g);
}
END_TEST

/* The default step depends on the unit, wherever the unit stands. */
START_TEST(defaults)
{
    static const struct {
        const char *text;
        jaw_unit unit;
        size_t notes;
    } given[] = {
        {"unit mm\n", JAW_MM, 1},
        {"unit in\n", JAW_IN, 1},
        {"title a\n", JAW_MM, 2},
        {"control turn yes\nunit in\n", JAW_IN, 2},
        {"control step 1mm\nunit in\n", JAW_IN, 0},
    };
    outcome g = sheet_text(given[_i].text);
    got_good(&g);
    const jaw_control *c = jaw_setup_control(g.setup);
    jaw_control want = jaw_control_default(given[_i].unit);
    ck_assert_int_eq(c->unit, want.unit);
    near(c->step, _i == 4 ? 1 : want.step, 0, "step");
    near(c->angle_step, want.angle_step, 0, "angle step");
    ck_assert_int_eq(c->lengths, JAW_GAUGE_LINE);
    ck_assert_uint_eq(jaw_notes_count(g.notes), given[_i].notes);
    ck_assert_uint_eq(jaw_notes_at_least(g.notes, JAW_DOUBT), 0);
    got_drop(&g);
}
END_TEST

START_TEST(tips)
{
    outcome g = sheet_text("unit mm\n"
                       "tip finder diameter 0.2in repeat 0.005\n"
                       "tip stylus ball diameter 4 length 110.5\n"
                       "tip end cutter\n  diameter 0 paper 0.08\n  tool 12\n");
    got_good(&g);
    size_t n;
    const jaw_tip_entry *t = jaw_setup_tips(g.setup, &n);
    ck_assert_uint_eq(n, 3);
    ck_assert_str_eq(t[0].name, "finder");
    ck_assert_int_eq(t[0].tip.shape, JAW_TIP_CYLINDER);
    near(t[0].tip.diameter, 5.08, 1e-15, "diameter");
    near(t[0].tip.repeat, 0.005, 0, "repeat");
    near(t[0].tip.paper, 0, 0, "paper");
    ck_assert(isnan(t[0].tip.length));
    ck_assert_int_eq(t[0].tool, 0);
    ck_assert_int_eq(t[0].place.line, 2);
    ck_assert_int_eq(t[0].place.column, 1);
    ck_assert_int_eq(t[1].tip.shape, JAW_TIP_BALL);
    near(t[1].tip.length, 110.5, 0, "length");
    ck_assert(isnan(t[1].tip.repeat));
    ck_assert_int_eq(t[2].tip.shape, JAW_TIP_CUTTER);
    near(t[2].tip.diameter, 0, 0, "diameter");
    near(t[2].tip.paper, 0.08, 0, "paper");
    ck_assert_int_eq(t[2].tool, 12);
    got_drop(&g);
}
END_TEST

START_TEST(reach_of_a_tip)
{
    outcome g = sheet_text("unit mm\n"
                       "tip stylus  ball\n"
                       "  lobes 0.006 -0.004 known to 0.001 0.002\n"
                       "  runout -0.001in 0.02\n"
                       "  correlation lobes-sin with diameter -0.25\n"
                       "  correlation lobes-cos with lobes-sin 0.5\n"
                       "  diameter 4 known to 0.003\n"
                       "tip other  diameter 3\n");
    got_good(&g);
    size_t n;
    const jaw_tip_entry *t = jaw_setup_tips(g.setup, &n);
    const double h[4] = {-0.0254, 0.02, 0.006, -0.004};
    const double u[4] = {0, 0, 0.001, 0.002};
    for (int k = 0; k < 4; k++) {
        near(t->harmonic[k], h[k], 1e-16, "harmonic");
        near(t->harmonic_known[k], u[k], 0, "known to");
        near(t[1].harmonic[k], 0, 0, "none");
    }
    near(t->diameter_known, 0.003, 0, "diameter");
    for (size_t i = 0; i < 10; i++) {
        double want = i == jaw_tip_pair(JAW_TIP_DIAMETER, JAW_TIP_S3) ? -0.25
                      : i == jaw_tip_pair(JAW_TIP_S3, JAW_TIP_C3)     ? 0.5
                                                                      : 0;
        near(t->correlation[i], want, 0, "correlation");
        near(t[1].correlation[i], 0, 0, "none");
    }
    got_drop(&g);
}
END_TEST

static void check_touch(jaw_touch t, double x, double y, double z)
{
    const double have[3] = {t.x, t.y, t.z}, want[3] = {x, y, z};
    for (int i = 0; i < 3; i++)
        ck_assert_msg(isnan(want[i]) ? isnan(have[i]) : have[i] == want[i],
                      "axis %d: got %g, want %g", i, have[i], want[i]);
}

START_TEST(touches)
{
    const double none = (double)NAN;
    outcome g = sheet_text("unit mm\n"
                       "edge jaw\n"
                       "  1 -2\n"
                       "  tip finder  faces y-  # fields may stand anywhere\n"
                       "  1in -2 3\n"
                       "\n"
                       "\ty 4\n"
                       "  z 1 y 2\n"
                       "  moving y+\n");
    got_good(&g);
    size_t n, first;
    const jaw_feature_entry *f = jaw_setup_features(g.setup, &n);
    ck_assert_uint_eq(n, 1);
    ck_assert_int_eq(f->kind, JAW_EDGE);
    ck_assert_str_eq(f->tip, "finder");
    ck_assert_int_eq(f->faces, JAW_SIDE_YMINUS);
    ck_assert_int_eq(f->moving, JAW_SIDE_YPLUS);
    ck_assert_int_eq(f->tip_place.line, 4);
    ck_assert_int_eq(f->tip_place.column, 7);
    ck_assert_int_eq(f->faces_place.column, 21);
    const jaw_touch *t = jaw_setup_touches(g.setup, 0, &n, &first);
    ck_assert_uint_eq(n, 4);
    ck_assert_uint_eq(first, 4);
    check_touch(t[0], 1, -2, none);
    check_touch(t[1], 25.4, -2, 3);
    check_touch(t[2], none, 4, none);
    check_touch(t[3], none, 2, 1);
    const jaw_place *p = jaw_setup_touch_places(g.setup, 0);
    ck_assert_int_eq(p[2].line, 7);
    ck_assert_int_eq(p[2].column, 2);
    got_drop(&g);
}
END_TEST

START_TEST(sides)
{
    static const struct {
        const char *word;
        jaw_side side;
        const char *row;
    } given[] = {{"x+", JAW_SIDE_XPLUS, "x 1"},
                 {"x-", JAW_SIDE_XMINUS, "x 1"},
                 {"y+", JAW_SIDE_YPLUS, "y 1"},
                 {"y-", JAW_SIDE_YMINUS, "y 1"}};
    char text[100];
    size_t n;
    snprintf(text, sizeof text, "unit mm\nedge e tip t faces %s\n  %s\n",
             given[_i].word, given[_i].row);
    outcome g = sheet_text(text);
    got_good(&g);
    ck_assert_int_eq(jaw_setup_features(g.setup, &n)->faces, given[_i].side);
    got_drop(&g);
}
END_TEST

START_TEST(sizes)
{
    outcome g = sheet_text("unit mm\n"
                       "bore a tip t diameter 30 expected within 0.5\n  1 2\n"
                       "boss b tip t diameter 1in known\n  x 2\n"
                       "bore c tip t\n  1 2\n"
                       "slot d tip t width 10 expected\n  1 2\n  /\n  1 5\n"
                       "web e tip t\n  y 2\n  y 3\n /# the other\n  y 5\n");
    got_good(&g);
    size_t n, first;
    const jaw_feature_entry *f = jaw_setup_features(g.setup, &n);
    ck_assert_uint_eq(n, 5);
    ck_assert_int_eq(f[0].kind, JAW_BORE);
    ck_assert_int_eq(f[0].size_use, JAW_SIZE_EXPECTED);
    near(f[0].size, 30, 0, "size");
    near(f[0].within, 0.5, 0, "within");
    ck_assert_int_eq(f[0].size_place.column, 23);
    ck_assert_int_eq(f[1].kind, JAW_BOSS);
    ck_assert_int_eq(f[1].size_use, JAW_SIZE_KNOWN);
    near(f[1].size, 25.4, 0, "size");
    ck_assert_int_eq(f[2].size_use, JAW_SIZE_FREE);
    ck_assert(isnan(f[2].size) && isnan(f[2].within));
    ck_assert_int_eq(f[3].kind, JAW_SLOT);
    ck_assert_int_eq(f[3].size_use, JAW_SIZE_EXPECTED);
    ck_assert(isnan(f[3].within));
    jaw_setup_touches(g.setup, 3, &n, &first);
    ck_assert(n == 2 && first == 1);
    ck_assert_int_eq(f[4].kind, JAW_WEB);
    jaw_setup_touches(g.setup, 4, &n, &first);
    ck_assert(n == 3 && first == 2);
    got_drop(&g);
}
END_TEST

START_TEST(pattern)
{
    outcome g = sheet_text("unit in\n"
                       "pattern plate\n"
                       "  0 0 2 -4\n"
                       "  hole pilot at 3 1.5 hole other at 1 1mm\n");
    got_good(&g);
    size_t n;
    const jaw_feature_entry *f = jaw_setup_features(g.setup, &n);
    ck_assert_int_eq(f->kind, JAW_PATTERN);
    ck_assert(!f->tip || !*f->tip);
    const jaw_hole_entry *h = jaw_setup_holes(g.setup, 0, &n);
    ck_assert_uint_eq(n, 3);
    ck_assert_ptr_null(h[0].feature);
    near(h[0].touched.x, IN(2), 0, "x");
    near(h[0].touched.y, IN(-4), 0, "y");
    ck_assert_str_eq(h[1].feature, "pilot");
    near(h[1].nominal.x, IN(3), 0, "x");
    near(h[1].nominal.y, IN(1.5), 0, "y");
    ck_assert(isnan(h[1].touched.x));
    ck_assert_str_eq(h[2].feature, "other");
    near(h[2].nominal.y, 1, 0, "y");
    ck_assert_int_eq(h[2].place.column, 28);
    got_drop(&g);
}
END_TEST

START_TEST(heights)
{
    outcome g = sheet_text("unit mm\n"
                       "setter puck top -300\n"
                       "setter block height 50 on top\n"
                       "setter pad touched -200 with stylus\n"
                       "  touched -201 with tool 4\n"
                       "tool 4 \"3/8 ball #1\" diameter 9.5\n"
                       "  touched -210 on puck block 10 paper 0.1\n"
                       "  touched -211 on top\n"
                       "tool 9999 length 80\n");
    got_good(&g);
    size_t n;
    const jaw_setter_entry *s = jaw_setup_setters(g.setup, &n);
    ck_assert_uint_eq(n, 3);
    near(s[0].top, -300, 0, "top");
    ck_assert(isnan(s[0].height) && !s[0].on);
    near(s[1].height, 50, 0, "height");
    ck_assert_str_eq(s[1].on, "top");
    ck_assert_int_eq(s[1].on_place.column, 27);
    ck_assert(isnan(s[2].top) && isnan(s[2].height));
    const jaw_tool_entry *t = jaw_setup_tools(g.setup, &n);
    ck_assert_uint_eq(n, 2);
    ck_assert_int_eq(t[0].number, 4);
    ck_assert_str_eq(t[0].text, "3/8 ball #1");
    near(t[0].diameter, 9.5, 0, "diameter");
    ck_assert(isnan(t[0].length));
    ck_assert_int_eq(t[1].number, 9999);
    near(t[1].length, 80, 0, "length");
    const jaw_contact_entry *c = jaw_setup_contacts(g.setup, &n);
    ck_assert_uint_eq(n, 4);
    ck_assert_str_eq(c[0].tip, "stylus");
    ck_assert_str_eq(c[0].surface, "pad");
    ck_assert_int_eq(c[0].tool, 0);
    ck_assert_int_eq(c[1].tool, 4);
    ck_assert_ptr_null(c[1].tip);
    near(c[1].reading, -201, 0, "reading");
    ck_assert_str_eq(c[2].surface, "puck");
    ck_assert_int_eq(c[2].tool, 4);
    near(c[2].between, 10.1, 1e-15, "between");
    near(c[3].between, 0, 0, "between");
    ck_assert_int_eq(c[3].place.line, 8);
    got_drop(&g);
}
END_TEST

START_TEST(zeros)
{
    outcome g = sheet_text("unit mm\n"
                       "zero G54\n"
                       "  turn jaw along y\n"
                       "  x stop at -0.25\n"
                       "  y jaw\n"
                       "  z top at 1in\n"
                       "zero G55 turn -0.5 x stop\n"
                       "zero G59 turn 1rad y jaw\n"
                       "zero G56 z top\n");
    got_good(&g);
    size_t n;
    const jaw_zero_entry *z = jaw_setup_zeros(g.setup, &n);
    ck_assert_uint_eq(n, 4);
    ck_assert_str_eq(z[0].name, "G54");
    ck_assert_int_eq(z[0].turn_use, JAW_TURN_FEATURE);
    ck_assert_str_eq(z[0].turn_feature, "jaw");
    ck_assert_int_eq(z[0].turn_along, JAW_Y);
    ck_assert_int_eq(z[0].turn_place.line, 3);
    ck_assert_int_eq(z[0].turn_place.column, 8);
    ck_assert_str_eq(z[0].term[JAW_X].feature, "stop");
    near(z[0].term[JAW_X].at, -0.25, 0, "x");
    near(z[0].term[JAW_Y].at, 0, 0, "y");
    near(z[0].term[JAW_Z].at, 25.4, 0, "z");
    ck_assert_int_eq(z[0].term[JAW_Z].place.column, 5);
    ck_assert_int_eq(z[1].turn_use, JAW_TURN_STATED);
    near(z[1].turn, jaw_rad(-0.5), 0, "turn");
    ck_assert_ptr_null(z[1].term[JAW_Y].feature);
    near(z[2].turn, 1, 0, "turn");
    ck_assert_int_eq(z[3].turn_use, JAW_TURN_NONE);
    got_drop(&g);
}
END_TEST

/* An edge may be touched by a tip that stands below it, and needs no side
 * when that tip reads the surface itself. */
START_TEST(side_not_needed)
{
    outcome g = sheet_text("unit mm\nedge e tip dot\n  1 2\n"
                           "tip dot diameter 0\n");
    got_good(&g);
    got_drop(&g);
}
END_TEST

/* Words of the grammar are names like any other where a name stands. */
START_TEST(words_as_names)
{
    outcome g = sheet_text("unit mm\n"
                       "tip tip diameter 3\n"
                       "tip ball ball diameter 3\n"
                       "edge x tip tip faces y-\n  1 2\n"
                       "edge faces tip ball faces x+\n  1 2\n"
                       "face tip tip tip\n"
                       "setter top top -3\n"
                       "zero G54 x faces at 0 y x at 0 turn x along x\n");
    got_good(&g);
    got_drop(&g);
}
END_TEST

START_TEST(line_ends_do_not_matter)
{
    static const char *const ends[] = {"\n", "\r\n", "\r"};
    char text[200];
    size_t n;
    const char *e = ends[_i];
    int len = snprintf(text, sizeof text,
                       "\xEF\xBB\xBFunit mm%s# c%s%sedge e tip t faces y-%s"
                       "  1 2%s  3 4",
                       e, e, e, e, e);
    outcome g = sheet_got(text, (size_t)len);
    got_good(&g);
    ck_assert_int_eq(jaw_setup_features(g.setup, &n)->place.line, 4);
    got_drop(&g);
}
END_TEST

START_TEST(notes_not_wanted)
{
    jaw_setup *setup = jaw_setup_alloc();
    ck_assert_int_eq(jaw_sheet_read_text("tip t\n", 6, NULL, setup, NULL),
                     JAW_ESYNTAX);
    ck_assert_int_eq(jaw_sheet_read_text("tip t diameter 1", 16, NULL, setup,
                                         NULL),
                     JAW_OK);
    jaw_setup_free(setup);
}
END_TEST

/* What waits for the book, and what may be stated beside it. */
START_TEST(left_to_the_book)
{
    size_t n;
    outcome g = sheet_text("unit in\ncontrol step 0.0001\n"
                   "tip stylus ball from book length 4 repeat 0.0002\n"
                   "tip pin from book\n"
                   "setter puck from book touched -8 with tool 3\n"
                   "setter gauge from book on puck\n"
                   "tool 3 \"a mill\" holder 20.ER-1 from book\n"
                   "tool 4 from book\n"
                   "tool 5 length 3\n");
    got_good(&g);
    ck_assert_uint_eq(jaw_setup_waits(g.setup), 6);
    const jaw_tip_entry *t = jaw_setup_tips(g.setup, &n);
    ck_assert(t[0].link.wanted && t[0].link.shape && !t[1].link.shape);
    ck_assert_int_eq(t[0].tip.shape, JAW_TIP_BALL);
    ck_assert(isnan(t[0].tip.diameter));
    near(t[0].tip.length, IN(4), 1e-12, "length");
    near(t[0].tip.repeat, IN(0.0002), 1e-15, "repeat");
    ck_assert_int_eq(t[0].link.place.line, 3);
    ck_assert_int_eq(t[0].link.place.column, 17);
    const jaw_setter_entry *s = jaw_setup_setters(g.setup, &n);
    ck_assert_uint_eq(n, 2);
    ck_assert(s[0].link.wanted && s[0].on == NULL && isnan(s[0].top));
    ck_assert(s[1].link.wanted && isnan(s[1].height));
    ck_assert_str_eq(s[1].on, "puck");
    const jaw_tool_entry *tool = jaw_setup_tools(g.setup, &n);
    ck_assert_str_eq(tool[0].link.holder, "20.ER-1");
    ck_assert(tool[0].link.wanted && tool[1].link.wanted);
    ck_assert(tool[1].link.holder == NULL && !tool[2].link.wanted);
    ck_assert_int_eq(tool[0].link.entry, 0);
    jaw_setup_contacts(g.setup, &n);
    ck_assert_uint_eq(n, 1);
    got_drop(&g);
}
END_TEST

TCase *entries_case(void)
{
    TCase *tc = tcase_create("entries");
    tcase_add_test(tc, title_and_control);
    tcase_add_test(tc, title_in_quotes);
    tcase_add_loop_test(tc, defaults, 0, 5);
    tcase_add_test(tc, tips);
    tcase_add_test(tc, reach_of_a_tip);
    tcase_add_test(tc, touches);
    tcase_add_loop_test(tc, sides, 0, 4);
    tcase_add_test(tc, sizes);
    tcase_add_test(tc, pattern);
    tcase_add_test(tc, heights);
    tcase_add_test(tc, left_to_the_book);
    tcase_add_test(tc, zeros);
    tcase_add_test(tc, side_not_needed);
    tcase_add_test(tc, words_as_names);
    tcase_add_loop_test(tc, line_ends_do_not_matter, 0, 3);
    tcase_add_test(tc, notes_not_wanted);
    return tc;
}
