/* SPDX-License-Identifier: GPL-3.0-or-later */
/* units.c: the border between what a person writes and what is inside. */
#include <jawline/base.h>

#include <math.h>

static const double pi = 0x1.921fb54442d18p+1;

double jaw_unit_mm(jaw_unit unit)
{
    switch (unit) {
    case JAW_MM:
        return 1;
    case JAW_IN:
        return JAW_MM_PER_INCH;
    }
    return NAN;
}

const char *jaw_unit_word(jaw_unit unit)
{
    switch (unit) {
    case JAW_MM:
        return "mm";
    case JAW_IN:
        return "in";
    }
    return NULL;
}

/* Divided first: quarter turns of up to two whole turns then come out as
 * whole degrees, exactly. */
double jaw_deg(double rad)
{
    return rad / pi * 180;
}

double jaw_rad(double deg)
{
    return deg / 180 * pi;
}
