/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solve.h: shared by the files that solve a setup: find.c (features), heights.c
 * (the chain of heights), zero.c (work zeros), tools.c (length registers). */
#ifndef JAW__SOLVE_H
#define JAW__SOLVE_H

#include "messages.h"
#include "setup.h"

#include <src/base/steep.h>

enum jaw__message {
#define MESSAGE_ID(id, severity, status, what, cure) id,
    JAW__SETUP_MESSAGES(MESSAGE_ID)
#undef MESSAGE_ID
    JAW__MESSAGES
};

/* A value, and the first line of what its uncertainty is made of. */
typedef struct jaw__weighed {
    jaw_value_trust *of;
    size_t first;
} jaw__weighed;

struct jaw_solution {
    jaw__pool names;
    jaw_found *features;
    double *resid; /* of all touches and holes */
    jaw_touch_trust *touch; /* of all touches and holes */
    double *aside; /* of all that is set aside */
    jaw_solution_quality total;
    jaw_zero_found *zeros;
    jaw_tool_found *tools;
    jaw_surface_found *surfaces;
    jaw_step *steps; /* of all zeros and tools */
    size_t *step_of; /* of which: zeros, then tools */
    jaw_budget_line *budget; /* of all values */
    jaw__weighed *weighed; /* in the order of those lines */
    size_t n_budget, room_budget, n_weighed, room_weighed;
    jaw_finding *findings;
    double *task_resid; /* of all readings */
    jaw_item *items;    /* of all findings */
    const char **advice;
    size_t n_findings, n_items, room_items, n_advice, room_advice;
    size_t n_features, n_zeros, n_tools, n_surfaces, n_steps, room_steps;
    size_t room_step_of;
};

/* One node of the chain of heights: a surface's machine Z, or a tip's or
 * tool's length with its sign turned.  Then every contact is a difference:
 * reading = z - (-L) + between. */
typedef struct jaw__node {
    double value;  /* mm; relative within its chain when not grounded */
    size_t chain;  /* nodes of one chain are known against one another */
    bool grounded; /* value is against the machine's zero and gauge line */
    size_t n_obs;  /* statements about this node */
    size_t n_checked; /* of these, those that others bear out */
    double worst;  /* mm, how far a doubtful one of those lies from what the
                      others say, the largest; 0: none is doubtful */
    double ssr;    /* mm^2, of those checked */
    int dof;       /* spare statements in the whole chain */
} jaw__node;

/* A rotary table as found, at each of its places along the axis; one a task. */
typedef struct jaw__table_place {
    size_t first, n; /* its readings, of all */
    size_t used;     /* those that are not set aside */
    jaw_rotary r;    /* z for a tool of length 0 */
    bool formed;     /* the centre is a linear form of the adjustment */
    double beside[3]; /* mm^2, what of its covariance is independent of that:
                         all of r.cov when it is not formed */
    double reach;      /* mm, how far a slip that nobody notices can move it */
    jaw_place whose;   /* of the reading that slips so */
    const jaw_reading *off; /* that was named as the one that is off; NULL */
} jaw__table_place;

typedef struct jaw__table {
    const jaw_task *task;
    jaw_status status;
    bool named; /* seen by features */
    bool bars;  /* all of them bars: then the first place is their points at a
                   station along the axis, and the second how far they run
                   aside over a length; both are of the same readings */
    double station, apart; /* mm; apart without bars as stated */
    int runouts; /* that it names; then one reading in each place is used */
    size_t tip; /* node whose length is in z; JAW_NO_BLOCK: none */
    jaw__table_place place[2];
} jaw__table;

/* From what an indexed zero follows; one a zero. */
typedef struct jaw__chain {
    long source; /* the zero that it names; JAW__NOWHERE */
    long root;   /* the touched one at the end, its own number when it is not
                    indexed; JAW__NOWHERE: there is none */
    bool round;  /* for the chain comes back to where it was */
    double by;   /* rad, by how much the table turns from there, as it counts */
} jaw__chain;

/* How a part lies by its datums; one a task. */
typedef struct jaw__lie {
    const jaw_task *task;
    jaw_status status;
    jaw_attitude a;  /* z for a tool of length 0; cov as far as touches go, and
                        by their scatter where that is more than they repeat */
    double dof;      /* of cov */
    double grown;    /* what that scatter is over what they repeat; else 1 */
    size_t feature[3];
    size_t tip;      /* node whose length is in z */
} jaw__lie;

