/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fit_tests.h: what the tests of src/fit share. */
#ifndef FIT_TESTS_H
#define FIT_TESTS_H

#include <jawline/fit.h>

#include "tests/alloc/alloc.h"
#include "tests/near.h"

#include <check.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NAN_D ((double)NAN)
#define EPS DBL_EPSILON

/* The factors that fit.h promises under Accuracy. */
enum { FACTOR = 8, FACTOR_RESID = 12 };

/* ------------------------------------------------------- tests/data, data.c */

enum { ROWS = 128, COLUMNS = 6 };

/* One pair of files of tests/data. */
typedef struct data {
    char name[64];
    size_t rows, columns;
    char head[COLUMNS][16];
    char key[ROWS][16]; /* the first column as text */
    double cell[ROWS][COLUMNS];
    char *expect; /* the expect file */
} data;

/* Fails the test when it can't be read. */
void data_read(data *d, const char *name);
void data_free(data *d);
/* The column named head. */
size_t data_column(const data *d, const char *head);
/* Touches of rows whose first column is key (NULL: all) from columns x, y. */
size_t data_points(const data *d, const char *key, const char *x,
                   const char *y, jaw_vec2 p[]);
/* Computed value; NaN when there is no such row.  A prefix may be NULL. */
double data_want(const data *d, const char *prefix, const char *quantity);
/* Published value and half a unit of its last digit; false when none. */
bool data_published(const data *d, const char *quantity, double *value,
                    double *half);

/* ------------------------------------------- random touches, data.c */

/* Seeds from JAW_TEST_SEED, or the day's default, and prints the seed. */
void random_start(const char *test);
double random_even(double low, double high);
double random_normal(void);
/* A power of ten between 10^low and 10^high. */
double random_size(double low, double high);

/* Greatest |coordinate|, and greatest distance from the mean. */
double size_of(const jaw_vec2 p[], size_t n);
double extent_of(const jaw_vec2 p[], size_t n);

/* How far rounding of the decimals to doubles moved a touch, and the fit may
 * move it: what the promise of fit.h allows. */
double moved_by(const jaw_vec2 p[], size_t n, double factor);

void nan_all(const double v[], size_t n, const char *what);

TCase *line_case(void);
TCase *pair_case(void);
TCase *plane_case(void);
TCase *circle_case(void);
TCase *circle_exact_case(void);
TCase *circle_global_case(void);
TCase *circle_known_case(void);
TCase *rigid_case(void);
TCase *rigid3_case(void);
TCase *sweep_case(void);
TCase *zone_case(void);
TCase *zone_search_case(void);
TCase *sphere_case(void);
TCase *sphere_exact_case(void);
TCase *sphere_global_case(void);
TCase *cylinder_case(void);
TCase *cylinder_exact_case(void);
TCase *cylinder_memory_case(void);
TCase *many_case(void);
TCase *memory_case(void);

#endif
