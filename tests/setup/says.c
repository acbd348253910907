/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every message of src/setup/messages.h, provoked: how severe it is, its
 * status, the line it points at, and that the names and numbers of the case
 * stand in what it says.  Exact texts are in tests/errors. */
#include "setup_tests.h"

#include "src/setup/solve.h"

#include <jawline/sheet.h>

#include <stdio.h>
#include <string.h>

static const char *const names[] = {
#define NAME(id, severity, status, what, cure) [id] = #id,
    JAW__SETUP_MESSAGES(NAME)
#undef NAME
};

static const struct {
    const char *what, *cure;
} formats[] = {
#define FORMAT(id, severity, status, what, cure) [id] = {what, cure},
    JAW__SETUP_MESSAGES(FORMAT)
#undef FORMAT
};

/* Whether text can come from a printf format: the pieces between the
 * conversions stand in it in their order, first and last at the ends. */
static bool comes_from(const char *text, const char *format)
{
    const char *percent = strchr(format, '%');
    size_t n = percent ? (size_t)(percent - format) : strlen(format);

    if (strncmp(text, format, n) != 0)
        return false;
    if (!percent)
        return text[n] == '\0';
    const char *rest = percent + strspn(percent + 1, "zl") + 2;
    for (text += n;; text++) {
        if (comes_from(text, rest))
            return true;
        if (*text == '\0')
            return false;
    }
}

/* Each of the words between bars stands in text. */
static bool holds(const char *text, const char *words)
{
    char copy[200], *at = copy;

    snprintf(copy, sizeof copy, "%s", words);
    for (char *end; at && *at; at = end) {
        end = strchr(at, '|');
        if (end)
            *end++ = '\0';
        if (!strstr(text, at))
            return false;
    }
    return true;
}

/* ---------------------------------------------------------------- the cases
 * Each tells its setup and returns the line that the message must point at. */

static void start(shop *s)
{
    shop_open(s, JAW_MM);
    control(s, true, JAW_GAUGE_LINE, 0);
    tip(s, "finder", JAW_TIP_CYLINDER, 6, 0.005, 100);
}

static int wall(shop *s, const char *name, jaw_side faces, double x0,
                double y0, double x1, double y1)
{
    edge(s, name, "finder", faces);
    int line = s->line;
    touch(s, x0, y0, NOT);
    touch(s, x1, y1, NOT);
    return line;
}

static int jaw(shop *s)
{
    return wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 80, 0);
}

static int top(shop *s)
{
    feature(s, JAW_FACE, "top", "finder");
    int line = s->line;
    touch(s, NOT, NOT, -200);
    return line;
}

static int ring(shop *s, const char *name, double radius, int n)
{
    feature(s, JAW_BORE, name, "finder");
    int line = s->line;
    for (int i = 0; i < n; i++)
        touch(s, radius * cos(6.0 * i / n), radius * sin(6.0 * i / n), NOT);
    return line;
}

static int tell_no_tip(shop *s)
{
    feature(s, JAW_BORE, "pilot", NULL);
    touch(s, 1, 2, NOT);
    return s->line - 1;
}

static int tell_tip_unknown(shop *s)
{
    feature(s, JAW_BORE, "pilot", "fonder");
    touch(s, 1, 2, NOT);
    return s->line - 1;
}

static int tell_feature_unknown(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.y = "jow"});
    return s->line;
}

static int tell_surface_unknown(shop *s)
{
    setter(s, "puck", -400, NOT, NULL);
    tool(s, 1, NOT);
    touched(s, 1, -300, "pock", 0);
    return s->line;
}

static int tell_tool_unknown(shop *s)
{
    setter(s, "puck", -400, NOT, NULL);
    touched(s, 17, -300, "puck", 0);
    return s->line;
}

static int tell_sides_conflict(shop *s)
{
    jaw_place at = shop_next(s);
    jaw_feature_entry e = {.name = "jaw", .kind = JAW_EDGE, .tip = "finder",
                           .faces = JAW_SIDE_YMINUS,
                           .moving = JAW_SIDE_YMINUS, .within = NOT,
                           .place = {1, 1, 0}, .faces_place = at};
    ck_status(jaw_setup_add_feature(s->setup, &e), JAW_OK);
    touch(s, 0, 0, NOT);
    return at.line;
}

static int tell_no_side(shop *s)
{
    return wall(s, "jaw", JAW_SIDE_NONE, 0, 0, 80, 0);
}

static int tell_few(shop *s)
{
    return ring(s, "pilot", 20, 2);
}

static int tell_few_holes(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    hole(s, 0, 0, 5, 5);
    return s->line - 1;
}

static int tell_rank(shop *s)
{
    return wall(s, "jaw", JAW_SIDE_YMINUS, 5, 5, 5, 5);
}

static int tell_coordinate(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, NOT, 0);
    return s->line;
}

static int tell_no_best(shop *s)
{
    feature(s, JAW_BORE, "pilot", "finder");
    int line = s->line;
    touch(s, -30, 1, NOT);
    touch(s, -10, -1, NOT);
    touch(s, 10, 1, NOT);
    touch(s, 30, -1, NOT);
    return line;
}

static int tell_size(shop *s)
{
    feature(s, JAW_WEB, "stock", "finder");
    int line = s->line;
    touch(s, 5, NOT, NOT);
    other_wall(s);
    touch(s, 9, NOT, NOT);
    return line;
}

static int tell_side_wrong(shop *s)
{
    return wall(s, "jaw", JAW_SIDE_XMINUS, 0, 0, 80, 0);
}

static int tell_hole_unround(shop *s)
{
    jaw(s);
    feature(s, JAW_PATTERN, "dowels", NULL);
    hole(s, 0, 0, 5, 5);
    hole_of(s, 50, 0, "jaw");
    return s->line;
}

static int tell_hole_unsolved(shop *s)
{
    ring(s, "pilot", 20, 2);
    feature(s, JAW_PATTERN, "dowels", NULL);
    hole(s, 0, 0, 5, 5);
    hole_of(s, 50, 0, "pilot");
    return s->line;
}

static int tell_same_touch(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 80, 0);
    touch(s, 0, 0, NOT);
    return s->line;
}

static int tell_residual(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 20, 0);
    touch(s, 40, 0.3, NOT);
    int line = s->line;
    touch(s, 60, 0, NOT);
    touch(s, 80, 0, NOT);
    return line;
}

static int tell_slip(shop *s)
{
    int line = wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 80, 0);
    touch(s, 40, 0.3, NOT);
    return line;
}

static int tell_hole_off(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    hole(s, 0, 0, 0, 0);
    hole(s, 60, 0, 60, 0);
    hole(s, 60, 40, 60.04, 40);
    hole(s, 0, 40, 0, 40);
    return s->line - 1;
}

/* Two places, of which one is off: nobody can tell which. */
static int tell_holes_off(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    int line = s->line;
    hole(s, 0, 0, 0, 0);
    hole(s, 60, 0, 60.05, 0);
    return line;
}

/* Neighbours that are off by different amounts: as likely a slip as a size. */
static int tell_size_or_touch(shop *s)
{
    int line = s->line + 1;
    sized(s, JAW_BORE, "pilot", "finder", JAW_SIZE_KNOWN, 40);
    touch(s, 17.03, 0, NOT);
    touch(s, 0, 17.015, NOT);
    touch(s, -17, 0, NOT);
    touch(s, 0, -17, NOT);
    return line;
}

static int tell_size_off(shop *s)
{
    sized(s, JAW_BORE, "pilot", "finder", JAW_SIZE_EXPECTED, 40);
    int line = s->line;
    for (int i = 0; i < 4; i++)
        touch(s, 18 * cos(1.5 * i), 18 * sin(1.5 * i), NOT);
    return line;
}

static int tell_temperature(shop *s)
{
    jaw_temperature t = {.at = 68, .expansion = 1e-5, .place = shop_next(s)};
    ck_status(jaw_setup_set_temperature(s->setup, &t), JAW_OK);
    return s->line;
}

static int tell_all_aside(shop *s)
{
    edge(s, "lost", "finder", JAW_SIDE_YMINUS);
    int line = s->line;
    ck_status(jaw_setup_aside_touch(s->setup, (jaw_touch){1, 2, NOT},
                                    shop_next(s)), JAW_OK);
    return line;
}

