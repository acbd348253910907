/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tasks.c: random setups with a known truth for what is beside features and
 * zeros: stations, the second side, a rotary table, datums, what holds the
 * part, the machine by an indicator.  What is stated as known to so much is off
 * by an error of just that. */
#include "parts.h"

#include <math.h>
#include <stdio.h>

static const zero_names corner = {"stop", "rail", "top", "rail", JAW_X};
static const double unstated = (double)NAN;

static void add_task(world *w, const jaw_task *task)
{
    good(jaw_setup_add_task(w->setup, task));
}

static void expect_figure(world *w, size_t finding, const char *text,
                          double is)
{
    expect(w, text, TRUE_FIGURE, finding, JAW_AXES, is);
}

/* The repeat of an indicator or of what a table's angles show. */
static double own_repeat(const world *w)
{
    return w->made.stated ? w->repeat : unstated;
}

/* A corner of a part at w->p, as high as z. */
static void add_corner(world *w, const char *rail, const char *stop,
                       const char *top, double z, double length)
{
    add_rail(w, rail, 3, 1);
    add_stop(w, stop, 2, 1);
    add_face_at(w, top, z, 4, 1, length);
}

/* ----------------------------------------------------------------- stations */

enum { STATIONS = 4 };

/* What one of a row of stations has. */
typedef struct place {
    char rail[8], stop[8], top[8], zero[8];
    jaw_vec3 nominal;
    jaw_vec2 p;
    double z;
} place;

/* Along a row, a step up or down at each; all lie as the whole does. */
static void new_places(world *w, place at[], double known)
{
    jaw_vec2 x = direction(w->skew), y = direction(w->skew + M_PI / 2);
    double z = between(w, -400, -300);

    for (int i = 0; i < STATIONS; i++) {
        jaw_vec2 n = near_by(w, (jaw_vec2){150 * i, 0}, 20, 60);
        jaw_vec2 is = off_by(w, n, known);
        at[i].nominal = (jaw_vec3){n.x, n.y, between(w, -20, 20)};
        at[i].p = go(go(w->p, x, is.x), y, is.y);
        at[i].z = z + at[i].nominal.z + error(w, known);
        snprintf(at[i].rail, sizeof at[i].rail, "rail%d", i);
        snprintf(at[i].stop, sizeof at[i].stop, "stop%d", i);
        snprintf(at[i].top, sizeof at[i].top, "top%d", i);
        snprintf(at[i].zero, sizeof at[i].zero, "G%d", 54 + i);
    }
}

static void add_station(world *w, const place *at, bool touched)
{
    jaw_zero_entry e = {.name = at->zero,
                        .station = "row",
                        .station_at = at->nominal};

    if (touched) {
        e.turn_use = JAW_TURN_FEATURE;
        e.turn_feature = at->rail;
        e.turn_along = JAW_X;
        e.term[JAW_X] = (jaw_zero_term){at->stop, w->at.x, nowhere};
        e.term[JAW_Y] = (jaw_zero_term){at->rail, w->at.y, nowhere};
        e.term[JAW_Z] = (jaw_zero_term){at->top, 0, nowhere};
    }
    good(jaw_setup_add_zero(w->setup, &e));
}

/* What the touched ones are off where the others put them, in truth 0: each has
 * its own error.  One other says so in the plane with a turn measured apart. */
static void expect_agreement(world *w, const place at[], int touched,
                             bool turned_apart)
{
    char text[64];

    for (int i = 0; i < touched && (touched > 1 || turned_apart); i++) {
        bool plane = touched > 2 || turned_apart;
        char axis = plane ? 'X' : 'Z';
        for (; axis <= 'Z' && touched > 1; axis++) {
            snprintf(text, sizeof text, "%s off in %c", at[i].zero, axis);
            expect_figure(w, 0, text, 0);
        }
        snprintf(text, sizeof text, "%s turn off", at[i].zero);
        expect_figure(w, 0, text, 0);
    }
    /* each coordinate of each, and chi-square in the plane and of the height */
    w->tested = touched > 1 ? 3u * (unsigned)touched + 2 : 0;
}

/* p[0] of four are touched; p[1]: how all lie is measured on an edge of the
 * plate; p[2]: touched ones, too, take what all say; p[3]: places are known as
 * well as nobody stated otherwise. */
