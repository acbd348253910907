/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trust_tests.h: the test cases of src/trust, one a file. */
#ifndef TESTS_TRUST_TESTS_H
#define TESTS_TRUST_TESTS_H

#include <check.h>

#include <jawline/trust.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof *(a)))

/* Of n trials of any shape: in pieces that end anywhere they are the same to the
 * last bit, with another seed they are others; those without a value are as many
 * as is said; without memory, at each of so many allocations, nothing stays. */
void trials_shared_out(const jaw_monte_model *model, size_t n);
void trials_counted(const jaw_monte_model *model, size_t n);
void trials_without_memory(const jaw_monte_model *model, long allocations);

TCase *distributions_case(void);
TCase *decide_case(void);
TCase *published_case(void);
TCase *dense_case(void);
TCase *together_case(void);
TCase *features_case(void);
TCase *figure_case(void);
TCase *limit_case(void);
TCase *within_case(void);
TCase *loose_case(void);
TCase *memory_case(void); /* NULL when a tool owns malloc */
TCase *robust_case(void);
TCase *robust_solid_case(void);
TCase *esd_case(void);
TCase *random_case(void);
TCase *monte_case(void);
TCase *monte_circle_case(void);
TCase *monte_sphere_case(void);
TCase *monte_cylinder_case(void);

#endif