typedef struct jaw__solver {
    const jaw_setup *setup;
    jaw_solution *out;
    jaw_notes *notes;
    jaw__node *nodes; /* features, setters, tips, tools, in this order */
    size_t n_nodes;
    struct jaw__joint *joint; /* the whole as one adjustment (joint.h) */
    jaw__table *tables; /* one a task */
    jaw__lie *lies;     /* one a task */
    jaw__chain *chains; /* one a zero */
    const jaw_setup *stated; /* as it came, when setup is turned over */
    size_t step_of; /* whose steps are told: zeros, then tools */
    bool *repeat_said, *spindle_said; /* one a tip */
    bool tool_said; /* how well a tool's touch comes back */
    bool *tip_bad;     /* one a tip: what is stated of it can not be, or
                          another has its name */
    bool *feature_bad; /* one a feature: something else has its name */
    jaw_status first; /* of the errors said so far */
    bool slip_said;   /* something was said of what spoils the whole */
    bool no_memory;
} jaw__solver;

/* jaw__tell: add a note; hint fills the "%s" of the cure and may be NULL when
 * there is none. */
void jaw__tell(jaw__solver *sv, enum jaw__message id, jaw_place place,
              const char *hint, ...);

/* Text of a length or an angle in the control's units, for messages.  By
 * value, so that several stand in one call. */
typedef struct jaw__text {
    char s[64];
} jaw__text;

jaw__text jaw__length_text(const jaw__solver *sv, double mm);
jaw__text jaw__fine_text(const jaw__solver *sv, double mm); /* one decimal more */
jaw__text jaw__angle_text(double rad);

/* jaw__line_text: "line 14", or "line 3 of vise.jaw" in a text that is
 * included. */
jaw__text jaw__line_text(const jaw_setup *setup, jaw_place place);

/* jaw__step: one more line of working for the zero or tool being solved. */
void jaw__step(jaw__solver *sv, double value, jaw_quantity quantity,
               const char *format, ...) JAW_PRINTF(4, 5);

enum { JAW__NOWHERE = -1 };

/* Index by name, or JAW__NOWHERE. */
long jaw__find_tip(const jaw_setup *setup, const char *name);
long jaw__find_feature(const jaw_setup *setup, const char *name);
long jaw__find_setter(const jaw_setup *setup, const char *name);
long jaw__find_tool(const jaw_setup *setup, int number);

/* jaw__has_height: whether a zero may take its Z from such a feature: from the
 * face, the centre of the ball, the axis of the bar.  jaw__is_indicated: whether
 * an indicator swept it.  jaw__centre_of_found: x and y of the centre that a
 * round thing has; false when it has none. */
bool jaw__has_height(jaw_feature_kind kind);
bool jaw__is_indicated(jaw_feature_kind kind);

/* Whether its size is stated and has no spread. */
static inline bool jaw__is_exact(const jaw_feature_entry *e)
{
    return e->size_use == JAW_SIZE_KNOWN && !(e->size_known > 0);
}

/* Whether a wall that faces there runs along X. */
static inline bool jaw__along_x(jaw_side faces)
{
    return faces == JAW_SIDE_YPLUS || faces == JAW_SIDE_YMINUS;
}

bool jaw__centre_of_found(const jaw_found *found, jaw_vec2 *centre);

/* swept.c.  jaw__find_swept: a sweep or a dial from its readings.
 * jaw__compare_sweeps: each with the one that it comes after. */
jaw_status jaw__find_swept(const jaw__solver *sv, size_t f, jaw_found *found,
                           double resid[]);
struct jaw__worth;
void jaw__compare_sweeps(struct jaw__worth *w);

/* jaw__height_node: node of what a zero may take its Z from: a feature with a
 * height or a setter; false when it is none. */
bool jaw__height_node(const jaw__solver *sv, const char *name, size_t *node);

/* jaw__surface_node: of a face or a setter; false when it is none. */
bool jaw__surface_node(const jaw__solver *sv, const char *name, size_t *node);

/* A hint that names what a person most likely meant; "" never. */
jaw__text jaw__tip_hint(const jaw_setup *setup, const char *name);
jaw__text jaw__feature_hint(const jaw_setup *setup, const char *name);
jaw__text jaw__surface_hint(const jaw_setup *setup, const char *name);

/* The tip of a feature, with its radius; a plain point when it has none. */
jaw_tip jaw__tip_of(const jaw_setup *setup, const jaw_feature_entry *entry);
/* mm, one touch: stated or default */
double jaw__repeat_of(const jaw_tip *tip);
/* the same of a feature, which may state its own */
double jaw__repeat_at(const jaw_setup *setup, const jaw_feature_entry *entry);
/* The tip of a feature with the diameter that the joint adjustment found. */
jaw_tip jaw__tip_now(const jaw__solver *sv, const jaw_feature_entry *entry);
/* Likewise its harmonics, and its reach at an approach angle (reach.c). */
void jaw__harmonics_now(const jaw__solver *sv, const jaw_feature_entry *entry,
                        double h[4]);
