/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trust_tests.h: the test cases of src/trust, one a file. */
#ifndef TESTS_TRUST_TESTS_H
#define TESTS_TRUST_TESTS_H

#include <check.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof *(a)))

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
