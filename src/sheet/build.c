/* SPDX-License-Identifier: GPL-3.0-or-later */
/* build.c: what an entry means, handed to the setup.  An entry with a mistake
 * is handed over as far as it was understood. */
#include "reader.h"

#include <math.h>
#include <string.h>

static const double nan_ = (double)NAN;

/* The choices of grammar.h stand in the order of these lists. */
_Static_assert(JAW_SIDE_XPLUS == 1 && JAW_SIDE_XMINUS == 2 &&
                   JAW_SIDE_YPLUS == 3 && JAW_SIDE_YMINUS == 4,
               "x+|x-|y+|y-");
_Static_assert(JAW_TIP_CYLINDER == 0 && JAW_TIP_BALL == 1 &&
                   JAW_TIP_PIN == 2 && JAW_TIP_CUTTER == 3,
               "cylinder|ball|pin|cutter");
_Static_assert(JAW_GAUGE_LINE == 0 && JAW_TIP_TO_PART == 1 &&
                   JAW_REFERENCE_TOOL == 2,
               "gauge-line | tip-to-part | reference-tool");

/* ------------------------------------------------------------------ fields */

const jaw__field *jaw__good(const jaw__reader *r, jaw__role role)
{
    const jaw__field *f = &r->entry.field[role];
    return f->state == JAW__GOOD ? f : NULL;
}

double jaw__number_of(const jaw__reader *r, jaw__role role, double otherwise)
{
    const jaw__field *f = jaw__good(r, role);
    return f ? f->v[0].number : otherwise;
}

double jaw__known_of(const jaw__reader *r, jaw__role role, int i)
{
    const jaw__field *f = jaw__good(r, role);
    return f && f->v[i].given ? f->v[i].number : 0;
}

const char *jaw__text_of(const jaw__reader *r, jaw__role role)
{
    const jaw__field *f = jaw__good(r, role);
    return f ? f->v[0].text : NULL;
}

jaw_place jaw__place_of(const jaw__reader *r, jaw__role role)
{
    const jaw__field *f = jaw__good(r, role);
    return f ? f->v[0].place : (jaw_place){0};
}

void jaw__took(jaw__reader *r, jaw_status status)
{
    if (status == JAW_ENOMEM)
        r->log.no_memory = true;
    else if (status != JAW_OK && !r->entry.broken && r->refused == JAW_OK)
        r->refused = status;
}

static void mistake(jaw__reader *r, jaw_place place, jaw__message id,
                    const char *a, const char *b, const char *c,
                    const char *d)
{
    jaw__mistake(&r->log, place, id, a, b, c, d);
    r->entry.broken = true;
}

static jaw__shown show(const char *text)
{
    return jaw__show(text, strlen(text));
}

/* What the book is asked for, and what may not stand beside that. */
static jaw_link take_link(jaw__reader *r, const jaw__role not_with[],
                          const char *const word[], size_t n)
{
    const jaw__field *from = jaw__good(r, JAW__FROM);
    jaw_link link = {.wanted = from != NULL};

    if (from == NULL)
        return link;
    link.place = from->place;
    for (size_t i = 0; i < n; i++)
        if (jaw__good(r, not_with[i]))
            mistake(r, jaw__good(r, not_with[i])->place, JAW__SAY_BOOK_TOO,
                    word[i], NULL, NULL, NULL);
    return link;
}

/* ----------------------------------------------------------------- control */

static void build_travel(jaw__reader *r, const jaw__field *f)
{
    static const char *const axis[] = {"x", "y", "z"};
    int i = f->v[0].choice;
    double *low[] = {&r->control.low.x, &r->control.low.y, &r->control.low.z};
    double *high[] = {&r->control.high.x, &r->control.high.y,
                      &r->control.high.z};

    if (!isnan(*low[i])) {
        mistake(r, f->place, JAW__SAY_TRAVEL_TWICE, axis[i], NULL, NULL, NULL);
        return;
    }
    if (!(f->v[1].number < f->v[2].number)) {
        mistake(r, f->v[1].place, JAW__SAY_TRAVEL_ORDER, axis[i], NULL, NULL,
                NULL);
        return;
    }
    *low[i] = f->v[1].number;
    *high[i] = f->v[2].number;
}