double jaw__reach_now(const jaw__solver *sv, const jaw_feature_entry *entry,
                      double angle, double *slope);
/* jaw__has_harmonics: one of the feature's tip is not 0, or not known to be. */
bool jaw__has_harmonics(const jaw_setup *setup, const jaw_feature_entry *entry);
/* The outward side of an edge, from `faces` or else from `moving`. */
jaw_side jaw__side_of(const jaw_feature_entry *entry);

/* JAW__DOUBTFUL: more than this many standard deviations off is a doubt.
 * Baarda 1968: two-sided 0.001 of the normal distribution. */
#define JAW__DOUBTFUL 3.29

/* JAW__SAME_AMONG: a row that came twice is looked for among so many before it;
 * people do not type more, and the search is quadratic. */
enum { JAW__SAME_AMONG = 64 };

/* rad, how square a wall is taken to be; zero: whose term names it, or NULL */
double jaw__square_of(const jaw_zero_entry *zero);

/* How much longer a nominal length is on the part, as a share of itself, and
 * the standard deviation of that (JCGM 100, 5.1.2 with the term of second
 * order, which alone is left at 20 degrees); 0 and 0 when not stated.  u may be
 * NULL. */
double jaw__growth_of(const jaw_setup *setup, double *u);

/* jaw__first_height: the first zero that takes its Z from such a node; NULL. */
const jaw_zero_entry *jaw__first_height(const jaw__solver *sv, size_t *node);

/* jaw__find_task: by kind and name, which may be NULL; NULL when there is none.
 * jaw__task_number: which one it is. */
size_t jaw__task_number(const jaw_setup *setup, const jaw_task *task);
const jaw_task *jaw__find_task(const jaw_setup *setup, jaw_task_kind kind,
                               const char *name);
jaw__text jaw__task_hint(const jaw_setup *setup, jaw_task_kind kind,
                         const char *name);

/* side.c: the border where a part that is turned over comes in.  What follows
 * sees side two alone: sv->setup becomes *over, a copy with all part coordinates
 * turned over; where no side is stated it stays.  false when out of memory.
 * jaw__turn_back: frees what the copy has of its own; sv->setup is as it came.
 * jaw__side_task: of the setup; NULL: not turned over. */
bool jaw__turn_over(jaw__solver *sv, jaw_setup *over);
void jaw__turn_back(jaw__solver *sv);
const jaw_task *jaw__side_task(const jaw_setup *setup);

void jaw__tell_twice(jaw__solver *sv);
void jaw__solve_features(jaw__solver *sv);
void jaw__judge_sizes(jaw__solver *sv);
void jaw__solve_heights(jaw__solver *sv);
void jaw__solve_joint(jaw__solver *sv);
void jaw__solve_tables(jaw__solver *sv);
void jaw__solve_lies(jaw__solver *sv);
void jaw__solve_zeros(jaw__solver *sv);
void jaw__solve_tools(jaw__solver *sv);
void jaw__solve_worth(jaw__solver *sv);
void jaw__drop_joint(jaw__solver *sv);

/* jaw__item, jaw__advise: one more figure or sentence of a finding. */
void jaw__item(jaw__solver *sv, jaw_finding *f, double value,
               jaw_quantity quantity, double half95, const char *format, ...)
    JAW_PRINTF(6, 7);
void jaw__advise(jaw__solver *sv, jaw_finding *f, const char *format, ...)
    JAW_PRINTF(3, 4);

/* jaw__tell_suspects: names several touches of a feature that the others do not
 * agree with; false when there are none or only one.  To be asked only when no
 * single touch explains what is wrong. */
bool jaw__tell_suspects(jaw__solver *sv, size_t f);

/* jaw__try_rounds: bores, bosses, balls and bars on a short arc or a small cap,
 * by trial. */
void jaw__try_rounds(jaw__solver *sv);

/* The rotary or datums task of a name; NULL when there is none. */
const jaw__table *jaw__table_of(const jaw__solver *sv, const char *name);
const jaw__lie *jaw__lie_of(const jaw__solver *sv, const char *name);

/* jaw__trust_none: nothing known. */
jaw_value_trust jaw__trust_none(void);

/* Node of ... in sv->nodes. */
size_t jaw__feature_node(const jaw__solver *sv, size_t feature);
size_t jaw__setter_node(const jaw__solver *sv, size_t setter);
size_t jaw__tip_node(const jaw__solver *sv, size_t tip);
size_t jaw__tool_node(const jaw__solver *sv, size_t tool);

#endif
