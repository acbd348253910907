/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.c: numbers, flags and JSON values as all reports show them. */
#include "cautions.h"
#include "parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* -------------------------------------------------------------------- text */

jaw__scale jaw__scale_of(const jaw_control *control)
{
    double step = control->step / jaw_unit_mm(control->unit);
    return (jaw__scale){control->unit, jaw_step_decimals(step)};
}

void jaw__put_length(jaw__buffer *b, jaw__scale scale, double mm, int width)
{
    jaw__buffer_number(b, mm / jaw_unit_mm(scale.unit), scale.decimals, width);
}

void jaw__put_fine(jaw__buffer *b, jaw__scale scale, double mm, int width)
{
    jaw__buffer_number(b, mm / jaw_unit_mm(scale.unit), scale.decimals + 1,
                       width);
}

void jaw__put_angle(jaw__buffer *b, double rad, int width)
{
    jaw__buffer_number(b, jaw_deg(rad), JAW__ANGLE_DECIMALS, width);
}

void jaw__put_first(jaw__buffer *b, bool colour)
{
    jaw__buffer_colour(b, colour, "1;33");
    jaw__buffer_text(b, "look at this first:");
    jaw__buffer_colour(b, colour, NULL);
    jaw__buffer_text(b, " ");
}

int jaw__put_register(jaw__buffer *b, const char *name, const char *word)
{
    int over = (int)strlen(name) - 7;

    jaw__buffer_printf(b, "  %-8s%s%-6s", name, over > 0 ? " " : "", word);
    return over > 0 ? over : 0;
}

void jaw__put_cautions(jaw__buffer *b)
{
    static const char *const text[] = {
#define LINE(s) s,
        JAW__CAUTION_LIST(LINE)
#undef LINE
    };

    for (size_t i = 0; i < sizeof text / sizeof text[0]; i++)
        jaw__buffer_paragraph(b, text[i], 2);
}

void jaw__put_flags(jaw__buffer *b, unsigned flags, bool doubts, bool colour)
{
    for (unsigned flag = 1; flag && flag <= flags; flag <<= 1) {
        if (!(flags & flag) || flag == JAW_NO_CHECK || !jaw_flag_text(flag) ||
            jaw_flag_is_doubt(flag) != doubts)
            continue;
        if (doubts)
            jaw__put_first(b, colour);
        else
            jaw__buffer_text(b, "note: ");
        jaw__buffer_printf(b, "%s\n", jaw_flag_text(flag));
    }
}

const char *jaw__row_word(jaw_feature_kind kind)
{
    return kind == JAW_PATTERN                       ? "place"
           : kind == JAW_SWEEP || kind == JAW_DIAL ? "reading"
                                                     : "touch";
}

bool jaw__found_no_check(const jaw_found *found)
{
    return found->dof < 1 || (found->flags & JAW_NO_CHECK) || isnan(found->rms);
}

/* -------------------------------------------------------------------- JSON */

json_t *jaw__json_real(double value)
{
    /* + 0.0 takes the sign off a zero: "-0.0" looks as if it meant something */
    return isfinite(value) ? json_real(value + 0.0) : json_null();
}

json_t *jaw__json_length(double mm, jaw_unit unit)
{
    return jaw__json_real(mm / jaw_unit_mm(unit));
}

json_t *jaw__json_degrees(double rad)
{
    return jaw__json_real(jaw_deg(rad));
}

/* How many bytes of UTF-8 begin here; 0 when they are none.  Unicode 15,
 * table 3-7: no overlong forms, no surrogates, nothing above 10FFFF. */
static size_t utf8_length(const unsigned char *s)
{
    unsigned char low = 0x80, high = 0xbf;
    if (s[0] < 0x80)
        return 1;
    size_t n = s[0] >= 0xc2 && s[0] <= 0xdf   ? 2
               : s[0] >= 0xe0 && s[0] <= 0xef ? 3
               : s[0] >= 0xf0 && s[0] <= 0xf4 ? 4
                                              : 0;
    if (s[0] == 0xe0)
        low = 0xa0;
    if (s[0] == 0xed)
        high = 0x9f;
    if (s[0] == 0xf0)
        low = 0x90;
    if (s[0] == 0xf4)
        high = 0x8f;
    for (size_t i = 1; i < n; i++) {
        if (s[i] < low || s[i] > high)
            return 0;
        low = 0x80;
        high = 0xbf;
    }
    return n;
}

