/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lever.h: how much of its own touch a fitted feature follows. */
#ifndef JAW__LEVER_H
#define JAW__LEVER_H

#include <jawline/trust.h>

/* Leverage of p, 0..1 for a touch that was fitted; resid: its distance. */
double jaw__lever_circle(const jaw_circle *c, bool known, jaw_vec2 p,
                         double *resid);
double jaw__lever_line(const jaw_line *l, jaw_vec2 p, double *resid);
double jaw__lever_plane(const jaw_plane *f, jaw_vec3 p, double *resid);
double jaw__lever_sphere(const jaw_sphere *s, bool known, jaw_vec3 p,
                         double *resid);
double jaw__lever_cylinder(const jaw_cylinder *c, jaw_vec3 p, double *resid);

/* jaw__lever_by: slope . q slope; q an upper triangle by rows, n unknowns. */
double jaw__lever_by(const double q[], const double slope[], size_t n);

#endif