void build_stations(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), known = between(w, 0.002, 0.02);
    place at[STATIONS];

    known = p[3] != 0 ? JAW_SPACING_DEFAULT : known;
    jaw_task row = {.kind = JAW_TASK_STATIONS,
                    .name = "row",
                    .as.stations = {.known = p[3] != 0 ? 0 : known,
                                    .adjusted = p[2] != 0}};
    if (p[1] != 0) {
        row.as.stations.turn_use = JAW_TURN_FEATURE;
        row.as.stations.turn_feature = "edge";
        row.as.stations.turn_along = JAW_X;
    }
    w->length_known = 0.01;
    add_tip(w, "probe", length);
    new_places(w, at, known);
    add_rail(w, "edge", 4, 1);
    add_task(w, &row);
    for (int i = 0; i < STATIONS; i++) {
        w->p = at[i].p;
        if (i < p[0])
            add_corner(w, at[i].rail, at[i].stop, at[i].top, at[i].z, length);
        add_station(w, &at[i], i < p[0]);
        expect_plane(w, (size_t)i, true);
        expect(w, "Z", TRUE_ZERO, (size_t)i, JAW_Z, at[i].z);
    }
    expect_figure(w, 0, "turn of the stations", w->skew);
    expect_agreement(w, at, p[0], p[1] != 0);
}

/* --------------------------------------------------------------------- side */

/* Half a turn about an axis turns the other two round: from side two to one. */
static jaw_vec3 drawn(int over, jaw_vec3 zero, jaw_vec3 two)
{
    return (jaw_vec3){zero.x + (over == 0 ? two.x : -two.x),
                      zero.y + (over == 1 ? two.y : -two.y),
                      zero.z + (over == 2 ? two.z : -two.z)};
}

static void expect_mismatch(world *w)
{
    expect(w, "G54 X off, at the zero", TRUE_OFF_ZERO, 0, JAW_X, 0);
    expect(w, "G54 Y off, at the zero", TRUE_OFF_ZERO, 0, JAW_Y, 0);
    expect(w, "G54 X off, at the far end", TRUE_OFF_FAR, 0, JAW_X, 0);
    expect(w, "G54 Y off, at the far end", TRUE_OFF_FAR, 0, JAW_Y, 0);
    expect(w, "G54 Z off, tool 1", TRUE_OFF_HEIGHT, 0, JAW_Z, 0);
}

/* Side one's zero is where it is; what is touched lies off by an error of its
 * own, and so does what is to be met. */
static double displace(world *w, double z, double z_at, double cut)
{
    jaw_vec2 x = direction(w->skew), y = direction(w->skew + M_PI / 2);
    jaw_vec2 meets = go(go(w->p, x, -w->at.x), y, -w->at.y);

    meets = off_by(w, meets, cut);
    w->meets = (jaw_vec3){meets.x, meets.y, z - z_at + error(w, cut)};
    w->p = off_by(w, w->p, cut);
    return z + error(w, cut);
}

/* p[0]: over which axis. */
void build_side(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), cut = between(w, 0.002, 0.02);
    double z = between(w, -400, -300), z_at = between(w, -20, 20);
    jaw_vec2 zero = near_by(w, (jaw_vec2){0, 0}, 100, 100);
    jaw_task side = {.kind = JAW_TASK_SIDE,
                     .name = "two",
                     .as.side = {.over = (jaw_over)p[0],
                                 .zero = {zero.x, zero.y, between(w, -30, 0)},
                                 .cut = cut}};
    jaw_tool_entry tool = {.number = 1,
                           .length_known = 0.01,
                           .diameter = unstated};

    w->tool = between(w, 40, 180);
    tool.length = w->tool + error(w, 0.01);
    w->length_known = 0.01;
    add_tip(w, "probe", length);
    add_task(w, &side);
    good(jaw_setup_add_tool(w->setup, &tool));
    z = displace(w, z, z_at, cut);
    add_corner(w, "rail", "stop", "top", z, length);
    expect_plane(w, 0, true);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z - z_at);
    expect_mismatch(w);
    /* what is stated is of side one */
    jaw_vec3 one = drawn(p[0], side.as.side.zero,
                         (jaw_vec3){w->at.x, w->at.y, z_at});
    w->at = (jaw_vec2){one.x, one.y};
    add_zero(w, "G54", corner, one.z);
}

/* ------------------------------------------------------------------- rotary */

static double *axis_of(jaw_vec3 *p, int axis)
{
    return axis % 3 == 0 ? &p->x : axis % 3 == 1 ? &p->y : &p->z;
}

