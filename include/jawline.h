/* SPDX-License-Identifier: GPL-3.0-or-later */
/* jawline.h: the whole library, in the order in which its parts build on one
 * another.  Every length is in millimetres, every angle in radians, counter-
 * clockwise positive seen from +Z, unless a name says otherwise. */
#ifndef JAWLINE_H
#define JAWLINE_H

#include <jawline/base.h>
#include <jawline/fit.h>
#include <jawline/trust.h>
#include <jawline/measure.h>
#include <jawline/feature.h>
#include <jawline/align.h>
#include <jawline/hold.h>
#include <jawline/datum.h>
#include <jawline/rotary.h>
#include <jawline/place.h>
#include <jawline/readback.h>
#include <jawline/setup.h>
#include <jawline/sheet.h>
#include <jawline/book.h>
#include <jawline/report.h>

#endif