/* Kept until the end of the sheet, because the defaults depend on the unit. */
static void keep_control(jaw__reader *r)
{
    const jaw__field *turn = jaw__good(r, JAW__TURN);
    const jaw__field *lengths = jaw__good(r, JAW__LENGTHS);

    r->control.step = jaw__number_of(r, JAW__STEP, nan_);
    r->control.angle_step = jaw__number_of(r, JAW__ANGLE_STEP, nan_);
    r->control.can_turn = turn && turn->v[0].choice == 0;
    if (!lengths)
        return;
    r->control.lengths = (jaw_length_rule)lengths->alternative;
    r->control.reference = lengths->v[0].choice;
}

void jaw__build_control(jaw__reader *r)
{
    jaw_control c = jaw_control_default(r->unit);
    const char *step = r->unit == JAW_IN ? "0.0001in" : "0.001mm";
    bool say = r->log.mistakes == 0;

    c.can_turn = r->control.can_turn;
    c.lengths = r->control.lengths;
    c.reference = r->control.reference;
    c.low = r->control.low;
    c.high = r->control.high;
    if (!isnan(r->control.step))
        c.step = r->control.step;
    else if (say)
        jaw__assumed(&r->log, (jaw_place){0}, JAW__SAY_STEP_ASSUMED, step);
    if (!isnan(r->control.angle_step))
        c.angle_step = r->control.angle_step;
    else if (say && c.can_turn)
        jaw__assumed(&r->log, (jaw_place){0}, JAW__SAY_ANGLE_STEP_ASSUMED,
                     NULL);
    jaw__took(r, jaw_setup_set_control(r->setup, &c));
}

/* A sheet that is included has one of its own. */
static void build_title(jaw__reader *r, const char *text)
{
    if (r->source == 0)
        jaw__took(r, jaw_setup_set_title(r->setup, text));
}

static void build_unit(jaw__reader *r)
{
    const jaw__value *v = &r->entry.head[0];

    if (r->unit_stated)
        return;
    r->unit_stated = true;
    if (!v->given)
        return;
    r->unit = v->choice == 0 ? JAW_MM : JAW_IN;
    if (r->bare_place.line == 0)
        return;
    jaw__shown line = jaw__show_int(r->bare_place.line);
    mistake(r, r->entry.place, JAW__SAY_UNIT_LATE, line.text, NULL, NULL,
            NULL);
}

/* Expansions are typed in millionths. */
static void build_temperature(jaw__reader *r)
{
    const jaw__value *v = r->entry.head;
    jaw_temperature t = {.at = v[0].number,
                         .at_known = v[1].given ? v[1].number : 0,
                         .expansion = v[2].number / 1e6,
                         .expansion_known = v[3].given ? v[3].number / 1e6 : 0,
                         .place = r->entry.place};

    jaw__took(r, jaw_setup_set_temperature(r->setup, &t));
}

/* --------------------------------------------------------------------- tip */

/* In the order of grammar.h and of jaw_tip_part. */
static const struct {
    const char *word, *known;
} part[JAW_TIP_PARTS] = {
    {"diameter", "diameter 0.1575 known to 0.0001"},
    {"runout-x", "runout 0.0007 -0.0005 known to 0.00005 0.00005"},
    {"runout-y", "runout 0.0007 -0.0005 known to 0.00005 0.00005"},
    {"lobes-cos", "lobes 0.0002 0.0003 known to 0.00004 0.00005"},
    {"lobes-sin", "lobes 0.0002 0.0003 known to 0.00004 0.00005"},
};