/* By the right hand about an axis the next one turns towards the one after. */
static jaw_vec3 carried(int about, jaw_vec3 centre, jaw_vec3 p, double angle)
{
    jaw_vec3 out = p;
    double u = *axis_of(&p, about + 1) - *axis_of(&centre, about + 1);
    double v = *axis_of(&p, about + 2) - *axis_of(&centre, about + 2);

    *axis_of(&out, about + 1) =
        *axis_of(&centre, about + 1) + cos(angle) * u - sin(angle) * v;
    *axis_of(&out, about + 2) =
        *axis_of(&centre, about + 2) + sin(angle) * u + cos(angle) * v;
    return out;
}

/* The two coordinates across the axis, x before y before z, as the tip reads
 * them. */
static void see(world *w, int about, jaw_vec3 p, double shown, bool second,
                double length)
{
    double read[3] = {p.x + error(w, w->repeat), p.y + error(w, w->repeat),
                      p.z + length + error(w, w->repeat)};
    jaw_reading r = {.at = shown,
                     .value = read[about == 0 ? 1 : 0],
                     .other = read[about == 2 ? 1 : 2],
                     .second = second};

    good(jaw_setup_add_reading(w->setup, &r));
}

/* n readings all round of a pin on the table, `far` along its axis, which leans
 * as said towards the two other ones. */
static void see_pin(world *w, int about, int sense, jaw_vec3 centre,
                    const double lean[2], double far, int n, double length)
{
    for (int k = 0; k < 2; k++)
        *axis_of(&centre, about + 1 + k) += far * tan(lean[k]);
    jaw_vec3 pin = centre;
    *axis_of(&pin, about + 1) += between(w, 20, 60);
    *axis_of(&pin, about + 2) += between(w, -30, 30);
    for (int i = 0; i < n; i++) {
        double shown = station(w, i, n, 2 * M_PI);
        see(w, about, carried(about, centre, pin, sense * shown), shown,
            far != 0, length);
    }
}

/* A bore that was found with the table at each of n angles. */
static void see_bores(world *w, int sense, jaw_vec3 centre, int n)
{
    static const char *const name[] = {"a", "b", "c", "d", "e", "f"};
    jaw_vec3 at = centre;

    at.x += between(w, 20, 60);
    for (int i = 0; i < n; i++) {
        double shown = station(w, i, n, 2 * M_PI);
        jaw_vec3 is = carried(2, centre, at, sense * shown);
        jaw_reading r = {.at = shown,
                         .value = unstated,
                         .other = unstated,
                         .feature = name[i]};
        good(jaw_setup_add_reading(w->setup, &r));
        add_round(w, JAW_BORE, name[i], (jaw_vec2){is.x, is.y}, 4, 2 * M_PI,
                  false);
    }
}

static void expect_line(world *w, int about, jaw_vec3 centre,
                        const double lean[2], bool two)
{
    static const char letter[] = "XYZXY";
    char text[64];

    for (int k = 0; k < 2; k++) {
        snprintf(text, sizeof text, "centre line, machine %c",
                 letter[about + 1 + k]);
        expect_figure(w, 0, text, *axis_of(&centre, about + 1 + k));
        snprintf(text, sizeof text, "leans to %c+, going %c+",
                 letter[about + 1 + k], letter[about]);
        if (two)
            expect_figure(w, 0, text, lean[k]);
    }
}

/* The zero of the corner, and where it goes; its turn goes along about Z, and
 * is else left as far as part Z still stands up. */
static void add_indexed(world *w, int about, int sense, jaw_vec3 centre,
                        double z)
{
    double from = between(w, -0.3, 0.3), to = between(w, -3, 3);
    jaw_zero_entry e = {.name = "G55",
                        .index = {.source = "G54",
                                  .table = "table",
                                  .to = to,
                                  .from = from}};
    double turn = sense * (to - from);

    add_zero(w, "G54", corner, 0);
    expect_plane(w, 0, true);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z);
    jaw_vec3 zero = {w->truths[0].is, w->truths[1].is, z};
    jaw_vec3 to_be = carried(about, centre, zero, turn);
    good(jaw_setup_add_zero(w->setup, &e));
    for (int a = 0; a < 3; a++)
        expect(w, a == 0 ? "indexed X" : a == 1 ? "indexed Y" : "indexed Z",
               TRUE_ZERO, 1, (jaw_axis)a, *axis_of(&to_be, a));
    expect(w, "indexed turn", TRUE_TURN, 1, JAW_AXES,
           about == 2 ? w->skew : w->skew * cos(turn));
}

/* p[0]: about which axis; p[1] angles; p[2]: bores that were found at them
 * (about Z); p[3]: seen at a second place along the axis too. */
