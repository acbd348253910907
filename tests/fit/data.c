/* SPDX-License-Identifier: GPL-3.0-or-later */
/* data.c: the files of tests/data, and random touches. */
#include "fit_tests.h"

static char *read_all(const char *name, const char *ending)
{
    char path[512];
    snprintf(path, sizeof path, "%s/%s%s", JAW_TEST_DATA, name, ending);
    FILE *in = fopen(path, "rb");
    ck_assert_msg(in != NULL, "%s can't be read", path);
    char *text = calloc(1, 1 << 16);
    ck_assert_ptr_nonnull(text);
    size_t got = fread(text, 1, (1 << 16) - 1, in);
    fclose(in);
    ck_assert_msg(got > 0, "%s is empty", path);
    return text;
}

/* The next line that is not a comment, cut off in place; NULL at the end. */
static char *next_line(char **rest)
{
    while (*rest && **rest) {
        char *line = *rest, *end = strchr(line, '\n');
        *rest = end ? end + 1 : NULL;
        if (end)
            *end = '\0';
        if (line[0] != '#' && line[0] != '\0')
            return line;
    }
    return NULL;
}

static size_t split(char *line, char *field[], size_t most)
{
    size_t n = 0;
    for (char *at = line; at && n < most; n++) {
        field[n] = at;
        at = strchr(at, ',');
        if (at)
            *at++ = '\0';
    }
    return n;
}

void data_read(data *d, const char *name)
{
    memset(d, 0, sizeof *d);
    snprintf(d->name, sizeof d->name, "%s", name);
    char *text = read_all(name, ".csv"), *rest = text, *line, *field[COLUMNS];
    while ((line = next_line(&rest)) != NULL) {
        size_t n = split(line, field, COLUMNS);
        if (d->columns == 0) {
            d->columns = n;
            for (size_t i = 0; i < n; i++)
                snprintf(d->head[i], sizeof d->head[i], "%s", field[i]);
            continue;
        }
        ck_assert_msg(n == d->columns && d->rows < ROWS, "%s: row", name);
        snprintf(d->key[d->rows], sizeof d->key[0], "%s", field[0]);
        for (size_t i = 0; i < n; i++)
            d->cell[d->rows][i] = strtod(field[i], NULL);
        d->rows++;
    }
    ck_assert_msg(d->rows > 0, "%s has no rows", name);
    free(text);
    d->expect = read_all(name, ".expect.csv");
}

void data_free(data *d)
{
    free(d->expect);
    d->expect = NULL;
}

size_t data_column(const data *d, const char *head)
{
    for (size_t i = 0; i < d->columns; i++)
        if (strcmp(d->head[i], head) == 0)
            return i;
    ck_abort_msg("%s has no column %s", d->name, head);
    return 0;
}

size_t data_points(const data *d, const char *key, const char *x,
                   const char *y, jaw_vec2 p[])
{
    size_t cx = data_column(d, x), cy = data_column(d, y), n = 0;
    for (size_t i = 0; i < d->rows; i++)
        if (!key || strcmp(d->key[i], key) == 0)
            p[n++] = (jaw_vec2){d->cell[i][cx], d->cell[i][cy]};
    return n;
}

/* What stands behind "quantity," at the start of a line; NULL when nothing. */
static const char *expect_row(const data *d, const char *quantity)
{
    size_t len = strlen(quantity);
    for (const char *at = d->expect; at; at = strchr(at, '\n')) {
        at += *at == '\n';
        if (strncmp(at, quantity, len) == 0 && at[len] == ',')
            return at + len + 1;
    }
    return NULL;
}

double data_want(const data *d, const char *prefix, const char *quantity)
{
    char name[64];
    snprintf(name, sizeof name, "%s%s", prefix ? prefix : "", quantity);
    const char *row = expect_row(d, name);
    if (!row)
        return NAN_D;
    return strtod(strchr(row, ',') + 1, NULL);
}

bool data_published(const data *d, const char *quantity, double *value,
                    double *half)
{
    const char *row = expect_row(d, quantity);
    if (!row || *row == ',')
        return false;
    char *end;
    *value = strtod(row, &end);
    const char *point = memchr(row, '.', (size_t)(end - row));
    *half = 0.5 * pow(10, point ? -(double)(end - point - 1) : 0);
    return true;
}

/* splitmix64 (Steele, Lea & Flood, OOPSLA 2014): the same everywhere. */
static unsigned long long state;

void random_start(const char *test)
{
    const char *seed = getenv("JAW_TEST_SEED");
    state = seed ? strtoull(seed, NULL, 10) : 20240611;
    printf("%s: seed %llu\n", test, state);
}

double random_even(double low, double high)
{
    unsigned long long z = state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    z ^= z >> 31;
    return low + (high - low) * ((double)(z >> 11) * 0x1p-53);
}

/* Box & Muller, Ann. Math. Stat. 29 (1958) 610-611. */
double random_normal(void)
{
    double r = sqrt(-2 * log(1 - random_even(0, 1)));
    return r * cos(2 * acos(-1.0) * random_even(0, 1));
}

double random_size(double low, double high)
{
    return pow(10, random_even(low, high));
}

double size_of(const jaw_vec2 p[], size_t n)
{
    double size = 0;
    for (size_t i = 0; i < n; i++)
        size = fmax(size, fmax(fabs(p[i].x), fabs(p[i].y)));
    return size;
}

double extent_of(const jaw_vec2 p[], size_t n)
{
    jaw_vec2 mean = {0, 0};
    double far = 0;
    for (size_t i = 0; i < n; i++) {
        mean.x += (p[i].x - p[0].x) / (double)n;
        mean.y += (p[i].y - p[0].y) / (double)n;
    }
    for (size_t i = 0; i < n; i++)
        far = fmax(far, hypot(p[i].x - p[0].x - mean.x,
                              p[i].y - p[0].y - mean.y));
    return far;
}

double moved_by(const jaw_vec2 p[], size_t n, double factor)
{
    return EPS * (size_of(p, n) + factor * extent_of(p, n));
}

void nan_all(const double v[], size_t n, const char *what)
{
    for (size_t i = 0; i < n; i++)
        ck_assert_msg(isnan(v[i]), "%s: %zu is %g, not nan", what, i, v[i]);
}