static void build_correlation(jaw__reader *r, const jaw__field *f)
{
    jaw_tip_part a = (jaw_tip_part)f->v[0].choice;
    jaw_tip_part b = (jaw_tip_part)f->v[1].choice;

    if (a == b) {
        mistake(r, f->v[1].place, JAW__SAY_CORRELATION_SAME, part[a].word,
                NULL, NULL, NULL);
        return;
    }
    size_t at = jaw_tip_pair(a, b);
    if (r->entry.correlated[at].line != 0) {
        jaw__shown line = jaw__show_int(r->entry.correlated[at].line);
        mistake(r, f->place, JAW__SAY_CORRELATION_TWICE, part[a].word,
                part[b].word, line.text, NULL);
        return;
    }
    r->entry.correlation[at] = f->v[2].number;
    r->entry.correlated[at] = f->place;
    if (fabs(f->v[2].number) < 1)
        return;
    char text[40];
    jaw_number_write(f->v[2].number, 4, text, sizeof text);
    mistake(r, f->v[2].place, JAW__SAY_CORRELATION_RANGE, text, NULL, NULL,
            NULL);
}

/* The first of two that is exact, where they are correlated. */
static void check_correlations(jaw__reader *r, const jaw_tip_entry *tip)
{
    for (int a = 0; a < JAW_TIP_PARTS; a++)
        for (int b = a + 1; b < JAW_TIP_PARTS; b++) {
            size_t at = jaw_tip_pair((jaw_tip_part)a, (jaw_tip_part)b);
            double u =
                a == 0 ? tip->diameter_known : tip->harmonic_known[a - 1];
            int loose = !(u > 0) ? a : b;
            if (r->entry.correlated[at].line == 0 ||
                (u > 0 && tip->harmonic_known[b - 1] > 0) || r->entry.broken)
                continue;
            mistake(r, r->entry.correlated[at], JAW__SAY_CORRELATION_LOOSE,
                    part[loose].word, part[loose].known, NULL, NULL);
        }
}

static void take_reach(jaw__reader *r, jaw_tip_entry *tip)
{
    static const jaw__role role[2] = {JAW__RUNOUT, JAW__LOBES};

    for (int k = 0; k < 4; k++) {
        const jaw__field *f = jaw__good(r, role[k / 2]);
        if (!f)
            continue;
        tip->harmonic[k] = f->v[k % 2].number;
        tip->harmonic_known[k] = jaw__known_of(r, role[k / 2], 2 + k % 2);
    }
    memcpy(tip->correlation, r->entry.correlation, sizeof tip->correlation);
    check_correlations(r, tip);
}

static jaw_link tip_link(jaw__reader *r)
{
    static const jaw__role not_with[] = {JAW__DIAMETER, JAW__RUNOUT,
                                         JAW__LOBES};
    static const char *const word[] = {"diameter", "runout", "lobes"};
    jaw_link link = take_link(r, not_with, word, 3);

    for (size_t i = 0; link.wanted && i < 10; i++)
        if (r->entry.correlated[i].line != 0)
            mistake(r, r->entry.correlated[i], JAW__SAY_BOOK_TOO,
                    "correlation", NULL, NULL, NULL);
    return link;
}

static void build_tip(jaw__reader *r, const char *name)
{
    const jaw__field *shape = jaw__good(r, JAW__SHAPE);
    const jaw__field *tool = jaw__good(r, JAW__TOOL);
    double diameter = jaw__number_of(r, JAW__DIAMETER, nan_);
    jaw_tip_entry tip = {
        .name = name,
        .tip = jaw_tip_make(shape ? (jaw_tip_shape)shape->v[0].choice
                                  : JAW_TIP_CYLINDER,
                            diameter),
        .diameter_known = jaw__known_of(r, JAW__DIAMETER, 1),
        .length_known = jaw__known_of(r, JAW__LENGTH, 1),
        .tool = tool ? tool->v[0].choice : 0,
        .place = r->entry.place,
        .link = tip_link(r),
    };

    tip.tip.paper = jaw__number_of(r, JAW__PAPER, 0);
    tip.tip.length = jaw__number_of(r, JAW__LENGTH, nan_);
    tip.tip.repeat = jaw__number_of(r, JAW__REPEAT, nan_);
    if (!tip.link.wanted)
        take_reach(r, &tip);
    tip.link.shape = shape != NULL;
    jaw__name_add(r, (jaw__name){.space = JAW__SPACE_TIP,
                                 .text = name,
                                 .diameter = diameter,
                                 .place = r->entry.head[0].place});
    jaw__took(r, jaw_setup_add_tip(r->setup, &tip));
}

