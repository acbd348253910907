/* SPDX-License-Identifier: GPL-3.0-or-later */
/* valid.c: what no book may hold, whoever writes it: a command, a program or an
 * import.  What is merely strange (longer than the travel) is a doubt and is
 * kept. */
#include "book.h"

#include <src/base/name.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

bool jaw_book_name_is_good(const char *name)
{
    return name != NULL && jaw__name_is_good(name, strlen(name));
}

/* Bytes that follow the first of a character in UTF-8 (RFC 3629); -1: none
 * begins so.  *least: the smallest character that needs so many. */
static int behind(unsigned char first, unsigned *bits, unsigned *least)
{
    static const unsigned from[] = {0, 0x80, 0x800, 0x10000};
    int n = first < 0x80 ? 0
            : (first & 0xe0) == 0xc0 ? 1
            : (first & 0xf0) == 0xe0 ? 2
            : (first & 0xf8) == 0xf0 ? 3
                                     : -1;

    *bits = n > 0 ? first & (0x3fu >> n) : first;
    *least = n < 0 ? 0 : from[n];
    return n;
}

/* Other bytes could not be exported as JSON. */
static bool is_text(const char *text)
{
    const unsigned char *s = (const unsigned char *)text;

    while (text != NULL && *s != '\0') {
        unsigned bits, least;
        int n = behind(*s++, &bits, &least);
        for (int i = 0; i < n; i++) {
            if ((*s & 0xc0) != 0x80)
                return false;
            bits = bits << 6 | (*s++ & 0x3f);
        }
        if (n < 0 || bits < least || bits > 0x10ffff ||
            (bits >= 0xd800 && bits <= 0xdfff))
            return false;
    }
    return text != NULL;
}

static bool has_texts(const jaw_book_record *r)
{
    const jaw__kind *k = &jaw__book_kinds[r->kind];
    const char *text;

    for (size_t i = 0; i < k->n_fields; i++) {
        if (k->field[i].type != JAW__TEXT)
            continue;
        memcpy(&text, jaw__book_field_of(&k->field[i], r), sizeof text);
        if (!is_text(text))
            return false;
    }
    return is_text(r->machine) && is_text(r->subject);
}

static bool is_name_or_none(const char *name)
{
    return name != NULL && (*name == '\0' || jaw_book_name_is_good(name));
}

static bool is_number(int number)
{
    return number >= 1 && number <= 9999;
}

jaw_status jaw_book_tool_subject(int number, const char *holder,
                                 const char *datum, char *subject, size_t size)
{
    if (!is_number(number) || !is_name_or_none(holder) ||
        (datum != NULL && !is_name_or_none(datum)))
        return JAW_EDOMAIN;
    int n = datum == NULL
                ? snprintf(subject, size, "%d/%s", number, holder)
                : snprintf(subject, size, "%d/%s/%s", number, holder, datum);
    return n >= 0 && (size_t)n < size ? JAW_OK : JAW_ESIZE;
}

static bool is_spread(double u) /* or not known */
{
    return isnan(u) || (u >= 0 && isfinite(u));
}

static bool is_dof(double dof)
{
    return isnan(dof) || dof > 0;
}

static bool is_positive(double value)
{
    return value > 0 && isfinite(value);
}

static bool is_size(double mm) /* or not stated */
{
    return isnan(mm) || is_positive(mm);
}

static const char *machine_wrong(const jaw_book_machine *m)
{
    if ((unsigned)m->unit > JAW_IN ||
        (unsigned)m->lengths >= JAW_LENGTH_RULES ||
        (unsigned)m->turns > JAW_TURNS_NO)
        return "a unit or a convention that does not exist";
    if (!is_positive(m->step))
        return "the step of the display is not more than 0";
    if (m->decimals < -1 || m->decimals > 9)
        return "decimals are 0 to 9";
    if (m->reference != 0 && !is_number(m->reference))
        return "the number of the reference tool is not 1 to 9999";
    if (m->lengths == JAW_REFERENCE_TOOL && m->reference == 0)
        return "lengths against a reference tool, and which one is not said";
    for (int i = 0; i < 3; i++)
        if (isinf(m->low[i]) || isinf(m->high[i]) || m->low[i] >= m->high[i])
            return "the travel ends before it begins";
    return is_spread(m->seat) ? NULL : "a spread is not negative";
}