/* A sheet may hold any bytes and JSON may not: those that are no UTF-8 become
 * `?`. */
json_t *jaw__json_text(const char *text)
{
    if (!text)
        return json_null();
    size_t len = strlen(text);
    char *copy = malloc(len + 1);
    if (!copy)
        return NULL;
    memcpy(copy, text, len + 1);
    for (size_t i = 0; i < len;) {
        size_t n = utf8_length((const unsigned char *)copy + i);
        if (n == 0)
            copy[i] = '?';
        i += n ? n : 1;
    }
    json_t *json = json_stringn(copy, len);
    free(copy);
    return json;
}

void jaw__json_put(json_t *object, const char *key, json_t *value, bool *failed)
{
    if (json_object_set_new(object, key, value) != 0)
        *failed = true;
}

void jaw__json_push(json_t *array, json_t *value, bool *failed)
{
    if (json_array_append_new(array, value) != 0)
        *failed = true;
}

/* An array of n values; NULL when one of them is, or it is, out of memory. */
static json_t *array_of(json_t *value[], size_t n)
{
    json_t *array = json_array();
    bool failed = !array;
    for (size_t i = 0; i < n; i++)
        jaw__json_push(array, value[i], &failed);
    if (!failed)
        return array;
    json_decref(array);
    return NULL;
}

json_t *jaw__json_flags(unsigned flags)
{
    json_t *value[8 * sizeof flags];
    size_t n = 0;
    for (unsigned flag = 1; flag && flag <= flags; flag <<= 1)
        if ((flags & flag) && jaw_flag_word(flag))
            value[n++] = json_string(jaw_flag_word(flag));
    return array_of(value, n);
}

json_t *jaw__json_point(jaw_vec2 p, jaw_unit unit)
{
    json_t *value[] = {jaw__json_length(p.x, unit),
                       jaw__json_length(p.y, unit)};
    return array_of(value, 2);
}

json_t *jaw__json_direction(jaw_vec2 v)
{
    json_t *value[] = {jaw__json_real(v.x), jaw__json_real(v.y)};
    if (!isnan(v.x) && !isnan(v.y))
        return array_of(value, 2);
    json_decref(value[0]);
    json_decref(value[1]);
    return json_null();
}

static json_t *triple(double x, double y, double z)
{
    json_t *value[] = {jaw__json_real(x), jaw__json_real(y), jaw__json_real(z)};
    return array_of(value, 3);
}

static void put_face(json_t *object, const jaw_face *face, jaw_unit unit,
                     bool *failed)
{
    double mm = jaw_unit_mm(unit);
    jaw_vec3 p = face->point, n = face->normal;
    jaw__json_put(object, "normal", triple(n.x, n.y, n.z), failed);
    jaw__json_put(object, "point", triple(p.x / mm, p.y / mm, p.z / mm),
                  failed);
    jaw__json_put(object, "slope", jaw__json_direction(face->slope), failed);
}

static void put_edge(json_t *object, const jaw_edge *edge, jaw_unit unit,
                     bool *failed)
{
    jaw__json_put(object, "point", jaw__json_point(edge->point, unit), failed);
    jaw__json_put(object, "direction_deg", jaw__json_degrees(edge->theta),
                  failed);
    jaw__json_put(object, "normal", jaw__json_direction(edge->normal), failed);
}

static void put_round(json_t *object, const jaw_round *r, jaw_unit unit,
                      bool *failed)
{
    jaw__json_put(object, "centre", jaw__json_point(r->centre, unit), failed);
    jaw__json_put(object, "diameter", jaw__json_length(r->diameter, unit),
                  failed);
}

static void put_walls(json_t *object, const jaw_walls *w, jaw_unit unit,
                      bool *failed)
{
    jaw__json_put(object, "middle", jaw__json_point(w->middle, unit), failed);
    jaw__json_put(object, "width", jaw__json_length(w->width, unit), failed);
    jaw__json_put(object, "direction_deg", jaw__json_degrees(w->theta),
                  failed);
}

static void put_pattern(json_t *object, const jaw_pattern *p, jaw_unit unit,
                        bool *failed)
{
    jaw__json_put(object, "origin", jaw__json_point(p->frame.origin, unit),
                  failed);
    jaw__json_put(object, "turn_deg", jaw__json_degrees(p->frame.turn), failed);
    jaw__json_put(object, "scale", jaw__json_real(p->scale), failed);
}

