/* SPDX-License-Identifier: GPL-3.0-or-later */
/* where.c: where features and surfaces stand on the machine and how well that
 * is known, from the joint adjustment: for marks, which are found again after a
 * homing. */
#include "worth.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)

jaw_where jaw__nowhere(void)
{
    jaw_value_trust none = jaw__trust_none();

    return (jaw_where){.at = {NO_NUMBER, NO_NUMBER, NO_NUMBER},
                       .theta = NO_NUMBER,
                       .trust = {none, none, none},
                       .turn = none};
}

static jaw_value_trust local(jaw__worth *w, size_t f, size_t k)
{
    jaw__form_start(w);
    jaw__put_local(w, &w->j->parts[f], k, 1);
    return jaw__weigh(w);
}

static void take_wall(jaw__worth *w, size_t f, jaw_vec2 at, unsigned flags,
                      jaw_where *where)
{
    where->wall = true;
    where->at.x = at.x;
    where->at.y = at.y;
    where->theta = jaw__theta_of_found(&w->sv->out->features[f]);
    where->trust[0] = local(w, f, 0);
    if (flags & JAW_DIRECTION_ASSUMED)
        return;
    jaw__form_start(w);
    jaw__put_direction(w, f, 1);
    where->turn = jaw__weigh(w);
}

static void take_centre(jaw__worth *w, size_t f, jaw_where *where)
{
    jaw_vec2 centre;

    if (!jaw__centre_of_found(&w->sv->out->features[f], &centre))
        return;
    where->at.x = centre.x;
    where->at.y = centre.y;
    where->trust[0] = local(w, f, 0);
    where->trust[1] = local(w, f, 1);
}

static void take_height(jaw__worth *w, size_t f, jaw_where *where)
{
    const jaw__node *node = &w->sv->nodes[jaw__feature_node(w->sv, f)];

    if (!jaw__has_height(w->sv->setup->features[f].kind) || !node->grounded)
        return;
    where->at.z = node->value;
    jaw__form_start(w);
    jaw__put_node(w, jaw__feature_node(w->sv, f), 1);
    where->trust[2] = jaw__weigh(w);
}

static void weigh_feature(jaw__worth *w, size_t f)
{
    jaw_found *found = &w->sv->out->features[f];
    jaw_where *where = &found->where;

    if (found->status != JAW_OK || w->j->parts[f].block == JAW_NO_BLOCK)
        return;
    switch (found->kind) {
    case JAW_EDGE:
        take_wall(w, f, found->as.edge.point, found->as.edge.flags, where);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        take_wall(w, f, found->as.walls.middle, found->as.walls.flags, where);
        break;
    case JAW_BORE:
    case JAW_BOSS:
    case JAW_DIAL:
    case JAW_BALL:
        take_centre(w, f, where);
        take_height(w, f, where);
        break;
    case JAW_FACE:
        take_height(w, f, where);
        break;
    default:
        break;
    }
}

static void weigh_surface(jaw__worth *w, jaw_surface_found *surface)
{
    const jaw_setup *setup = w->sv->setup;
    size_t node;

    if (isnan(surface->z) || !jaw__height_node(w->sv, surface->name, &node) ||
        (node < setup->n_features && w->j->parts[node].block == JAW_NO_BLOCK))
        return;
    jaw__form_start(w);
    jaw__put_node(w, node, 1);
    surface->trust = jaw__weigh(w);
}

void jaw__weigh_where(jaw__worth *w)
{
    for (size_t f = 0; f < w->sv->setup->n_features; f++)
        weigh_feature(w, f);
    for (size_t i = 0; i < w->sv->out->n_surfaces; i++)
        weigh_surface(w, &w->sv->out->surfaces[i]);
}