static int tell_known_size(shop *s)
{
    sized(s, JAW_BORE, "pilot", "finder", JAW_SIZE_KNOWN, 40);
    int line = s->line;
    for (int i = 0; i < 4; i++)
        touch(s, 18 * cos(1.5 * i), 18 * sin(1.5 * i), NOT);
    return line;
}

/* A tip of 6, stated as sure to 0.01; five rings of 40 each show it 0.16 less,
 * which none of them alone could tell from its touches. */
static int tell_known_tip(shop *s)
{
    static const char *const ring[] = {"a", "b", "c", "d", "e"};
    jaw_tip_entry pin = {.name = "worn",
                         .tip = jaw_tip_make(JAW_TIP_PIN, 6),
                         .diameter_known = 0.02,
                         .place = shop_next(s)};
    pin.tip.repeat = 0.05;
    ck_status(jaw_setup_add_tip(s->setup, &pin), JAW_OK);
    int line = s->line;
    for (int k = 0; k < COUNT(ring); k++) {
        sized(s, JAW_BORE, ring[k], "worn", JAW_SIZE_KNOWN, 40);
        for (int i = 0; i < 4; i++)
            touch(s, 100 * k + 17.08 * cos(PI / 2 * i),
                  17.08 * sin(PI / 2 * i), NOT);
    }
    return line;
}

static int tell_weak(shop *s)
{
    feature(s, JAW_BORE, "pilot", "finder");
    int line = s->line;
    for (int i = 0; i < 4; i++)
        touch(s, 25 * cos(0.05 * i), 25 * sin(0.05 * i), NOT);
    return line;
}

static int tell_spacing_default(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    int line = s->line;
    hole(s, 0, 0, 5, 5);
    hole(s, 60, 0, 65, 5);
    return line;
}

static int tell_scale(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    int line = s->line;
    hole(s, 0, 0, 0, 0);
    hole(s, 2, 1, 50.8, 25.4);
    return line;
}

static int tell_mirrored(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    int line = s->line;
    hole(s, 0, 0, 0, 0);
    hole(s, -70, 0, 70, 0);
    hole(s, -20, 40, 20, 40);
    return line;
}

static int tell_tilted(shop *s)
{
    feature(s, JAW_FACE, "top", "finder");
    int line = s->line;
    touch(s, 0, 0, -200);
    touch(s, 100, 0, -190);
    touch(s, 0, 50, -200);
    return line;
}

static int tell_rise(shop *s)
{
    feature(s, JAW_FACE, "top", "finder");
    int line = s->line;
    touch(s, 0, 0, -200);
    touch(s, 100, 0, -199.9);
    touch(s, 0, 50, -200);
    return line;
}

static int tell_repeat_default(shop *s)
{
    tip(s, "pin", JAW_TIP_PIN, 6, NOT, NOT);
    int line = s->line;
    edge(s, "jaw", "pin", JAW_SIDE_YMINUS);
    for (int i = 0; i < 3; i++)
        touch(s, 40 * i, 0, NOT);
    return line;
}

static int tell_tool_repeat(shop *s)
{
    setter(s, "puck", -400, NOT, NULL);
    tool(s, 12, NOT);
    touched(s, 12, -319, "puck", 0);
    int line = s->line;
    touched(s, 12, -319.001, "puck", 0);
    return line;
}

static int tell_travel(shop *s)
{
    jaw_control c = *jaw_setup_control(s->setup);
    c.low.x = 0;
    c.high.x = 400;
    ck_status(jaw_setup_set_control(s->setup, &c), JAW_OK);
    wall(s, "jaw", JAW_SIDE_YMINUS, 50, 0, -80, 0);
    return s->line;
}

static int tell_turn_unknown(shop *s)
{
    ring(s, "pilot", 20, 4);
    zero(s, "G54", (wanted){.turn = "pilot", .along = JAW_X, .x = "pilot"});
    return s->line - 1;
}

static int tell_turn_no_axis(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_AXES, .y = "jaw"});
    return s->line - 1;
}

static int tell_turn_own_axes(shop *s)
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    hole(s, 0, 0, 0, 0);
    hole(s, 60, 0, 60, 0);
    zero(s, "G54", (wanted){.turn = "dowels", .along = JAW_Y,
                            .x = "dowels"});
    return s->line - 1;
}

static int tell_turn_across(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_Y, .y = "jaw"});
    return s->line - 1;
}

static int tell_turn_steep(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 100, 10);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .y = "jaw"});
    return s->line - 1;
}

static int tell_turn_forgotten(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 100, 0.5);
    zero(s, "G54", (wanted){.y = "jaw"});
    return s->line;
}

static int tell_turn_differs(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 100, 0.5);
    wall(s, "stop", JAW_SIDE_XPLUS, 0, 0, -0.2, -40);
    zero(s, "G54", (wanted){.stated = -0.005, .x = "stop", .y = "jaw"});
    return s->line - 2;
}

static int tell_turn_none(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.y = "jaw"});
    return s->line - 1;
}

static int tell_term_kind(shop *s)
{
    top(s);
    zero(s, "G54", (wanted){.x = "top"});
    return s->line;
}

static int tell_term_unsolved(shop *s)
{
    ring(s, "pilot", 20, 2);
    zero(s, "G54", (wanted){.x = "pilot"});
    return s->line;
}

static int tell_term_across(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.x = "jaw"});
    return s->line;
}

static int tell_term_lone(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 100, 1);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .y = "jaw"});
    return s->line;
}

static int tell_term_free(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.y = "jaw"});
    return s->line;
}

static int tell_square_assumed(shop *s)
{
    jaw(s);
    edge(s, "stop", "finder", JAW_SIDE_XPLUS);
    touch(s, 0, -20, NOT);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                            .y = "jaw"});
    return s->line - 1;
}

static int tell_square_known(shop *s)
{
    jaw(s);
    edge(s, "stop", "finder", JAW_SIDE_XPLUS);
    touch(s, 0, -20, NOT);
    jaw_zero_entry z = {.name = "G54",
                        .turn_use = JAW_TURN_FEATURE,
                        .turn_feature = "jaw",
                        .turn_along = JAW_X,
                        .square_known = 0.001,
                        .place = shop_next(s)};
    z.term[JAW_X].feature = "stop";
    z.term[JAW_X].place = shop_next(s);
    z.term[JAW_Y].feature = "jaw";
    ck_status(jaw_setup_add_zero(s->setup, &z), JAW_OK);
    return s->line;
}

static int tell_place_assumed(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 100, 1);
    edge(s, "stop", "finder", JAW_SIDE_XPLUS);
    touch(s, 0, NOT, NOT);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                            .y = "jaw"});
    return s->line - 1;
}

static int tell_level_assumed(shop *s)
{
    return top(s);
}

static int tell_no_height(shop *s)
{
    tip(s, "ball", JAW_TIP_BALL, 4, 0.005, NOT);
    feature(s, JAW_FACE, "bed", "ball");
    touch(s, NOT, NOT, -200);
    zero(s, "G54", (wanted){.z = "bed"});
    return s->line;
}

static int tell_no_reference(shop *s)
{
    control(s, true, JAW_REFERENCE_TOOL, 9);
    tool(s, 9, NOT);
    setter(s, "puck", NOT, NOT, NULL);
    touched(s, 9, -300, "puck", 0);
    top(s);
    zero(s, "G54", (wanted){.z = "top"});
    return s->line;
}

static int tell_tool_untouched(shop *s)
{
    tool(s, 12, NOT);
    return s->line;
}

static int tell_tool_no_length(shop *s)
{
    setter(s, "puck", NOT, NOT, NULL);
    tool(s, 12, NOT);
    touched(s, 12, -300, "puck", 0);
    return s->line - 1;
}

static int tell_tool_no_zero(shop *s)
{
    control(s, true, JAW_TIP_TO_PART, 0);
    setter(s, "puck", NOT, NOT, NULL);
    tool(s, 12, NOT);
    touched(s, 12, -300, "puck", 0);
    return s->line - 1;
}

/* Two chips side by side. */
static int tell_suspects(shop *s)
{
    int line = s->line + 1;
    feature(s, JAW_BORE, "pilot", "finder");
    for (int i = 0; i < 10; i++) {
        double r = i == 2 || i == 3 ? 20.15 : 20 + (i % 2 ? 0.003 : -0.003);
        touch(s, 50 + r * cos(0.6283 * i), r * sin(0.6283 * i), NOT);
    }
    return line;
}