static const char *height_wrong(const jaw_book_height *h)
{
    if (!isfinite(h->value))
        return "the height is no finite number";
    if (h->block && h->value < 0)
        return "a block is not thinner than 0";
    if (h->tool != 0 && !is_number(h->tool))
        return "the number of a tool is 1 to 9999";
    return is_spread(h->u) && is_dof(h->dof) && is_spread(h->half95) &&
                   is_spread(h->length_u) && (unsigned)h->unit <= JAW_IN
               ? NULL
               : "a spread is not negative";
}

static const char *length_wrong(const jaw_book_length *l)
{
    if (!is_number(l->number))
        return "the number of a tool is 1 to 9999";
    if (!is_name_or_none(l->holder) || !is_name_or_none(l->datum) ||
        !is_name_or_none(l->on) || !is_name_or_none(l->through))
        return "a name is letters, digits, - _ and ., 1 to 40 of them";
    if (!isfinite(l->value))
        return "the length is no finite number";
    if (!(l->between >= 0) || !isfinite(l->between))
        return "what lies in between is not thinner than 0";
    if ((unsigned)l->change >= JAW_BOOK_CHANGES || (unsigned)l->unit > JAW_IN)
        return "a word that does not exist";
    return is_spread(l->u) && is_dof(l->dof) && is_spread(l->half95) &&
                   is_spread(l->repeat) && is_dof(l->repeat_dof) &&
                   is_spread(l->known) && is_spread(l->between_u)
               ? NULL
               : "a spread is not negative";
}

static const char *diameter_wrong(const jaw_book_diameter *d)
{
    if (!is_number(d->number))
        return "the number of a tool is 1 to 9999";
    if (!is_name_or_none(d->holder))
        return "a name is letters, digits, - _ and ., 1 to 40 of them";
    if (!is_positive(d->value))
        return "a diameter is more than 0";
    if ((unsigned)d->change >= JAW_BOOK_CHANGES)
        return "a word that does not exist";
    return is_spread(d->u) && is_dof(d->dof) && (unsigned)d->unit <= JAW_IN &&
                   is_spread(d->half95) && is_spread(d->repeat) &&
                   is_dof(d->repeat_dof) && is_spread(d->known)
               ? NULL
               : "a spread is not negative";
}

/* ------------------------------------------------------------ kept setups */

/* On one line, and something to be found by. */
static bool is_title(const char *text)
{
    const unsigned char *s = (const unsigned char *)text;

    for (; *s != '\0'; s++)
        if ((*s < 0x20 && *s != '\t') || *s == 0x7f)
            return false;
    return text[strspn(text, " \t")] != '\0';
}

static bool is_register(const char *name)
{
    return name != NULL && jaw_book_name_is_good(name) &&
           strlen(name) < JAW_REGISTER_NAME && strchr("GH", name[0]) != NULL;
}

static bool is_figure(const jaw_figure *f)
{
    return !isinf(f->value) && is_spread(f->u) && is_dof(f->dof) &&
           is_spread(f->half95);
}

/* What every kind of a setup states of the control. */
static const char *control_wrong(jaw_length_rule lengths, int reference,
                                 double step, jaw_unit unit)
{
    if ((unsigned)unit > JAW_IN || (unsigned)lengths >= JAW_LENGTH_RULES)
        return "a unit or a convention that does not exist";
    if (reference != 0 && !is_number(reference))
        return "the number of the reference tool is not 1 to 9999";
    return is_positive(step) ? NULL
                             : "the step of the control is not more than 0";
}

static const char *setup_wrong(const jaw_book_record *r)
{
    const jaw_book_setup *s = &r->as.setup;

    if (!is_title(r->subject))
        return "a setup is kept under its title, one line";
    if (!is_positive(s->angle_step))
        return "the step of the control is not more than 0";
    return control_wrong(s->lengths, s->reference, s->step, s->unit);
}

static const char *zero_wrong(const jaw_book_zero *z)
{
    if (z->setup < 0)
        return "entries count from 1";
    for (int i = 0; i < 4; i++)
        if (!is_figure(&z->at[i]))
            return "a coordinate is no finite number, or a spread negative";
    if (!is_positive(z->angle_step))
        return "the step of the control is not more than 0";
    return control_wrong(z->lengths, 0, z->step, z->unit);
}

static const char *offset_wrong(const jaw_book_offset *o)
{
    if (o->setup < 0)
        return "entries count from 1";
    if (!is_number(o->number))
        return "the number of a tool is 1 to 9999";
    if (!is_figure(&o->length))
        return "a length is no finite number, or a spread negative";
    return control_wrong(o->lengths, o->reference, o->step, o->unit);
}

