/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth.c: `jawline synth`: touches of a known truth, with noise.
 *
 * Random numbers: Matsumoto & Nishimura, ACM TOMACS 8 (1998) 3-30, as GSL has
 * it, so that a seed gives the same numbers on every machine. */
#include "cli.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

typedef struct job {
    bool setup;            /* a whole sheet */
    jaw_feature_kind kind; /* otherwise */
    jaw_unit unit;
    double tip, noise, size; /* mm */
    double skew, arc;        /* rad */
    unsigned long touches, seed;
    gsl_rng *rng;
} job;

enum { TOUCHES_MAX = 100000000 };

/* --------------------------------------------------------------- arguments */

static double default_size(const job *j)
{
    if (j->setup)
        return 100;
    switch (j->kind) {
    case JAW_BORE:
    case JAW_BOSS:
        return 30;
    case JAW_SLOT:
    case JAW_WEB:
    case JAW_BALL:
    case JAW_BAR:
        return 20;
    default:
        return 100;
    }
}

static bool kind_read(const arguments *args, job *j)
{
    if (args->operands != 1) {
        complain("such as `jawline synth bore' or `jawline synth setup'",
                 args->operands ? "one KIND at a time"
                                : "which KIND of feature is not said");
        return false;
    }
    j->setup = strcmp(args->operand[0], "setup") == 0;
    return j->setup || kind_find(args->operand[0], "setup", &j->kind);
}

static bool job_read(const arguments *args, job *j)
{
    *j = (job){.unit = JAW_MM,
               .noise = 0.002,
               .skew = jaw_rad(0.2),
               .arc = jaw_rad(360),
               .seed = 1};
    if (!kind_read(args, j))
        return false;
    j->size = default_size(j);
    j->tip = j->setup ? 4 : 0;
    j->touches = j->setup                    ? 4
                 : j->kind == JAW_BAR        ? 9
                 : j->kind == JAW_PATTERN    ? 5
                 : j->kind == JAW_BALL       ? 6
                                             : 4;
    if (!option_unit(args, &j->unit) ||
        !option_length(args, OPT_TIP, j->unit, true, &j->tip) ||
        !option_length(args, OPT_NOISE, j->unit, true, &j->noise) ||
        !option_length(args, OPT_SIZE, j->unit, false, &j->size) ||
        !option_angle(args, OPT_SKEW, &j->skew) ||
        !option_angle(args, OPT_ARC, &j->arc) ||
        !option_count(args, OPT_TOUCHES, TOUCHES_MAX, &j->touches) ||
        !option_count(args, OPT_SEED, 0xffffffff, &j->seed))
        return false;
    bool within = j->setup || j->kind == JAW_BORE || j->kind == JAW_SLOT;
    if (within && j->tip >= (j->setup ? 0.1 * j->size : j->size)) {
        complain(j->setup ? "the bore is a tenth of --size across, the tip "
                            "must be smaller"
                          : "make --tip smaller or --size larger",
                 "the tip does not fit in");
        return false;
    }
    return true;
}

/* ------------------------------------------------------------------ numbers */

static double noisy(const job *j, double mm)
{
    return mm + gsl_ran_gaussian(j->rng, j->noise);
}

static double between(const job *j, double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(j->rng);
}

/* A place on the table of a small mill. */
static jaw_vec3 any_place(const job *j)
{
    double x = between(j, 100, 300);
    double y = between(j, -200, -50);
    return (jaw_vec3){x, y, between(j, -150, -50)};
}

static void put_number(const job *j, double mm, const char *after)
{
    char text[64];
    jaw_number_write(mm / jaw_unit_mm(j->unit), 9, text, sizeof text);
    printf("%s%s", text, after);
}

/* A row of two or three readings, each with its own noise. */
static void put_row2(const job *j, const char *before, jaw_vec2 p)
{
    double x = noisy(j, p.x);
    printf("%s", before);
    put_number(j, x, "  ");
    put_number(j, noisy(j, p.y), "\n");
}

static void put_row3(const job *j, const char *before, jaw_vec3 p)
{
    double x = noisy(j, p.x), y = noisy(j, p.y);
    printf("%s", before);
    put_number(j, x, "  ");
    put_number(j, y, "  ");
    put_number(j, noisy(j, p.z), "\n");
}

static void put_truth(const job *j, const char *name, double mm)
{
    printf("# truth %s %.17g\n", name, mm / jaw_unit_mm(j->unit));
}

static void put_truth_angle(const char *name, double rad)
{
    printf("# truth %s %.17g\n", name, jaw_deg(rad));
}