/* Likewise on a ball, round it and half way up, and on a bar. */
static int tell_suspects_ball(shop *s)
{
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 100);
    int line = s->line + 1;
    feature(s, JAW_BALL, "target", "stylus");
    for (int i = 0; i < 12; i++) {
        double up = i % 2 ? 0.8 : 0.1, a = 1.0472 * (i / 2);
        double r = i == 3 || i == 4 ? 9.65 : 9.5 + (i % 3 ? 0.003 : -0.003);
        touch(s, 60 + r * cos(up) * cos(a), r * cos(up) * sin(a),
              -150 + r * sin(up));
    }
    return line;
}

static int tell_suspects_bar(shop *s)
{
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 100);
    int line = s->line + 1;
    feature(s, JAW_BAR, "shaft", "stylus");
    for (int i = 0; i < 12; i++) {
        double up = 0.05 + 1.45 * (i % 3);
        double r = i == 3 || i == 4 ? 12.15 : 12 + (i % 2 ? 0.003 : -0.003);
        touch(s, 100 + 20 * (i / 3), r * cos(up), -150 + r * sin(up));
    }
    return line;
}

static int tell_suspects_sweep(shop *s)
{
    int line = s->line + 1;
    sweep(s, "swept", JAW_SIDE_YMINUS, 0.001, NULL);
    for (int i = 0; i < 8; i++)
        touch(s, 20 * i, NOT,
              i == 3 || i == 4 ? 0.05 : i % 2 ? 0.001 : -0.001);
    return line;
}

static int tell_suspects_dial(shop *s)
{
    int line = s->line + 1;
    dial(s, "dialled", true, 30, -20, 0, 0.001);
    for (int i = 0; i < 10; i++)
        touch(s, 0.6283 * i, NOT,
              i == 3 || i == 4 ? 0.05 : i % 2 ? 0.001 : -0.001);
    return line;
}

/* Fourteen degrees of a bore. */
static int tell_trials(shop *s)
{
    int line = s->line + 1;
    feature(s, JAW_BORE, "pilot", "finder");
    for (int i = 0; i < 5; i++)
        touch(s, 50 + 20 * cos(1.4 + 0.06 * i), 20 * sin(1.4 + 0.06 * i), NOT);
    return line;
}

/* Eight degrees round the top of a ball. */
static int tell_trials_ball(shop *s)
{
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.01, 100);
    int line = s->line + 1;
    feature(s, JAW_BALL, "target", "stylus");
    for (int i = 0; i < 7; i++) {
        double down = i == 0 ? 0 : 0.14, a = 1.0472 * i;
        touch(s, 60 + 12 * sin(down) * cos(a), 12 * sin(down) * sin(a),
              -150 + 12 * cos(down));
    }
    return line;
}

/* Twenty degrees of a bar along y. */
static int tell_trials_bar(shop *s)
{
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.01, 100);
    int line = s->line + 1;
    feature(s, JAW_BAR, "blank", "stylus");
    for (int i = 0; i < 9; i++) {
        double a = 0.0873 * (i % 3 - 1) * (1 + 0.5 * (i / 3 - 1));
        touch(s, 40 + 12 * sin(a), 15.0 * (i / 3), -150 + 12 * cos(a));
    }
    return line;
}

/* One more than are tried. */
static int tell_not_tried(shop *s)
{
    static const char *const bore[] = {"a", "b", "c", "d", "e", "f",
                                        "g", "h", "i", "j", "k"};
    int line = 0;
    for (int k = 0; k < COUNT(bore); k++) {
        line = s->line + 1;
        feature(s, JAW_BORE, bore[k], "finder");
        for (int i = 0; i < 5; i++)
            touch(s, 50 + 20 * cos(1.4 + 0.06 * i), 20 * sin(1.4 + 0.06 * i),
                  NOT);
    }
    return line;
}

static int tell_tip_size(shop *s)
{
    tip(s, "hair", JAW_TIP_BALL, 0.2, 0.01, NOT);
    return s->line;
}

static int tell_tool_sign(shop *s)
{
    setter(s, "puck", 400, NOT, NULL);
    tool(s, 12, NOT);
    touched(s, 12, 320, "puck", 0);
    return s->line - 1;
}

static int tell_tool_conflict(shop *s)
{
    setter(s, "puck", -400, NOT, NULL);
    tool(s, 12, 80);
    touched(s, 12, -319, "puck", 0);
    return s->line - 1;
}

/* A tool of the book, which may wait for it. */
static void linked_tool(shop *s, double length, long long entry)
{
    jaw_tool_entry e = {12, "", length, NOT, shop_next(s), 1e-3, NULL,
                        {.wanted = true, .entry = entry, .at = 1,
                         .seen = 1e-3, .seen_dof = 4}};
    ck_status(jaw_setup_add_tool(s->setup, &e), JAW_OK);
}

static int tell_tool_since(shop *s)
{
    setter(s, "puck", -300, NOT, NULL);
    linked_tool(s, 80, 7);
    touched(s, 12, -219, "puck", 0);
    return s->line - 1;
}

static int tell_waits(shop *s)
{
    linked_tool(s, NOT, 0);
    return 0;
}

static int tell_tool_same(shop *s)
{
    setter(s, "puck", -400, NOT, NULL);
    tool(s, 12, NOT);
    touched(s, 12, -320, "puck", 0);
    tool(s, 13, NOT);
    touched(s, 13, -320, "puck", 0);
    return s->line;
}

static int tell_tool_twice(shop *s)
{
    tool(s, 12, 80);
    tool(s, 12, 90);
    return s->line;
}

static int tell_height_conflict(shop *s)
{
    setter(s, "puck", -400, NOT, NULL);
    int line = s->line;
    tool(s, 12, 80);
    touched(s, 12, -319, "puck", 0);
    return line;
}

static int tell_on_itself(shop *s)
{
    setter(s, "puck", NOT, 10, "puck");
    return s->line;
}

static int tell_squareness(shop *s)
{
    jaw(s);
    wall(s, "stop", JAW_SIDE_XPLUS, 0, 0, 1, -40);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                            .y = "jaw"});
    return s->line - 3;
}

static int tell_zero_twice(shop *s)
{
    jaw(s);
    zero(s, "G54", (wanted){.y = "jaw"});
    zero(s, "G54", (wanted){.y = "jaw"});
    return s->line - 1;
}

/* ------------------------------------------------------------------- tasks */

static int tell_stock(shop *s, double x, double y, double z, double parallels)
{
    vise(s, "bench", -300, NULL);
    stock(s, "blank", "bench", (double[]){x, y, z}, parallels, NULL);
    return s->line;
}

static int tell_parallels(shop *s)
{
    return tell_stock(s, 80, 60, 20, 41);
}

static int tell_grip(shop *s)
{
    return tell_stock(s, 80, 60, 20, 38);
}

static int tell_below(shop *s)
{
    return tell_stock(s, 80, 60, 4, 30);
}

static int tell_wide(shop *s)
{
    return tell_stock(s, 80, 110, 20, 30);
}

static int tell_long(shop *s)
{
    return tell_stock(s, 310, 60, 20, 30);
}

static int tell_no_vise(shop *s)
{
    setter(s, "puck", -300, NOT, NULL);
    stock(s, "blank", "puck", (double[]){80, 60, 20}, 30, NULL);
    return s->line;
}

static int tell_no_fixed(shop *s)
{
    jaw(s);
    vise(s, "bench", -300, "jow");
    return s->line;
}

static int tell_no_top(shop *s)
{
    jaw(s);
    vise(s, "bench", -300, NULL);
    stock(s, "blank", "bench", (double[]){80, 60, 20}, 30, "jaw");
    return s->line;
}

/* The stack's top is at -250 and known to 0.01. */
static int tell_top_off(shop *s)
{
    vise(s, "bench", -300, NULL);
    stock(s, "blank", "bench", (double[]){80, 60, 20}, 30, "top");
    int line = s->line;
    tip(s, "gauged", JAW_TIP_BALL, 2, 0.002, 100);
    feature(s, JAW_FACE, "top", "gauged");
    touch(s, 0, 0, -149.9);
    touch(s, 50, 0, -149.9);
    touch(s, 50, 40, -149.9);
    touch(s, 0, 40, -149.9);
    return line;
}

