/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Zones of small sets against all that could be: every strip along two
 * touches, every slab along three or along two and two, every centre of four
 * touches two by two, of three, of two and a border.  Whatever is tried is
 * measured over all touches, so the least of all is the narrowest zone. */
#include "fit_tests.h"

enum { MOST = 9 };

/* What fit.h promises, in eps L. */
enum { PROMISED = 16 };

typedef long double wide;

/* ------------------------------------------------------------- random sets */

static const char *const kinds[] = {"square", "ring", "arc", "grid", "line",
                                    "pairs", "far", "polygon"};

static jaw_vec2 make_touch(int kind, int i, int n, double turn)
{
    const double whole = 2 * acos(-1.0), x = random_even(-1, 1);
    double angle = random_even(0, whole), r = 5 + random_even(-0.1, 0.1);

    switch (kind) {
    case 0:
        return (jaw_vec2){10 * x, random_even(-10, 10)};
    case 2:
        angle /= 12;
        r += random_even(-0.01, 0.01);
        break;
    case 3:
        return (jaw_vec2){floor(random_even(0, 4)), floor(random_even(0, 4))};
    case 4:
        return (jaw_vec2){10 * x + 1, 3 * x + random_even(-1e-3, 1e-3)};
    case 5:
        angle = floor(random_even(0, 4)) + random_even(-1e-5, 1e-5);
        break;
    case 6:
        return (jaw_vec2){1e5 + r * cos(angle), -3e5 + r * sin(angle)};
    case 7:
        return (jaw_vec2){7 * cos(turn + whole * i / n),
                          7 * sin(turn + whole * i / n)};
    default:
        break;
    }
    return (jaw_vec2){3 + r * cos(angle), r * sin(angle) - 2};
}

static int make_set(int kind, jaw_vec2 p[])
{
    const int n = 3 + (int)random_even(0, MOST - 2);
    const double turn = random_even(0, 1);

    for (int i = 0; i < n; i++)
        p[i] = make_touch(kind, i, n, turn);
    return n;
}

static void show(const char *what, int kind, const jaw_vec2 p[], int n)
{
    printf("%s, %s:", what, kinds[kind]);
    for (int i = 0; i < n; i++)
        printf(" {%.17g, %.17g}", p[i].x, p[i].y);
    printf("\n");
    fflush(stdout);
}

static void agree(const char *what, double got, double want, double tol,
                  int kind, const jaw_vec2 p[], int n)
{
    if (!(fabs(got - want) <= tol))
        show(what, kind, p, n);
    near(got, want, tol, what);
}

/* ------------------------------------------------------------- yardsticks */

/* The strip across unit (x, y). */
static double across(const jaw_vec2 p[], int n, wide x, wide y)
{
    wide low = HUGE_VALL, high = -HUGE_VALL;

    for (int i = 0; i < n; i++) {
        wide d = x * ((wide)p[i].x - p[0].x) + y * ((wide)p[i].y - p[0].y);
        low = fminl(low, d);
        high = fmaxl(high, d);
    }
    return (double)(high - low);
}

static double narrowest_strip(const jaw_vec2 p[], int n)
{
    double best = HUGE_VAL;

    for (int i = 0; i < n; i++)
        for (int j = 0; j < i; j++) {
            wide x = (wide)p[j].y - p[i].y, y = (wide)p[i].x - p[j].x;
            wide h = hypotl(x, y);
            if (h > 0)
                best = fmin(best, across(p, n, x / h, y / h));
        }
    return best;
}

/* The ring about (x, y), seen from p[0]: from the difference of the squares,
 * so that a far centre costs no digits. */
static double ring_about(const jaw_vec2 p[], int n, wide x, wide y)
{
    wide low = HUGE_VALL, high = -HUGE_VALL, r = hypotl(x, y);

    for (int i = 0; i < n; i++) {
        wide u = (wide)p[i].x - p[0].x, v = (wide)p[i].y - p[0].y;
        wide g = u * (u - 2 * x) + v * (v - 2 * y);
        low = fminl(low, g);
        high = fmaxl(high, g);
    }
    wide outer = sqrtl(fmaxl(r * r + high, 0));
    wide inner = sqrtl(fmaxl(r * r + low, 0));
    return (double)((high - low) / (outer + inner));
}

