/* SPDX-License-Identifier: GPL-3.0-or-later */
/* frame.c: the part's plane on the machine's, and angles brought into range.
 *
 * Quarter turns are what most setups have, and no double is a quarter turn:
 * the nearest to pi/2 has a cosine of 6e-17.  An angle that is as near to a
 * multiple of pi/2 as its own last digit can tell is therefore taken to be
 * that multiple, so that a turn of 90 degrees moves nothing by rounding. */
#include <jawline/base.h>

#include <float.h>
#include <math.h>

/* pi/2 = high + low to about 1e-33.  Cody & Waite, Software Manual for the
 * Elementary Functions (1980), ch. 8: subtract the parts one after another. */
#define QUARTER_HIGH 0x1.921fb54442d18p+0
#define QUARTER_LOW 0x1.1a62633145c07p-54
#define HALF_TURN (2 * QUARTER_HIGH)

/* Above this many quarters one last digit is no longer a small angle. */
#define QUARTERS_MAX 65536

/* True when angle is a multiple of pi/2 to its last digit; *quarter is the
 * multiple modulo 4, 0..3. */
static bool is_quarter(double angle, int *quarter)
{
    double k = nearbyint(angle / QUARTER_HIGH);
    if (!(fabs(k) <= QUARTERS_MAX))
        return false;
    double rest = fma(-k, QUARTER_HIGH, angle) - k * QUARTER_LOW;
    if (fabs(rest) > DBL_EPSILON * fabs(angle))
        return false;
    *quarter = (int)k & 3;
    return true;
}

jaw_frame jaw_frame_make(jaw_vec2 origin, double turn)
{
    static const double sine[] = {0, 1, 0, -1};
    jaw_frame f = {.origin = origin, .turn = turn};
    int quarter;
    if (is_quarter(turn, &quarter)) {
        f.c = sine[(quarter + 1) & 3];
        f.s = sine[quarter];
    } else {
        f.c = cos(turn);
        f.s = sin(turn);
    }
    return f;
}

jaw_vec2 jaw_machine_from_work(const jaw_frame *frame, jaw_vec2 work)
{
    return (jaw_vec2){
        frame->origin.x + (frame->c * work.x - frame->s * work.y),
        frame->origin.y + (frame->s * work.x + frame->c * work.y),
    };
}

jaw_vec2 jaw_work_from_machine(const jaw_frame *frame, jaw_vec2 machine)
{
    double x = machine.x - frame->origin.x;
    double y = machine.y - frame->origin.y;
    return (jaw_vec2){frame->c * x + frame->s * y, frame->c * y - frame->s * x};
}

double jaw_angle_half(double angle)
{
    int quarter;
    if (is_quarter(angle, &quarter))
        return quarter & 1 ? QUARTER_HIGH : 0;
    double a = remainder(angle, HALF_TURN);
    return a <= -QUARTER_HIGH ? QUARTER_HIGH : a;
}

double jaw_angle_full(double angle)
{
    static const double whole[] = {0, QUARTER_HIGH, HALF_TURN, -QUARTER_HIGH};
    int quarter;
    if (is_quarter(angle, &quarter))
        return whole[quarter];
    double a = remainder(angle, 2 * HALF_TURN);
    return a <= -HALF_TURN ? HALF_TURN : a;
}