/* A row of bores, each a station's zero; the line is that of the task. */
static int tell_row(shop *s, const double at[][2], const double stated[][2],
                    int n, double known)
{
    static const char *const bores[] = {"b1", "b2", "b3", "b4"};
    static const char *const held_by[] = {"G54", "G55", "G56", "G57"};
    jaw_task t = {.kind = JAW_TASK_STATIONS, .name = "row",
                  .as.stations = {.known = known}};

    wall(s, "rail", JAW_SIDE_YMINUS, 0, -90, 400, -90);
    task(s, t);
    int line = s->line;
    for (int i = 0; i < n; i++) {
        feature(s, JAW_BORE, bores[i], "finder");
        for (int k = 0; k < 4; k++)
            touch(s, at[i][0] + 9 * cos(PI / 2 * k),
                  at[i][1] + 9 * sin(PI / 2 * k), NOT);
        zero(s, held_by[i], (wanted){.turn = "rail", .along = JAW_X,
                                   .x = bores[i], .y = bores[i],
                                   .station = "row",
                                   .among = {stated[i][0], stated[i][1]}});
    }
    return line;
}

static const double four[][2] = {{0, 0}, {100, 0}, {100, 80}, {0, 80}};

static int tell_stations_unknown(shop *s)
{
    tell_row(s, four, four, 2, 0.01);
    zero(s, "G58", (wanted){.station = "raw", .among = {200, 0}});
    return s->line;
}

static int tell_station_half(shop *s)
{
    tell_row(s, four, four, 2, 0.01);
    zero(s, "G58", (wanted){.turn = "rail", .along = JAW_X, .y = "rail",
                            .station = "row", .among = {200, 0}});
    return s->line - 1;
}

static int tell_stations_none(shop *s)
{
    int line = tell_row(s, four, four, 0, 0.01);
    zero(s, "G58", (wanted){.station = "row", .among = {200, 0}});
    return line;
}

static int tell_stations_turn(shop *s)
{
    int line = tell_row(s, four, four, 0, 0.01);
    feature(s, JAW_BORE, "b1", "finder");
    for (int k = 0; k < 4; k++)
        touch(s, 9 * cos(PI / 2 * k), 9 * sin(PI / 2 * k), NOT);
    zero(s, "G54", (wanted){.x = "b1", .y = "b1", .station = "row"});
    return line;
}

static int tell_stations_same(shop *s)
{
    static const double same[][2] = {{0, 0}, {0, 0}};
    tell_row(s, four, same, 2, 0.01);
    return s->line - 2;
}

/* The same bore for both. */
static int tell_stations_place(shop *s)
{
    static const double one[][2] = {{0, 0}, {0, 0}};
    jaw_task t = {.kind = JAW_TASK_STATIONS,
                  .name = "row",
                  .as.stations = {.known = 0.01, .turn_use = JAW_TURN_NONE}};
    task(s, t);
    int line = s->line;
    for (int i = 0; i < 2; i++) {
        char bore[] = "b0";
        bore[1] = (char)('0' + i);
        feature(s, JAW_BORE, bore, "finder");
        for (int k = 0; k < 4; k++)
            touch(s, one[i][0] + 9 * cos(PI / 2 * k),
                  one[i][1] + 9 * sin(PI / 2 * k), NOT);
        zero(s, i == 0 ? "G54" : "G55",
             (wanted){.x = bore, .y = bore, .station = "row",
                      .among = {100 * i, 0}});
    }
    return line;
}

static int tell_stations_spacing(shop *s)
{
    return tell_row(s, four, four, 2, 0);
}

static int tell_stations_scale(shop *s)
{
    static const double inches[][2] = {{0, 0}, {100 / 25.4, 0}};
    return tell_row(s, four, inches, 2, 0.01);
}

static int tell_stations_mirrored(shop *s)
{
    static const double other[][2] = {{0, 0}, {100, 0}, {100, -80}};
    return tell_row(s, four, other, 3, 0.01);
}

static int tell_stations_steep(shop *s)
{
    static const double swapped[][2] = {{0, 0}, {0, 100}};
    return tell_row(s, four, swapped, 2, 0.01);
}

static int tell_station_off(shop *s)
{
    static const double is[][2] = {{0, 0}, {100, 0}, {100, 80}, {0, 80.5}};
    tell_row(s, is, four, 4, 0.01);
    return s->line - 2;
}

static int tell_stations_off(shop *s)
{
    static const double is[][2] = {{0, 0}, {100.5, 0}};
    return tell_row(s, is, four, 2, 0.01);
}

static int tell_cut(shop *s)
{
    jaw_task t = {.kind = JAW_TASK_SIDE, .name = "two"};
    task(s, t);
    return s->line;
}

static int tell_tram(shop *s, const double row[][2], size_t n)
{
    jaw_task t = {.kind = JAW_TASK_TRAM,
                  .name = "head",
                  .as.tram = {100, NOT, NOT, 0.002}};
    task(s, t);
    int line = s->line;
    for (size_t i = 0; i < n; i++)
        reading(s, row[i][0], row[i][1], false);
    return line;
}

static int tell_reading_repeat(shop *s)
{
    sweep(s, "swept", JAW_SIDE_YMINUS, 0, NULL);
    int line = s->line;
    touch(s, 0, NOT, 0.012);
    touch(s, 50, NOT, 0.021);
    touch(s, 100, NOT, 0.032);
    return line;
}

static int tell_reading_off(shop *s)
{
    sweep(s, "swept", JAW_SIDE_XPLUS, 0.002, NULL);
    int line = s->line + 3;
    for (int i = 0; i < 6; i++)
        touch(s, NOT, 20 * i, 0.01 + 0.004 * i + (i == 2 ? 0.05 : 0));
    return line;
}

static int tell_readings_slip(shop *s)
{
    dial(s, "dialled", true, 50, -20, 0, 0.002);
    int line = s->line;
    touch(s, 0, NOT, 0.10);
    touch(s, PI / 2, NOT, 0.02);
    touch(s, PI, NOT, 0.10);
    touch(s, 3 * PI / 2, NOT, 0.14);
    return line;
}

static int tell_dial_far(shop *s)
{
    dial(s, "dialled", false, 50, -20, 5, 0.002);
    int line = s->line;
    for (int i = 0; i < 4; i++)
        touch(s, PI / 2 * i, NOT, 6 * cos(PI / 2 * i));
    return line;
}

/* Touches round a post of 12 with a ball of 4. */
static int tell_bar_stands(shop *s)
{
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 100);
    feature(s, JAW_BAR, "post", "stylus");
    int line = s->line;
    for (int i = 0; i < 8; i++)
        touch(s, 8 * cos(0.8 * i), 8 * sin(0.8 * i), -250 - 5 * i);
    return line;
}

static int tell_round_tip(shop *s)
{
    feature(s, JAW_BALL, "target", "finder");
    int line = s->line;
    touch(s, 9, 0, -250);
    return line;
}

/* A shaft of 20 along Y, one up in a hundred. */
static int tell_bar_rises(shop *s)
{
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 100);
    sized(s, JAW_BAR, "shaft", "stylus", JAW_SIZE_EXPECTED, 20);
    int line = s->line;
    for (int i = 0; i < 3; i++) {
        touch(s, 12, 50 * i, -250 + 0.5 * i);
        touch(s, -12, 50 * i, -250 + 0.5 * i);
        touch(s, 0, 50 * i, -238 + 0.5 * i);
    }
    return line;
}

static int tell_after_unknown(shop *s)
{
    sweep(s, "swept", JAW_SIDE_YMINUS, 0.002, "swept");
    int line = s->line;
    touch(s, 0, NOT, 0.012);
    touch(s, 100, NOT, 0.032);
    return line;
}

static int tell_after_other(shop *s)
{
    sweep(s, "stop", JAW_SIDE_XPLUS, 0.002, NULL);
    touch(s, NOT, 0, 0.012);
    touch(s, NOT, 100, 0.032);
    sweep(s, "swept", JAW_SIDE_YMINUS, 0.002, "stop");
    int line = s->line;
    touch(s, 0, NOT, 0.012);
    touch(s, 100, NOT, 0.032);
    return line;
}

static int tell_few_readings(shop *s)
{
    return tell_tram(s, (const double[][2]){{0, 0.01}, {3, 0.02}}, 2);
}

static int tell_one_place(shop *s)
{
    return tell_tram(s, (const double[][2]){{0, 0}, {0, 1e-3}, {0, 0}}, 3);
}

