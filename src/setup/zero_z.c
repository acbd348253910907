/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zero_z.c: Z of a work zero: a face's height, by the control's convention for
 * lengths. */
#include "zero.h"

#include <stdio.h>

typedef jaw__zero_work zero_work;

static jaw_place place_of(const zero_work *w)
{
    return w->e->datums != NULL ? w->e->datums_place : w->e->term[JAW_Z].place;
}

/* The node whose value, with the face's, makes this zero's Z. */
static bool z_by_rule(zero_work *w, const jaw__node *face, double at,
                      const char *name)
{
    const jaw_control *c = &w->sv->setup->control;
    long tool = jaw__find_tool(w->sv->setup, c->reference);
    double z = face->value - at;

    if (c->lengths == JAW_REFERENCE_TOOL) {
        const jaw__node *ref =
            tool == JAW__NOWHERE
                ? NULL
                : &w->sv->nodes[jaw__tool_node(w->sv, (size_t)tool)];
        if (ref == NULL || ref->chain != face->chain) {
            char hint[64];
            snprintf(hint, sizeof hint, "'%.50s'", name);
            jaw__tell(w->sv, SAY_NO_REFERENCE, place_of(w), hint,
                     w->e->name, c->reference);
            jaw__zero_fail(w, JAW_EUNKNOWN);
            return false;
        }
        jaw__step(w->sv, -ref->value, JAW_LENGTH,
                  "Z  length of reference tool %d%s", c->reference,
                  ref->grounded ? "" : ", in the same chain of touches");
        w->z->zero.z = z - ref->value;
        return true;
    }
    if (!face->grounded) {
        jaw__tell(w->sv, SAY_NO_HEIGHT, place_of(w), NULL, name);
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return false;
    }
    w->z->zero.z = z;
    return true;
}

/* Tip to part: the registers of the tools carry the first zero's height, so its
 * own Z is 0, and that of the others is the difference. */
static bool z_tip_to_part(zero_work *w, const jaw__node *face, double at,
                          const char *name)
{
    size_t node;
    const jaw_zero_entry *first = jaw__first_height(w->sv, &node);

    if (first != NULL && w->sv->nodes[node].chain == face->chain) {
        w->z->zero.z = (face->value - at) -
                       (w->sv->nodes[node].value - first->term[JAW_Z].at);
        jaw__step(w->sv, w->z->zero.z, JAW_LENGTH,
                  "Z  against %s, whose height the tool registers carry",
                  first->name);
        return true;
    }
    if (w->e->datums != NULL)
        jaw__tell(w->sv, SAY_DATUM_NO_BASE, place_of(w), NULL, w->e->name);
    else
        jaw__tell(w->sv, SAY_NO_HEIGHT, place_of(w), NULL, name);
    jaw__zero_fail(w, JAW_EUNKNOWN);
    return false;
}

/* A setter needs no touches of its own. */
static const jaw__node *height_of(zero_work *w, const jaw_zero_term *term,
                                  const char **kind)
{
    size_t node;
    long index;

    *kind = "surface";
    if (jaw__height_node(w->sv, term->feature, &node) &&
        node >= w->sv->setup->n_features)
        return &w->sv->nodes[node];
    const jaw_found *f =
        jaw__zero_feature(w, term->feature, term->place, "Z", &index);
    if (f == NULL)
        return NULL;
    *kind = f->kind == JAW_BALL  ? "the centre of ball"
            : f->kind == JAW_BAR ? "the axis, at the mean of the touches, of bar"
                                 : "face";
    if (jaw__has_height(f->kind))
        return &w->sv->nodes[jaw__feature_node(w->sv, (size_t)index)];
    jaw__tell(w->sv, SAY_TERM_KIND, term->place,
              "name a face that was touched from above",
              jaw_feature_word(f->kind), term->feature, "z");
    jaw__zero_fail(w, JAW_EUNKNOWN);
    return NULL;
}

void jaw__z_of_node(zero_work *w, const jaw__node *node, const char *kind,
                    double at, const char *name)
{
    const jaw_control *c = &w->sv->setup->control;

    if (node->grounded)
        jaw__step(w->sv, node->value, JAW_LENGTH, "Z  machine Z of %s '%s'",
                  kind, name);
    jaw__step(w->sv, -at, JAW_LENGTH,
              "Z  less the part coordinate stated there");
    bool known = c->lengths == JAW_TIP_TO_PART
                     ? z_tip_to_part(w, node, at, name)
                     : z_by_rule(w, node, at, name);
    if (!known)
        return;
    w->z->enter.z = jaw_round_to_step(w->z->zero.z, c->step);
    jaw__step(w->sv, w->z->enter.z, JAW_LENGTH,
              "Z  rounded to the control's step");
}

void jaw__find_z(zero_work *w)
{
    const jaw_zero_term *term = &w->e->term[JAW_Z];
    const char *kind;

    if (term->feature == NULL)
        return;
    const jaw__node *node = height_of(w, term, &kind);
    if (node != NULL)
        jaw__z_of_node(w, node, kind, term->at, term->feature);
}