static void put_truth_place(const job *j, const char *name, jaw_vec2 p)
{
    double mm = jaw_unit_mm(j->unit);
    printf("# truth %s %.17g %.17g\n", name, p.x / mm, p.y / mm);
}

static void put_options(const job *j, const char *kind)
{
    double mm = jaw_unit_mm(j->unit);
    printf("# made by: jawline synth %s --seed %lu --noise %.17g --touches %lu "
           "--tip %.17g --unit %s --skew %.17g --arc %.17g --size %.17g\n",
           kind, j->seed, j->noise / mm, j->touches, j->tip / mm,
           jaw_unit_word(j->unit), jaw_deg(j->skew), jaw_deg(j->arc),
           j->size / mm);
}

static void put_fit(const job *j, const char *more)
{
    printf("# to find it: jawline fit %s --unit %s", jaw_feature_word(j->kind),
           jaw_unit_word(j->unit));
    if (j->tip > 0 && j->kind != JAW_PATTERN)
        printf(" --tip %.17g%s", j->tip / jaw_unit_mm(j->unit), more);
    printf("\n");
}

/* ---------------------------------------------------------------- geometry */

static jaw_vec2 along(jaw_vec2 p, double angle, double mm)
{
    return (jaw_vec2){p.x + mm * cos(angle), p.y + mm * sin(angle)};
}

/* The i-th of n places from -1/2 to 1/2; one alone lies in the middle. */
static double spread(unsigned long i, unsigned long n)
{
    return n < 2 ? 0 : (double)i / (double)(n - 1) - 0.5;
}

/* Round places: a whole turn does not touch its start twice. */
static double round_angle(const job *j, unsigned long i)
{
    bool whole = fabs(j->arc) >= jaw_rad(360);
    unsigned long parts = whole || j->touches < 2 ? j->touches : j->touches - 1;
    return j->arc * (double)i / (double)parts;
}

/* Touches along a wall through p, `out` away from it on its right side. */
static void put_wall(const job *j, const char *before, jaw_vec2 p,
                     double direction, double length, double out)
{
    jaw_vec2 centre = along(p, direction - M_PI / 2, out);
    for (unsigned long i = 0; i < j->touches; i++)
        put_row2(j, before,
                 along(centre, direction, length * spread(i, j->touches)));
}

static void put_circle(const job *j, const char *before, jaw_vec2 centre,
                       double radius)
{
    double start = between(j, 0, 2 * M_PI);
    for (unsigned long i = 0; i < j->touches; i++)
        put_row2(j, before, along(centre, start + round_angle(j, i), radius));
}

/* ------------------------------------------------------------------- kinds */

static void synth_edge(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_vec2 p = {at.x, at.y};
    put_truth_place(j, "point", p);
    put_truth_angle("direction_deg", j->skew);
    put_fit(j, " --faces y-");
    put_wall(j, "", p, j->skew, j->size, j->tip / 2);
}

/* Tilted by the skew along x and by half of it, downward, along y.  The rows
 * are the centre of a ball. */
static void synth_face(const job *j)
{
    jaw_vec3 at = any_place(j);
    double sx = tan(j->skew), sy = -0.5 * tan(j->skew);
    double h = j->tip / 2 / sqrt(1 + sx * sx + sy * sy);
    put_truth_place(j, "point_xy", (jaw_vec2){at.x, at.y});
    put_truth(j, "point_z", at.z);
    printf("# truth slope %.17g %.17g\n", sx, sy);
    put_fit(j, "");
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches + 0.3;
        double x = 0.5 * j->size * cos(a), y = 0.3 * j->size * sin(a);
        put_row3(j, "",
                 (jaw_vec3){at.x + x - h * sx, at.y + y - h * sy,
                            at.z + sx * x + sy * y + h});
    }
}

static void synth_round(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_vec2 centre = {at.x, at.y};
    double tip = j->kind == JAW_BORE ? -j->tip : j->tip;
    put_truth_place(j, "centre", centre);
    put_truth(j, "diameter", j->size);
    put_fit(j, "");
    put_circle(j, "", centre, (j->size + tip) / 2);
}

/* One touch on a surface: the noise is along the normal.  The rows are the
 * centre of a ball, `down` of it. */
static void put_met(const job *j, const char *before, jaw_vec3 p, jaw_vec3 n,
                    double down)
{
    double off = noisy(j, j->tip / 2);
    printf("%s", before);
    put_number(j, p.x + off * n.x, "  ");
    put_number(j, p.y + off * n.y, "  ");
    put_number(j, p.z + off * n.z - down, "\n");
}