static int tell_scatter(shop *s)
{
    return tell_tram(s,
                     (const double[][2]){{0, 0.01}, {1.6, 0.02}, {3.1, 0},
                                         {4.7, 0.2}, {0.8, 0.01}},
                     5);
}

static int tell_crowd(shop *s)
{
    return tell_tram(s,
                     (const double[][2]){{0, 0.010}, {0.1, 0.011},
                                         {0.2, 0.011}, {0.3, 0.012}},
                     4);
}

static int tell_lean(shop *s)
{
    return tell_tram(s,
                     (const double[][2]){{0, 3}, {1.57079633, 0},
                                         {3.14159265, -3}, {4.71238898, 0}},
                     4);
}

static int tell_square(shop *s, double across)
{
    jaw_task t = {.kind = JAW_TASK_SQUARE,
                  .name = "axes",
                  .as.square = {{JAW_SIDE_XPLUS, JAW_SIDE_XMINUS}, NOT, NOT}};
    task(s, t);
    int line = s->line;
    for (int i = 0; i < 6; i++)
        reading(s, 0.01 * (i % 3), across * (i % 3), i >= 3);
    return line;
}

static int tell_odd_readings(shop *s)
{
    return tell_square(s, 50);
}

static int tell_arm(shop *s)
{
    return tell_square(s, 0.00001);
}

static int tell_tip_twice(shop *s)
{
    tip(s, "finder", JAW_TIP_CYLINDER, 6, 0.005, NOT);
    int line = s->line;
    jaw(s);
    return line;
}

/* A setter carries things as a face does. */
static int tell_name_twice(shop *s)
{
    top(s);
    setter(s, "top", -400, NOT, NULL);
    return s->line;
}

static jaw_tip_entry lobed(shop *s, const char *name)
{
    jaw_tip_entry e = {.name = name,
                       .tip = jaw_tip_make(JAW_TIP_BALL, 4),
                       .harmonic = {0.02, -0.01, 0.006, 0.002},
                       .harmonic_known = {0.001, 0.001, 0.001, 0.001},
                       .place = shop_next(s)};
    e.tip.repeat = 0.002;
    return e;
}

static int tell_tip_runout(shop *s)
{
    jaw_tip_entry e = lobed(s, "bent");
    e.harmonic[1] = 0.5;
    ck_status(jaw_setup_add_tip(s->setup, &e), JAW_OK);
    return s->line;
}

/* Three of which each two go together, and two of them against one another. */
static int tell_tip_correlation(shop *s)
{
    jaw_tip_entry e = lobed(s, "stylus");
    e.correlation[jaw_tip_pair(JAW_TIP_C1, JAW_TIP_S1)] = 0.9;
    e.correlation[jaw_tip_pair(JAW_TIP_S1, JAW_TIP_C3)] = 0.9;
    e.correlation[jaw_tip_pair(JAW_TIP_C1, JAW_TIP_C3)] = -0.9;
    ck_status(jaw_setup_add_tip(s->setup, &e), JAW_OK);
    int line = s->line;
    feature(s, JAW_BORE, "pilot", "stylus");
    for (int i = 0; i < 4; i++)
        touch(s, 18 * cos(1.5 * i), 18 * sin(1.5 * i), NOT);
    return line;
}

static int tell_spindle(shop *s)
{
    jaw_tip_entry e = lobed(s, "stylus");
    ck_status(jaw_setup_add_tip(s->setup, &e), JAW_OK);
    int line = s->line;
    for (int k = 0; k < 2; k++) { /* said once a tip */
        feature(s, JAW_BORE, k == 0 ? "pilot" : "other", "stylus");
        for (int i = 0; i < 4; i++)
            touch(s, 18 * cos(1.5 * i), 18 * sin(1.5 * i), NOT);
    }
    return line;
}

/* Of the whole setup, so it points at no line. */
static int tell_spread(shop *s)
{
    wall(s, "jaw", JAW_SIDE_YMINUS, 0, 0, 80, 0);
    for (int i = 0; i < 8; i++)
        touch(s, 5 + 9 * i, i % 2 ? 0.013 : -0.013, NOT);
    return 0;
}