/* ---------------------------------------------------------------- features */

static jaw_side side_of(const jaw__reader *r, jaw__role role)
{
    const jaw__field *f = jaw__good(r, role);
    return f ? (jaw_side)(f->v[0].choice + 1) : JAW_SIDE_NONE;
}

static void check_touches_face(jaw__reader *r, const char *name, jaw_side faces)
{
    jaw__entry *e = &r->entry;
    bool along_x = faces == JAW_SIDE_XPLUS || faces == JAW_SIDE_XMINUS;
    jaw__shown shown = show(name);

    for (size_t i = 0; i < e->n_touches; i++)
        if (isnan(along_x ? e->touches[i].x : e->touches[i].y))
            mistake(r, e->places[i], JAW__SAY_ROW_FACES, shown.text,
                    jaw_side_word(faces), along_x ? "x" : "y", NULL);
}

static void check_edge(jaw__reader *r, const jaw_feature_entry *edge)
{
    const jaw__field *faces = &r->entry.field[JAW__FACES];
    jaw__shown name = show(edge->name);

    if (faces->state == JAW__ABSENT && !r->entry.unsure && edge->tip)
        jaw__edge_add(r, (jaw__open_edge){.name = edge->name,
                                          .tip = edge->tip,
                                          .place = edge->place});
    if (edge->faces == JAW_SIDE_NONE)
        return;
    check_touches_face(r, edge->name, edge->faces);
    jaw_side towards = jaw_side_opposite(edge->faces);
    if (edge->moving != JAW_SIDE_NONE && edge->moving != towards)
        mistake(r, jaw__place_of(r, JAW__MOVING), JAW__SAY_FACES_MOVING, name.text,
                jaw_side_word(edge->faces), jaw_side_word(edge->moving),
                jaw_side_word(towards));
}

void jaw__check_rows(jaw__reader *r, const char *name)
{
    jaw__entry *e = &r->entry;
    const jaw__rows_kind *kind = &jaw__rows_kinds[e->rule->rows];
    size_t n = e->n_touches + e->n_holes; /* one of them is 0 */
    jaw__shown shown = show(name);

    /* A face may be touched by tools alone, in their entries. */
    if (e->broken || e->rule->id == JAW__ENTRY_FACE)
        return;
    if (n == 0)
        mistake(r, e->place, JAW__SAY_NO_TOUCHES, e->rule->word, shown.text,
                kind->example, kind->called);
    else if (kind->slash == JAW__SLASH_MUST && e->slash.line == 0)
        mistake(r, e->place, JAW__SAY_SLASH_MISSING, e->rule->word, shown.text,
                kind->parts, NULL);
    else if (e->slash.line != 0 && e->first_wall == n)
        mistake(r, e->slash, JAW__SAY_SLASH_LAST, shown.text, kind->parts,
                NULL, NULL);
}

static void take_size(jaw__reader *r, jaw_feature_entry *feature, bool round)
{
    const jaw__field *f = jaw__good(r, JAW__SIZE);

    if (!f)
        return;
    const jaw__value *within = round ? &f->v[3] : &f->v[1];
    feature->size = f->v[0].number;
    feature->size_known = round ? jaw__known_of(r, JAW__SIZE, 2) : 0;
    feature->size_place = f->v[0].place;
    feature->size_use =
        round && f->v[1].choice == 1 ? JAW_SIZE_KNOWN : JAW_SIZE_EXPECTED;
    feature->within = within->number;
    if (round && f->v[2].given && feature->size_use == JAW_SIZE_EXPECTED)
        mistake(r, f->v[2].place, JAW__SAY_TO_EXPECTED, NULL, NULL, NULL,
                NULL);
    if (within->given && feature->size_use == JAW_SIZE_KNOWN)
        mistake(r, within->place, JAW__SAY_WITHIN_KNOWN, NULL, NULL, NULL,
                NULL);
}