/* The first on top, the others in turn level with the centre and above. */
static void put_ball(const job *j, const char *before, jaw_vec3 centre,
                     double radius, unsigned long n, double down)
{
    for (unsigned long i = 0; i < n; i++) {
        double a = 2.4 * (double)i; /* about the golden angle */
        double up = i == 0 ? M_PI / 2 : i % 3 == 0 ? 0.7 : 0.1;
        jaw_vec3 u = {cos(up) * cos(a), cos(up) * sin(a), sin(up)};
        put_met(j, before,
                (jaw_vec3){centre.x + radius * u.x, centre.y + radius * u.y,
                           centre.z + radius * u.z},
                u, down);
    }
}

/* Left, top and right in turn, from one end to the other. */
static void put_bar(const job *j, const char *before, jaw_vec3 at,
                    jaw_vec3 axis, double radius, double length, double down)
{
    double run = hypot(axis.x, axis.y);
    jaw_vec3 level = {-axis.y / run, axis.x / run, 0};
    jaw_vec3 up = {-axis.z * axis.x / run, -axis.z * axis.y / run, run};
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 0.05 + (double)(i % 3) * 0.48 * M_PI;
        double c = cos(a), s = sin(a);
        double t = length * spread(i / 3, (j->touches + 2) / 3);
        jaw_vec3 n = {c * level.x + s * up.x, c * level.y + s * up.y, s * up.z};
        put_met(j, before,
                (jaw_vec3){at.x + t * axis.x + radius * n.x,
                           at.y + t * axis.y + radius * n.y,
                           at.z + t * axis.z + radius * n.z},
                n, down);
    }
}

static void synth_ball(const job *j)
{
    jaw_vec3 at = any_place(j);
    put_truth_place(j, "centre_xy", (jaw_vec2){at.x, at.y});
    put_truth(j, "centre_z", at.z);
    put_truth(j, "diameter", j->size);
    put_fit(j, "");
    put_ball(j, "", at, j->size / 2, j->touches, 0);
}

/* It rises by half of the skew. */
static jaw_vec3 bar_axis(double direction, double slope)
{
    double w = hypot(1, slope);
    return (jaw_vec3){cos(direction) / w, sin(direction) / w, slope / w};
}

static void synth_bar(const job *j)
{
    jaw_vec3 at = any_place(j);
    double slope = 0.5 * tan(j->skew);
    put_truth_place(j, "axis_xy", (jaw_vec2){at.x, at.y});
    put_truth(j, "axis_z", at.z);
    put_truth_angle("direction_deg", j->skew);
    printf("# truth slope %.17g\n", slope);
    put_truth(j, "diameter", j->size);
    put_fit(j, "");
    put_bar(j, "", at, bar_axis(j->skew, slope), j->size / 2, 5 * j->size, 0);
}

static void synth_walls(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_vec2 middle = {at.x, at.y};
    double tip = j->kind == JAW_SLOT ? -j->tip : j->tip;
    double out = (j->size + tip) / 2, length = 3 * j->size;
    put_truth_place(j, "middle", middle);
    put_truth(j, "width", j->size);
    put_truth_angle("direction_deg", j->skew);
    put_fit(j, "");
    put_wall(j, "", middle, j->skew, length, out);
    puts("/");
    put_wall(j, "", middle, j->skew, length, -out);
}

/* Places on a bolt circle. */
static void put_pattern(const job *j, const char *before,
                        const jaw_frame *frame, jaw_vec2 middle, double radius,
                        unsigned long n)
{
    for (unsigned long i = 0; i < n; i++) {
        double a = M_PI / 2 + 2 * M_PI * (double)i / (double)n;
        jaw_vec2 nominal = along(middle, a, radius);
        printf("%s", before);
        put_number(j, nominal.x, "  ");
        put_number(j, nominal.y, "  ");
        put_row2(j, "", jaw_machine_from_work(frame, nominal));
    }
}

static void synth_pattern(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_frame frame = jaw_frame_make((jaw_vec2){at.x, at.y}, j->skew);
    put_truth_place(j, "origin", frame.origin);
    put_truth_angle("turn_deg", j->skew);
    put_fit(j, "");
    put_pattern(j, "", &frame, (jaw_vec2){0, 0}, j->size / 2, j->touches);
}

/* ------------------------------------------------------------------- setup */

/* The part: a plate with its corner at the work zero, lying in +x +y, twice as
 * long as deep; a bore, a slot and a bolt circle in it. */