static const struct {
    enum jaw__message id;
    jaw_severity severity;
    jaw_status status;
    int (*tell)(shop *s);
    const char *what, *cure; /* words between bars */
} cases[] = {
    {SAY_NO_TIP, JAW_ERROR, JAW_EUNKNOWN, tell_no_tip,
     "bore|pilot", "tip"},
    {SAY_TIP_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_tip_unknown,
     "fonder", "finder"},
    {SAY_FEATURE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_feature_unknown,
     "jow", "jaw"},
    {SAY_SURFACE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_surface_unknown,
     "pock", "puck"},
    {SAY_TOOL_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_tool_unknown,
     "17", "17"},
    {SAY_SIDES_CONFLICT, JAW_ERROR, JAW_ECONFLICT, tell_sides_conflict,
     "jaw|faces y-|moving y-", "y-"},
    {SAY_NO_SIDE, JAW_ERROR, JAW_EUNKNOWN, tell_no_side,
     "jaw", "faces"},
    {SAY_FEW, JAW_ERROR, JAW_EFEW, tell_few,
     "bore|pilot|2", "three"},
    {SAY_FEW_HOLES, JAW_ERROR, JAW_EFEW, tell_few_holes,
     "dowels|1", "two"},
    {SAY_RANK, JAW_ERROR, JAW_ERANK, tell_rank,
     "edge|jaw|one place", "second place"},
    {SAY_COORDINATE, JAW_ERROR, JAW_ENOTFINITE, tell_coordinate,
     "edge|jaw", "x and y"},
    {SAY_NO_BEST, JAW_ERROR, JAW_ENOCONV, tell_no_best,
     "circle|pilot", "sign"},
    {SAY_SIZE, JAW_ERROR, JAW_ESIZE, tell_size,
     "web|stock", "inside or outside"},
    {SAY_SIDE_WRONG, JAW_ERROR, JAW_ESIDE, tell_side_wrong,
     "edge|jaw|faces x-", "faces"},
    {SAY_HOLE_UNROUND, JAW_ERROR, JAW_EUNKNOWN, tell_hole_unround,
     "jaw", "a bore, a boss, a ball or a dial"},
    {SAY_HOLE_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, tell_hole_unsolved,
     "pilot|dowels", "pilot"},
    {SAY_SAME_TOUCH, JAW_DOUBT, JAW_OK, tell_same_touch,
     "edge|jaw|touch 1", "again"},
    {SAY_RESIDUAL, JAW_DOUBT, JAW_OK, tell_residual,
     "edge|jaw|0.005", "sign"},
    {SAY_TRIALS, JAW_DOUBT, JAW_OK, tell_trials, "bore|pilot|trial",
     "spread"},
    {SAY_TRIALS_BALL, JAW_DOUBT, JAW_OK, tell_trials_ball,
     "ball 'target'|by trial x|z from", "all round"},
    {SAY_TRIALS_BAR, JAW_DOUBT, JAW_OK, tell_trials_bar,
     "bar 'blank'|by trial|towards X+|in height", "farther round"},
    {SAY_NOT_TRIED, JAW_ASSUMPTION, JAW_OK, tell_not_tried,
     "more than 10", "spread"},
    {SAY_HOLES_OFF, JAW_DOUBT, JAW_OK, tell_holes_off, "dowels|0.050 mm",
     "one more"},
    {SAY_SIZE_OR_TOUCH, JAW_DOUBT, JAW_OK, tell_size_or_touch, "bore|pilot",
     "known size"},
    {SAY_SUSPECTS, JAW_DOUBT, JAW_OK, tell_suspects,
     "3 and 4|bore|pilot|other 8", "chips"},
    {SAY_SUSPECTS, JAW_DOUBT, JAW_OK, tell_suspects_ball,
     "touches 4 and 5|ball|target|other 10", "chips"},
    {SAY_SUSPECTS, JAW_DOUBT, JAW_OK, tell_suspects_bar,
     "touches 4 and 5|bar|shaft|other 10", "chips"},
    {SAY_SUSPECTS, JAW_DOUBT, JAW_OK, tell_suspects_sweep,
     "readings 4 and 5|sweep|swept|other 6", "chips"},
    {SAY_SUSPECTS, JAW_DOUBT, JAW_OK, tell_suspects_dial,
     "readings 4 and 5|dial|dialled|other 8", "chips"},
    {SAY_SLIP, JAW_DOUBT, JAW_OK, tell_slip, "edge|jaw|0.005", "one more"},
    {SAY_HOLE_OFF, JAW_DOUBT, JAW_OK, tell_hole_off,
     "dowels|0.0", "hole"},
    {SAY_SIZE_OFF, JAW_DOUBT, JAW_OK, tell_size_off,
     "bore|pilot|42.000 mm|2.000 mm", "tip"},
    {SAY_TEMPERATURE, JAW_DOUBT, JAW_OK, tell_temperature,
     "68.0", "Fahrenheit"},
    {SAY_NO_SPACING, JAW_ASSUMPTION, JAW_OK, tell_temperature,
     "pattern", "leave"},
    {SAY_ALL_ASIDE, JAW_ERROR, JAW_EFEW, tell_all_aside,
     "edge|lost|0, and 1", "again"},
    {SAY_KNOWN_SIZE, JAW_DOUBT, JAW_OK, tell_known_size,
     "bore|pilot|2.000 mm", "tip"},
    {SAY_KNOWN_TIP, JAW_DOUBT, JAW_OK, tell_known_tip,
     "worn|mm", "known sizes"},
    {SAY_WEAK, JAW_DOUBT, JAW_OK, tell_weak,
     "bore|pilot", "spread"},
    {SAY_SPACING_DEFAULT, JAW_ASSUMPTION, JAW_OK, tell_spacing_default,
     "dowels", ""},
    {SAY_SCALE, JAW_DOUBT, JAW_OK, tell_scale,
     "dowels|25.4", "inches|millimetres"},
    {SAY_MIRRORED, JAW_DOUBT, JAW_OK, tell_mirrored,
     "dowels", "sign"},
    {SAY_TILTED, JAW_DOUBT, JAW_OK, tell_tilted,
     "top|5.711 deg", "seat"},
    {SAY_RISE, JAW_ASSUMPTION, JAW_OK, tell_rise,
     "top|0.100 mm", "seat"},
    {SAY_REPEAT_DEFAULT, JAW_ASSUMPTION, JAW_OK, tell_repeat_default,
     "pin|0.005", "repeat"},
    {SAY_TOOL_REPEAT, JAW_ASSUMPTION, JAW_OK, tell_tool_repeat,
     "tool|0.005", "--repeat"},
    {SAY_TRAVEL, JAW_DOUBT, JAW_OK, tell_travel,
     "x|touch 2|jaw", "sign"},
    {SAY_TURN_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_turn_unknown,
     "bore|pilot", "edge"},
    {SAY_TURN_NO_AXIS, JAW_ERROR, JAW_EUNKNOWN, tell_turn_no_axis,
     "edge|jaw", "along"},
    {SAY_TURN_OWN_AXES, JAW_ERROR, JAW_ECONFLICT, tell_turn_own_axes,
     "dowels", "along"},
    {SAY_TURN_ACROSS, JAW_ERROR, JAW_ESIDE, tell_turn_across,
     "jaw|0.000 deg|part y", "along x"},
    {SAY_TURN_STEEP, JAW_DOUBT, JAW_OK, tell_turn_steep,
     "5.711 deg", "jaw"},
    {SAY_TURN_FORGOTTEN, JAW_DOUBT, JAW_OK, tell_turn_forgotten,
     "jaw|0.286 deg", "turn jaw along x"},
    {SAY_TURN_DIFFERS, JAW_DOUBT, JAW_OK, tell_turn_differs,
     "jaw|0.573 deg", "sign|jaw"},
    {SAY_TURN_NONE, JAW_ASSUMPTION, JAW_OK, tell_turn_none,
     "G54|square", "turn"},
    {SAY_TERM_KIND, JAW_ERROR, JAW_EUNKNOWN, tell_term_kind,
     "face|top|x", "edge"},
    {SAY_TERM_UNSOLVED, JAW_ERROR, JAW_EUNKNOWN, tell_term_unsolved,
     "G54|X|pilot", "pilot"},
    {SAY_TERM_ACROSS, JAW_ERROR, JAW_ESIDE, tell_term_across,
     "jaw|part x", "y"},
    {SAY_TERM_LONE, JAW_ERROR, JAW_EUNKNOWN, tell_term_lone,
     "G54|Y", "x"},
    {SAY_TERM_FREE, JAW_ASSUMPTION, JAW_OK, tell_term_free,
     "G54|Y|jaw", "corner"},
    {SAY_SQUARE_ASSUMED, JAW_ASSUMPTION, JAW_OK, tell_square_assumed,
     "stop|square", "second place"},
    {SAY_SQUARE_KNOWN, JAW_ASSUMPTION, JAW_OK, tell_square_known,
     "stop|0.057 deg", "second place"},
    {SAY_PLACE_ASSUMED, JAW_ASSUMPTION, JAW_OK, tell_place_assumed,
     "stop|y", "0.0100 mm"},
    {SAY_LEVEL_ASSUMED, JAW_ASSUMPTION, JAW_OK, tell_level_assumed,
     "top|level", "three"},
    {SAY_NO_HEIGHT, JAW_ERROR, JAW_EUNKNOWN, tell_no_height,
     "bed", "length"},
    {SAY_NO_REFERENCE, JAW_ERROR, JAW_EUNKNOWN, tell_no_reference,
     "G54|9", "top"},
    {SAY_TOOL_UNTOUCHED, JAW_ERROR, JAW_EUNKNOWN, tell_tool_untouched,
     "12", "touched"},
    {SAY_TOOL_NO_LENGTH, JAW_ERROR, JAW_EUNKNOWN, tell_tool_no_length,
     "12", "top"},
    {SAY_TOOL_NO_ZERO, JAW_ERROR, JAW_EUNKNOWN, tell_tool_no_zero,
     "12", "z"},
    {SAY_TIP_SIZE, JAW_DOUBT, JAW_OK, tell_tip_size,
     "hair|0.200 mm", "unit"},
    {SAY_TOOL_SIGN, JAW_DOUBT, JAW_OK, tell_tool_sign,
     "12|-80.000 mm", "sign"},
    {SAY_TOOL_CONFLICT, JAW_DOUBT, JAW_OK, tell_tool_conflict,
     "12|1.000 mm", "again"},
    {SAY_TOOL_SINCE, JAW_DOUBT, JAW_OK, tell_tool_since,
     "12|longer|1.000 mm|7", "worn"},
    {SAY_WAITS, JAW_ERROR, JAW_EUNKNOWN, tell_waits,
     "1", "jaw_book_fill"},
    {SAY_TOOL_SAME, JAW_DOUBT, JAW_OK, tell_tool_same,
     "13|puck|12", "copied"},
    {SAY_TOOL_TWICE, JAW_ERROR, JAW_ECONFLICT, tell_tool_twice,
     "12", "one entry"},
    {SAY_HEIGHT_CONFLICT, JAW_DOUBT, JAW_OK, tell_height_conflict,
     "puck|1.000 mm", "readings"},
    {SAY_ON_ITSELF, JAW_ERROR, JAW_ECONFLICT, tell_on_itself,
     "puck", "below"},
    {SAY_SQUARENESS, JAW_DOUBT, JAW_OK, tell_squareness,
     "stop|jaw|1.432 deg", "rows"},
    {SAY_ZERO_TWICE, JAW_ERROR, JAW_ECONFLICT, tell_zero_twice,
     "G54", "register"},
    {SAY_TIP_TWICE, JAW_ERROR, JAW_ECONFLICT, tell_tip_twice,
     "finder", "another name"},
    {SAY_NAME_TWICE, JAW_ERROR, JAW_ECONFLICT, tell_name_twice,
     "top", "another name"},
    {SAY_TIP_RUNOUT, JAW_DOUBT, JAW_OK, tell_tip_runout,
     "bent|0.507 mm", "unit"},
    {SAY_TIP_CORRELATION, JAW_ERROR, JAW_ECONFLICT, tell_tip_correlation,
     "stylus", "leave"},
    {SAY_SPINDLE, JAW_ASSUMPTION, JAW_OK, tell_spindle, "stylus", "turn it"},
    {SAY_SPREAD, JAW_DOUBT, JAW_OK, tell_spread, "scatter", "residuals"},
    {SAY_PARALLELS_HIGH, JAW_ERROR, JAW_ECONFLICT, tell_parallels,
     "bench|41.000 mm|40.000 mm", "lower"},
    {SAY_LITTLE_GRIP, JAW_DOUBT, JAW_OK, tell_grip, "bench|2.000 mm", "lower"},
    {SAY_BELOW_JAWS, JAW_DOUBT, JAW_OK, tell_below, "bench|6.000 mm",
     "higher"},
    {SAY_TOO_WIDE, JAW_DOUBT, JAW_OK, tell_wide, "bench|110.000 mm",
     "opening"},
    {SAY_LONG_STOCK, JAW_DOUBT, JAW_OK, tell_long, "bench|310.000 mm",
     "support"},
    {SAY_VISE_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_no_vise, "puck", "vise"},
    {SAY_JAW_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_no_fixed, "jow", "jaw"},
    {SAY_TOP_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_no_top, "jaw", "face"},
    {SAY_TOP_OFF, JAW_DOUBT, JAW_OK, tell_top_off, "top|0.1000 mm|blank",
     "chips"},
    {SAY_READING_REPEAT, JAW_ASSUMPTION, JAW_OK, tell_reading_repeat,
     "sweep|swept|0.0050 mm", "repeat"},
    {SAY_READING_OFF, JAW_DOUBT, JAW_OK, tell_reading_off,
     "reading 3|sweep|swept|0.050 mm|0.0020 mm", "clean"},
    {SAY_READINGS_SLIP, JAW_DOUBT, JAW_OK, tell_readings_slip,
     "dial|dialled|0.040 mm|0.0020 mm", "one more"},
    {SAY_DIAL_FAR, JAW_ERROR, JAW_ECONFLICT, tell_dial_far, "dialled",
     "diameter"},
    {SAY_BAR_STANDS, JAW_ERROR, JAW_ESIDE, tell_bar_stands, "post", "boss"},
    {SAY_ROUND_TIP, JAW_ERROR, JAW_EDOMAIN, tell_round_tip,
     "ball|target|finder", "web"},
    {SAY_BAR_RISES, JAW_ASSUMPTION, JAW_OK, tell_bar_rises,
     "shaft|1.001 mm|y+", "level"},
    {SAY_AFTER_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_after_unknown, "swept",
     "before"},
    {SAY_AFTER_OTHER, JAW_ERROR, JAW_ECONFLICT, tell_after_other,
     "stop|x+|swept|y-", "same wall"},
    {SAY_READINGS_FEW, JAW_ERROR, JAW_EFEW, tell_few_readings,
     "tram|head|3|2", "more"},
    {SAY_READINGS_RANK, JAW_ERROR, JAW_ERANK, tell_one_place, "tram|head",
     "spread"},
    {SAY_READINGS_ODD, JAW_ERROR, JAW_ECONFLICT, tell_odd_readings,
     "square|axes", "unit"},
    {SAY_READINGS_SCATTER, JAW_DOUBT, JAW_OK, tell_scatter,
     "tram|head|0.0020 mm", "clean"},
    {SAY_READINGS_CROWD, JAW_DOUBT, JAW_OK, tell_crowd, "tram|head",
     "spread"},
    {SAY_LEAN, JAW_DOUBT, JAW_OK, tell_lean, "head|1.718 deg", "radius"},
    {SAY_ARM_TRUE, JAW_ASSUMPTION, JAW_OK, tell_arm, "axes", "indicate"},
    {SAY_STATIONS_PLACE, JAW_ERROR, JAW_ERANK, tell_stations_place, "row",
     "rows"},
    {SAY_STATIONS_UNKNOWN, JAW_ERROR, JAW_EUNKNOWN, tell_stations_unknown,
     "raw", "row"},
    {SAY_STATION_HALF, JAW_ERROR, JAW_EUNKNOWN, tell_station_half, "G58|y alone",
     "`x`"},
    {SAY_STATIONS_NONE, JAW_ERROR, JAW_EFEW, tell_stations_none, "row", "lines"},
    {SAY_STATIONS_TURN, JAW_ERROR, JAW_EUNKNOWN, tell_stations_turn, "row",
     "turn"},
    {SAY_STATIONS_SAME, JAW_ERROR, JAW_ECONFLICT, tell_stations_same,
     "G54|G55|row", "station"},
    {SAY_STATIONS_SPACING, JAW_ASSUMPTION, JAW_OK, tell_stations_spacing,
     "row|0.0030 mm", "places known to"},
    {SAY_STATIONS_SCALE, JAW_DOUBT, JAW_OK, tell_stations_scale, "row|25.4",
     "inches"},
    {SAY_STATIONS_MIRRORED, JAW_DOUBT, JAW_OK, tell_stations_mirrored, "row",
     "signs"},
    {SAY_STATIONS_STEEP, JAW_DOUBT, JAW_OK, tell_stations_steep, "row|90.000",
     "which"},
    {SAY_STATION_OFF, JAW_DOUBT, JAW_OK, tell_station_off, "G57|0.5|row",
     "chips"},
    {SAY_STATIONS_OFF, JAW_DOUBT, JAW_OK, tell_stations_off, "row|0.500 mm",
     "touch one more"},
    {SAY_CUT_EXACT, JAW_ASSUMPTION, JAW_OK, tell_cut, "side one", "cut known to"},
};