static const char *entered_wrong(const jaw_book_entered *e)
{
    if (e->setup < 0)
        return "entries count from 1";
    if (!is_register(e->name) || (unsigned)e->axis >= JAW_BOOK_AXES)
        return "a register is G54 and so on with an axis, or H and a number";
    if (!isfinite(e->shown))
        return "what is shown is no finite number";
    if (isinf(e->wanted) || !is_spread(e->half95))
        return "what was to be entered is no finite number";
    return control_wrong(JAW_GAUGE_LINE, 0, e->step, e->unit);
}

static bool is_one_of(const char *word, const char *const list[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(word, list[i]) == 0)
            return true;
    return false;
}

/* What of it can be together is up to who made it. */
static bool is_covariance(const double cov[15])
{
    static const size_t diagonal[] = {0, 5, 9, 12, 14};

    for (size_t i = 0; i < 15; i++)
        if (isinf(cov[i]))
            return false;
    for (size_t i = 0; i < 5; i++)
        if (cov[diagonal[i]] < 0)
            return false;
    return true;
}

static const char *tip_wrong(const jaw_book_record *r)
{
    static const char *const on[] = {"ring", "plug", "ball", "block"};
    const jaw_book_tip *t = &r->as.tip;

    if (!is_positive(t->value))
        return "a diameter is more than 0";
    if ((unsigned)t->shape >= JAW_TIP_SHAPES || (unsigned)t->unit > JAW_IN ||
        (unsigned)t->runout >= JAW_TERM_STATES ||
        (unsigned)t->lobes >= JAW_TERM_STATES || !is_one_of(t->on, on, 4))
        return "a word that does not exist";
    for (int k = 0; k < 4; k++)
        if (!isfinite(t->harmonic[k]))
            return "a runout or lobe is no finite number";
    if (!is_size(t->length))
        return "the length of a tip is more than 0";
    if (!is_positive(t->size) || !is_size(t->size_2))
        return "what is touched has a size";
    if (t->columns < 2 || t->columns > 3 ||
        r->n_readings % (size_t)t->columns != 0)
        return "the readings are no rows of touches";
    return is_spread(t->size_u) && is_spread(t->u) && is_dof(t->dof) &&
                   is_spread(t->half95) && is_spread(t->repeat) &&
                   is_dof(t->repeat_dof) && is_spread(t->length_u) &&
                   is_covariance(t->cov)
               ? NULL
               : "a spread is not negative";
}

jaw_status jaw_book_shown_subject(const char *name, int axis, char *subject,
                                  size_t size)
{
    const char *word = jaw_book_axis_word((unsigned)axis);

    if (!is_register(name) || word == NULL ||
        (name[0] == 'H') != (axis == JAW_BOOK_AXES - 1))
        return JAW_EDOMAIN;
    int n = name[0] == 'H' ? snprintf(subject, size, "%s", name)
                           : snprintf(subject, size, "%s %s", name, word);
    return n >= 0 && (size_t)n < size ? JAW_OK : JAW_ESIZE;
}

/* ----------------------------------------------------- marks and fixtures */

static bool has_spread(const jaw_figure *f)
{
    return isnan(f->value) || (f->u > 0 && f->half95 > 0);
}

static const char *mark_wrong(const jaw_book_mark *m)
{
    const bool wall = !isnan(m->direction.value);

    for (int i = 0; i < 3; i++)
        if (!is_figure(&m->at[i]) || !has_spread(&m->at[i]))
            return "a mark's coordinate is finite, its spread more than 0";
    if (!is_figure(&m->direction))
        return "a mark's direction is finite, its spread not negative";
    if (isnan(m->at[0].value) != isnan(m->at[1].value) ||
        (isnan(m->at[0].value) && (wall || isnan(m->at[2].value))) ||
        (wall && !isnan(m->at[2].value)))
        return "a mark has x and y, perhaps z; a face z alone; a wall x and y";
    if ((unsigned)m->move >= JAW_BOOK_MOVES || (unsigned)m->unit > JAW_IN)
        return "a word that does not exist";
    return m->since < 0 ? "entries count from 1" : NULL;
}

static const char *fixture_wrong(const jaw_book_fixture *f)
{
    if (!is_size(f->jaw_width) || !is_size(f->jaw_height) ||
        !is_size(f->opening) || !is_spread(f->parallels))
        return "a size is more than 0";
    for (int i = 0; i < 4; i++)
        if (!is_figure(&f->at[i]))
            return "a coordinate is no finite number, or a spread negative";
    if ((unsigned)f->move >= JAW_BOOK_MOVES || (unsigned)f->unit > JAW_IN)
        return "a word that does not exist";
    return f->since < 0 ? "entries count from 1" : NULL;
}