static void add_rows(jaw__reader *r)
{
    const jaw__entry *e = &r->entry;

    for (size_t i = 0; i < e->n_touches && !r->log.no_memory; i++) {
        if (e->slash.line != 0 && i == e->first_wall)
            jaw__took(r, jaw_setup_other_wall(r->setup));
        jaw__took(r, (e->aside[i] ? jaw_setup_aside_touch : jaw_setup_add_touch)(
                    r->setup, e->touches[i], e->places[i]));
    }
    for (size_t i = 0; i < e->n_holes && !r->log.no_memory; i++)
        jaw__took(r, (e->aside[i] ? jaw_setup_aside_hole : jaw_setup_add_hole)(
                    r->setup, &e->holes[i]));
}

/* Both are stated, so that a slip in one of them shows. */
static void check_sweep(jaw__reader *r, const jaw_feature_entry *sweep)
{
    const jaw__field *along = jaw__good(r, JAW__ALONG);
    bool x = sweep->faces == JAW_SIDE_YPLUS || sweep->faces == JAW_SIDE_YMINUS;

    if (!along || sweep->faces == JAW_SIDE_NONE ||
        along->v[0].choice == (x ? 0 : 1))
        return;
    mistake(r, along->v[0].place, JAW__SAY_SWEEP_ALONG,
            jaw_side_word(sweep->faces), x ? "x" : "y", x ? "x- or x+" : "y- or y+",
            NULL);
}

/* Rows came as two numbers; setup.h says where a feature keeps them. */
static void place_readings(jaw__reader *r, const jaw_feature_entry *feature)
{
    jaw__entry *e = &r->entry;
    bool y = feature->faces == JAW_SIDE_XPLUS || feature->faces == JAW_SIDE_XMINUS;

    for (size_t i = 0; i < e->n_touches; i++) {
        jaw_touch t = e->touches[i];
        e->touches[i] = y ? (jaw_touch){nan_, t.x, t.y}
                          : (jaw_touch){t.x, nan_, t.y};
    }
}

static void take_indicated(jaw__reader *r, jaw_feature_entry *feature)
{
    const jaw__field *size = jaw__good(r, JAW__SIZE);
    const jaw__value *head = r->entry.head;

    place_readings(r, feature);
    if (feature->kind == JAW_SWEEP) {
        feature->after = jaw__text_of(r, JAW__AFTER);
        feature->after_place = jaw__place_of(r, JAW__AFTER);
        check_sweep(r, feature);
        return;
    }
    feature->inside = head[1].choice == 0;
    feature->stands = (jaw_vec2){head[2].number, head[3].number};
    if (size) {
        feature->size_use = JAW_SIZE_KNOWN;
        feature->size = size->v[0].number;
        feature->size_place = size->v[0].place;
    }
}

static bool takes_diameter(jaw_feature_kind kind)
{
    return kind == JAW_BORE || kind == JAW_BOSS || kind == JAW_BALL ||
           kind == JAW_BAR;
}

static void build_feature(jaw__reader *r, const char *name,
                          jaw_feature_kind kind)
{
    jaw_feature_entry feature = {
        .name = name,
        .kind = kind,
        .tip = jaw__text_of(r, JAW__TIP),
        .faces = side_of(r, JAW__FACES),
        .moving = side_of(r, JAW__MOVING),
        .size_use = JAW_SIZE_FREE,
        .size = nan_,
        .within = nan_,
        .places_known = jaw__known_of(r, JAW__PLACES, 0),
        .repeat = jaw__known_of(r, JAW__REPEAT, 0),
        .place = r->entry.place,
        .tip_place = jaw__place_of(r, JAW__TIP),
        .faces_place = jaw__place_of(r, JAW__FACES),
    };

    jaw__name_add(r, (jaw__name){.space = JAW__SPACE_FEATURE,
                                 .text = name,
                                 .place = r->entry.head[0].place});
    if (kind == JAW_SWEEP || kind == JAW_DIAL)
        take_indicated(r, &feature);
    else
        take_size(r, &feature, takes_diameter(kind));
    jaw__check_rows(r, name);
    if (kind == JAW_EDGE)
        check_edge(r, &feature);
    jaw_status status = jaw_setup_add_feature(r->setup, &feature);
    jaw__took(r, status);
    if (status == JAW_OK)
        add_rows(r);
}

