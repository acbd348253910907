/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every kind of slip by hand, with what must be said of it. */
#include "readback_tests.h"

typedef struct slip {
    const char *name;
    jaw_unit unit;
    double step, value, shown;
    jaw_readback_kind kind;
    bool sign_too;
    size_t n; /* reasons that fit equally */
    int power, place[2];
    char digit[3];
} slip;

#define MM(step, value, shown) JAW_MM, step, value, shown
#define IN(step, value, shown) JAW_IN, step, value, shown

static const slip slips[] = {
    {"up", MM(0.001, -12.345, -12.344), JAW_READ_LAST_DIGIT, .n = 1},
    {"down, inch", IN(0.0001, 4.8125, 4.8124), JAW_READ_LAST_DIGIT, .n = 1},
    {"just half a step", MM(0.001, 1.234, 1.2345), JAW_READ_LAST_DIGIT, .n = 1},
    {"minus lost", IN(0.0001, -9.4172, 9.4172), JAW_READ_SIGN, .n = 1},
    {"minus too many", MM(0.001, 101.2, -101.2), JAW_READ_SIGN, .n = 1},
    {"inch figure", MM(0.001, -239.196, -9.417), JAW_READ_INCH, .n = 1,
     .power = -1},
    {"inch figure, four decimals", MM(0.001, -239.196, -9.4171),
     JAW_READ_INCH, .n = 1, .power = -1},
    {"mm figure, three decimals", IN(0.0001, -9.4172, -239.197),
     JAW_READ_INCH, .n = 1, .power = 1},
    {"mm figure, cut off", IN(0.0001, -9.4172, -239.196), JAW_READ_INCH,
     .n = 1, .power = 1},
    {"taken for mm", IN(0.0001, 2.5, 0.0984), JAW_READ_INCH, .n = 1,
     .power = -1},
    {"mm figure with its unit", IN(0.0001, -10.1812, -10.1812 / 25.4),
     JAW_READ_INCH, .n = 1, .power = -1},
    {"nothing", MM(0.001, -12.345, 0), JAW_READ_NOTHING, .n = 1},
    {"neighbours", IN(0.0001, -9.4172, -9.4127), JAW_READ_TRANSPOSED, .n = 1,
     .place = {-3, -4}, .digit = "72"},
    {"over the point", MM(0.001, 312.456, 314.256), JAW_READ_TRANSPOSED, .n = 1,
     .place = {0, -1}, .digit = "24"},
    {"apart", MM(0.001, 312.456, 316.452), JAW_READ_APART, .n = 1,
     .place = {0, -3}, .digit = "26"},
    {"lost before the point", MM(0.001, -123.456, -13.456), JAW_READ_LOST,
     .n = 1, .place = {1, 0}, .digit = "2"},
    {"lost behind the point", MM(0.001, -123.456, -123.56), JAW_READ_LOST,
     .n = 1, .place = {-1, 0}, .digit = "4"},
    {"the first lost", MM(0.001, -123.456, -23.456), JAW_READ_LOST, .n = 1,
     .place = {2, 0}, .digit = "1"},
    {"the last lost", MM(0.001, -123.457, -123.45), JAW_READ_LOST, .n = 1,
     .place = {-3, 0}, .digit = "7"},
    {"doubled before the point", MM(0.001, 123.456, 1223.456),
     JAW_READ_DOUBLED, .n = 1, .place = {1, 0}, .digit = "2"},
    {"doubled, rounded", MM(0.001, 123.458, 123.446), JAW_READ_DOUBLED,
     .n = 1, .place = {-1, 0}, .digit = "4"},
    {"doubled, cut off", MM(0.001, 123.458, 123.445), JAW_READ_DOUBLED,
     .n = 1, .place = {-1, 0}, .digit = "4"},
    {"doubled, as typed", MM(0.001, 123.458, 123.4458), JAW_READ_DOUBLED,
     .n = 1, .place = {-1, 0}, .digit = "4"},
    {"wrong", MM(0.001, 123.456, 123.756), JAW_READ_WRONG, .n = 1,
     .place = {-1, 0}, .digit = "47"},
    {"wrong, the first", MM(0.001, 123.456, 423.456), JAW_READ_WRONG, .n = 1,
     .place = {2, 0}, .digit = "14"},
    {"extra", MM(0.001, 123.456, 1273.456), JAW_READ_EXTRA, .n = 1,
     .place = {1, 0}, .digit = "7"},
    {"extra, before all", MM(0.001, 123.456, 7123.456), JAW_READ_EXTRA,
     .n = 1, .place = {3, 0}, .digit = "7"},
    {"extra, behind the point", MM(0.001, 123.456, 123.745), JAW_READ_EXTRA,
     .n = 1, .place = {-1, 0}, .digit = "7"},
    {"point right", MM(0.001, -12.345, -123.45), JAW_READ_POINT, .n = 1,
     .power = 1},
    {"point left", MM(0.001, -12.345, -1.235), JAW_READ_POINT, .n = 1,
     .power = -1},
    {"counted as steps", MM(0.001, 120, 0.12), JAW_READ_POINT, .n = 1,
     .power = -3},
    {"a 0 lost is a point moved", IN(0.0001, 0.0257, 0.257), JAW_READ_LOST,
     .n = 2, .place = {-1, 0}, .digit = "0"},
    {"neighbours and sign", IN(0.0001, -9.4172, 9.4127), JAW_READ_TRANSPOSED,
     .sign_too = true, .n = 1, .place = {-3, -4}, .digit = "72"},
    {"wrong and sign", MM(0.001, 123.456, -123.756), JAW_READ_WRONG,
     .sign_too = true, .n = 1, .place = {-1, 0}, .digit = "47"},
};

