/* SPDX-License-Identifier: GPL-3.0-or-later */
/* table.h: the tables in tests/data (README.md there): data as columns of
 * numbers, and NAME.expect.csv with rows quantity,published,computed,note. */
#ifndef TESTS_TRUST_TABLE_H
#define TESTS_TRUST_TABLE_H

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static inline FILE *table_open(const char *name, const char *ending)
{
    const char *top = getenv("abs_srcdir");
    char path[4096];
    snprintf(path, sizeof path, "%s/tests/data/%s%s", top ? top : ".", name,
             ending);
    FILE *file = fopen(path, "r");
    ck_assert_msg(file != NULL, "no %s", path);
    return file;
}

/* The next line that is neither comment nor empty, cut into fields. */
static inline int table_row(FILE *file, char line[512], char *field[8])
{
    do {
        if (fgets(line, 512, file) == NULL)
            return 0;
    } while (line[0] == '#' || line[0] == '\n');
    line[strcspn(line, "\r\n")] = '\0';
    int n = 0;
    for (char *at = line; n < 8; at++) {
        field[n++] = at;
        at = strchr(at, ',');
        if (at == NULL)
            break;
        *at = '\0';
    }
    return n;
}

/* Numbers of the data table by rows; fields that are words become NaN. */
static inline size_t table_read(const char *name, size_t columns, double *out,
                                size_t room)
{
    FILE *file = table_open(name, ".csv");
    char line[512], *field[8];
    size_t n = 0;
    table_row(file, line, field); /* the heading */
    while (table_row(file, line, field) >= (int)columns) {
        ck_assert_uint_lt(n, room);
        for (size_t k = 0; k < columns; k++) {
            char *end;
            out[n * columns + k] = strtod(field[k], &end);
            if (end == field[k])
                out[n * columns + k] = (double)NAN;
        }
        n++;
    }
    fclose(file);
    return n;
}

/* One value of NAME.expect.csv: as computed to 40 digits. */
static inline double table_value(const char *name, const char *quantity)
{
    FILE *file = table_open(name, ".expect.csv");
    char line[512], *field[8];
    double value = (double)NAN;
    while (table_row(file, line, field) >= 3)
        if (strcmp(field[0], quantity) == 0)
            value = strtod(field[2], NULL);
    fclose(file);
    ck_assert_msg(!isnan(value), "%s has no %s", name, quantity);
    return value;
}

/* One value as printed, and half a unit of its last digit. */
static inline double table_printed(const char *name, const char *quantity,
                                   double *half)
{
    FILE *file = table_open(name, ".expect.csv");
    char line[512], *field[8];
    double value = (double)NAN;
    while (table_row(file, line, field) >= 3) {
        if (strcmp(field[0], quantity) != 0 || field[1][0] == '\0')
            continue;
        value = strtod(field[1], NULL);
        const char *point = strchr(field[1], '.');
        const char *e = strpbrk(field[1], "eE");
        size_t decimals =
            point ? strspn(point + 1, "0123456789") : 0;
        *half = 0.5 * pow(10, (e ? atof(e + 1) : 0) - (double)decimals);
    }
    fclose(file);
    ck_assert_msg(!isnan(value), "%s prints no %s", name, quantity);
    return value;
}

#endif