/* Where two lines of equal distance cross, from p[0]; false when nowhere. */
static bool cross(const jaw_vec2 p[], int a, int b, int c, int d, wide *x,
                  wide *y)
{
    wide ux = (wide)p[b].x - p[a].x, uy = (wide)p[b].y - p[a].y;
    wide vx = (wide)p[d].x - p[c].x, vy = (wide)p[d].y - p[c].y;
    wide ax = (wide)p[a].x + p[b].x - 2 * (wide)p[0].x;
    wide ay = (wide)p[a].y + p[b].y - 2 * (wide)p[0].y;
    wide cx = (wide)p[c].x + p[d].x - 2 * (wide)p[0].x;
    wide cy = (wide)p[c].y + p[d].y - 2 * (wide)p[0].y;
    wide e = (ux * ax + uy * ay) / 2, f = (vx * cx + vy * cy) / 2;
    wide det = ux * vy - uy * vx;

    *x = (e * vy - f * uy) / det;
    *y = (ux * f - vx * e) / det;
    return det != 0;
}

static double narrowest_ring(const jaw_vec2 p[], int n)
{
    double best = HUGE_VAL;
    wide x, y;

    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++)
            for (int c = 0; c < n; c++)
                for (int d = 0; d < c; d++)
                    if (cross(p, a, b, c, d, &x, &y))
                        best = fmin(best, ring_about(p, n, x, y));
    return best;
}

static double farthest(const jaw_vec2 p[], int n, wide x, wide y)
{
    wide most = 0;

    for (int i = 0; i < n; i++)
        most = fmaxl(most, hypotl(p[i].x - p[0].x - x, p[i].y - p[0].y - y));
    return (double)most;
}

static double nearest(const jaw_vec2 p[], int n, wide x, wide y)
{
    wide least = HUGE_VALL;

    for (int i = 0; i < n; i++)
        least = fminl(least, hypotl((wide)p[i].x - p[0].x - x,
                                    (wide)p[i].y - p[0].y - y));
    return (double)least;
}

static double smallest_around(const jaw_vec2 p[], int n)
{
    double best = HUGE_VAL;
    wide x, y;

    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++) {
            x = ((wide)p[a].x + p[b].x) / 2 - p[0].x;
            y = ((wide)p[a].y + p[b].y) / 2 - p[0].y;
            best = fmin(best, farthest(p, n, x, y));
            for (int c = 0; c < b; c++)
                if (cross(p, a, b, b, c, &x, &y))
                    best = fmin(best, farthest(p, n, x, y));
        }
    return best;
}

/* The borders of the hull: through two touches with all others on one side. */
typedef struct border {
    wide x, y, ux, uy; /* a point, from p[0]; unit along it, the hull left */
} border;

static int borders_of(const jaw_vec2 p[], int n, border b[])
{
    int count = 0;

    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) {
            wide ux = (wide)p[j].x - p[i].x, uy = (wide)p[j].y - p[i].y;
            wide h = hypotl(ux, uy), in = 0;
            for (int k = 0; k < n; k++)
                in = fminl(in, ux * ((wide)p[k].y - p[i].y) -
                                   uy * ((wide)p[k].x - p[i].x));
            if (h > 0 && in >= 0)
                b[count++] = (border){(wide)p[i].x - p[0].x,
                                      (wide)p[i].y - p[0].y, ux / h, uy / h};
        }
    return count;
}

/* How far (x, y) lies out of the hull, at most. */
static double outside(const border b[], int count, wide x, wide y)
{
    wide most = -HUGE_VALL;

    for (int i = 0; i < count; i++)
        most = fmaxl(most, b[i].uy * (x - b[i].x) - b[i].ux * (y - b[i].y));
    return (double)most;
}

static double on_borders(const jaw_vec2 p[], int n, int a, int b,
                         const border side[], int count, double slack)
{
    wide ux = (wide)p[b].x - p[a].x, uy = (wide)p[b].y - p[a].y;
    wide mx = ((wide)p[a].x + p[b].x) / 2 - p[0].x;
    wide my = ((wide)p[a].y + p[b].y) / 2 - p[0].y;
    double best = 0;

    for (int i = 0; i < count; i++) {
        wide along = ux * side[i].ux + uy * side[i].uy;
        wide k = (ux * (mx - side[i].x) + uy * (my - side[i].y)) / along;
        wide x = side[i].x + k * side[i].ux, y = side[i].y + k * side[i].uy;
        if (along != 0 && outside(side, count, x, y) <= slack)
            best = fmax(best, nearest(p, n, x, y));
    }
    return best;
}

static double largest_within(const jaw_vec2 p[], int n, const border side[],
                             int count, double slack)
{
    double best = 0;
    wide x, y;

    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++) {
            best = fmax(best, on_borders(p, n, a, b, side, count, slack));
            for (int c = 0; c < b; c++)
                if (cross(p, a, b, b, c, &x, &y) &&
                    outside(side, count, x, y) <= slack)
                    best = fmax(best, nearest(p, n, x, y));
        }
    return best;
}