static void say(const jaw_note *note)
{
    printf("%d: %s; %s\n", note->place.line, note->what, note->cure);
}

START_TEST(said)
{
    shop s;
    int hits = 0;
    start(&s);
    int line = cases[_i].tell(&s);
    solve(&s);
    for (size_t i = 0; i < jaw_notes_count(s.notes); i++) {
        const jaw_note *n = jaw_notes_get(s.notes, i);
        if (n->severity != cases[_i].severity ||
            !comes_from(n->what, formats[cases[_i].id].what) ||
            !comes_from(n->cure, formats[cases[_i].id].cure) ||
            n->place.line != line)
            continue;
        hits++;
        say(n);
        ck_status(n->status, cases[_i].status);
        ck_assert_str_eq(n->file, "");
        ck_assert_int_eq(n->place.column, line > 0 ? 1 : 0);
        ck_assert_msg(holds(n->what, cases[_i].what), "%s: %s", n->what,
                      cases[_i].what);
        ck_assert_msg(holds(n->cure, cases[_i].cure), "%s: %s", n->cure,
                      cases[_i].cure);
        ck_assert_ptr_null(strchr(n->what, '%'));
        ck_assert_ptr_null(strchr(n->cure, '%'));
    }
    if (hits != 1)
        print_notes(&s);
    ck_assert_msg(hits == 1, "%s was said %d times in line %d",
                  names[cases[_i].id], hits, line);
    if (cases[_i].severity == JAW_ERROR)
        ck_assert_int_ne(s.status, JAW_OK);
    shop_close(&s);
}
END_TEST

/* ------------------------------------------------------- told by a sheet */

#include "says_sheets.h"

/* The setup of a text; returned is the line that its @ marks. */
static int read_marked(shop *s, const char *marked)
{
    char text[2000], *mark;
    int line = 1;

    snprintf(text, sizeof text, "%s", marked);
    mark = strchr(text, '@');
    ck_assert_ptr_nonnull(mark);
    for (const char *c = text; c < mark; c++)
        line += *c == '\n';
    memmove(mark, mark + 1, strlen(mark));
    ck_status(jaw_sheet_read_text(text, strlen(text), "t.jaw", s->setup, NULL),
              JAW_OK);
    return line;
}

START_TEST(said_of_a_sheet)
{
    shop s;
    int hits = 0;
    shop_open(&s, JAW_MM);
    int line = read_marked(&s, sheets[_i].text);
    solve(&s);
    for (size_t i = 0; i < jaw_notes_count(s.notes); i++) {
        const jaw_note *n = jaw_notes_get(s.notes, i);
        if (n->severity != sheets[_i].severity ||
            !comes_from(n->what, formats[sheets[_i].id].what) ||
            !comes_from(n->cure, formats[sheets[_i].id].cure) ||
            n->place.line != line)
            continue;
        hits++;
        ck_status(n->status, sheets[_i].status);
        ck_assert_msg(holds(n->what, sheets[_i].what), "%s: %s", n->what,
                      sheets[_i].what);
        ck_assert_msg(holds(n->cure, sheets[_i].cure), "%s: %s", n->cure,
                      sheets[_i].cure);
    }
    if (hits != 1)
        print_notes(&s);
    ck_assert_msg(hits == 1, "%s was said %d times in line %d",
                  names[sheets[_i].id], hits, line);
    ck_assert_int_eq(s.status != JAW_OK, sheets[_i].severity == JAW_ERROR);
    shop_close(&s);
}
END_TEST

