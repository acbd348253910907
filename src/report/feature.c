/* SPDX-License-Identifier: GPL-3.0-or-later */
/* feature.c: one feature without a setup: what was found, then how good. */
#include "parts.h"

#include <math.h>

/* More residuals than this are no longer read; the largest are. */
enum { SHOWN = 60 };

static const char *sense(const jaw_found *found)
{
    switch (found->kind) {
    case JAW_EDGE:
        return found->flags & JAW_SIDE_NOT_STATED
                   ? "how far each touch lies off the wall (+ to the left of "
                     "its direction)"
                   : "how far each touch lies off the wall (+ outward)";
    case JAW_FACE:
        return "how far each touch lies off the face (+ above)";
    case JAW_BORE:
    case JAW_BOSS:
        return "how far each touch lies off the wall (+ away from the centre)";
    case JAW_SLOT:
    case JAW_WEB:
        return "how far each touch lies off its wall (+ to the left of the "
               "direction)";
    case JAW_BALL:
    case JAW_BAR:
        return "how far each touch lies off the surface (+ outward)";
    case JAW_SWEEP:
    case JAW_DIAL:
        return "how much more each reading is than it should be";
    default:
        return "how far each place lies from where it belongs";
    }
}

static void put_row(jaw__buffer *b, const char *name, const char *axis,
                    jaw__scale scale, double mm)
{
    jaw__buffer_printf(b, "%-12s%-2s", name, axis);
    jaw__put_length(b, scale, mm, 12);
    jaw__buffer_text(b, "\n");
}

static void put_angle_row(jaw__buffer *b, const char *name, double rad)
{
    jaw__buffer_printf(b, "%-12s  ", name);
    jaw__put_angle(b, rad, 12);
    jaw__buffer_text(b, " deg  (+ is counter-clockwise from X)\n");
}

static void put_place(jaw__buffer *b, const char *name, jaw__scale scale,
                      jaw_vec2 p)
{
    put_row(b, name, "x", scale, p.x);
    put_row(b, "", "y", scale, p.y);
}

static void put_plain(jaw__buffer *b, const char *name, const char *axis,
                      double value, int decimals, const char *end)
{
    jaw__buffer_printf(b, "%-12s%-2s", name, axis);
    jaw__buffer_number(b, value, decimals, 12);
    jaw__buffer_text(b, end);
}

static void put_face(jaw__buffer *b, const jaw_face *face, jaw__scale scale)
{
    put_row(b, "on the face", "x", scale, face->point.x);
    put_row(b, "", "y", scale, face->point.y);
    put_row(b, "", "z", scale, face->point.z);
    if (face->flags & JAW_LEVEL_ASSUMED)
        return;
    put_plain(b, "rises by", "", face->slope.x, 6, "");
    jaw__buffer_printf(b, "  for each %s along x\n", jaw_unit_word(scale.unit));
    put_plain(b, "", "", face->slope.y, 6, "");
    jaw__buffer_printf(b, "  for each %s along y\n", jaw_unit_word(scale.unit));
}

static jaw_side side_of(jaw_vec2 n)
{
    if (fabs(n.x) > fabs(n.y))
        return n.x > 0 ? JAW_SIDE_XPLUS : JAW_SIDE_XMINUS;
    return n.y > 0 ? JAW_SIDE_YPLUS : JAW_SIDE_YMINUS;
}

static void put_edge(jaw__buffer *b, const jaw_edge *edge, jaw__scale scale)
{
    put_place(b, "on the wall", scale, edge->point);
    put_angle_row(b, "direction", edge->theta);
    if (!isnan(edge->normal.x))
        jaw__buffer_printf(b, "%-12s  %12s\n", "faces",
                           jaw_side_word(side_of(edge->normal)));
}

static void put_ball(jaw__buffer *b, const jaw_ball *ball, jaw__scale scale)
{
    put_row(b, "centre", "x", scale, ball->centre.x);
    put_row(b, "", "y", scale, ball->centre.y);
    put_row(b, "", "z", scale, ball->centre.z);
    put_row(b, "diameter", "", scale, ball->diameter);
}

static void put_bar(jaw__buffer *b, const jaw_bar *bar, jaw__scale scale)
{
    put_row(b, "on the axis", "x", scale, bar->point.x);
    put_row(b, "", "y", scale, bar->point.y);
    put_row(b, "", "z", scale, bar->point.z);
    put_row(b, "diameter", "", scale, bar->diameter);
    put_angle_row(b, "direction", bar->theta);
    put_plain(b, "rises by", "", bar->slope, 6, "");
    jaw__buffer_printf(b, "  for each %s along its direction\n",
                       jaw_unit_word(scale.unit));
}

