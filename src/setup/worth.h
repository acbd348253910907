/* SPDX-License-Identifier: GPL-3.0-or-later */
/* worth.h: shared by worth.c (what each value is worth), budget.c (what that is
 * made of) and judge.c (what the tests say of touches, places and sizes). */
#ifndef JAW__WORTH_H
#define JAW__WORTH_H

#include "joint.h"

/* Whose sigmas are multiplied by the spread that was seen.
 *   NONE    the repeats are stated and hold
 *   SHOWN   those that nobody stated (jaw__origin.shown)
 *   HANDS   all that a hand did: the touches deny their repeats, and what is
 *           known beside them bears out its own
 *   ALL     something stated is wrong, and nobody can tell what */
typedef enum jaw__grown {
    JAW__NONE,
    JAW__SHOWN,
    JAW__HANDS,
    JAW__ALL
} jaw__grown;

/* A spread this much larger than stated happens once in a thousand setups. */
#define JAW__SPREAD_CHANCE 0.001

/* One of several is named when it is this likely to be the one to blame. */
#define JAW__NAMED 0.95

/* What stands on readings behind a book, of the value that was summed last: its
 * variance, the sum of u^4 / dof (jaw_trust_effective_dof), and its parts, each
 * with its own degrees of freedom; of more parts than there is room for, the
 * last is all that are left, with the effective ones. */
enum { JAW__RECORDED_PARTS = 8 };
typedef struct jaw__recorded {
    double variance, u4;
    double u[JAW__RECORDED_PARTS], dof[JAW__RECORDED_PARTS];
    size_t n;
} jaw__recorded;

typedef struct jaw__worth {
    jaw__solver *sv;
    const jaw__joint *j;
    jaw_linear *f;
    jaw__grown grown;
    double scale, dof;
    size_t worst; /* equation that reaches farthest, of the last value */
    size_t first[JAW__SOURCES + 1]; /* of each source among the sums */
    double *sums;  /* variances of the value, one a source and entry */
    jaw__recorded recorded; /* of what they sum up */
    size_t *order; /* of the sums that are not nothing */
    bool *spoken;  /* one a feature: its place in a pattern is what is off */
} jaw__worth;

/* forms.c: a linear form is started, put together, and weighed (worth.c).  All
 * of them do nothing, and weighing knows nothing, where there is no adjustment:
 * f is NULL.  Each adds c times the derivatives of one thing; false: it has none.
 * jaw__put_base: what a register of the convention has beyond Z or L alone. */
void jaw__form_start(jaw__worth *w);
void jaw__put_local(jaw__worth *w, const jaw__part *part, size_t k, double c);
void jaw__put_shared(jaw__worth *w, size_t id, double c);
void jaw__put_direction(jaw__worth *w, size_t feature, double c);
void jaw__put_node(jaw__worth *w, size_t node, double c);
void jaw__put_base(jaw__worth *w, double c);
void jaw__put_tool(jaw__worth *w, size_t tool, double c); /* its register */
bool jaw__put_zero(jaw__worth *w, size_t zero, jaw_axis axis, double c);
bool jaw__put_turn(jaw__worth *w, size_t zero, double c);
void jaw__put_skew(jaw__worth *w, const jaw_zero_entry *e, double c);
jaw_value_trust jaw__weigh(jaw__worth *w);
/* jaw__join: what is no part of the adjustment and independent of it; a trust
 * that is not known stays so, u 0 changes nothing. */
void jaw__join(jaw_value_trust *t, double u, double dof);
/* jaw__join_known: the same of what is known exactly to be of that spread; t is
 * what was weighed last, with nothing joined to it yet. */
void jaw__join_known(jaw__worth *w, jaw_value_trust *t, double u);
/* jaw__weigh_value: the same, with what it is made of (budget.c); t is where it
 * stays. */