static void build_hole(jaw__reader *r, const jaw__field *f)
{
    jaw__hole_add(r, (jaw_hole_entry){
                         .nominal = {f->v[1].number, f->v[2].number},
                         .touched = {nan_, nan_},
                         .feature = f->v[0].text,
                         .place = f->v[0].place,
                     },
                  f->v[3].given);
}

/* ----------------------------------------------------------------- heights */

static void build_setter(jaw__reader *r, const char *name)
{
    static const jaw__role not_with[] = {JAW__TOP, JAW__HEIGHT};
    static const char *const word[] = {"top", "height"};
    const jaw__field *height = jaw__good(r, JAW__HEIGHT);
    const jaw__field *from = jaw__good(r, JAW__FROM);
    jaw_setter_entry setter = {
        .name = name,
        .top = jaw__number_of(r, JAW__TOP, nan_),
        .height = jaw__number_of(r, JAW__HEIGHT, nan_),
        .top_known = jaw__known_of(r, JAW__TOP, 1),
        .height_known = jaw__known_of(r, JAW__HEIGHT, 2),
        .on = height ? height->v[1].text : from ? from->v[0].text : NULL,
        .place = r->entry.place,
        .link = take_link(r, not_with, word, 2),
    };

    if (height)
        setter.on_place = height->v[1].place;
    else if (from)
        setter.on_place = from->v[0].place;
    jaw__name_add(r, (jaw__name){.space = JAW__SPACE_FEATURE,
                                 .text = name,
                                 .place = r->entry.head[0].place});
    jaw__took(r, jaw_setup_add_setter(r->setup, &setter));
}

/* A setter says what touched it, a tool what it touched. */
static void build_contact(jaw__reader *r, const jaw__field *f)
{
    const jaw__value *head = &r->entry.head[0];
    jaw_contact_entry contact = {
        .reading = f->v[0].number,
        .place = f->place,
    };

    if (!head->given)
        return;
    if (r->entry.rule->id != JAW__ENTRY_TOOL) {
        contact.surface = head->text;
        contact.surface_place = head->place;
        contact.tip = f->v[1].text;
        contact.tool = f->v[1].text ? 0 : f->v[1].choice;
    } else {
        contact.surface = f->v[1].text;
        contact.surface_place = f->v[1].place;
        contact.tool = head->choice;
        contact.between = (f->v[2].given ? f->v[2].number : 0) +
                          (f->v[3].given ? f->v[3].number : 0);
    }
    jaw__took(r, jaw_setup_add_contact(r->setup, &contact));
}

static jaw_link tool_link(jaw__reader *r)
{
    static const jaw__role not_with[] = {JAW__LENGTH};
    static const char *const word[] = {"length"};
    jaw_link link = take_link(r, not_with, word, 1);

    link.holder = jaw__text_of(r, JAW__HOLDER);
    if (link.holder != NULL && r->entry.field[JAW__FROM].state == JAW__ABSENT)
        mistake(r, jaw__place_of(r, JAW__HOLDER), JAW__SAY_HOLDER_LOOSE, NULL,
                NULL, NULL, NULL);
    return link;
}

