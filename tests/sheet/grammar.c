/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of the table in grammar.h: forms that form.c can read, and examples
 * that are read without a mistake, since the manual prints them. */
#include "sheet_tests.h"

#include "src/sheet/grammar.h"

#include <stdio.h>
#include <string.h>

static bool is_kind(const char *s, size_t len)
{
    for (int i = 0; i < JAW__KINDS; i++)
        if (strlen(jaw__kinds[i].word) == len &&
            memcmp(jaw__kinds[i].word, s, len) == 0)
            return true;
    return false;
}

/* Brackets in pairs, kinds that exist, at most four values. */
static void check_form(const char *form)
{
    int open = 0, values = 0;
    for (const char *s = form; *s;) {
        if (strchr(" []", *s)) {
            open += *s == '[';
            open -= *s == ']';
            ck_assert_msg(open == 0 || open == 1, "%s", form);
            s++;
            continue;
        }
        size_t len = strcspn(s, " []");
        bool upper = s[0] >= 'A' && s[0] <= 'Z';
        ck_assert_msg(!upper || is_kind(s, len), "%s", form);
        values += upper || (len > 1 && memchr(s, '|', len));
        s += len;
    }
    ck_assert_msg(open == 0, "%s", form);
    ck_assert_msg(values <= 4, "%s", form);
}

START_TEST(forms)
{
    for (int i = 0; i < JAW__ENTRIES; i++)
        check_form(jaw__entries[i].head);
    for (int i = 0; i < jaw__field_count; i++)
        check_form(jaw__fields[i].form);
}
END_TEST

START_TEST(no_word_twice)
{
    for (int i = 0; i < JAW__ENTRIES; i++)
        for (int k = 0; k < i; k++)
            ck_assert_str_ne(jaw__entries[i].word, jaw__entries[k].word);
    for (int i = 0; i < jaw__field_count; i++)
        for (int k = 0; k < i; k++)
            ck_assert(jaw__fields[i].entry != jaw__fields[k].entry ||
                      (strcmp(jaw__fields[i].word, jaw__fields[k].word) &&
                       jaw__fields[i].role != jaw__fields[k].role));
}
END_TEST

START_TEST(entry_examples)
{
    char text[1000];
    const jaw__entry_rule *e = &jaw__entries[_i];
    bool unit = e->id == JAW__ENTRY_UNIT;
    snprintf(text, sizeof text, "%s%s\n", unit ? "" : "unit in\n", e->example);
    outcome g = sheet_text(text);
    got_good(&g);
    got_drop(&g);
}
END_TEST

/* Each in an entry of its kind, beside what that must have. */
START_TEST(field_examples)
{
    char text[1000];
    const jaw__field_rule *f = &jaw__fields[_i];
    const char *name = f->entry == JAW__ENTRY_CONTROL ? ""
                       : f->entry == JAW__ENTRY_TOOL  ? "9"
                       : f->entry == JAW__ENTRY_ZERO  ? "G59"
                       : f->entry == JAW__ENTRY_DIAL
                           ? "other inside at 3.0000 -2.0000"
                       : f->entry == JAW__ENTRY_SIDE
                           ? "two over x zero at 0 0 0"
                                                      : "other";
    int n = snprintf(text, sizeof text, "unit in\n%s %s\n  %s\n",
                     jaw__entries[f->entry].word, name, f->example);
    bool correlates = f->role == JAW__CORRELATION; /* of what is not exact */
    if (correlates)
        n += snprintf(text + n, sizeof text - (size_t)n,
                      "  diameter 0.1575 known to 0.0001\n"
                      "  lobes 0 0 known to 0.0001 0.0001\n");
    bool alone = correlates || f->role == JAW__FROM; /* the book says it all */
    for (int i = 0; i < jaw__field_count && !alone; i++)
        if (jaw__fields[i].entry == f->entry && i != _i &&
            jaw__fields[i].often == JAW__MUST)
            n += snprintf(text + n, sizeof text - (size_t)n, "  %s\n",
                          jaw__fields[i].example);
    if (f->entry == JAW__ENTRY_ZERO &&
        (f->role == JAW__TURN || f->role == JAW__SQUARE))
        n += snprintf(text + n, sizeof text - (size_t)n, "  x a\n");
    if (f->role == JAW__BAR) /* asks for one of two */
        n += snprintf(text + n, sizeof text - (size_t)n, "  angle 30\n");
    switch (jaw__entries[f->entry].rows) {
    case JAW__ROWS_WALLS:
        snprintf(text + n, sizeof text - (size_t)n, "  1 2\n  /\n  1 5\n");
        break;
    case JAW__ROWS_HOLES:
        snprintf(text + n, sizeof text - (size_t)n, "  1 2 3 4\n");
        break;
    case JAW__ROWS_TWICE:
        snprintf(text + n, sizeof text - (size_t)n, "  1 2\n  /\n  1 5\n");
        break;
    case JAW__ROWS_SWEEP:
    case JAW__ROWS_ROUND:
    case JAW__ROWS_TURNED:
        snprintf(text + n, sizeof text - (size_t)n, "  1 2\n");
        break;
    case JAW__NO_ROWS:
        break;
    default:
        snprintf(text + n, sizeof text - (size_t)n, "  1 2 3\n");
    }
    outcome g = sheet_text(text);
    got_good(&g);
    got_drop(&g);
}
END_TEST

TCase *grammar_case(void)
{
    TCase *tc = tcase_create("grammar");
    tcase_add_test(tc, forms);
    tcase_add_test(tc, no_word_twice);
    tcase_add_loop_test(tc, entry_examples, 0, JAW__ENTRIES);
    tcase_add_loop_test(tc, field_examples, 0, jaw__field_count);
    return tc;
}
