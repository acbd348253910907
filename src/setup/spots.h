/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spots.h: where one more touch could be taken, for all values alike. */
#ifndef JAW__SPOTS_H
#define JAW__SPOTS_H

#include "joint.h"

typedef enum jaw__spot_kind {
    JAW__AGAIN,
    JAW__ALONG,
    JAW__AROUND,
    JAW__ON_TOP,
    JAW__BESIDE,
    JAW__CORNER,
    JAW__CONTACT
} jaw__spot_kind;

/* A touch that could be taken, and what it would say. */
typedef struct jaw__spot {
    jaw__spot_kind kind;
    size_t feature; /* or contact */
    size_t touch;
    jaw_vec2 dir; /* of ALONG, BESIDE: that of the wall or bar */
    double arm;   /* mm, of ALONG */
    int eighth;   /* of AROUND */
    int side;     /* of BESIDE: 1 on the left of dir, -1, 0 on top */
    int end;      /* of BESIDE: 1 where dir points, -1 */
    jaw_vec2 at;  /* of CORNER */
    jaw_equation says;
} jaw__spot;

/* What is worth a word: a fifth of the uncertainty, or a check in which at
 * least a tenth of a slip shows. */
#define JAW__GAIN_LEAST 0.2
#define JAW__CHECK_LEAST 0.1

/* Of two that gain alike, to rounding, the first is named. */
#define JAW__BETTER (1 - 1e-9)

/* jaw__spot_text: what a person is to do there (next.c). */
const char *jaw__spot_text(jaw__solver *sv, const jaw__spot *at);

/* jaw__list_spots: into the joint, once it is solved.  That memory ran out is
 * kept in the solver. */
void jaw__list_spots(jaw__solver *sv);

#endif