/* ------------------------------------------------------------- in the plane */

enum { SETS = 3000 };

/* A width; and what is seen from a centre that is rounded itself. */
static double slack_of(const jaw_vec2 p[], int n)
{
    return PROMISED * EPS * extent_of(p, (size_t)n);
}

static double slack_about(const jaw_vec2 p[], int n, const jaw_zone *z)
{
    return slack_of(p, n) + EPS * (2 * size_of(p, (size_t)n) + 4 * z->high);
}

static void check_line(int kind, const jaw_vec2 p[], int n)
{
    const double want = narrowest_strip(p, n);
    jaw_zone z;
    jaw_status status = jaw_zone_line(p, (size_t)n, &z);

    if (want == HUGE_VAL) {
        ck_assert_int_eq(status, JAW_ERANK);
        return;
    }
    ck_assert_int_eq(status, JAW_OK);
    agree("strip", z.width, want, slack_of(p, n), kind, p, n);
    agree("its normal", across(p, n, z.normal.x, z.normal.y), want,
          slack_of(p, n), kind, p, n);
}

/* Returned: whether there was a ring. */
static bool check_ring(int kind, const jaw_vec2 p[], int n)
{
    const double ring = narrowest_ring(p, n), strip = narrowest_strip(p, n);
    const double slack = slack_of(p, n);
    jaw_zone z;
    jaw_status status = jaw_zone_circle(p, (size_t)n, &z);

    if (status != JAW_OK) {
        if (status != JAW_ERANK || ring < strip - 4 * slack)
            show("no ring", kind, p, n);
        ck_assert_int_eq(status, JAW_ERANK);
        ck_assert(!(ring < strip - 4 * slack));
        return false;
    }
    const wide x = (wide)z.centre.x - p[0].x, y = (wide)z.centre.y - p[0].y;
    const double about = slack_about(p, n, &z);
    agree("ring", z.width, ring, slack, kind, p, n);
    ck_assert(z.width < strip);
    agree("about its centre", ring_about(p, n, x, y), ring, about, kind, p, n);
    agree("high", z.high, farthest(p, n, x, y), about, kind, p, n);
    agree("low", z.low, nearest(p, n, x, y), about, kind, p, n);
    return true;
}

static void check_around(int kind, const jaw_vec2 p[], int n)
{
    const double want = smallest_around(p, n);
    jaw_zone z;

    if (want == 0)
        return;
    ck_assert_int_eq(jaw_zone_around(p, (size_t)n, &z), JAW_OK);
    const wide x = (wide)z.centre.x - p[0].x, y = (wide)z.centre.y - p[0].y;
    const double about = slack_about(p, n, &z);
    agree("around", z.high, want, slack_of(p, n), kind, p, n);
    agree("around its centre", farthest(p, n, x, y), want, about, kind, p, n);
    agree("around, low", z.low, nearest(p, n, x, y), about, kind, p, n);
    near(z.width, z.high - z.low, EPS * z.high, "around, width");
}

static void check_within(int kind, const jaw_vec2 p[], int n)
{
    const double slack = slack_of(p, n), strip = narrowest_strip(p, n);
    border side[MOST * MOST];
    const int count = borders_of(p, n, side);
    jaw_zone z;
    jaw_status status = jaw_zone_within(p, (size_t)n, &z);

    if (strip == HUGE_VAL || !(strip > 100 * n * EPS * size_of(p, (size_t)n))) {
        ck_assert(status == JAW_ERANK || status == JAW_OK);
        return;
    }
    ck_assert_int_eq(status, JAW_OK);
    const wide x = (wide)z.centre.x - p[0].x, y = (wide)z.centre.y - p[0].y;
    const double about = slack_about(p, n, &z);
    agree("within", z.low, largest_within(p, n, side, count, slack), 2 * slack,
          kind, p, n);
    agree("within its centre", nearest(p, n, x, y), z.low, about, kind, p, n);
    agree("within, high", z.high, farthest(p, n, x, y), about, kind, p, n);
    near(z.width, z.high - z.low, EPS * z.high, "within, width");
    ck_assert(outside(side, count, x, y) <= about);
}

START_TEST(flat_sets)
{
    int rings = 0;

    random_start("zones of small sets");
    for (int k = 0; k < SETS; k++) {
        jaw_vec2 p[MOST];
        const int n = make_set(_i, p);
        check_line(_i, p, n);
        check_around(_i, p, n);
        check_within(_i, p, n);
        rings += check_ring(_i, p, n);
    }
    ck_assert_msg(rings > SETS / 4, "%d rings", rings);
}
END_TEST

/* ----------------------------------------------------------------- in space */