static const char *kind_wrong(const jaw_book_record *r)
{
    switch (r->kind) {
    case JAW_BOOK_UNDO: return NULL;
    case JAW_BOOK_MACHINE: return machine_wrong(&r->as.machine);
    case JAW_BOOK_HEIGHT: return height_wrong(&r->as.height);
    case JAW_BOOK_LENGTH: return length_wrong(&r->as.length);
    case JAW_BOOK_DIAMETER: return diameter_wrong(&r->as.diameter);
    case JAW_BOOK_SETUP: return setup_wrong(r);
    case JAW_BOOK_ZERO: return zero_wrong(&r->as.zero);
    case JAW_BOOK_OFFSET: return offset_wrong(&r->as.offset);
    case JAW_BOOK_ENTERED: return entered_wrong(&r->as.entered);
    case JAW_BOOK_MARK: return mark_wrong(&r->as.mark);
    case JAW_BOOK_FIXTURE: return fixture_wrong(&r->as.fixture);
    case JAW_BOOK_TIP: return tip_wrong(r);
    case JAW_BOOK_KINDS: break;
    }
    return "a kind that does not exist";
}

jaw_status jaw__book_subject(const jaw_book_record *r, char *subject,
                             size_t size)
{
    int n;

    switch (r->kind) {
    case JAW_BOOK_LENGTH:
        return jaw_book_tool_subject(r->as.length.number, r->as.length.holder,
                                     r->as.length.datum, subject, size);
    case JAW_BOOK_DIAMETER:
        return jaw_book_tool_subject(r->as.diameter.number,
                                     r->as.diameter.holder, NULL, subject,
                                     size);
    case JAW_BOOK_OFFSET:
        n = snprintf(subject, size, "H%d", r->as.offset.number);
        return n >= 0 && (size_t)n < size ? JAW_OK : JAW_ESIZE;
    case JAW_BOOK_ENTERED:
        return jaw_book_shown_subject(r->as.entered.name, r->as.entered.axis,
                                      subject, size);
    default:
        return JAW_EUNKNOWN;
    }
}

static bool subject_fits(const jaw_book_record *r)
{
    char subject[JAW_BOOK_SUBJECT_SIZE];

    switch (r->kind) {
    case JAW_BOOK_HEIGHT:
    case JAW_BOOK_MARK:
    case JAW_BOOK_FIXTURE:
    case JAW_BOOK_TIP:
        return jaw_book_name_is_good(r->subject);
    case JAW_BOOK_ZERO:
        return is_register(r->subject) && r->subject[0] == 'G';
    default:
        break;
    }
    jaw_status status = jaw__book_subject(r, subject, sizeof subject);
    return status == JAW_EUNKNOWN ||
           (status == JAW_OK && strcmp(subject, r->subject) == 0);
}

static bool names_its_machine(const jaw_book_record *r)
{
    bool none = r->kind == JAW_BOOK_UNDO ||
                (r->kind == JAW_BOOK_HEIGHT && r->as.height.block);

    return none ? *r->machine == '\0' : jaw_book_name_is_good(r->machine);
}

/* 9999-12-31: beyond it a time is no date of four digits. */
#define AT_MOST 253402300799999LL

const char *jaw__book_wrong(const jaw_book_record *r)
{
    if (r->machine == NULL || r->subject == NULL)
        return "a text is missing";
    if (r->at < 0 || r->at > AT_MOST)
        return "the time is not between 1970 and 9999";
    if ((r->kind == JAW_BOOK_UNDO) != (r->undoes > 0))
        return "an undo names what it undoes, and nothing else does";
    if (r->part_of < 0 || (r->kind == JAW_BOOK_UNDO && r->part_of != 0))
        return "an undo is no part of anything";
    if ((unsigned)r->kind < JAW_BOOK_KINDS && !has_texts(r))
        return "a text is no UTF-8";
    const char *wrong = kind_wrong(r);
    if (wrong != NULL)
        return wrong;
    if (!names_its_machine(r))
        return "a machine has a name: letters, digits, - _ and .";
    if (!subject_fits(r))
        return "the subject does not fit the rest";
    if (r->n_readings > 0 && r->reading == NULL)
        return "readings are missing";
    for (size_t i = 0; i < r->n_readings; i++)
        if (!isfinite(r->reading[i]))
            return "a reading is no finite number";
    return NULL;
}
