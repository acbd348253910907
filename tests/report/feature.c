/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One feature without a setup, as text and as JSON. */
#include "report_tests.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tests/near.h"

jaw_found some_bore(const double resid[4])
{
    return (jaw_found){
        .kind = JAW_BORE,
        .as.round = {.centre = {25.4, -50.8}, .diameter = 12.7},
        .resid = resid,
        .n = 4,
        .largest = 2,
        .rms = 0.0254,
        .dof = 1};
}

static json_t *json_of(const jaw_found *found, jaw_unit unit)
{
    char *text =
        jaw_report_feature_json(found, unit, (jaw_report_style){0});
    json_error_t error;
    ck_assert_ptr_nonnull(text);
    ck_assert_msg(text[strlen(text) - 1] == '\n', "no line end");
    json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(json != NULL, "%s in %s", error.text, text);
    free(text);
    return json;
}

static const json_t *at(const json_t *json, const char *key)
{
    const json_t *value = json_object_get(json, key);
    ck_assert_msg(value != NULL, "no %s", key);
    return value;
}

START_TEST(bore_json)
{
    double resid[4] = {0.0254, -0.0254, 0.0508, (double)NAN};
    jaw_found found = some_bore(resid);
    found.flags = JAW_WEAK | JAW_NO_CHECK;
    json_t *json = json_of(&found, JAW_IN);
    ck_assert_str_eq(json_string_value(at(json, "unit")), "in");
    const json_t *centre = at(json, "centre");
    near(json_real_value(json_array_get(centre, 0)), 1, 1e-15, "x");
    near(json_real_value(json_array_get(centre, 1)), -2, 1e-15, "y");
    near(json_real_value(at(json, "diameter")), 0.5, 1e-15, "diameter");
    const json_t *residuals = at(json, "residuals");
    near(json_real_value(json_array_get(residuals, 2)), 0.002, 1e-15, "resid");
    ck_assert(json_is_null(json_array_get(residuals, 3)));
    ck_assert_uint_eq(json_array_size(at(json, "flags")), 2);
    json_decref(json);
}
END_TEST

/* Every digit comes through. */
START_TEST(bore_json_digits)
{
    double resid[4] = {0.1, 1.0 / 3, M_PI, 1e-300};
    jaw_found found = some_bore(resid);
    found.as.round.centre = (jaw_vec2){0.1 + 0.2, 123456.78901234567};
    json_t *json = json_of(&found, JAW_MM);
    const json_t *centre = at(json, "centre");
    ck_assert(json_real_value(json_array_get(centre, 0)) == 0.1 + 0.2);
    ck_assert(json_real_value(json_array_get(centre, 1)) ==
              123456.78901234567);
    for (size_t i = 0; i < 4; i++)
        ck_assert(json_real_value(json_array_get(at(json, "residuals"), i)) ==
                  resid[i]);
    json_decref(json);
}
END_TEST

START_TEST(bore_text)
{
    double resid[4] = {0.0254, -0.0254, 0.0508, 0};
    jaw_found found = some_bore(resid);
    char *text = jaw_report_feature_text(&found, JAW_IN, (jaw_report_style){0});
    ck_assert_str_eq(
        text,
        "bore from 4 touches, in\n"
        "centre      x       1.0000\n"
        "            y      -2.0000\n"
        "diameter            0.5000\n"
        "how far each touch lies off the wall (+ away from the centre):\n"
        "  touch 1           0.00100\n"
        "  touch 2          -0.00100\n"
        "  touch 3           0.00200\n"
        "  touch 4           0.00000\n"
        "rms                 0.00100\n"
        "largest             0.00200  at touch 3\n");
    free(text);
}
END_TEST

START_TEST(bore_text_doubt_first)
{
    double resid[4] = {0, 0, 0, 0};
    jaw_found found = some_bore(resid);
    found.flags = JAW_SIZE_OFF | JAW_DIRECTION_ASSUMED;
    char *text = jaw_report_feature_text(&found, JAW_MM, (jaw_report_style){0});
    ck_assert_ptr_eq(strstr(text, "look at this first: "), text);
    ck_assert_ptr_nonnull(strstr(text, "\nnote: "));
    free(text);
}
END_TEST

/* Residuals that are no evidence are not shown as if they were. */
START_TEST(bore_text_no_check)
{
    double resid[4] = {0, 0, 0, 0};
    jaw_found found = some_bore(resid);
    found.dof = 0;
    found.rms = (double)NAN;
    found.flags = JAW_NO_CHECK;
    char *text = jaw_report_feature_text(&found, JAW_MM, (jaw_report_style){0});
    ck_assert_ptr_nonnull(strstr(text, "no check"));
    ck_assert_ptr_null(strstr(text, "rms"));
    ck_assert_ptr_null(strstr(text, "touch 1"));
    ck_assert_ptr_null(strstr(text, "0.0000"));
    free(text);
}
END_TEST

/* Whatever is not known, every kind says something and stays valid JSON. */
START_TEST(unknown_everywhere)
{
    const double nan = (double)NAN;
    double resid[2] = {nan, nan};
    jaw_found found = {.kind = (jaw_feature_kind)_i, .resid = resid, .n = 2};
    switch (found.kind) {
    case JAW_EDGE:
        found.as.edge = (jaw_edge){.normal = {nan, nan}, .theta = nan};
        break;
    case JAW_FACE:
        found.as.face = (jaw_face){.slope = {nan, nan}};
        break;
    case JAW_BORE:
    case JAW_BOSS:
        found.as.round = (jaw_round){.diameter = nan};
        break;
    default:
        break;
    }
    found.rms = nan;
    json_decref(json_of(&found, JAW_IN));
    char *text = jaw_report_feature_text(&found, JAW_IN, (jaw_report_style){0});
    ck_assert_ptr_nonnull(strstr(text, jaw_feature_word(found.kind)));
    ck_assert_ptr_null(strstr(text, "nan"));
    free(text);
}
END_TEST

TCase *feature_case(void)
{
    TCase *tc = tcase_create("feature");
    tcase_add_test(tc, bore_json);
    tcase_add_test(tc, bore_json_digits);
    tcase_add_test(tc, bore_text);
    tcase_add_test(tc, bore_text_doubt_first);
    tcase_add_test(tc, bore_text_no_check);
    tcase_add_loop_test(tc, unknown_everywhere, 0, JAW_FEATURE_KINDS);
    return tc;
}