void build_table(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), z = between(w, -400, -300);
    double lean[2] = {0, 0}, apart = p[3] != 0 ? between(w, 50, 150) : 0;
    int sense = gsl_rng_uniform_int(w->rng, 2) == 0 ? 1 : -1;
    jaw_task table = {.kind = JAW_TASK_ROTARY,
                      .name = "table",
                      .as.rotary = {.about = (jaw_axis)p[0],
                                    .sense = JAW_SENSE_FIND,
                                    .apart = p[3] != 0 ? apart : unstated,
                                    .repeat = p[2] != 0 ? unstated
                                                        : own_repeat(w),
                                    .tip = p[2] != 0 ? NULL : "probe"}};
    jaw_vec2 c = near_by(w, w->p, 40, 40);
    jaw_vec3 centre = {c.x, c.y, z + between(w, -40, 40)};

    if (p[3] != 0) {
        lean[0] = between(w, -1e-3, 1e-3);
        lean[1] = between(w, -1e-3, 1e-3);
    }
    w->length_known = 0.01;
    add_tip(w, "probe", length);
    add_task(w, &table);
    if (p[2] != 0)
        see_bores(w, sense, centre, p[1]);
    else
        see_pin(w, p[0], sense, centre, lean, 0, p[1], length);
    if (p[3] != 0)
        see_pin(w, p[0], sense, centre, lean, apart, p[1], length);
    add_corner(w, "rail", "stop", "top", z, length);
    add_indexed(w, p[0], sense, centre, z);
    expect_line(w, p[0], centre, lean, p[3] != 0);
    w->tested = p[3] != 0 ? 2 : 1;
}

/* ------------------------------------------------------------------- datums */

typedef struct lain {
    jaw_vec3 corner, axis[3]; /* on the machine; of the part, of length 1 */
    double lean[2];           /* rad, of part Z towards X and Y */
} lain;

static jaw_vec3 of_length_1(jaw_vec3 v)
{
    double r = sqrt(v.x * v.x + v.y * v.y + v.z * v.z);

    return (jaw_vec3){v.x / r, v.y / r, v.z / r};
}

/* Z leans; X is square to it, and seen from above it lies at the skew; Y is
 * square to both. */
static lain new_lain(world *w)
{
    lain l = {.corner = {w->p.x, w->p.y, between(w, -400, -300)}};
    jaw_vec2 d = direction(w->skew);

    for (int k = 0; k < 2; k++)
        l.lean[k] = between(w, -5e-3, 5e-3);
    double x = tan(l.lean[0]), y = tan(l.lean[1]);
    jaw_vec3 z = of_length_1((jaw_vec3){x, y, 1});
    jaw_vec3 a = of_length_1((jaw_vec3){d.x, d.y, -(d.x * x + d.y * y)});
    l.axis[0] = a;
    l.axis[1] = (jaw_vec3){z.y * a.z - z.z * a.y, z.z * a.x - z.x * a.z,
                           z.x * a.y - z.y * a.x};
    l.axis[2] = z;
    return l;
}

static jaw_vec3 on_it(const lain *l, double x, double y, double z)
{
    const jaw_vec3 *a = l->axis;

    return (jaw_vec3){l->corner.x + x * a[0].x + y * a[1].x + z * a[2].x,
                      l->corner.y + x * a[0].y + y * a[1].y + z * a[2].y,
                      l->corner.z + x * a[0].z + y * a[1].z + z * a[2].z};
}

static void touch_side(world *w, const lain *l, jaw_vec3 at, int axis, int way,
                       double length)
{
    jaw_vec3 n = l->axis[axis];

    touch_solid(w, on_it(l, at.x, at.y, at.z),
                (jaw_vec3){way * n.x, way * n.y, way * n.z}, length);
}

/* The walls are touched at one depth: an edge by itself is taken as upright,
 * and would doubt touches of one that leans. */
static void touch_datums(world *w, const lain *l, const int n[3],
                         double length)
{
    double depth = between(w, 3, 15);

    add_feature(w, JAW_FACE, "top", JAW_SIDE_NONE);
    for (int i = 0; i < n[0]; i++) {
        jaw_vec2 d = direction(station(w, i, n[0], 2 * M_PI));
        double far = between(w, 20, 40);
        touch_side(w, l, (jaw_vec3){60 + far * d.x, 50 + far * d.y, 0}, 2, 1,
                   length);
    }
    add_feature(w, JAW_EDGE, "rail", JAW_SIDE_YMINUS);
    for (int i = 0; i < n[1]; i++)
        touch_side(w, l, (jaw_vec3){station(w, i, n[1], 120), 0, -depth}, 1,
                   -1, length);
    add_feature(w, JAW_EDGE, "stop", JAW_SIDE_XMINUS);
    for (int i = 0; i < n[2]; i++)
        touch_side(w, l, (jaw_vec3){0, station(w, i, n[2], 90), -depth}, 0, -1,
                   length);
}