START_TEST(each_kind)
{
    const slip *s = &slips[_i];
    jaw_readback_found f = compare_one(s->unit, s->step, s->value, s->shown);
    const jaw_readback_reason *why = reason(&f, s->kind);

    ck_assert_msg(f.state == JAW_READ_OFF, "%s: not off", s->name);
    near(f.off, (s->shown - s->value) * jaw_unit_mm(s->unit), 1e-12, s->name);
    ck_assert_msg(why != NULL, "%s: not named, first is %s of %zu", s->name,
                  f.n > 0 ? jaw_readback_word(f.reason[0].kind) : "-", f.n);
    ck_assert_msg(f.n == s->n, "%s: %zu reasons, second %s", s->name, f.n,
                  jaw_readback_word(f.reason[1].kind));
    ck_assert_msg(why->sign_too == s->sign_too, "%s: sign", s->name);
    ck_assert_msg(why->power == s->power, "%s: power %d", s->name, why->power);
    for (int i = 0; i < 2; i++) {
        ck_assert_msg(why->place[i] == s->place[i], "%s: place %d", s->name,
                      why->place[i]);
        ck_assert_msg(why->digit[i] == s->digit[i], "%s: digit %c", s->name,
                      why->digit[i]);
    }
}
END_TEST

/* Less than half a step is good, however far the digits are from one another;
 * half a step is not. */
START_TEST(half_a_step)
{
    ck_assert_int_eq(compare_one(JAW_MM, 0.001, 2, 2).state, JAW_READ_GOOD);
    ck_assert_int_eq(compare_one(JAW_MM, 0.001, 2, 1.9996).state,
                     JAW_READ_GOOD);
    ck_assert_int_eq(compare_one(JAW_MM, 0.001, 2, 1.9995).state,
                     JAW_READ_OFF);
    ck_assert_int_eq(compare_one(JAW_MM, 0.001, 2, 2.000499999).state,
                     JAW_READ_GOOD);
    ck_assert_int_eq(compare_one(JAW_IN, 0.0005, 2, 2.0002).state,
                     JAW_READ_GOOD);
    ck_assert_int_eq(compare_one(JAW_IN, 0.0005, 2, 2.0003).state,
                     JAW_READ_OFF);
    ck_assert_int_eq(compare_one(JAW_MM, 0.001, 0, -0.0).state, JAW_READ_GOOD);
}
END_TEST

/* What nothing explains is wrong by so much, and no reason is made up. */
START_TEST(just_wrong)
{
    static const double shown[] = {-12.543 - 7, 12.6789, 900000, -3.2, 1e300};

    for (int i = 0; i < COUNT(shown); i++) {
        jaw_readback_found f = compare_one(JAW_MM, 0.001, -12.345, shown[i]);
        ck_assert_int_eq(f.state, JAW_READ_OFF);
        ck_assert_msg(f.n == 0, "%g: %s", shown[i],
                      jaw_readback_word(f.reason[0].kind));
        near(f.off, shown[i] + 12.345, fabs(shown[i]) * 1e-15, "off");
    }
}
END_TEST

/* One digit that is left would fit one value in nine. */
START_TEST(little_is_no_evidence)
{
    jaw_readback_found f = compare_one(JAW_IN, 0.0001, 0.0257, 0.0003);
    ck_assert(reason(&f, JAW_READ_POINT) == NULL);
    f = compare_one(JAW_MM, 0.001, 0.02, 0.001);
    ck_assert(reason(&f, JAW_READ_INCH) == NULL);
}
END_TEST

static jaw_readback_value part[7];
static jaw_readback_found found[7];
enum { G54X, G54Y, G54Z, G55X, G55Y, H3, H4 };

/* A part of which every value is shown as it should be. */
static void part_make(void)
{
    static const struct {
        const char *name, *word;
        double value;
    } rows[] = {{"G54", "X", -310.482}, {"G54", "Y", -155.03},
                {"G54", "Z", 0},        {"G55", "X", -110.485},
                {"G55", "Y", -154.987}, {"H3", "length", 101.2},
                {"H4", "length", 87.655}};

    for (int i = 0; i < COUNT(rows); i++) {
        part[i] = register_of(rows[i].name, rows[i].word, JAW_MM, 0.001,
                              rows[i].value);
        part[i].shown = part[i].value;
    }
}

static void part_compare(void)
{
    ck_assert_int_eq(jaw_readback_compare(part, COUNT(part), JAW_MM, found),
                     JAW_OK);
}