static void build_tool(jaw__reader *r)
{
    jaw__entry *e = &r->entry;
    jaw_tool_entry tool = {
        .number = e->head[0].choice,
        .text = e->head[1].text,
        .length = jaw__number_of(r, JAW__LENGTH, nan_),
        .length_known = jaw__known_of(r, JAW__LENGTH, 1),
        .diameter = jaw__number_of(r, JAW__DIAMETER, nan_),
        .place = e->place,
        .link = tool_link(r),
    };

    jaw__name_add(r, (jaw__name){.space = JAW__SPACE_TOOL,
                                 .number = tool.number,
                                 .place = e->head[0].place});
    jaw__took(r, jaw_setup_add_tool(r->setup, &tool));
}

/* -------------------------------------------------------------------- zero */

void jaw__take_turn(const jaw__reader *r, jaw_zero_entry *zero)
{
    const jaw__field *f = jaw__good(r, JAW__TURN);

    if (!f)
        return;
    zero->turn_place = f->v[f->alternative].place;
    if (f->alternative == 0) {
        zero->turn_use = JAW_TURN_STATED;
        zero->turn = f->v[0].number;
    } else {
        zero->turn_use = JAW_TURN_FEATURE;
        zero->turn_feature = f->v[1].text;
        zero->turn_along = !f->v[2].given        ? JAW_AXES
                           : f->v[2].choice == 0 ? JAW_X
                                                 : JAW_Y;
    }
}

/* What gives a zero as a whole leaves nothing for another field to say. */
static void take_whole(jaw__reader *r, jaw_zero_entry *zero)
{
    enum { WHOLE = 2, FIELDS = 7 };
    static const jaw__role role[FIELDS] = {
        JAW__DATUMS, JAW__INDEXED, JAW__STATION, JAW__TURN,
        JAW__AT_X,   JAW__AT_Y,    JAW__AT_Z};
    static const char *const word[FIELDS] = {"datums", "indexed", "station",
                                             "turn", "x", "y", "z"};
    const jaw__field *indexed = jaw__good(r, JAW__INDEXED);
    int whole = -1;

    zero->datums = jaw__text_of(r, JAW__DATUMS);
    zero->datums_place = jaw__place_of(r, JAW__DATUMS);
    if (indexed)
        zero->index = (jaw_zero_index){
            .source = indexed->v[0].text,
            .table = indexed->v[1].text,
            .to = indexed->v[2].number,
            .from = indexed->v[3].given ? indexed->v[3].number
                                        : (double)NAN,
            .place = indexed->v[0].place,
            .table_place = indexed->v[1].place};
    for (int k = 0; k < FIELDS; k++) {
        if (!jaw__good(r, role[k]))
            continue;
        if (whole >= 0)
            mistake(r, jaw__good(r, role[k])->place, JAW__SAY_ZERO_WHOLE,
                    zero->name, word[whole], word[k], NULL);
        else if (k < WHOLE)
            whole = k;
    }
}

static bool take_station(const jaw__reader *r, jaw_zero_entry *zero)
{
    const jaw__field *f = jaw__good(r, JAW__STATION);

    if (!f)
        return false;
    zero->station = f->v[0].text;
    zero->station_at =
        (jaw_vec3){f->v[1].number, f->v[2].number, f->v[3].number};
    zero->station_place = f->v[0].place;
    return true;
}

static void build_zero(jaw__reader *r, const char *name)
{
    static const jaw__role role[JAW_AXES] = {JAW__AT_X, JAW__AT_Y, JAW__AT_Z};
    jaw_zero_entry zero = {.name = name,
                           .square_known = jaw__known_of(r, JAW__SQUARE, 0),
                           .place = r->entry.place};
    jaw__take_turn(r, &zero);
    take_whole(r, &zero);
    bool any = zero.datums || zero.index.table;
    any = take_station(r, &zero) || any;
    for (int a = JAW_X; a < JAW_AXES; a++) {
        const jaw__field *f = jaw__good(r, role[a]);
        if (!f)
            continue;
        any = true;
        zero.term[a].feature = f->v[0].text;
        zero.term[a].at = f->v[1].given ? f->v[1].number : 0;
        zero.term[a].place = f->v[0].place;
    }
    jaw__name_add(r, (jaw__name){.space = JAW__SPACE_ZERO,
                                 .text = name,
                                 .place = r->entry.head[0].place});
    if (!any && !r->entry.broken)
        mistake(r, zero.place, JAW__SAY_ZERO_EMPTY, name, NULL, NULL, NULL);
    jaw__took(r, jaw_setup_add_zero(r->setup, &zero));
}