/* Doubts and assumptions alone leave the status good, and errors are told in
 * the order of their lines whatever was solved first. */
START_TEST(in_the_order_of_the_lines)
{
    shop s;
    start(&s);
    cases[_i].tell(&s);
    solve(&s);
    int line = 0;
    bool error = false;
    for (size_t i = 0; i < jaw_notes_count(s.notes); i++) {
        const jaw_note *n = jaw_notes_get(s.notes, i);
        if (n->place.line > 0) { /* what is said of the whole comes anywhere */
            ck_assert_int_ge(n->place.line, line);
            line = n->place.line;
        }
        error = error || n->severity == JAW_ERROR;
    }
    ck_assert((s.status != JAW_OK) == error);
    shop_close(&s);
}
END_TEST

/* Only a failure that no one foresaw can say these. */
static const enum jaw__message unforeseen[] = {SAY_FIT_OTHER, SAY_NO_JOINT};

START_TEST(every_message_has_a_case)
{
    for (int id = 0; id < JAW__MESSAGES; id++) {
        bool has = id == (int)unforeseen[0] || id == (int)unforeseen[1];
        for (int i = 0; i < COUNT(cases); i++)
            has = has || (int)cases[i].id == id;
        for (int i = 0; i < COUNT(sheets); i++)
            has = has || (int)sheets[i].id == id;
        ck_assert_msg(has, "%s has no case here", names[id]);
    }
}
END_TEST

START_TEST(the_unforeseen_can_be_said)
{
    jaw__solver sv = {.notes = jaw_notes_alloc()};
    jaw__tell(&sv, SAY_NO_JOINT, (jaw_place){0}, NULL);
    ck_status(sv.first, JAW_OK);
    jaw__tell(&sv, SAY_FIT_OTHER, (jaw_place){7, 2, 0}, NULL, "edge", "jaw",
              jaw_status_text(JAW_EDOMAIN));
    const jaw_note *n = jaw_notes_get(sv.notes, 1);
    ck_assert(holds(n->what, "edge|jaw|range"));
    ck_status(n->status, JAW_ENOCONV);
    ck_status(sv.first, JAW_ENOCONV);
    ck_assert(!sv.no_memory);
    jaw_notes_free(sv.notes);
}
END_TEST

/* ----------------------------------------------------- said in other places */

static size_t said_of(const shop *s, enum jaw__message id, int line)
{
    size_t hits = 0;
    for (size_t i = 0; i < jaw_notes_count(s->notes); i++) {
        const jaw_note *n = jaw_notes_get(s->notes, i);
        hits += n->place.line == line &&
                comes_from(n->what, formats[id].what) &&
                comes_from(n->cure, formats[id].cure);
    }
    return hits;
}

/* A missing tip name is missed wherever one is used. */
START_TEST(tip_unknown_in_a_contact)
{
    shop s;
    start(&s);
    setter(&s, "puck", -400, NOT, NULL);
    tip_touched(&s, "fonder", -300, "puck", 0);
    solve(&s);
    ck_assert_uint_eq(said_of(&s, SAY_TIP_UNKNOWN, s.line), 1);
    shop_close(&s);
}
END_TEST

START_TEST(names_unknown_elsewhere)
{
    shop s;
    start(&s);
    setter(&s, "block", NOT, 10, "tap");
    int block = s.line;
    top(&s);
    feature(&s, JAW_PATTERN, "dowels", NULL);
    hole(&s, 0, 0, 0, 0);
    hole_of(&s, 9, 9, "pilat");
    int row = s.line;
    jaw_tip_entry mill = {.name = "mill",
                          .tip = jaw_tip_make(JAW_TIP_CUTTER, 6),
                          .tool = 8, .place = shop_next(&s)};
    ck_status(jaw_setup_add_tip(s.setup, &mill), JAW_OK);
    int tool_line = s.line;
    zero(&s, "G54", (wanted){.turn = "jow", .along = JAW_X, .z = "tip"});
    solve(&s);
    ck_assert_uint_eq(said_of(&s, SAY_SURFACE_UNKNOWN, block), 1);
    ck_assert_uint_eq(said_of(&s, SAY_FEATURE_UNKNOWN, row), 1);
    ck_assert_uint_eq(said_of(&s, SAY_TOOL_UNKNOWN, tool_line), 1);
    ck_assert_uint_eq(said_of(&s, SAY_FEATURE_UNKNOWN, s.line - 1), 1);
    ck_assert_uint_eq(said_of(&s, SAY_FEATURE_UNKNOWN, s.line), 1);
    shop_close(&s);
}
END_TEST

/* Rows of every kind outside the travel: touches, places, heights, zeros. */
START_TEST(travel_of_every_reading)
{
    shop s;
    start(&s);
    jaw_control c = *jaw_setup_control(s.setup);
    c.low = (jaw_vec3){0, -300, -400};
    c.high = (jaw_vec3){500, 0, 0};
    ck_status(jaw_setup_set_control(s.setup, &c), JAW_OK);
    feature(&s, JAW_FACE, "top", "finder");
    touch(&s, NOT, NOT, 200);
    ck_assert_int_eq(s.line, 3);
    feature(&s, JAW_PATTERN, "dowels", NULL);
    hole(&s, 0, 0, 10, -10);
    hole(&s, 50, 0, 60, 10); /* 6 */
    setter(&s, "puck", -450, NOT, NULL);
    tool(&s, 1, NOT);
    touched(&s, 1, 320, "puck", 0); /* 9 */
    edge(&s, "stop", "finder", JAW_SIDE_XMINUS);
    touch(&s, 499, -30, NOT);
    zero(&s, "G54", (wanted){.x = "stop"}); /* 12 */
    solve(&s);
    static const int lines[] = {3, 6, 9, 12};
    for (int i = 0; i < 4; i++)
        ck_assert_msg(said_of(&s, SAY_TRAVEL, lines[i]) == 1, "line %d",
                      lines[i]);
    shop_close(&s);
}
END_TEST

/* A name as long as any does not overrun what is said. */
START_TEST(long_names)
{
    char name[3001];
    shop s;
    memset(name, 'n', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    start(&s);
    feature(&s, JAW_EDGE, name, name);
    touch(&s, 1, 2, NOT);
    tip(&s, name, JAW_TIP_PIN, 6, 0.005, NOT);
    name[2999] = '\0';
    setter(&s, name, NOT, 5, name);
    zero(&s, name, (wanted){.turn = name, .along = JAW_X, .x = name,
                            .y = name, .z = name});
    solve(&s);
    ck_assert_uint_ge(severe(&s, JAW_ERROR), 4);
    for (size_t i = 0; i < jaw_notes_count(s.notes); i++)
        ck_assert_uint_lt(strlen(jaw_notes_get(s.notes, i)->what), 1000);
    shop_close(&s);
}
END_TEST

/* Nobody listens: the same status and values. */
START_TEST(without_notes)
{
    shop s;
    start(&s);
    cases[_i].tell(&s);
    solve(&s);
    jaw_solution *quiet;
    ck_status(jaw_setup_solve(s.setup, NULL, &quiet), s.status);
    size_t n, m;
    const jaw_zero_found *a = jaw_solution_zeros(s.solution, &n);
    const jaw_zero_found *b = jaw_solution_zeros(quiet, &m);
    ck_assert_uint_eq(n, m);
    for (size_t i = 0; i < n; i++)
        ck_assert_mem_eq(&a[i].zero, &b[i].zero, sizeof a[i].zero);
    jaw_solution_free(quiet);
    shop_close(&s);
}
END_TEST

TCase *says_case(void)
{
    TCase *tc = tcase_create("says");
    tcase_add_loop_test(tc, said, 0, COUNT(cases));
    tcase_add_loop_test(tc, in_the_order_of_the_lines, 0, COUNT(cases));
    tcase_add_loop_test(tc, without_notes, 0, COUNT(cases));
    tcase_add_loop_test(tc, said_of_a_sheet, 0, COUNT(sheets));
    tcase_add_test(tc, every_message_has_a_case);
    tcase_add_test(tc, the_unforeseen_can_be_said);
    tcase_add_test(tc, tip_unknown_in_a_contact);
    tcase_add_test(tc, names_unknown_elsewhere);
    tcase_add_test(tc, travel_of_every_reading);
    tcase_add_test(tc, long_names);
    return tc;
}