static void expect_lie(world *w, const lain *l)
{
    expect_figure(w, 0, "skew, seen from above", w->skew);
    expect_figure(w, 0, "part Z leans to X+", l->lean[0]);
    expect_figure(w, 0, "part Z leans to Y+", l->lean[1]);
}

/* How much higher the top stands at part coordinates 100 80 than at the zero's
 * corner. */
static void add_far_corner(world *w, const lain *l)
{
    jaw_reading r = {.value = 100, .other = 80, .second = true};

    good(jaw_setup_add_reading(w->setup, &r));
    jaw_vec3 there = on_it(l, 100 - w->at.x, 80 - w->at.y, 0);
    expect_figure(w, 0, "Z off at 100.000 80.000", there.z - l->corner.z);
}

/* p: how many touches the three have. */
void build_datums(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), z_at = between(w, -20, 20);
    jaw_zero_entry e = {.name = "G54", .datums = "block"};

    w->length_known = 0.01;
    add_tip(w, "probe", length);
    lain l = new_lain(w);
    touch_datums(w, &l, p, length);
    jaw_task block = {.kind = JAW_TASK_DATUMS,
                      .name = "block",
                      .as.datums = {.feature = {"top", "rail", "stop"},
                                    .at = {w->at.x, w->at.y, z_at}}};
    add_task(w, &block);
    good(jaw_setup_add_zero(w->setup, &e));
    expect_plane(w, 0, true);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, l.corner.z - z_at);
    expect_lie(w, &l);
    add_far_corner(w, &l);
    w->tested = 3;
}

/* -------------------------------------------------------------------- holds */

static jaw_length known_to(world *w, double mm, double spread)
{
    return (jaw_length){mm + error(w, spread), spread};
}

static void add_vise(world *w, double bed, double high)
{
    jaw_task vise = {.kind = JAW_TASK_VISE,
                     .name = "bench",
                     .as.vise = {.bed = known_to(w, bed, 0.01),
                                 .jaw_height = high,
                                 .jaw_width = 150,
                                 .opening = 200,
                                 .fixed = "rail"}};

    add_task(w, &vise);
}

/* A zero on the stock's top before it is touched, and one as touched. */
void build_stock(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), bed = between(w, -400, -300);
    double under = between(w, 10, 20), high = between(w, 40, 60);
    double top = bed + under + high;
    jaw_task stock = {.kind = JAW_TASK_STOCK,
                      .name = "blank",
                      .as.stock = {.vise = "bench",
                                   .least_grip = unstated,
                                   .top = "top"}};

    (void)p;
    w->length_known = 0.01;
    add_tip(w, "probe", length);
    add_rail(w, "rail", 3, 1);
    add_face_at(w, "top", top, 4, 1, length);
    add_vise(w, bed, 35);
    stock.as.stock.parallels = known_to(w, under, 0.005);
    stock.as.stock.size[0] = stock.as.stock.size[1] = (jaw_length){100, 0};
    stock.as.stock.size[2] = known_to(w, high, 0.02);
    add_task(w, &stock);
    add_zero(w, "G54", (zero_names){NULL, NULL, "blank", NULL, JAW_AXES}, 0);
    add_zero(w, "G55", (zero_names){NULL, NULL, "top", NULL, JAW_AXES}, 0);
    expect(w, "Z before", TRUE_ZERO, 0, JAW_Z, top);
    expect(w, "Z touched", TRUE_ZERO, 1, JAW_Z, top);
    expect_figure(w, 0, "bed, machine Z", bed);
    expect_figure(w, 0, "skew of the fixed jaw", w->skew);
    expect_figure(w, 1, "top by the stack, machine Z", top);
    expect_figure(w, 1, "'top' as touched, above it", 0);
    w->tested = 1;
}

/* Round stock rests where both flanks are as far from its axis as its radius:
 * that stands r / sin(angle / 2) above the sharp bottom. */