/* ----------------------------------------------------------------- entries */

void jaw__build_field(jaw__reader *r, const jaw__field_rule *rule,
                      const jaw__field *field)
{
    if (rule->role == JAW__TRAVEL)
        build_travel(r, field);
    else if (rule->role == JAW__CORRELATION)
        build_correlation(r, field);
    else if (rule->role == JAW__HOLE)
        build_hole(r, field);
    else if (rule->role == JAW__SEEN || rule->role == JAW__SHIM ||
             rule->role == JAW__CORNER)
        jaw__build_seen(r, rule->role, field);
    else
        build_contact(r, field);
}

/* The kind of a feature; JAW_FEATURE_KINDS for any other entry. */
static jaw_feature_kind kind_of(jaw__entry_id id)
{
    switch (id) {
    case JAW__ENTRY_EDGE: return JAW_EDGE;
    case JAW__ENTRY_FACE: return JAW_FACE;
    case JAW__ENTRY_BORE: return JAW_BORE;
    case JAW__ENTRY_BOSS: return JAW_BOSS;
    case JAW__ENTRY_SLOT: return JAW_SLOT;
    case JAW__ENTRY_WEB: return JAW_WEB;
    case JAW__ENTRY_PATTERN: return JAW_PATTERN;
    case JAW__ENTRY_BALL: return JAW_BALL;
    case JAW__ENTRY_BAR: return JAW_BAR;
    case JAW__ENTRY_SWEEP: return JAW_SWEEP;
    case JAW__ENTRY_DIAL: return JAW_DIAL;
    default: return JAW_FEATURE_KINDS;
    }
}

/* An entry of which the name, number or text is known. */
static void build_named(jaw__reader *r, jaw__entry_id id, const char *text)
{
    switch (id) {
    case JAW__ENTRY_TITLE: build_title(r, text); break;
    case JAW__ENTRY_INCLUDE: jaw__include(r, text, r->entry.place); break;
    case JAW__ENTRY_TEMPERATURE: build_temperature(r); break;
    case JAW__ENTRY_TIP: build_tip(r, text); break;
    case JAW__ENTRY_SETTER: build_setter(r, text); break;
    case JAW__ENTRY_TOOL: build_tool(r); break;
    case JAW__ENTRY_ZERO: build_zero(r, text); break;
    case JAW__ENTRY_VISE: jaw__build_vise(r, text); break;
    case JAW__ENTRY_STOCK: jaw__build_stock(r, text); break;
    case JAW__ENTRY_TRAM: jaw__build_tram(r, text); break;
    case JAW__ENTRY_SQUARE: jaw__build_square(r, text); break;
    case JAW__ENTRY_RUNOUT: jaw__build_runout(r, text); break;
    case JAW__ENTRY_ROTARY: jaw__build_rotary(r, text); break;
    case JAW__ENTRY_DATUMS: jaw__build_datums(r, text); break;
    case JAW__ENTRY_VEE: jaw__build_vee(r, text); break;
    case JAW__ENTRY_SINE: jaw__build_sine(r, text); break;
    case JAW__ENTRY_STATIONS: jaw__build_stations(r, text); break;
    case JAW__ENTRY_SIDE: jaw__build_side(r); break;
    default:
        if (kind_of(id) != JAW_FEATURE_KINDS)
            build_feature(r, text, kind_of(id));
    }
}

void jaw__build_entry(jaw__reader *r)
{
    const jaw__value *head = &r->entry.head[0];
    jaw__entry_id id = r->entry.rule->id;

    /* These two count as stated even where they were not understood. */
    if (id == JAW__ENTRY_UNIT)
        build_unit(r);
    else if (id == JAW__ENTRY_CONTROL)
        keep_control(r);
    else if (head->given)
        build_named(r, id, head->text);
}
