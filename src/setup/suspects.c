/* SPDX-License-Identifier: GPL-3.0-or-later */
/* suspects.c: several bad touches of one feature.  Chips come in pairs, and two
 * slips that pull the same way hide one another from a test of one touch at a
 * time; a robust fit looks for what most of the touches agree on (trust.h). */
#include "joint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* With fewer there is no majority to speak of, and beyond, ordering is slow. */
enum { TOUCHES_MIN = 6, TOUCHES_MAX = 1000, NAMED_MAX = 8 };

static bool takes_robust(const jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;

    if (found->n < TOUCHES_MIN || found->n > TOUCHES_MAX)
        return false;
    if (found->kind != JAW_EDGE && found->kind != JAW_BORE &&
        found->kind != JAW_BOSS)
        return false;
    for (size_t i = 0; i < found->n; i++)
        if (isnan(t[i].x) || isnan(t[i].y))
            return false;
    return true;
}

static jaw_status find_suspects(const jaw__solver *sv, size_t f,
                                bool suspect[], jaw_robust *robust)
{
    const jaw_found *found = &sv->out->features[f];
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;
    jaw_vec2 *p = malloc(found->n * sizeof *p);
    jaw_status status = JAW_ENOMEM;
    jaw_line line;
    jaw_circle circle;

    if (p == NULL)
        return status;
    jaw__came came = jaw__came_of(sv, f);
    double h[4];
    jaw__harmonics_now(sv, &sv->setup->features[f], h);
    for (size_t i = 0; i < found->n; i++) {
        double a = jaw__approach(&came, t[i], true);
        double on = jaw_tip_harmonics(h, a, NULL);
        p[i] = (jaw_vec2){t[i].x + on * cos(a), t[i].y + on * sin(a)};
    }
    if (found->kind == JAW_EDGE)
        status = jaw_robust_line(p, found->n, found->repeat, suspect, &line,
                                 robust);
    else
        status = jaw_robust_circle(p, found->n, found->repeat, suspect,
                                   &circle, robust);
    free(p);
    return status;
}

/* "3, 4 and 7"; cut with dots when there are many. */
static void name_suspects(const bool suspect[], size_t n, size_t count,
                          char *text, size_t size)
{
    size_t at = 0, named = 0;

    text[0] = '\0';
    for (size_t i = 0; i < n && named < NAMED_MAX; i++) {
        if (!suspect[i])
            continue;
        named++;
        const char *sep = named == 1 ? "" : named == count ? " and " : ", ";
        int used = snprintf(text + at, size - at, "%s%zu", sep, i + 1);
        at += used > 0 && (size_t)used < size - at ? (size_t)used : 0;
    }
    if (count > NAMED_MAX)
        snprintf(text + at, size - at, " ...");
}

bool jaw__tell_suspects(jaw__solver *sv, size_t f)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    size_t n = sv->out->features[f].n;
    jaw_robust robust;
    char named[120];

    if (!takes_robust(sv, f))
        return false;
    bool *suspect = calloc(n, sizeof *suspect);
    jaw_status status = suspect == NULL ? JAW_ENOMEM
                                        : find_suspects(sv, f, suspect,
                                                        &robust);
    if (status == JAW_ENOMEM)
        sv->no_memory = true;
    bool several = status == JAW_OK && robust.suspects > 1;
    if (several) {
        name_suspects(suspect, n, robust.suspects, named, sizeof named);
        jaw__tell(sv, SAY_SUSPECTS, e->place, NULL, named,
                  jaw_feature_word(e->kind), e->name, n - robust.suspects);
    }
    free(suspect);
    return several;
}