static void put_found(jaw__buffer *b, const jaw_found *found, jaw__scale scale)
{
    switch (found->kind) {
    case JAW_EDGE:
        put_edge(b, &found->as.edge, scale);
        break;
    case JAW_FACE:
        put_face(b, &found->as.face, scale);
        break;
    case JAW_BORE:
    case JAW_BOSS:
        put_place(b, "centre", scale, found->as.round.centre);
        put_row(b, "diameter", "", scale, found->as.round.diameter);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        put_place(b, "middle", scale, found->as.walls.middle);
        put_row(b, "width", "", scale, found->as.walls.width);
        put_angle_row(b, "direction", found->as.walls.theta);
        break;
    case JAW_BALL: put_ball(b, &found->as.ball, scale); break;
    case JAW_BAR: put_bar(b, &found->as.bar, scale); break;
    case JAW_SWEEP:
        put_angle_row(b, "skew", found->as.sweep.skew);
        put_row(b, "straight", "", scale, found->as.sweep.straight);
        break;
    case JAW_DIAL:
        put_place(b, "centre", scale, found->as.dial.centre);
        put_place(b, "move by", scale, found->as.dial.shift);
        break;
    default:
        put_place(b, "origin", scale, found->as.pattern.frame.origin);
        put_angle_row(b, "turn", found->as.pattern.frame.turn);
        put_plain(b, "spacing", "", found->as.pattern.scale, 6,
                  "  of what the drawing has\n");
        break;
    }
}

static void put_quality_row(jaw__buffer *b, const char *name, jaw__scale scale,
                            double mm)
{
    jaw__buffer_printf(b, "%-12s  ", name);
    jaw__put_fine(b, scale, mm, 13);
}

static void put_quality(jaw__buffer *b, const jaw_found *found,
                        jaw__scale scale)
{
    const char *touch = jaw__row_word(found->kind);
    if (jaw__found_no_check(found)) {
        jaw__buffer_printf(b, "no check (%s)\n", jaw_flag_text(JAW_NO_CHECK));
        return;
    }
    if (found->n <= SHOWN)
        jaw__buffer_printf(b, "%s:\n", sense(found));
    for (size_t i = 0; found->n <= SHOWN && i < found->n; i++) {
        jaw__buffer_printf(b, "  %s %-4zu  ", touch, i + 1);
        jaw__put_fine(b, scale, found->resid[i], 13);
        jaw__buffer_text(b, "\n");
    }
    put_quality_row(b, "rms", scale, found->rms);
    jaw__buffer_text(b, "\n");
    put_quality_row(b, "largest", scale, found->resid[found->largest]);
    jaw__buffer_printf(b, "  at %s %zu\n", touch, found->largest + 1);
}

char *jaw_report_feature_text(const jaw_found *found, jaw_unit unit,
                              jaw_report_style style)
{
    jaw__buffer b = {0};
    jaw_control control = jaw_control_default(unit);
    jaw__scale scale = jaw__scale_of(&control);
    jaw__put_flags(&b, found->flags, true, style.colour);
    jaw__buffer_printf(&b, "%s from %zu %s, %s\n",
                       jaw_feature_word(found->kind), found->n,
                       found->kind == JAW_PATTERN ? "places"
                       : jaw__row_word(found->kind)[0] == 'r' ? "readings"
                       : found->n == 1                        ? "touch"
                                                              : "touches",
                       jaw_unit_word(unit));
    put_found(&b, found, scale);
    put_quality(&b, found, scale);
    jaw__put_flags(&b, found->flags, false, style.colour);
    return jaw__buffer_take(&b);
}

char *jaw_report_feature_json(const jaw_found *found, jaw_unit unit,
                              jaw_report_style style)
{
    (void)style;
    bool failed = false;
    json_t *object = json_object();
    jaw__json_put(object, "kind",
                  jaw__json_text(jaw_feature_word(found->kind)), &failed);
    jaw__json_put(object, "unit", jaw__json_text(jaw_unit_word(unit)), &failed);
    jaw__json_found(object, found, unit, &failed);
    jaw__json_put(object, "flags", jaw__json_flags(found->flags), &failed);
    return jaw__json_take(object, failed);
}