static void put_ball(json_t *object, const jaw_ball *b, jaw_unit unit,
                     bool *failed)
{
    double mm = jaw_unit_mm(unit);
    jaw_vec3 c = b->centre;
    jaw__json_put(object, "centre", triple(c.x / mm, c.y / mm, c.z / mm),
                  failed);
    jaw__json_put(object, "diameter", jaw__json_length(b->diameter, unit),
                  failed);
}

static void put_bar(json_t *object, const jaw_bar *b, jaw_unit unit,
                    bool *failed)
{
    double mm = jaw_unit_mm(unit);
    jaw_vec3 p = b->point, a = b->axis;
    jaw__json_put(object, "point", triple(p.x / mm, p.y / mm, p.z / mm),
                  failed);
    jaw__json_put(object, "axis", triple(a.x, a.y, a.z), failed);
    jaw__json_put(object, "direction_deg", jaw__json_degrees(b->theta),
                  failed);
    jaw__json_put(object, "slope", jaw__json_real(b->slope), failed);
    jaw__json_put(object, "diameter", jaw__json_length(b->diameter, unit),
                  failed);
}

static void put_sweep(json_t *object, const jaw_swept_edge *s, jaw_unit unit,
                      bool *failed)
{
    jaw__json_put(object, "direction_deg", jaw__json_degrees(s->theta),
                  failed);
    jaw__json_put(object, "skew_deg", jaw__json_degrees(s->skew), failed);
    jaw__json_put(object, "straightness", jaw__json_length(s->straight, unit),
                  failed);
    jaw__json_put(object, "span", jaw__json_length(s->span, unit), failed);
}

static void put_dial(json_t *object, const jaw_swept_centre *d, jaw_unit unit,
                     bool *failed)
{
    jaw__json_put(object, "centre", jaw__json_point(d->centre, unit), failed);
    jaw__json_put(object, "shift", jaw__json_point(d->shift, unit), failed);
    jaw__json_put(object, "roundness", jaw__json_length(d->roundness, unit),
                  failed);
    jaw__json_put(object, "second_order", jaw__json_length(d->second, unit),
                  failed);
}

void jaw__json_found(json_t *object, const jaw_found *found, jaw_unit unit,
                     bool *failed)
{
    switch (found->kind) {
    case JAW_EDGE:
        put_edge(object, &found->as.edge, unit, failed);
        break;
    case JAW_FACE:
        put_face(object, &found->as.face, unit, failed);
        break;
    case JAW_BORE:
    case JAW_BOSS:
        put_round(object, &found->as.round, unit, failed);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        put_walls(object, &found->as.walls, unit, failed);
        break;
    case JAW_BALL:
        put_ball(object, &found->as.ball, unit, failed);
        break;
    case JAW_BAR:
        put_bar(object, &found->as.bar, unit, failed);
        break;
    case JAW_SWEEP:
        put_sweep(object, &found->as.sweep, unit, failed);
        break;
    case JAW_DIAL:
        put_dial(object, &found->as.dial, unit, failed);
        break;
    default:
        put_pattern(object, &found->as.pattern, unit, failed);
        break;
    }
    json_t *residuals = json_array();
    for (size_t i = 0; found->resid && i < found->n; i++)
        jaw__json_push(residuals, jaw__json_length(found->resid[i], unit),
                       failed);
    jaw__json_put(object, "residuals", residuals, failed);
    jaw__json_put(object, "rms", jaw__json_length(found->rms, unit), failed);
    jaw__json_put(object, "dof", json_integer(found->dof), failed);
}

static int add_to_buffer(const char *text, size_t len, void *buffer)
{
    jaw__buffer *b = buffer;
    jaw__buffer_add(b, text, len);
    return b->failed ? -1 : 0;
}

/* By way of our own buffer: jansson may have been given another malloc, and
 * the caller frees with free(). */
char *jaw__json_take(json_t *object, bool failed)
{
    jaw__buffer b = {0};
    if (failed || !object ||
        json_dump_callback(object, add_to_buffer, &b,
                           JSON_REAL_PRECISION(17)) != 0)
        b.failed = true;
    json_decref(object);
    jaw__buffer_text(&b, "\n");
    return jaw__buffer_take(&b);
}
