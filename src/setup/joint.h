/* SPDX-License-Identifier: GPL-3.0-or-later */
/* joint.h: the whole setup as one adjustment, shared by joint.c (which makes
 * and solves it) and worth.c (which asks it what each value is worth). */
#ifndef JAW__JOINT_H
#define JAW__JOINT_H

#include "solve.h"

enum { JAW__PART_MAX = 5 };

/* Unknowns of one feature.
 *   edge         c, theta        n(theta) . (P - p0) = c on the wall, n being
 *                                the direction turned by +90 degrees
 *   slot, web    m, theta, w     the same for the middle, and the width
 *   bore, boss   x, y, r; in opposite pairs x, y and two half chords; with a
 *                diameter that is known exactly x, y
 *   face         z, and two slopes unless it is taken as level
 *   ball         x, y, z, r of the ball
 *   bar          c, theta, z, slope, r: the axis as an edge's line in the plane,
 *                its height at P0 and its rise; r as of a ball
 *   sweep        b, theta: b is the reading at P0 and means nothing
 *   dial         x, y, b
 *   pattern      none of its own: x, y, turn are shared
 * A direction that gives a work zero its turn is shared too, and so is the
 * radius of a tip whose diameter is not known exactly: it cancels in a middle
 * and in a bore's centre, and moves every edge the same way.  So are its
 * harmonics: they do not cancel there. */
typedef struct jaw__part {
    size_t block; /* JAW_NO_BLOCK: not in the adjustment */
    size_t n;     /* unknowns in the block */
    double at[JAW__PART_MAX]; /* their values, in the order above */
    jaw_vec2 p0;
    int sides;    /* edge: 1 when n looks outward, else -1; walls: 1 when the
                     wall touched second lies on the side of n */
    bool beside;  /* one coordinate was not read: n is a machine axis */
    bool pairs;   /* round, in opposite pairs */
    bool assumed; /* its direction is that of the part, not its own */
    size_t turn;  /* shared unknown that is its theta; JAW_NO_BLOCK: own */
    size_t frame; /* pattern: first of three shared unknowns */
    bool high;    /* it has a height */
    size_t height, height_at; /* which of the block, which of at[] that is */
    bool sized;   /* ball, bar: its radius is the unknown before theta */
} jaw__part;

/* Where an equation's error comes from, and of which entry: a feature's number
 * for touches, sizes, squareness and places, else that of the tip, tool or
 * setter.  The first three are what a hand did; the rest is stated or taken for
 * granted, and its spread is known whatever the touches show.
 *
 * Columns: id; of what (the entries that it counts); what a budget calls it,
 * before the name and after it. */
#define JAW__SOURCE_LIST(X)                                                    \
    X(JAW__FROM_TOUCHES, features, "touches of ", "")                          \
    X(JAW__FROM_TOOL, tools, "touches of tool ", "")                           \
    X(JAW__FROM_TIP, tips, "touches of tip ", " on setters")                   \
    X(JAW__FROM_PLACES, features, "typed places of ", ", as they repeat")      \
    X(JAW__FROM_SPACING, features, "how true the places of ", " are")          \
    X(JAW__FROM_SQUARE, features, "", " taken as square to the part")          \
    X(JAW__FROM_SIZE, features, "stated size of ", "")                         \
    X(JAW__FROM_DIAMETER, tips, "stated diameter of tip ", "")                 \
    X(JAW__FROM_REACH, tips, "stated diameter, runout and lobes of tip ", "")  \
    X(JAW__FROM_TIP_LENGTH, tips, "stated length of tip ", "")                 \
    X(JAW__FROM_TOOL_LENGTH, tools, "stated length of tool ", "")              \
    X(JAW__FROM_TOP, setters, "stated top of ", "")                            \
    X(JAW__FROM_HEIGHT, setters, "stated height of ", "")                      \
    X(JAW__FROM_TEMPERATURE, none, "temperature and expansion", "")            \
    X(JAW__FROM_ELSE, none, "what else is stated", "")

typedef enum jaw__source {
#define JAW__SOURCE_ENUM(id, of, before, after) id,
    JAW__SOURCE_LIST(JAW__SOURCE_ENUM)
#undef JAW__SOURCE_ENUM
    JAW__SOURCES
} jaw__source;

static inline bool jaw__is_by_hand(jaw__source source)
{
    return source <= JAW__FROM_TIP;
}

/* What each equation stands for, for the messages; and its sigma, and whether
 * the touches have to show that, for nobody stated it. */
typedef struct jaw__origin {
    jaw_place place;
    jaw__source source;
    size_t of;
    double typed; /* of a typed place: the part of sigma that its repeat is */
    double sigma;
    bool shown;
    double seen, seen_dof; /* mm, of what a book says, the share of sigma that
                              stands on readings, and its degrees of freedom;
                              0: none */
} jaw__origin;

