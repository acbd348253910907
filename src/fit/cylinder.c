/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder.c: the cylinder with least sum of squared distances (Forbes, NPL
 * Report DITC 140/89; Shakarji, J. Res. NIST 103 (1998) 633-641). */
#include "cylinder.h"

static jaw_status take_axis(const jaw_vec3 *axis, jaw__known *given)
{
    const double size = axis ? jaw__size(&axis->x, 3) : 0;
    int e;

    *given = (jaw__known){.has_axis = axis != NULL};
    if (!axis)
        return JAW_OK;
    if (isnan(size))
        return JAW_ENOTFINITE;
    if (!(size > 0))
        return JAW_EDOMAIN;
    frexp(size, &e);
    given->axis[0] = ldexp(axis->x, -e);
    given->axis[1] = ldexp(axis->y, -e);
    given->axis[2] = ldexp(axis->z, -e);
    jaw__normalise(given->axis);
    return JAW_OK;
}

static jaw_status take_given(const jaw_cylinder_given *from, jaw__known *given)
{
    const jaw_cylinder_given nothing = {NULL, 0};

    if (!from)
        from = &nothing;
    jaw_status status = take_axis(from->axis, given);
    if (status != JAW_OK)
        return status;
    if (!isfinite(from->r))
        return JAW_ENOTFINITE;
    if (from->r < 0)
        return JAW_EDOMAIN;
    given->r = from->r;
    return JAW_OK;
}

static size_t needed(const jaw__known *given)
{
    return given->has_axis ? 3 : given->r > 0 ? 5 : 6;
}

static jaw_status begin(jaw__space *space, jaw__bulk *bulk, const jaw_vec3 p[],
                        size_t n, bool has_axis)
{
    jaw_status status = jaw__space_make(space, p, n);

    if (status != JAW_OK)
        return status;
    jaw__bulk_make(space, bulk);
    if (!has_axis && jaw__space_is_flat(space, bulk))
        return JAW_ERANK;
    return bulk->reach * sqrt((double)n) > space->noise ? JAW_OK : JAW_ERANK;
}

jaw_status jaw_fit_cylinder(const jaw_vec3 p[], size_t n,
                            const jaw_cylinder_given *given,
                            jaw_cylinder *cylinder, double resid[])
{
    jaw__space space;
    jaw__bulk bulk;
    jaw__known what;
    jaw_status status = take_given(given, &what);

    if (status == JAW_OK)
        status = n < needed(&what) ? JAW_EFEW
                                   : begin(&space, &bulk, p, n, what.has_axis);
    if (status != JAW_OK)
        return jaw__cylinder_give_up(status, n, cylinder, resid);
    what.r *= space.unit;
    const jaw__search search = {
        &space, &bulk,
        {true, !what.has_axis, true, !what.has_axis, !(what.r > 0)}};
    jaw__rest best;
    status = jaw__cylinder_search(&search, &what, &best);
    if (status == JAW_OK)
        status = jaw__cylinder_report(&search, &best, cylinder, resid);
    if (status != JAW_OK)
        return jaw__cylinder_give_up(status, n, cylinder, resid);
    if (what.r > 0)
        cylinder->r = given->r;
    return JAW_OK;
}