static double slab_across(const jaw_vec3 p[], int n, const wide d[3])
{
    const wide h = hypotl(hypotl(d[0], d[1]), d[2]);
    wide low = HUGE_VALL, high = -HUGE_VALL;

    if (h == 0)
        return HUGE_VAL;
    for (int i = 0; i < n; i++) {
        wide v = d[0] * ((wide)p[i].x - p[0].x) +
                 d[1] * ((wide)p[i].y - p[0].y) +
                 d[2] * ((wide)p[i].z - p[0].z);
        low = fminl(low, v);
        high = fmaxl(high, v);
    }
    return (double)((high - low) / h);
}

static double slab_along(const jaw_vec3 p[], int n, int a, int b, int c, int d)
{
    const wide u[3] = {(wide)p[b].x - p[a].x, (wide)p[b].y - p[a].y,
                       (wide)p[b].z - p[a].z};
    const wide v[3] = {(wide)p[d].x - p[c].x, (wide)p[d].y - p[c].y,
                       (wide)p[d].z - p[c].z};
    wide normal[3], most = 0;

    for (int k = 0; k < 3; k++) {
        const wide one = u[(k + 1) % 3] * v[(k + 2) % 3];
        const wide two = u[(k + 2) % 3] * v[(k + 1) % 3];
        normal[k] = one - two;
        most = fmaxl(most, fabsl(one) + fabsl(two));
    }
    for (int k = 0; k < 3; k++) /* parallel but for rounding: no direction */
        if (fabsl(normal[k]) > 1e-17L * most)
            return slab_across(p, n, normal);
    return HUGE_VAL;
}

/* With a = c these are the slabs along three touches. */
static double narrowest_slab(const jaw_vec3 p[], int n)
{
    double best = HUGE_VAL;

    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++)
            for (int c = 0; c <= a; c++)
                for (int d = 0; d < c; d++)
                    best = fmin(best, slab_along(p, n, a, b, c, d));
    return best;
}

static jaw_vec3 make_place(int kind)
{
    const double x = random_even(-1, 1), y = random_even(-1, 1);
    const double z = random_even(-1, 1), h = sqrt(x * x + y * y + z * z);

    switch (kind) {
    case 0:
        return (jaw_vec3){10 * x, 7 * y, 4 * z};
    case 1:
        return (jaw_vec3){10 * x, 7 * y, 2 * x - y + 1e-3 * z};
    case 2:
        return (jaw_vec3){floor(2 + 2 * x), floor(2 + 2 * y),
                          floor(2 + 2 * z)};
    case 3:
        return (jaw_vec3){5 * x / h, 5 * y / h, 5 * z / h};
    case 4:
        return (jaw_vec3){0.1 * floor(4 * x), 0.1 * floor(4 * y),
                          0.001 * floor(3 * z)};
    default:
        return (jaw_vec3){x + 1e4, floor(2 * y) + 1e-7 * z, 3 * x + z};
    }
}

START_TEST(solid_sets)
{
    int slabs = 0;

    random_start("slabs of small sets");
    for (int k = 0; k < SETS / 3; k++) {
        const int n = 4 + (int)random_even(0, MOST - 3);
        jaw_vec3 p[MOST];
        jaw_zone z;
        jaw_vec3 mean = {0, 0, 0};
        double far = 0;
        for (int i = 0; i < n; i++) {
            p[i] = make_place(_i);
            mean.x += p[i].x / n;
            mean.y += p[i].y / n;
            mean.z += p[i].z / n;
        }
        for (int i = 0; i < n; i++)
            far = fmax(far, hypot(hypot(p[i].x - mean.x, p[i].y - mean.y),
                                  p[i].z - mean.z));
        const double want = narrowest_slab(p, n);
        const jaw_status status = jaw_zone_plane(p, (size_t)n, &z);
        if (status == JAW_ERANK) {
            ck_assert_msg(want == HUGE_VAL || want <= 1e-12 * far,
                          "no slab: %g", want);
            continue;
        }
        ck_assert_int_eq(status, JAW_OK);
        const wide d[3] = {z.normal.x, z.normal.y, z.normal.z};
        near(z.width, want, PROMISED * EPS * far, "slab");
        near(slab_across(p, n, d), want, PROMISED * EPS * far, "its normal");
        slabs++;
    }
    ck_assert_msg(slabs > SETS / 9, "%d slabs", slabs);
}
END_TEST

TCase *zone_search_case(void)
{
    TCase *tc = tcase_create("zone-search");
    tcase_add_loop_test(tc, flat_sets, 0, COUNT(kinds));
    tcase_add_loop_test(tc, solid_sets, 0, 6);
    return tc;
}