START_TEST(other_register)
{
    part_make();
    part_compare();
    for (int i = 0; i < COUNT(part); i++)
        ck_assert_int_eq(found[i].state, JAW_READ_GOOD);
    part[H4].shown = part[H3].value;
    part[G55X].shown = part[G54X].value;
    part_compare();
    ck_assert_uint_eq(found[H4].n, 1);
    ck_assert_int_eq(found[H4].reason[0].kind, JAW_READ_OTHER);
    ck_assert_uint_eq(found[H4].reason[0].other, H3);
    ck_assert_int_eq(found[G55X].reason[0].kind, JAW_READ_OTHER);
    ck_assert_uint_eq(found[G55X].reason[0].other, G54X);
    ck_assert_int_eq(found[H3].state, JAW_READ_GOOD);
}
END_TEST

START_TEST(exchanged)
{
    part_make();
    part[G54X].shown = part[G54Y].value;
    part[G54Y].shown = part[G54X].value;
    part_compare();
    for (size_t i = G54X; i <= G54Y; i++) {
        ck_assert_uint_eq(found[i].n, 1);
        ck_assert_int_eq(found[i].reason[0].kind, JAW_READ_EXCHANGED);
        ck_assert_uint_eq(found[i].reason[0].other, G54Y - i);
    }
    part[G54Y].shown = NOT; /* not known whether they changed places */
    part_compare();
    ck_assert_int_eq(found[G54X].reason[0].kind, JAW_READ_OTHER);
    ck_assert_int_eq(found[G54Y].state, JAW_READ_MISSING);
}
END_TEST

START_TEST(other_register_and_sign)
{
    part_make();
    part[H4].shown = -part[H3].value;
    part_compare();
    ck_assert_int_eq(found[H4].reason[0].kind, JAW_READ_OTHER);
    ck_assert(found[H4].reason[0].sign_too);
}
END_TEST

START_TEST(stale)
{
    part_make();
    part[H3].before = 99.847;
    part[H3].shown = 99.847;
    part[H4].before = part[H4].value;
    part_compare();
    ck_assert_uint_eq(found[H3].n, 1);
    ck_assert_int_eq(found[H3].reason[0].kind, JAW_READ_STALE);
    ck_assert_int_eq(found[H4].state, JAW_READ_GOOD);
}
END_TEST

/* Two that fit equally are both given. */
START_TEST(both_are_said)
{
    part_make();
    part[H3].before = -101.2;
    part[H3].shown = -101.2;
    part_compare();
    ck_assert_uint_eq(found[H3].n, 2);
    ck_assert(reason(&found[H3], JAW_READ_STALE) != NULL);
    ck_assert(reason(&found[H3], JAW_READ_SIGN) != NULL);
    part[H3].before = NOT;
    part[H3].value = part[H3].shown = 47.5;
    part[G55Y].value = part[G55Y].shown = 47.5;
    part[H4].shown = 47.5;
    part_compare();
    ck_assert_uint_eq(found[H4].n, 2);
    ck_assert_uint_eq(found[H4].reason[0].other, G55Y);
    ck_assert_uint_eq(found[H4].reason[1].other, H3);
}
END_TEST

START_TEST(within_its_interval)
{
    part_make();
    part[G54X].half95 = 0.0021;
    part[G54X].shown = part[G54X].value + 0.002;
    part_compare();
    ck_assert_int_eq(found[G54X].state, JAW_READ_OFF);
    ck_assert(found[G54X].within);
    part[G54X].half95 = 0.0019;
    part_compare();
    ck_assert(!found[G54X].within);
    part[G54X].half95 = NOT;
    part_compare();
    ck_assert(!found[G54X].within);
}
END_TEST

/* Degrees have digits too, and no inches. */
START_TEST(turn)
{
    jaw_readback_value v = register_of("G54", "turn", JAW_MM, 0.0001, 1.2345);
    jaw_readback_found f;

    v.angle = true;
    v.step = jaw_rad(0.0001);
    v.value = jaw_rad(1.2345);
    v.shown = jaw_rad(1.2435);
    ck_assert_int_eq(jaw_readback_compare(&v, 1, JAW_IN, &f), JAW_OK);
    ck_assert_int_eq(f.reason[0].kind, JAW_READ_TRANSPOSED);
    v.shown = jaw_rad(1.2345 * 25.4);
    ck_assert_int_eq(jaw_readback_compare(&v, 1, JAW_IN, &f), JAW_OK);
    ck_assert_uint_eq(f.n, 0);
}
END_TEST

TCase *kinds_case(void)
{
    TCase *tc = tcase_create("kinds");
    tcase_add_loop_test(tc, each_kind, 0, COUNT(slips));
    tcase_add_test(tc, half_a_step);
    tcase_add_test(tc, just_wrong);
    tcase_add_test(tc, little_is_no_evidence);
    tcase_add_test(tc, other_register);
    tcase_add_test(tc, exchanged);
    tcase_add_test(tc, other_register_and_sign);
    tcase_add_test(tc, stale);
    tcase_add_test(tc, both_are_said);
    tcase_add_test(tc, within_its_interval);
    tcase_add_test(tc, turn);
    return tc;
}
