/* SPDX-License-Identifier: GPL-3.0-or-later */
/* machine.c: `jawline machine`: travel, step, conventions. */
#include "shop.h"
#include "tools.h"

#include <math.h>
#include <string.h>

static bool something_given(const arguments *args)
{
    static const option_id ids[] = {OPT_UNIT, OPT_STEP, OPT_DECIMALS,
                                    OPT_TRAVEL, OPT_TRAVEL_X, OPT_TRAVEL_Y,
                                    OPT_TURN, OPT_LENGTHS, OPT_REFERENCE,
                                    OPT_SEAT, OPT_NEW};

    for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++)
        if (args->value[ids[i]] != NULL)
            return true;
    return false;
}

static bool read_travel(const arguments *args, const shop *s, option_id id,
                        int axis, jaw_book_machine *m)
{
    const char *text = args->value[id];
    char low[60] = "";

    if (text == NULL)
        return true;
    const char *comma = strchr(text, ',');
    if (comma != NULL && comma - text < (long)sizeof low)
        memcpy(low, text, (size_t)(comma - text));
    if (comma != NULL && length_read(low, s->unit, &m->low[axis]) &&
        length_read(comma + 1, s->unit, &m->high[axis]) &&
        m->low[axis] < m->high[axis])
        return true;
    complain("such as --travel -400,0", "--%s: `%s' is no travel",
             option_word(id), text);
    return false;
}

static bool read_travels(const arguments *args, const shop *s,
                         jaw_book_machine *m)
{
    return read_travel(args, s, OPT_TRAVEL_X, JAW_X, m) &&
           read_travel(args, s, OPT_TRAVEL_Y, JAW_Y, m) &&
           read_travel(args, s, OPT_TRAVEL, JAW_Z, m);
}

static bool read_turn(const arguments *args, jaw_book_machine *m)
{
    const char *text = args->value[OPT_TURN];

    if (text == NULL)
        return true;
    if (strcmp(text, "yes") != 0 && strcmp(text, "no") != 0) {
        complain("yes or no", "--turn: `%s' is neither", text);
        return false;
    }
    m->turns = *text == 'y' ? JAW_TURNS_YES : JAW_TURNS_NO;
    return true;
}

/* Values are shown and compared with so many decimals. */
static bool shows_steps(const jaw_book_machine *m)
{
    double one = jaw_unit_mm(m->unit);
    int needed = jaw_step_decimals(m->step / one);
    char step[40];

    if (m->decimals < 0 || m->decimals >= needed ||
        jaw_number_write(m->step / one, needed, step, sizeof step) != JAW_OK)
        return true;
    complain("more decimals, or a larger --step",
             "--decimals %d can not show a step of %s %s", m->decimals, step,
             jaw_unit_word(m->unit));
    return false;
}

static bool read_options(const arguments *args, const shop *s,
                         jaw_book_machine *m)
{
    bool unit_changes = s->known && m->unit != s->unit;

    m->unit = s->unit;
    if (!s->known || unit_changes)
        m->step = jaw_control_default(s->unit).step;
    if (unit_changes)
        m->decimals = -1;
    return option_length(args, OPT_STEP, s->unit, false, &m->step) &&
           shop_number(args, OPT_DECIMALS, 9, &m->decimals) &&
           shop_number(args, OPT_REFERENCE, 9999, &m->reference) &&
           shop_length(args, OPT_SEAT, s, false, &m->seat) &&
           rule_read(args, &m->lengths) && read_travels(args, s, m) &&
           read_turn(args, m) &&
           shows_steps(m);
}

static void show(const shop *s)
{
    const jaw_book_machine *m = &s->about;

    printf("machine %s\n", s->machine);
    printf("unit         %s, step %s\n", jaw_unit_word(m->unit),
           mm_text(s, m->step, 0).s);
    for (int k = 0; k < 3; k++) {
        if (!isnan(m->low[k]))
            printf("%s            from %s to %s\n",
                   jaw_book_axis_word((unsigned)k), mm_text(s, m->low[k], 0).s,
                   mm_text(s, m->high[k], 0).s);
        else if (k == JAW_Z)
            puts("Z            its travel is not known");
    }
    if (m->turns != JAW_TURNS_UNSAID)
        printf("turn         the control takes %s turn of the coordinates\n",
               m->turns == JAW_TURNS_YES ? "a" : "no");
    printf("lengths      %s: %s\n", jaw_length_word(m->lengths),
           jaw_length_text(m->lengths));
    if (m->reference > 0)
        printf("reference    tool %d\n", m->reference);
    if (!isnan(m->seat))
        printf("seat         %s\n", mm_text(s, m->seat, 1).s);
}

/* --new is said of a machine that the book does not have. */
static bool is_new(const arguments *args, const shop *s)
{
    if (args->value[OPT_NEW] == NULL || (args->operands > 0 && !s->known))
        return true;
    if (args->operands > 0)
        complain("leave --new out", "the machine `%s' is in the book already",
                 s->machine);
    else
        complain("such as `jawline machine NAME --new'",
                 "what the new machine is called is not said");
    return false;
}

static int write_down(const arguments *args, shop *s)
{
    jaw_book_record r = {.kind = JAW_BOOK_MACHINE, .machine = s->machine,
                         .subject = "", .at = s->at};
    jaw_book_machine before = s->about;
    long long id;

    if (!is_new(args, s) || !read_options(args, s, &s->about))
        return shop_leave(s);
    r.as.machine = s->about;
    jaw_status status = jaw_book_machine_check(s->book, &r);
    if (status == JAW_OK)
        status = jaw_book_add(s->book, &r, &id);
    if (status == JAW_OK) {
        shop_tell(s);
        show(s);
        if (jaw_notes_at_least(s->notes, JAW_DOUBT) > 0)
            printf("doubt        if it was a slip: `jawline book undo %lld'\n",
                   id);
        bool otherwise = before.lengths != s->about.lengths ||
                         (s->about.lengths == JAW_REFERENCE_TOOL &&
                          before.reference != s->about.reference);
        if (s->known && otherwise)
            status = tools_enter_again(s, "no length in the book has "
                                          "changed");
    }
    return shop_close(s, status);
}

static bool take_name(void *user, const jaw_book_record *r)
{
    (void)user;
    printf("%s\n", r->machine);
    return true;
}

static int refuse(shop *s, bool writes)
{
    if (writes)
        complain("such as `jawline machine NAME --unit in'",
                 "the book knows several machines, and which is not said");
    else
        complain("write it down, such as `jawline machine mill --travel "
                 "-400,0'",
                 "the book does not know the machine `%s'", s->machine);
    return shop_leave(s);
}

int command_machine(const arguments *args)
{
    bool writes = something_given(args);
    shop s;

    if (args->operands > 1) {
        complain("one name", "`%s' is one operand too many",
                 args->operand[1]);
        return EXIT_USAGE;
    }
    if (!shop_open(args, writes ? JAW_BOOK_WRITE : JAW_BOOK_READ, &s))
        return EXIT_USAGE;
    bool several = *s.machine == '\0';
    if (writes)
        return several ? refuse(&s, true) : write_down(args, &s);
    if (several)
        return shop_close(&s, jaw_book_current(s.book, JAW_BOOK_MACHINE, NULL,
                                               take_name, NULL));
    if (!s.known)
        return refuse(&s, false);
    show(&s);
    return shop_close(&s, JAW_OK);
}
