/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tell.c: what solving a setup says: notes in the words of messages.h, lines of
 * working, and numbers as text in the control's units. */
#include "solve.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

static const struct {
    jaw_severity severity;
    jaw_status status;
    const char *what, *cure;
} messages[JAW__MESSAGES] = {
#define MESSAGE_ROW(id, severity, status, what, cure)                          \
    [id] = {severity, status, what, cure},
    JAW__SETUP_MESSAGES(MESSAGE_ROW)
#undef MESSAGE_ROW
};

static const bool spoils[JAW__MESSAGES] = {
#define SPOILS_ROW(id) [id] = true,
    JAW__SPOILING_MESSAGES(SPOILS_ROW)
#undef SPOILS_ROW
};

/* The formats are the literals of messages.h, so they may be passed on. */
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
#endif

void jaw__tell(jaw__solver *sv, enum jaw__message id, jaw_place place,
              const char *hint, ...)
{
    char what[400], cure[300];
    va_list args;

    va_start(args, hint);
    vsnprintf(what, sizeof what, messages[id].what, args);
    va_end(args);
    snprintf(cure, sizeof cure, messages[id].cure, hint == NULL ? "" : hint);
    if (sv->first == JAW_OK)
        sv->first = messages[id].status;
    sv->slip_said = sv->slip_said || spoils[id];
    if (jaw_notes_add(sv->notes, messages[id].severity, messages[id].status,
                      NULL, place, NULL, cure, "%s", what) != JAW_OK)
        sv->no_memory = true;
}

#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

void jaw__step(jaw__solver *sv, double value, jaw_quantity quantity,
               const char *format, ...)
{
    jaw_solution *out = sv->out;
    char text[300];
    va_list args;
    bool ok = true;

    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    const char *copy = jaw__pool_text(&out->names, text, &ok);
    jaw_step *steps =
        jaw__grow(out->steps, out->n_steps, &out->room_steps, sizeof *steps);
    if (steps != NULL)
        out->steps = steps;
    size_t *of = jaw__grow(out->step_of, out->n_steps, &out->room_step_of,
                           sizeof *out->step_of);
    if (of != NULL)
        out->step_of = of;
    if (!ok || steps == NULL || of == NULL) {
        sv->no_memory = true;
        return;
    }
    of[out->n_steps] = sv->step_of;
    steps[out->n_steps++] = (jaw_step){copy, value, quantity};
}

static jaw__text length_text(const jaw__solver *sv, double mm, int more)
{
    const jaw_control *control = &sv->setup->control;
    double unit = jaw_unit_mm(control->unit);
    char number[48];
    jaw__text text;

    jaw_number_write(mm / unit, jaw_step_decimals(control->step / unit) + more,
                     number, sizeof number);
    snprintf(text.s, sizeof text.s, "%s %s", number,
             jaw_unit_word(control->unit));
    return text;
}

jaw__text jaw__length_text(const jaw__solver *sv, double mm)
{
    return length_text(sv, mm, 0);
}

jaw__text jaw__fine_text(const jaw__solver *sv, double mm)
{
    return length_text(sv, mm, 1);
}

jaw__text jaw__angle_text(double rad)
{
    char number[48];
    jaw__text text;

    jaw_number_write(jaw_deg(rad), 3, number, sizeof number);
    snprintf(text.s, sizeof text.s, "%s deg", number);
    return text;
}