typedef struct part {
    jaw_frame frame;
    double top, setter; /* mm, machine Z for a tool of length 0 */
    double stylus, tool[2];
} part;

static const char indent[] = "  ";

static void put_setting(const job *j, const char *word, double mm)
{
    printf("  %s ", word);
    put_number(j, mm, "");
}

static void put_repeat(const job *j)
{
    if (j->noise > 0)
        put_setting(j, "repeat", j->noise);
    printf("\n");
}

static void put_head(const job *j, const part *p)
{
    puts("title  Made-up corner plate");
    printf("unit   %s\n", jaw_unit_word(j->unit));
    printf("control  step %s  turn yes  lengths gauge-line\n",
           j->unit == JAW_IN ? "0.0001" : "0.001");
    printf("tip stylus  ball");
    put_setting(j, "diameter", j->tip);
    put_setting(j, "length", p->stylus);
    put_repeat(j);
}

static jaw_vec2 on_part(const part *p, double x, double y)
{
    return jaw_machine_from_work(&p->frame, (jaw_vec2){x, y});
}

static void put_top(const job *j, const part *p)
{
    puts("face top  tip stylus");
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches + 0.3;
        jaw_vec2 at = on_part(p, (0.5 + 0.4 * cos(a)) * j->size,
                              (0.25 + 0.2 * sin(a)) * j->size);
        put_row3(j, indent, (jaw_vec3){at.x, at.y, p->top + p->stylus});
    }
}

static void put_walls_and_holes(const job *j, const part *p)
{
    double s = j->size, r = j->tip / 2, skew = p->frame.turn;
    puts("edge front  tip stylus  faces y-");
    put_wall(j, indent, on_part(p, 0.5 * s, 0), skew, 0.9 * s, r);
    puts("edge left  tip stylus  faces x-");
    put_wall(j, indent, on_part(p, 0, 0.25 * s), skew - M_PI / 2, 0.4 * s, r);
    put_top(j, p);
    puts("bore pilot  tip stylus");
    put_circle(j, indent, on_part(p, 0.25 * s, 0.25 * s), 0.05 * s - r);
    puts("slot key  tip stylus");
    jaw_vec2 middle = on_part(p, 0.5 * s, 0.25 * s);
    put_wall(j, indent, middle, skew, 0.3 * s, 0.06 * s - r);
    puts("  /");
    put_wall(j, indent, middle, skew, 0.3 * s, r - 0.06 * s);
    puts("pattern bolts");
    put_pattern(j, indent, &p->frame, (jaw_vec2){0.8 * s, 0.25 * s}, 0.1 * s,
                j->touches);
}

/* Readings of an indicator: the wall leaves the axis by its skew; of a round the
 * distance to the wall, seen from where the spindle stands, is in the reading. */
static void put_sweep(const job *j, const part *p)
{
    jaw_vec2 from = on_part(p, 0.05 * j->size, 0);
    printf("sweep swept  along x  faces y-");
    put_repeat(j);
    for (unsigned long i = 0; i < j->touches; i++) {
        double x = 0.9 * j->size * (spread(i, j->touches) + 0.5);
        printf("  ");
        put_number(j, from.x + x, "  ");
        put_number(j, noisy(j, -x * tan(j->skew)), "\n");
    }
}

static double to_wall(jaw_vec2 e, double radius, double angle)
{
    double c = cos(angle), s = sin(angle), w = e.x * s - e.y * c;
    return e.x * c + e.y * s + sqrt(radius * radius - w * w);
}

static void put_dial(const job *j, const part *p)
{
    double radius = 0.05 * j->size;
    jaw_vec2 centre = on_part(p, 0.25 * j->size, 0.25 * j->size);
    jaw_vec2 e = {0.02 * radius, -0.03 * radius};
    printf("dial dialled inside at ");
    put_number(j, centre.x - e.x, " ");
    put_number(j, centre.y - e.y, "  diameter ");
    put_number(j, 2 * radius, "");
    put_repeat(j);
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches;
        printf("  %.17g  ", jaw_deg(a));
        put_number(j, noisy(j, radius - to_wall(e, radius, a)), "\n");
    }
}