typedef struct jaw__joint {
    jaw_adjust *adjust;
    jaw__part *parts;      /* one a feature */
    double *node_at;       /* mm, of the nodes that are shared unknowns */
    size_t *node_shared;   /* of each node; JAW_NO_BLOCK: not one */
    double *frame_at;      /* x, y, turn of each pattern, three a feature */
    size_t growth_shared;  /* of nominal lengths; JAW_NO_BLOCK: exact */
    double growth_at;
    size_t *tip_shared;    /* radius of each tip; JAW_NO_BLOCK: exact */
    double *tip_off;       /* mm, what was found more than stated of each */
    size_t *tip_equation;  /* that states it */
    size_t *harmonic_shared; /* the same of its harmonics, four a tip */
    double *harmonic_off;
    jaw__origin *origins;  /* one an equation */
    jaw_equation *equations; /* the equations themselves */
    size_t n_origins, room_origins, room_equations;
    size_t *touch_equation; /* one a touch of the setup; JAW_NO_BLOCK */
    size_t *hole_equation; /* in x of each place; that in y is the next */
    size_t *length_equation; /* that states the length of each tool */
    size_t *size_equation; /* that states the size of each round thing */
    struct jaw__spot *spots; /* where one more touch could be taken (spots.h);
                                listed when one is looked for first */
    size_t n_spots, room_spots;
    bool all_stated;       /* every tip in use states its repeat */
    bool solved;
} jaw__joint;

/* where.c: all NaN. */
jaw_where jaw__nowhere(void);

/* jaw__theta_of_found: rad, the direction of a feature that has one, or a
 * pattern's turn. */
static inline double jaw__theta_of_found(const jaw_found *f)
{
    switch (f->kind) {
    case JAW_PATTERN: return f->as.pattern.frame.turn;
    case JAW_EDGE: return f->as.edge.theta;
    case JAW_BAR: return f->as.bar.theta;
    case JAW_SWEEP: return f->as.sweep.theta;
    default: return f->as.walls.theta;
    }
}

/* reach.c.  From where touches came.  A pair of a round is met straight along
 * its axis, which is what a coordinate that was not read leaves. */
typedef struct jaw__came {
    jaw_feature_kind kind;
    double theta; /* edge, slot, web: as in jaw__part */
    int sides;
    jaw_vec2 centre; /* bore, boss, ball; a place on the axis of a bar */
} jaw__came;

/* jaw__came_of: as the feature was found.  jaw__approach: the angle; first: of
 * the first wall; NaN where harmonics have no say. */
jaw__came jaw__came_of(const jaw__solver *sv, size_t f);
double jaw__approach(const jaw__came *c, jaw_touch t, bool first);

/* jaw__meet: the touches of a feature as a tip without harmonics would have
 * read them.  Returned: mm, the largest change of a coordinate of met[]. */
double jaw__meet(const jaw__solver *sv, size_t f, const jaw__came *came,
                 jaw_touch met[]);

/* What is stated of a tip's radius and harmonics as equations with errors that
 * are independent: sum row[i][j] (x_part[j] - stated) = error of sigma[i]. */
typedef struct jaw__prior {
    size_t n;
    jaw_tip_part part[JAW_TIP_PARTS];
    double row[JAW_TIP_PARTS][JAW_TIP_PARTS], sigma[JAW_TIP_PARTS];
} jaw__prior;

/* jaw__prior_of: false when the correlations can not all be. */
bool jaw__prior_of(const jaw_tip_entry *e, jaw__prior *p);

/* jaw__touch_equation: what one touch of a feature says, taken or not, in the
 * adjustment as it stands; first: of the first wall, or the first of a pair.
 * jaw__touch_first: whether touch i of a feature is such a one. */
jaw_equation jaw__touch_equation(const jaw__solver *sv, long f, jaw_touch t,
                                 bool first);
bool jaw__touch_first(const jaw__solver *sv, long f, size_t i);

/* jaw__add_equation: c times what an equation makes of the unknowns, to a form;
 * false when the form is of another adjustment, or NULL. */
bool jaw__add_equation(jaw_linear *form, const jaw_equation *e, double c);

/* jaw__contact_equation: what a contact says, whether or not it was used;
 * false when it says nothing. */
bool jaw__contact_equation(const jaw__solver *sv, size_t i, jaw_equation *e);

/* jaw__find_next (next.c): the one touch more that reduces the uncertainty of f
 * most; worst is the equation with the largest reach, unchecked: nothing checks
 * it.  Nothing is found when too little is gained. */
typedef struct jaw__want {
    const jaw_linear *f;
    size_t worst;
    bool unchecked;
    double half95, dof; /* of f as it is; dof of the spread that was seen */
    bool mixed; /* it stands on what is known as well */
} jaw__want;

void jaw__find_next(jaw__solver *sv, const jaw__want *want, jaw_next *next);

#endif