void jaw__weigh_value(jaw__worth *w, jaw_value_trust *t);
/* jaw__next_beside: one touch more of the adjustment (next.c) for the value that
 * was weighed last: own is its part that is of the adjustment, u and dof are of
 * the rest, which the touch leaves as it is. */
void jaw__next_beside(jaw__worth *w, const jaw_value_trust *own, double u,
                      double dof, const jaw_value_trust *whole, jaw_next *next);

/* findings.c: the answers to all tasks; one file a kind finds them. */
void jaw__solve_tasks(jaw__worth *w);
void jaw__find_vise(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_stock(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_tram(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_square(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_runout(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_rotary(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_datums(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_vee(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_sine(jaw__worth *w, const jaw_task *task, jaw_finding *f);

/* rotary.c: c times one coordinate of the centre at place k, as far as it is of
 * the adjustment; jaw__centre_beside: and the spread of by . centre as far as
 * it is not. */
void jaw__put_centre(jaw__worth *w, const jaw__table *t, int k, int coordinate,
                     double c);
double jaw__centre_beside(const jaw__table *t, int k, const double by[2]);

/* indicated.c: what a runout task says, seen by a table; status JAW_ENOMEM:
 * sv->no_memory is set.  jaw__judge_runouts: says why one can not be found,
 * before a table asks for it. */
void jaw__judge_runouts(jaw__solver *sv);
jaw_status jaw__runout_of(jaw__solver *sv, const jaw_task *task, double towards,
                          jaw_sense sense, jaw_rotary_runout *found);

/* jaw__used_reading: behind number i of those of r that are not set aside. */
const jaw_reading *jaw__used_reading(const jaw_reading *r, size_t i);

/* turned.c: a table that names runouts.  jaw__check_runouts: sets t->runouts,
 * and with a bar its station and how far apart; false: the message was given.
 * jaw__centre_by_runout: place k, from the one place p of its plane that was
 * seen at an angle. */
bool jaw__check_runouts(jaw__solver *sv, jaw__table *t);
void jaw__centre_by_runout(jaw__solver *sv, jaw__table *t, int k, jaw_vec2 p,
                           double angle);

/* across.c: features on a table.  jaw__plane_axis: the machine axis of a
 * coordinate of its plane.  jaw__check_across: whether reading r names one that
 * shows where it stands across the table; false: the message was given.
 * jaw__seen_across: where; of a bar for place k.  jaw__put_across: c times a
 * coordinate of that; jaw__put_across_tip: of the length in its height alone.
 * jaw__across_repeat: mm, what the touches of those at place k leave of each
 * coordinate; NaN: not known.  jaw__place_bars: sets station and apart. */
jaw_axis jaw__plane_axis(const jaw__table *t, int coordinate);
bool jaw__check_across(jaw__solver *sv, const jaw__table *t,
                       const jaw_reading *r);
bool jaw__is_bar(const jaw__solver *sv, const jaw_reading *r);
jaw_vec2 jaw__seen_across(const jaw__solver *sv, const jaw__table *t,
                          const jaw_reading *r, int k);
void jaw__put_across(jaw__worth *w, const jaw__table *t, const jaw_reading *r,
                     int k, int coordinate, double c);
void jaw__put_across_tip(jaw__worth *w, const jaw__table *t,
                         const jaw_reading *r, double c);
double jaw__across_repeat(jaw__solver *sv, const jaw__table *t,
                          const jaw_reading *r, int k);
void jaw__place_bars(const jaw__solver *sv, jaw__table *t,
                     const jaw_reading *r);

/* datums.c: c times a coordinate of the corner, as far as tips' sizes go; and
 * jaw__lie_spread: what the touches leave of by . corner + skew times the skew;
 * jaw__skew_gradient: how the skew goes with small turns about machine x y z. */
void jaw__put_lie(jaw__worth *w, const jaw__lie *l, jaw_axis axis, double c);
double jaw__lie_spread(const jaw__lie *l, jaw_vec3 by, double skew);
void jaw__skew_gradient(const jaw_attitude *a, double g[3]);

/* The touches of three datums as jaw_datum_find takes them; behind each there is
 * room for one more.  jaw__lie_gather: false without memory. */
typedef struct jaw__lie_touches {
    jaw_datum d[3];
    jaw_tip tip[3];
    jaw_touch *t[3];
    size_t n; /* of all three */
} jaw__lie_touches;

bool jaw__lie_gather(const jaw__solver *sv, const jaw__lie *l,
                     jaw__lie_touches *all);
void jaw__lie_drop(jaw__lie_touches *all);

/* A touch with less redundancy than that is followed wholly: rounding of one
 * less its leverage, with a reserve. */
#define JAW__FOLLOWS 1e-9

/* datum_touches.c: how far a slip of a datum's touch that would not be noticed
 * moves by . corner + skew times the skew, and which touch's (where is not
 * set: none); u: of the value as a whole.
 * jaw__next_by_datums: one touch more, of the datums or of what the adjustment
 * holds; own: the value without the datums' touches. */
double jaw__lie_reach(jaw__solver *sv, const jaw__lie *l, jaw_vec3 by,
                      double skew, double u, jaw_place *where);
void jaw__next_by_datums(jaw__worth *w, const jaw__lie *l, jaw_vec3 by,
                         double skew, const jaw_value_trust *own,
                         const jaw_value_trust *whole, jaw_next *next);

/* carried.c: zeros that follow from datums or a table.  What of them is of the
 * adjustment is put; what is independent of it stands beside it. */
typedef struct jaw__beside {
    double u[2], dof[2]; /* of datums, of a table */
    const jaw_task *task[2];
    const jaw__lie *lie; /* the datums; NULL: it follows from none; and what of */
    jaw_vec3 by;         /* their corner and */
    double turn;         /* skew it goes by */
    double reach;     /* how far a slip that nobody notices, of what was seen on
                         the table, can move it, */
    jaw_place whose;  /* and which */
} jaw__beside;

static inline bool jaw__is_carried(const jaw_zero_entry *e)
{
    return e->index.table != NULL || e->datums != NULL;
}

bool jaw__put_carried(jaw__worth *w, size_t zero, jaw_axis axis, double c);
bool jaw__put_carried_turn(jaw__worth *w, size_t zero, double c);
void jaw__beside_of(const jaw__solver *sv, size_t zero, jaw_vec3 by,
                    double turn, jaw__beside *b);
/* stations.c: this one also finds the zeros that follow from others. */
void jaw__find_stations(jaw__worth *w, const jaw_task *task, jaw_finding *f);
void jaw__find_side(jaw__worth *w, const jaw_task *task, jaw_finding *f);

/* where.c: where features that were found stand, and surfaces. */
void jaw__weigh_where(jaw__worth *w);

/* jaw__times: what the sigma of an equation is multiplied by. */
double jaw__times(const jaw__worth *w, const jaw__origin *o);

/* jaw__budget_start: room for the sums; false without memory.
 * jaw__budget_sum: sums what each source adds to the variance of w->f; returned
 * is the part that stands on sigmas as they are stated, w->recorded is in it.
 * jaw__budget_write: the sums as lines, largest first, for a value of
 * uncertainty u; they are handed out by jaw__budget_hand_out, at the end. */
bool jaw__budget_start(jaw__worth *w);
double jaw__budget_sum(jaw__worth *w);
void jaw__budget_write(jaw__worth *w, jaw_value_trust *t);
void jaw__budget_hand_out(jaw_solution *out);

/* jaw__budget_beside: one more line, of what is independent of the adjustment,
 * to the value that was written last. */
void jaw__budget_beside(jaw__worth *w, jaw_value_trust *t, double u,
                        double dof, const char *text);

/* jaw__judge: what the tests say of touches, places, known sizes, tips and the
 * whole; and where what was set aside would lie. */
void jaw__judge(jaw__worth *w);

#endif