/* A ball in the corner of the plate, and round stock that lies behind it. */
static void put_solids(const job *j, const part *p)
{
    double s = j->size, down = j->tip / 2 - p->stylus;
    job bar = *j;
    jaw_vec2 at = on_part(p, 0.9 * s, 0.4 * s), behind = on_part(p, 0.5 * s, s);
    bar.touches = j->touches < 3 ? 9 : 3 * j->touches;
    puts("ball target  tip stylus");
    put_ball(j, indent, (jaw_vec3){at.x, at.y, p->top + 0.05 * s}, 0.05 * s,
             j->touches + 2, down);
    puts("bar shaft  tip stylus");
    put_bar(&bar, indent, (jaw_vec3){behind.x, behind.y, p->top},
            bar_axis(j->skew, 0), 0.1 * s, 0.8 * s, down);
}

static void put_tools_and_zero(const job *j, const part *p)
{
    printf("setter puck");
    put_setting(j, "top", p->setter);
    printf("\n");
    for (int i = 0; i < 2; i++) {
        printf("tool %d \"made-up tool %d\"\n  touched ", i + 1, i + 1);
        put_number(j, noisy(j, p->setter + p->tool[i]), " on puck\n");
    }
    puts("zero G54\n"
         "  turn  front along x\n"
         "  x  left at 0\n"
         "  y  front at 0\n"
         "  z  top at 0");
    puts("zero G55\n"
         "  turn  swept along x\n"
         "  x  dialled at 0\n"
         "  y  dialled at 0\n"
         "  z  target at 0");
    puts("zero G56\n"
         "  turn  shaft along x\n"
         "  x  target at 0\n"
         "  y  shaft at 0\n"
         "  z  shaft at 0");
}

static void put_setup_truth(const job *j, const part *p)
{
    double s = j->size;
    put_truth_place(j, "G54_xy", p->frame.origin);
    put_truth(j, "G54_z", p->top);
    put_truth_angle("skew_deg", j->skew);
    put_truth_place(j, "pilot_centre", on_part(p, 0.25 * s, 0.25 * s));
    put_truth(j, "pilot_diameter", 0.1 * s);
    put_truth_place(j, "key_middle", on_part(p, 0.5 * s, 0.25 * s));
    put_truth(j, "key_width", 0.12 * s);
    jaw_vec2 ball = on_part(p, 0.9 * s, 0.4 * s);
    jaw_frame corner = jaw_frame_make((jaw_vec2){0, 0}, j->skew);
    /* on the axis, beside the ball */
    jaw_vec2 shaft = jaw_machine_from_work(&corner, (jaw_vec2){0, 0.6 * s});
    put_truth_place(j, "G55_xy", on_part(p, 0.25 * s, 0.25 * s));
    put_truth(j, "G55_z", p->top + 0.05 * s);
    put_truth_place(j, "G56_xy",
                    (jaw_vec2){ball.x + shaft.x, ball.y + shaft.y});
    put_truth(j, "G56_z", p->top);
    put_truth(j, "tool_1", p->tool[0]);
    put_truth(j, "tool_2", p->tool[1]);
}

static void synth_setup(const job *j)
{
    jaw_vec3 at = any_place(j);
    part p = {.frame = jaw_frame_make((jaw_vec2){at.x, at.y}, j->skew),
              .top = at.z - 200,
              .setter = between(j, -320, -280),
              .stylus = between(j, 90, 110),
              .tool = {between(j, 60, 80), between(j, 80, 120)}};
    put_setup_truth(j, &p);
    puts("# to find it: jawline solve");
    put_head(j, &p);
    put_walls_and_holes(j, &p);
    put_sweep(j, &p);
    put_dial(j, &p);
    put_solids(j, &p);
    put_tools_and_zero(j, &p);
}

static void synth_kind(const job *j)
{
    switch (j->kind) {
    case JAW_EDGE:
        synth_edge(j);
        break;
    case JAW_FACE:
        synth_face(j);
        break;
    case JAW_BORE:
    case JAW_BOSS:
        synth_round(j);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        synth_walls(j);
        break;
    case JAW_BALL:
        synth_ball(j);
        break;
    case JAW_BAR:
        synth_bar(j);
        break;
    default:
        synth_pattern(j);
        break;
    }
}

int command_synth(const arguments *args)
{
    job j;
    if (!job_read(args, &j))
        return EXIT_USAGE;
    /* GSL would end the process when it is out of memory */
    gsl_set_error_handler_off();
    j.rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (!j.rng) {
        complain(NULL, "out of memory");
        return EXIT_USAGE;
    }
    gsl_rng_set(j.rng, j.seed);
    put_options(&j, args->operand[0]);
    if (j.setup)
        synth_setup(&j);
    else
        synth_kind(&j);
    gsl_rng_free(j.rng);
    return EXIT_STANDS;
}
