/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sphere.h: what the two fits of spheres share; not public. */
#ifndef JAW_FIT_SPHERE_H
#define JAW_FIT_SPHERE_H

#include "curved.h"

/* jaw__sphere_begin: JAW_OK, JAW_ENOTFINITE; JAW_ERANK in one plane. */
jaw_status jaw__sphere_begin(jaw__space *space, jaw__bulk *bulk,
                             const jaw_vec3 p[], size_t n);

/* jaw__sphere_kasa: the start that is exact when the touches are. */
jaw__curved jaw__sphere_kasa(const jaw__bulk *bulk);

jaw_status jaw__sphere_report(const jaw__search *search, const jaw__rest *rest,
                              jaw_sphere *sphere, double resid[]);
jaw_status jaw__sphere_give_up(jaw_status status, size_t n, jaw_sphere *sphere,
                               double resid[]);

#endif