void build_vee(world *w, const int p[PARAMETERS])
{
    double apex = between(w, -400, -300), r = between(w, 5, 30);
    double angle = between(w, 1, 2), puck = between(w, -400, -300);
    double axis = apex + r / sin(angle / 2), tool = between(w, 40, 180);
    jaw_length top = known_to(w, puck, 0.01);
    jaw_setter_entry setter = {.name = "puck",
                               .top = top.value,
                               .top_known = top.known,
                               .height = unstated};
    jaw_tool_entry e = {.number = 1, .length = unstated, .diameter = unstated};
    jaw_contact_entry c = {.tool = 1, .surface = "puck"};
    jaw_task vee = {.kind = JAW_TASK_VEE, .name = "block"};

    (void)p;
    c.reading = puck + tool + error(w, contact_repeat(w));
    vee.as.vee.angle = angle;
    vee.as.vee.apex = known_to(w, apex, 0.01);
    vee.as.vee.diameter = known_to(w, 2 * r, 0.02);
    good(jaw_setup_add_setter(w->setup, &setter));
    good(jaw_setup_add_tool(w->setup, &e));
    good(jaw_setup_add_contact(w->setup, &c));
    add_task(w, &vee);
    add_zero(w, "G54", (zero_names){NULL, NULL, "block", NULL, JAW_AXES}, 0);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, axis + r);
    expect(w, "tool 1", TRUE_TOOL, 0, JAW_Z, tool);
    expect_figure(w, 0, "axis of the stock, machine Z", axis);
    expect_figure(w, 0, "its top, machine Z", axis + r);
}

/* -------------------------------------------------------------------- align */

static void read_task(world *w, double at, double value, bool second)
{
    jaw_reading r = {.at = at,
                     .value = value + error(w, w->repeat),
                     .second = second};

    good(jaw_setup_add_reading(w->setup, &r));
}

/* The plunger hangs off the axis by the radius, along it; the table pushes it
 * in by as much less as it hangs higher, measured along the axis.  The arm is
 * square to the axis, and seen from above it points to the angle. */
static double hung(const double lean[2], double radius, double angle)
{
    double x = tan(lean[0]), y = tan(lean[1]);
    jaw_vec2 d = direction(angle);
    jaw_vec3 arm = of_length_1((jaw_vec3){d.x, d.y, -(d.x * x + d.y * y)});

    return -radius * arm.z * sqrt(1 + x * x + y * y);
}

/* p[0] readings. */
void build_head(world *w, const int p[PARAMETERS])
{
    double radius = between(w, 50, 200), zero = between(w, -1, 1);
    double lean[2] = {0, 0};
    jaw_task head = {.kind = JAW_TASK_TRAM,
                     .name = "head",
                     .as.tram = {.radius = radius,
                                 .cutter = unstated,
                                 .base = unstated,
                                 .repeat = own_repeat(w)}};

    for (int k = 0; k < 2; k++)
        lean[k] = between(w, -1e-3, 1e-3);
    add_task(w, &head);
    for (int i = 0; i < p[0]; i++) {
        double angle = station(w, i, p[0], 2 * M_PI);
        read_task(w, angle, zero + hung(lean, radius, angle), false);
    }
    expect_figure(w, 0, "leans towards X+, going up", lean[0]);
    expect_figure(w, 0, "leans towards Y+, going up", lean[1]);
    w->tested = 1;
}

/* One arm lies along X; from a right angle to it the other leans by `own` to
 * X-, and turned over to X+; the Y axis leans by `axes` to X-.  p[0] readings
 * each time. */
void build_square(world *w, const int p[PARAMETERS])
{
    double axes = between(w, -1e-3, 1e-3), own = between(w, -1e-3, 1e-3);
    double span = between(w, 80, 200), from = between(w, -200, 200);
    jaw_task square = {.kind = JAW_TASK_SQUARE,
                       .name = "axes",
                       .as.square = {.faces = {JAW_SIDE_XPLUS, JAW_SIDE_XMINUS},
                                     .over = unstated,
                                     .repeat = own_repeat(w)}};

    add_task(w, &square);
    for (int k = 0; k < 2; k++) {
        double zero = between(w, -1, 1), way = k == 0 ? 1 : -1;
        double comes = sin(axes) - way * tan(own) * cos(axes);
        for (int i = 0; i < p[0]; i++) {
            double y = station(w, i, p[0], span);
            read_task(w, from + y, zero + way * comes * y, k == 1);
        }
    }
    expect_figure(w, 0, "angle between the axes, less 90", axes);
    expect_figure(w, 0, "the square's own angle, less 90", own);
    w->tested = 2;
}
